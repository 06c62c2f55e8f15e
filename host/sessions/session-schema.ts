/** JSON Schema of a session file; vectors/schema/session.schema.json is this object, and a test holds the two together. */

const time = {
  type: "string",
  format: "date-time",
  pattern: "^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}:\\d{2}(\\.\\d{1,9})?Z$",
} as const;
const positive = { type: "number", exclusiveMinimum: 0 } as const;
const text = { type: "string", minLength: 1, maxLength: 200 } as const;

const uncertainty = {
  type: "number",
  minimum: 0,
  description: "Expanded, k = 2; left out: not known.",
} as const;

function ambient(source: string, properties: object) {
  return {
    type: "object",
    required: ["source"],
    additionalProperties: false,
    properties: { source: { const: source }, ...properties },
  };
}

export const sessionSchema = {
  $schema: "https://json-schema.org/draft/2020-12/schema",
  $id: "https://plyframe.invalid/schema/session.schema.json",
  title: "A plyframe session",
  description:
    "Which tag lay where, what happened when, and which captures hold it. File names are relative to this file. No member may name a person: the subject is a pseudonym.",
  type: "object",
  required: ["record", "version", "subject", "captures", "tags", "ambient"],
  additionalProperties: false,
  properties: {
    record: { const: "session" },
    version: { const: 1 },
    title: { ...text, description: "One line for the head of a report." },
    invented: {
      type: "boolean",
      description: "True when no measurement stands behind the numbers; every output says so.",
    },
    subject: {
      type: "object",
      required: ["id"],
      additionalProperties: false,
      properties: {
        id: { type: "string", minLength: 1, maxLength: 64, description: "A pseudonym." },
        id_is_pseudonym: {
          type: "boolean",
          description: "True states that the id is a pseudonym although it looks like a name or a date of birth.",
        },
      },
    },
    limb: { ...text, description: "Free text, such as left leg." },
    garment: { ...text, description: "Garment or bandage system, free text without brand." },
    posture: {
      enum: ["resting", "sitting", "standing", "walking"],
      description: "Posture before the first event that names one.",
    },
    captures: {
      type: "array",
      minItems: 1,
      items: {
        type: "object",
        required: ["file"],
        additionalProperties: false,
        properties: {
          file: { ...text, description: "A capture, JSON Lines or CSV." },
          started: { ...time, description: "UTC of its first report; the capture's own header when left out." },
        },
      },
    },
    tags: {
      type: "array",
      minItems: 1,
      items: {
        type: "object",
        required: ["epc", "site"],
        additionalProperties: false,
        properties: {
          epc: { type: "string", pattern: "^([0-9A-Fa-f]{4})+$", maxLength: 124 },
          site: {
            ...text,
            description:
              "B1, C or free text. B1: where the gastrocnemius tendon turns into muscle. C: largest calf girth.",
          },
          layer: {
            type: ["integer", "null"],
            minimum: 0,
            maximum: 20,
            description: "Layer it lies under, 1 innermost.",
          },
        },
      },
    },
    events: {
      type: "array",
      items: {
        type: "object",
        required: ["event"],
        anyOf: [{ required: ["at"] }, { required: ["kit_time_s"] }],
        additionalProperties: false,
        properties: {
          event: { enum: ["wrapped", "lay_down", "sat_down", "stood_up", "walked", "removed", "note"] },
          at: { ...time, description: "UTC by the clock of the host." },
          kit_time_s: {
            type: "number",
            minimum: 0,
            description: "By the reader's clock; with both, the two are compared.",
          },
          capture: {
            type: "integer",
            minimum: 0,
            description: "Which capture kit_time_s belongs to, from 0; the first when left out.",
          },
          note: text,
        },
      },
    },
    ambient: {
      type: "object",
      discriminator: { propertyName: "source" },
      required: ["source"],
      oneOf: [
        { ...ambient("kit", {}), description: "The barometer of the reader kit, as in the captures." },
        {
          ...ambient("log", {
            file: { ...text, description: "CSV with a time column and one pressure column with its unit." },
            expanded_uncertainty_hpa: uncertainty,
            max_gap_s: { ...positive, description: "A longer time between two rows is a gap (60 when left out)." },
          }),
          required: ["source", "file"],
        },
        {
          ...ambient("tag", { epc: { type: "string", pattern: "^([0-9A-Fa-f]{4})+$" } }),
          required: ["source", "epc"],
          description: "A tag outside the dressing.",
        },
        {
          ...ambient("typed", {
            pressure_hpa: { type: "number", minimum: 260, maximum: 1260 },
            expanded_uncertainty_hpa: uncertainty,
          }),
          required: ["source", "pressure_hpa"],
        },
        { ...ambient("none", {}), description: "Absolute pressure only." },
      ],
    },
    wraps: {
      type: "array",
      description: "What was planned at a site, for the Laplace estimate beside the measurement.",
      items: {
        type: "object",
        required: ["site", "tension_n", "layers", "circumference_cm", "width_cm"],
        additionalProperties: false,
        properties: {
          site: text,
          tension_n: positive,
          layers: { type: "integer", minimum: 1, maximum: 20 },
          circumference_cm: positive,
          width_cm: positive,
          layer_thickness_mm: { ...positive, maximum: 20, description: "Given: the thick form as well." },
        },
      },
    },
    reference: {
      type: "object",
      description: "Readings of a reference device at the same sites, for the agreement of the two.",
      required: ["file"],
      additionalProperties: false,
      properties: {
        file: { ...text, description: "CSV with time, site and one pressure column." },
        device: { ...text, description: "What it was, free text." },
        window_s: {
          ...positive,
          description: "Readings of a tag within this time of a row are its counterpart (2 when left out).",
        },
      },
    },
  },
} as const;
