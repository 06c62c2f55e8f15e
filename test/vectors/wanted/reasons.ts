/** Every reason code: asked for by a bad vector, and known by its number in the link's error message. */
import { type Reason, reasons } from "../../../protocol/model/reasons.ts";
import type { Group } from "./group.ts";
import { reasonsElsewhere } from "./reasons-elsewhere.ts";
import { vectorsOfKind } from "./vector-set.ts";

const codes = Object.keys(reasons) as Reason[];
const numberText = (number: unknown) => `number ${number} in an error message`;
const UNKNOWN = "a number in no list, in an error message";

export const reasonGroup: Group = {
  name: "reasons: each asked for, each by its number",
  wanted: [
    ...codes.filter((code) => !reasonsElsewhere[code]),
    ...codes.map((code) => numberText(reasons[code].number)),
    UNKNOWN,
  ],
  shown(files) {
    const all = files.flatMap(({ vectors }) => vectors);
    const asked = all.flatMap(({ expected }) => expected.reason ?? []);
    const told = vectorsOfKind(files, "link-refusal").map(({ expected }) =>
      expected.code === null ? UNKNOWN : numberText(expected.number),
    );
    return new Set([...asked, ...told]);
  },
};
