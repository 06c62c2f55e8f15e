/**
 * Emits JSON Schema (2020-12): one of a line of a capture, whole; and one with a definition of every record, by raw integers
 * and by what they mean, and of what a reading holds of them.
 */
import { decimal, type EmittedFile, layoutMark } from "../model/emitted-file.ts";
import { type CompiledField, type CompiledRecord, fieldIndex, type Layout, recordOf } from "../model/layout.ts";
import { toValue } from "../model/scale.ts";

type Schema = { readonly [keyword: string]: unknown };

const DIALECT = "https://json-schema.org/draft/2020-12/schema";

export function emitJsonSchema(layout: Layout): EmittedFile[] {
  const mark = `Emitted from ${layoutMark(layout)}: change protocol/spec/ and run "npm run emit".`;
  const file = (path: string, id: string, schema: Schema): EmittedFile => {
    const whole = { $schema: DIALECT, $id: `https://plyframe.invalid/${id}`, $comment: mark, ...schema };
    return { path, text: `${JSON.stringify(whole, null, 2)}\n` };
  };
  return [
    file("vectors/schema/capture.schema.json", "schema/capture.schema.json", capture(layout)),
    file("protocol/emitted/plyframe.schema.json", "schema/plyframe.schema.json", {
      title: "Records of plyframe by field",
      description: "NAME holds raw integers, NAME_values what they mean, in the units of the memory map.",
      $defs: {
        ...Object.fromEntries(
          layout.records.flatMap((record) => [
            [record.id, object(record, rawSchema, () => true)],
            [`${record.id}_values`, object(record, valueSchema, hasValue)],
          ]),
        ),
        reading: reading(layout),
      },
    }),
  ];
}

/** An object with a member for each field, or each array, that is wanted. */
function object(
  { title, fields }: CompiledRecord,
  schemaOf: (field: CompiledField) => Schema,
  isWanted: (field: CompiledField) => boolean,
): Schema {
  const properties: { [id: string]: Schema } = {};
  for (const field of fields.filter(isWanted)) {
    const { id, array, why } = field;
    const count = fields.filter((other) => other.array === array).length;
    if (array === undefined) properties[id] = { ...schemaOf(field), description: why };
    else properties[array] ??= { ...listOf(schemaOf(field), count), description: why };
  }
  return closed(properties, title);
}

function closed(properties: { [id: string]: Schema }, title?: string): Schema {
  const required = Object.keys(properties);
  return { ...(title && { title }), type: "object", required, properties, additionalProperties: false };
}

function listOf(items: Schema, count: number): Schema {
  return { type: "array", items, minItems: count, maxItems: count };
}

function hasValue({ type }: CompiledField): boolean {
  return type !== "constant" && type !== "reserved" && type !== "checksum";
}

/** The integers a field may hold. Of flags with gaps between them only the highest is a limit. */
function rawSchema(field: CompiledField): Schema {
  switch (field.type) {
    case "unsigned":
    case "signed": {
      const range = { type: "integer", minimum: field.min, maximum: field.max };
      const others = field.sentinels!.map(({ raw }) => raw);
      return others.length === 0 ? range : { anyOf: [range, { enum: others }] };
    }
    case "flags":
      return { type: "integer", minimum: 0, maximum: field.named };
    case "enumeration":
      return { enum: field.names!.map(({ raw }) => raw) };
    case "constant":
      return { const: field.raw };
    case "reserved":
      return { const: 0 };
    case "checksum":
      return { type: "integer", minimum: 0, maximum: 2 ** field.width - 1 };
  }
}

function valueSchema(field: CompiledField): Schema {
  if (field.type === "enumeration") return { enum: field.names!.map(({ id }) => id) };
  if (field.type === "flags") {
    return { type: "array", uniqueItems: true, items: { enum: field.flags!.map(({ id }) => id) } };
  }
  const isWhole = field.den === 1;
  const type = isWhole ? "integer" : "number";
  const isNullable = field.sentinels!.some(({ means }) => means === "absent");
  const limit = (raw: number) => Number(decimal(toValue({ ...field, sentinels: [] }, raw)!));
  return { type: isNullable ? [type, "null"] : type, minimum: limit(field.min!), maximum: limit(field.max!) };
}

/** What is known of a member by the field it comes from. */
class Members {
  readonly #layout: Layout;
  readonly #record: string;

  constructor(layout: Layout, record: string) {
    this.#layout = layout;
    this.#record = record;
  }

