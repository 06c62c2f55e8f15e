/** What a page may ask for over the socket, and the check of everything that comes from it. Nothing of Node. */
import { type MarkKind, markKinds } from "./messages.ts";

/** Limits on what a page may send. */
export const fromPage = {
  messageBytes: 2048,
  textCharacters: 80,
  /** Messages a second, over a while, and how many may come at once. */
  perSecond: 5,
  burst: 20,
} as const;

export interface MarkRequest {
  readonly type: "mark";
  readonly kind: MarkKind;
  /** Only with a note; at most `fromPage.textCharacters`. */
  readonly text: string;
}

export interface UnmarkRequest {
  readonly type: "unmark";
  readonly id: number;
}

/**
 * `start` with the tag, the loads of one cycle going up (they are then gone down again) and the number of cycles. Then for each step `applied` (null: the load asked for) or `skip`; when it does not settle `wait`, `take` or `skip`;
 * `stop` at any time; `clear` when it is done, to begin anew.
 */
export type CalibrateRequest =
  | {
      readonly type: "calibrate";
      readonly action: "start";
      readonly epc: string;
      readonly loads_mmhg: readonly number[];
      readonly cycles: number;
      /** Expanded uncertainty (k = 2) of what shows the load, from its certificate; null: not known, and none is stated. */
      readonly reference_uncertainty_pa: number | null;
    }
  | { readonly type: "calibrate"; readonly action: "applied"; readonly load_mmhg: number | null }
  | { readonly type: "calibrate"; readonly action: "wait" | "take" | "skip" | "stop" | "clear" };

export type PageMessage = MarkRequest | UnmarkRequest | CalibrateRequest;

export const calibrationLimits = { loads: 20, cycles: 10, highestMmhg: 300, uncertaintyPa: 10_000 } as const;

/** A message of a page, or one sentence that says what is wrong with it. Nothing in the text makes it throw. */
export function parsePageMessage(text: string): PageMessage | string {
  if (text.length > fromPage.messageBytes) return `a message has at most ${fromPage.messageBytes} characters`;
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return "a message is JSON";
  }
  if (typeof value !== "object" || value === null || Array.isArray(value)) return "a message is a JSON object";
  const members = value as Readonly<Record<string, unknown>>;
  switch (members.type) {
    case "mark":
      return markRequest(members);
    case "unmark":
      return unmarkRequest(members);
    case "calibrate":
      return calibrateRequest(members);
    default:
      return "type: one of mark, unmark, calibrate";
  }
}

type Members = Readonly<Record<string, unknown>>;

function markRequest({ type: _, kind, text = "", ...others }: Members): MarkRequest | string {
  if (!isOneOf(markKinds, kind)) return `kind: one of ${markKinds.join(", ")}`;
  if (typeof text !== "string") return "text: a text";
  const plain = plainText(text);
  if (plain.length > fromPage.textCharacters) return `text: at most ${fromPage.textCharacters} characters`;
  if (kind === "note" && plain === "") return "text: a note says something";
  if (kind !== "note" && plain !== "") return "text: only a note has one";
  return strange(others) ?? { type: "mark", kind, text: plain };
}

function unmarkRequest({ type: _, id, ...others }: Members): UnmarkRequest | string {
  if (!Number.isSafeInteger(id) || (id as number) < 1) return "id: the number of a mark";
  return strange(others) ?? { type: "unmark", id: id as number };
}

function calibrateRequest({ type, action, ...others }: Members): CalibrateRequest | string {
  if (action === "start") return startRequest(others);
  if (action === "applied") {
    const { load_mmhg: load = null, ...more } = others;
    if (load !== null && !isLoad(load)) return `load_mmhg: 0 to ${calibrationLimits.highestMmhg}, or null`;
    return strange(more) ?? { type: "calibrate", action, load_mmhg: load };
  }
  if (isOneOf(["wait", "take", "skip", "stop", "clear"] as const, action)) {
    return strange(others) ?? { type: "calibrate", action };
  }
  return "action: one of start, applied, wait, take, skip, stop, clear";
}

function startRequest({ epc, loads_mmhg, cycles, reference_uncertainty_pa = null, ...others }: Members) {
  const { loads, highestMmhg, cycles: most, uncertaintyPa } = calibrationLimits;
  if (typeof epc !== "string" || !/^([0-9a-f]{4}){1,31}$/.test(epc)) return "epc: lower-case hex, whole words";
  if (!isLoads(loads_mmhg)) return `loads_mmhg: 1 to ${loads} rising numbers from 0 to ${highestMmhg}`;
  if (!isWithin(cycles, 1, most) || !Number.isInteger(cycles)) return `cycles: a whole number from 1 to ${most}`;
  if (reference_uncertainty_pa !== null && !isWithin(reference_uncertainty_pa, 0, uncertaintyPa)) {
    return `reference_uncertainty_pa: 0 to ${uncertaintyPa}, or null`;
  }
  const start = { type: "calibrate", action: "start", epc, loads_mmhg, cycles, reference_uncertainty_pa } as const;
  return strange(others) ?? start;
}

function isLoads(value: unknown): value is number[] {
  if (!Array.isArray(value) || value.length < 1 || value.length > calibrationLimits.loads) return false;
  return value.every(isLoad) && value.every((load, i) => i === 0 || load > value[i - 1]);
}

function isWithin(value: unknown, low: number, high: number): value is number {
  return typeof value === "number" && value >= low && value <= high;
}

function isLoad(value: unknown): value is number {
  return isWithin(value, 0, calibrationLimits.highestMmhg);
}

function isOneOf<Text extends string>(list: readonly Text[], value: unknown): value is Text {
  return list.some((text) => text === value);
}

/** The first member that has no business in the message. */
function strange(others: Members): string | null {
  const [name] = Object.keys(others);
  return name === undefined ? null : `${JSON.stringify(name.slice(0, 20))}: no such member`;
}

/** Without control and direction characters, which could disguise what is shown, and without space at the ends. */
function plainText(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}\p{Co}\p{Cs}\u2028\u2029]/gu, " ").trim();
}
