/** The published vectors as questions to the C firmware, with the answers they expect. */
import { reasons } from "../../../protocol/model/reasons.ts";
import { readVectorFile } from "../../support/vectors.ts";

/** One question; the numbers are those of harness/questions.h. */
export interface Question {
  readonly id: string;
  readonly ask: number;
  /** Words given. */
  readonly words: readonly number[];
  /** Reason number (0: good), then the values, as hex the way the harness prints them. */
  readonly answer: string;
}

type Raws = { readonly [field: string]: number | readonly number[] };

interface RecordVector {
  readonly id: string;
  readonly record: string;
  readonly hex: string;
  readonly expected: { readonly verdict: "good" | "bad"; readonly raws?: Raws; readonly reason?: keyof typeof reasons };
}

interface SlotsVector {
  readonly id: string;
  readonly hex: string;
  readonly expected: { readonly slot?: "a" | "b"; readonly sequence?: number; readonly reason?: keyof typeof reasons };
}

const ASK = { frame: 1, counters: 2, calibration: 3, slots: 4 } as const;
const ASK_ENCODE = { frame: 5, counters: 6, burst: 7 } as const;

/** Fields in the order in which the harness gives and takes them. */
const FIELDS: Readonly<Record<string, readonly string[]>> = {
  frame: ["status", "sequence", "pressure", "temperature", "supply", "uptime"],
  counters: ["reuse_cycles", "cold_starts", "fruitless_starts", "brown_outs", "frames"],
  calibration: [
    "method",
    "reuse_since",
    "date",
    "sensor_serial",
    "reuse_count",
    "offset",
    "reuse_limit",
    "gain",
    "temperature_effect",
    "gain_temperature",
    "curvature",
    "reference_temperature",
    "expanded_uncertainty",
    "temperature_low",
    "temperature_high",
    "span",
    "validity",
  ],
  burst: ["status", "sequence", "count", "pressure", "interval", "temperature", "samples"],
};

function wordsOf(hex: string): number[] {
  return (hex.match(/..../g) ?? []).map((word) => Number.parseInt(word, 16));
}

function inTwoWords(raw: number): number[] {
  return [(raw >>> 16) & 0xffff, raw & 0xffff];
}

function hexValues(values: readonly number[]): string {
  return values.map((value) => (value >>> 0).toString(16)).join(" ");
}

function rawsOf(record: string, raws: Raws): number[] {
  return FIELDS[record]!.flatMap((field) => raws[field]!);
}

/** A bridge reads whole words, so a record that ends within a word is no question to the firmware. */
function isWhole({ hex }: { readonly hex: string }): boolean {
  return hex.length % 4 === 0;
}

function decodeQuestion({ id, record, hex, expected }: RecordVector): Question {
  const { verdict, raws, reason } = expected;
  const answer = verdict === "good" ? hexValues([0, ...rawsOf(record, raws!)]) : hexValues([reasons[reason!].number]);
  return { id, ask: ASK[record as keyof typeof ASK], words: wordsOf(hex), answer };
}

function encodeQuestion({ id, record, hex, expected }: RecordVector): Question {
  const words = rawsOf(record, expected.raws!).flatMap(inTwoWords);
  const answer = hexValues([0, ...wordsOf(hex)]);
  return { id: `${id} (encode)`, ask: ASK_ENCODE[record as keyof typeof ASK_ENCODE], words, answer };
}

function slotsQuestion({ id, hex, expected }: SlotsVector): Question {
  const { slot, sequence, reason } = expected;
  const values = slot === undefined ? [reasons[reason!].number] : [0, slot === "a" ? 0 : 1, sequence!];
  return { id, ask: ASK.slots, words: wordsOf(hex), answer: hexValues(values) };
}

function recordVectors(file: string): RecordVector[] {
  return readVectorFile(file).vectors as unknown as RecordVector[];
}

const files = ["frames.json", "counters.json", "calibration.json", "verdict-order.json"];
const decodes = files.flatMap(recordVectors).filter(({ record }) => record in ASK);
const encodes = ["frames.json", "counters.json", "burst.json"]
  .flatMap(recordVectors)
  .filter(({ expected }) => expected.verdict === "good");
// Both slots always lie in the memory that the firmware has at hand; a read that ends inside one is the host's case.
const slots = (readVectorFile("slots.json").vectors as unknown as SlotsVector[]).filter(({ hex }) => hex.length === 64);

/** Every question, decoding first. */
export const questions: readonly Question[] = [
  ...decodes.filter(isWhole).map(decodeQuestion),
  ...slots.map(slotsQuestion),
  ...encodes.map(encodeQuestion),
];

/** Vectors left out because they end within a word. */
export const withinWord: readonly string[] = decodes.filter((vector) => !isWhole(vector)).map(({ id }) => id);

/** The questions as text: one a line, hex words. */
export function questionLines(asked: readonly Question[]): string {
  const line = ({ ask, words }: Question) => [ask, ...words].map((word) => word.toString(16).padStart(4, "0")).join("");
  return `${asked.map(line).join("\n")}\n`;
}

/** The questions as a C table: question, number of words, words; 0 ends it. */
export function questionTable(asked: readonly Question[]): string {
  const rows = asked.map(({ ask, words }) => `    ${[ask, words.length, ...words].join(", ")},`);
  return `static const uint16_t questions[] CONSTANT_TABLE = {\n${rows.join("\n")}\n    0};\n`;
}