  field(id: string): CompiledField {
    const record = recordOf(this.#layout, this.#record);
    return record.fields[fieldIndex(record, id)]!;
  }

  raw(id: string): Schema {
    return rawSchema(this.field(id));
  }

  value(id: string): Schema {
    return valueSchema(this.field(id));
  }

  /** Hex of as many whole words as a counting field can say. */
  words(count: string, digits: string): Schema {
    return { type: "string", pattern: `^([${digits}]{4})*$`, maxLength: this.field(count).max! * 4 };
  }

  /** Hex of a field that fills its container. */
  hex(id: string, digits: string): Schema {
    return { type: "string", pattern: `^[${digits}]{${this.field(id).bytes * 2}}$` };
  }
}

const EITHER_CASE = "0-9A-Fa-f";

function capture(layout: Layout): Schema {
  const header = new Members(layout, "header");
  const tag = new Members(layout, "tag_report");
  const ambient = new Members(layout, "ambient_report");
  const kitTime = { ...tag.raw("kit_time"), description: "The reader kit's own clock in microseconds, 48 bits." };
  const line = (record: string, properties: { [id: string]: Schema }, optional = {}) => {
    const all = { record: { const: record }, ...properties };
    return { type: "object", required: Object.keys(all), properties: { ...all, ...optional } };
  };
  const started = {
    type: "string",
    format: "date-time",
    pattern: "^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}:\\d{2}(\\.\\d{1,9})?Z$",
    description: "When the session began, UTC.",
  };
  const barometer = {
    type: ["number", "null"],
    minimum: 0,
    maximum: 1_000_000,
    description: "Expanded uncertainty (k = 2) of the kit's barometer; null when it stated none.",
  };
  const layoutNumber = {
    type: "integer",
    minimum: 0,
    maximum: Number.MAX_SAFE_INTEGER,
    description: "Layout version of the specification the capture was taken with.",
  };
  return {
    title: "One line of a plyframe capture",
    description:
      "A capture is JSON Lines: UTF-8, one object a line, 65 536 bytes a line at most. The first line is the capture " +
      "record; another one later begins a new session. Members not named here are ignored.",
    oneOf: ["capture", "read", "ambient"].map((id) => ({ $ref: `#/$defs/${id}` })),
    $defs: {
      capture: line(
        "capture",
        {
          version: { const: 1, description: "Version of this format." },
          layout: layoutNumber,
          fingerprint: {
            ...header.hex("fingerprint", EITHER_CASE),
            description: "Fingerprint of that specification.",
          },
          started,
          source: { type: "string", description: "Port or file the reports came from." },
          barometer_uncertainty_pa: barometer,
        },
        { note: { type: "string" } },
      ),
      read: line("read", {
        kit_time_us: kitTime,
        epc: { ...tag.words("epc_words", EITHER_CASE), description: "EPC in hex, whole 16-bit words, 31 at most." },
        pc: { ...tag.hex("pc", EITHER_CASE), description: "PC word as the tag sent it." },
        xpc: { ...tag.hex("xpc", EITHER_CASE), description: "XPC_W1, 0000 when the tag sent none." },
        rssi_dbm: { ...tag.value("rssi"), description: "Null when not measured." },
        frequency_khz: tag.raw("frequency"),
        result: tag.value("result"),
        bank: tag.value("bank"),
        word: { ...tag.raw("pointer"), description: "Address of the first word." },
        words: {
          ...tag.words("word_count", EITHER_CASE),
          description: "The words read, in hex; empty when none were.",
        },
      }),
      ambient: line("ambient", {
        kit_time_us: kitTime,
        pressure_raw: { ...ambient.raw("pressure"), description: "Absolute ambient pressure in 1/128 Pa." },
        temperature_cel: {
          ...ambient.value("temperature"),
          description: "Temperature of the barometer; null when not measured.",
        },
      }),
    },
  };
}

/** Limits of what a reading holds of frame, header, counters and calibration; its other members are not looked at. */
function reading(layout: Layout): Schema {
  const [header, frame, counters, calibration, tag] = ["header", "frame", "counters", "calibration", "tag_report"].map(
    (id) => new Members(layout, id),
  ) as [Members, Members, Members, Members, Members];
  const orNull = (properties: { [id: string]: Schema }) => ({
    type: ["object", "null"],
    required: Object.keys(properties),
    properties,
  });
  const count = recordOf(layout, "frame").bytes * 2;
  const raws = ["status", "pressure", "temperature", "supply", "uptime"].map((id) => [id, frame.raw(id)]);
  const counts = ["reuse_cycles", "cold_starts", "fruitless_starts", "brown_outs", "frames"];
  const raw = { frame: { type: "string", pattern: `^[0-9a-f]{${count}}$` }, ...Object.fromEntries(raws) };
  const properties = {
    record: { const: "reading" },
    kit_time_us: tag.raw("kit_time"),
    epc: tag.words("epc_words", "0-9a-f"),
    rssi_dbm: tag.value("rssi"),
    frequency_khz: tag.raw("frequency"),
    sequence: frame.raw("sequence"),
    temperature_cel: frame.value("temperature"),
    supply_v: frame.value("supply"),
    uptime_s: frame.value("uptime"),
    raw: { type: "object", required: Object.keys(raw), properties: raw },
    tag: orNull({
      sampling_period_s: header.value("sampling_period"),
      sensor_serial: header.value("sensor_serial"),
    }),
    counters: orNull(Object.fromEntries(counts.map((id) => [id, counters.value(id)]))),
    calibration: orNull({
      method: calibration.value("method"),
      sensor_serial: calibration.value("sensor_serial"),
      expanded_uncertainty_pa: calibration.value("expanded_uncertainty"),
    }),
  };
  return {
    title: "What a reading holds of the records",
    type: "object",
    required: Object.keys(properties),
    properties,
  };
}
