/** The session file: which tag lay where, what happened when, and which captures hold it. */
import { Ajv2020, type ErrorObject } from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { personalText } from "./pseudonym.ts";
import { sessionSchema } from "./session-schema.ts";

/** Resting: lying down, as the static stiffness index asks. */
export type Posture = "resting" | "sitting" | "standing" | "walking";
export type EventKind = "wrapped" | "lay_down" | "sat_down" | "stood_up" | "walked" | "removed" | "note";

export interface SessionTag {
  readonly epc: string;
  readonly site: string;
  readonly layer?: number | null;
}

/** At least one of `at` (host's clock) and `kit_time_s` (reader's clock) is there. */
export interface SessionEvent {
  readonly event: EventKind;
  readonly at?: string;
  readonly kit_time_s?: number;
  readonly capture?: number;
  readonly note?: string;
}

export interface SessionAmbient {
  readonly source: "kit" | "log" | "tag" | "typed" | "none";
  readonly file?: string;
  readonly epc?: string;
  readonly pressure_hpa?: number;
  readonly expanded_uncertainty_hpa?: number;
  readonly max_gap_s?: number;
}

export interface PlannedWrap {
  readonly site: string;
  readonly tension_n: number;
  readonly layers: number;
  readonly circumference_cm: number;
  readonly width_cm: number;
  readonly layer_thickness_mm?: number;
}

/** As in the file; vectors/schema/session.schema.json describes every member. */
export interface SessionFile {
  readonly record: "session";
  readonly version: 1;
  readonly title?: string;
  readonly invented?: boolean;
  readonly subject: { readonly id: string; readonly id_is_pseudonym?: boolean };
  readonly limb?: string;
  readonly garment?: string;
  readonly posture?: Posture;
  readonly captures: readonly { readonly file: string; readonly started?: string }[];
  readonly tags: readonly SessionTag[];
  readonly events?: readonly SessionEvent[];
  readonly ambient: SessionAmbient;
  readonly wraps?: readonly PlannedWrap[];
  readonly reference?: { readonly file: string; readonly device?: string; readonly window_s?: number };
}

/** A session file that cannot be used; one sentence for each fault, each with its place. */
export class SessionFault extends Error {
  readonly sentences: readonly string[];
  constructor(sentences: readonly string[]) {
    super(sentences.join("\n"));
    this.name = "SessionFault";
    this.sentences = sentences;
  }
}

/** Reads the text of a session file; `name` is what messages call it. Throws a SessionFault. EPCs come out in lower case. */
export function parseSession(text: string, name: string): SessionFile {
  const value = parseJson(text, name);
  const validate = validator();
  if (!validate(value)) throw new SessionFault(sentencesOf(validate.errors ?? [], name));
  const session = value as SessionFile;
  const faults = meaningFaults(session).map((sentence) => `${name}: ${sentence}`);
  if (faults.length > 0) throw new SessionFault(faults);
  return {
    ...session,
    tags: session.tags.map((tag) => ({ ...tag, epc: tag.epc.toLowerCase() })),
    ambient: {
      ...session.ambient,
      ...(session.ambient.epc !== undefined && { epc: session.ambient.epc.toLowerCase() }),
    },
  };
}

function parseJson(text: string, name: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    const at = /position (\d+)/.exec((error as Error).message);
    const line = at ? text.slice(0, Number(at[1])).split("\n").length : 1;
    throw new SessionFault([`${name}:${line}: not JSON`]);
  }
}

let compiled: ReturnType<Ajv2020["compile"]> | null = null;

/** Compiled once: that takes far longer than to judge a file. */
function validator() {
  if (compiled) return compiled;
  const ajv = new Ajv2020({
    allErrors: true,
    strict: true,
    strictRequired: false,
    discriminator: true,
    allowUnionTypes: true,
  });
  addFormats.default(ajv);
  compiled = ajv.compile(sessionSchema);
  return compiled;
}

function sentencesOf(errors: readonly ErrorObject[], name: string): string[] {
  const told = errors.filter(({ keyword }) => keyword !== "anyOf");
  const list = told.map(({ instancePath, message, params, keyword }) => {
    const extra = keyword === "additionalProperties" ? ` (${JSON.stringify(params.additionalProperty)})` : "";
    if (keyword === "discriminator") return `${name}: ${instancePath}/source is none of kit, log, tag, typed, none`;
    const allowed = keyword === "enum" ? ` (${params.allowedValues.join(", ")})` : "";
    return `${name}: ${instancePath || "the file"} ${message}${extra}${allowed}`;
  });
  return [...new Set(list)];
}

/** What no schema says: names that stand twice or nowhere, and a subject that looks like a person. */
function meaningFaults({ subject, tags, events, captures, wraps }: SessionFile): string[] {
  const faults: string[] = [];
  const personal = personalText(subject.id);
  if (personal !== null && subject.id_is_pseudonym !== true) {
    faults.push(
      `/subject/id ${personal}; use a pseudonym such as S-017, or state "id_is_pseudonym": true beside it if it is one`,
    );
  }
  const seen = new Map<string, number>();
  tags.forEach(({ epc }, index) => {
    const earlier = seen.get(epc.toLowerCase());
    if (earlier !== undefined) faults.push(`/tags/${index}/epc is the tag of /tags/${earlier} again`);
    else seen.set(epc.toLowerCase(), index);
  });
  const sites = tags.map(({ site }) => site);
  tags.forEach(({ site, layer }, index) => {
    const other = tags.findIndex((tag) => tag.site === site && (tag.layer ?? null) === (layer ?? null));
    if (other < index) faults.push(`/tags/${index}: site "${site}" and layer are those of /tags/${other} too`);
  });
  events?.forEach(({ capture }, index) => {
    if (capture !== undefined && capture >= captures.length) {
      faults.push(`/events/${index}/capture is ${capture}, but there are only ${captures.length} captures`);
    }
  });
  wraps?.forEach(({ site }, index) => {
    if (!sites.includes(site)) faults.push(`/wraps/${index}/site "${site}" is no site of a tag`);
  });
  return faults;
}
