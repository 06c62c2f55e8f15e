/** Every branch of the choice between the slots: how they are ordered, and each way in which either is not whole. */
import type { Group } from "./group.ts";
import { type AnyVector, vectorsOfKind } from "./vector-set.ts";

/** Ways in which a frame is not whole. Slot A is short only when slot B is missing too. */
const FAULTS = [
  "record-empty",
  "checksum-mismatch",
  "kind-unexpected",
  "layout-unknown",
  "reserved-bit-set",
  "value-out-of-range",
];
const SHORT = "record-too-short";

interface Faults {
  readonly a?: string;
  readonly b?: string;
}

const chosenText = (slot: string, reason: string) => `slot ${slot} is chosen, the other has ${reason}`;
const bothText = (a: string, b: string) => `none is chosen: A has ${a}, B has ${b}`;

/** Serial-number arithmetic in so many words, RFC 1982: how slot B's sequence stands to slot A's. */
function orderText(a: number, b: number): string {
  const step = (b - a + 65_536) % 65_536;
  if (step === 0) return "the same sequence";
  const wrap = (step < 32_768 && b < a) || (step > 32_768 && b > a) ? " over the wrap" : "";
  if (step === 32_768) return `half the circle apart, ${a < b ? "A" : "B"} the lower number`;
  const [later, steps] = step < 32_768 ? ["B", step] : ["A", 65_536 - step];
  return `${later} later by ${steps === 1 ? "one" : steps === 32_767 ? "the most" : "a gap"}${wrap}`;
}

function textsOf({ hex, expected }: AnyVector): string {
  const { a, b } = (expected.faults ?? {}) as Faults;
  if (a && b) return bothText(a, b);
  if (a) return chosenText("b", a);
  if (b) return chosenText("a", b);
  const sequence = (slot: number) => Number.parseInt((hex as string).slice(32 * slot + 4, 32 * slot + 8), 16);
  const order = orderText(sequence(0), sequence(1));
  if (order !== "the same sequence") return order;
  return `${order}, ${expected.verdict === "good" ? "the same bytes" : "other bytes"}`;
}

export const slotGroup: Group = {
  name: "slots: every branch of the choice",
  wanted: [
    ...["A", "B"].flatMap((later) =>
      ["one", "a gap", "the most"].flatMap((steps) =>
        ["", " over the wrap"].map((wrap) => `${later} later by ${steps}${wrap}`),
      ),
    ),
    "the same sequence, the same bytes",
    "the same sequence, other bytes",
    "half the circle apart, A the lower number",
    "half the circle apart, B the lower number",
    ...FAULTS.flatMap((fault) => [chosenText("a", fault), chosenText("b", fault)]),
    chosenText("a", SHORT),
    ...FAULTS.flatMap((a) => [...FAULTS, SHORT].map((b) => bothText(a, b))),
    bothText(SHORT, SHORT),
  ],
  shown: (files) => new Set(vectorsOfKind(files, "slots").map(textsOf)),
};
