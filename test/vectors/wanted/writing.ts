/** Writing a record: each value missing, no integer, or not allowed; each count and element that does not fit. */
import { layout } from "../../../protocol/index.ts";
import type { CompiledField } from "../../../protocol/model/layout.ts";
import type { Group } from "./group.ts";
import { vectorsOfKind } from "./vector-set.ts";

// The envelope is written by the message's name, and an empty payload has nothing to write.
const records = layout.records.filter(({ id, bytes }) => id !== "envelope" && bytes > 0);
const goodText = (record: string) => `${record}: every value given`;
const ownText = (record: string) => `${record}: constants, reserved bits and checksums given, and not looked at`;
const badText = (path: string, reason: string) => `${path} [${reason}]`;

function reasonsOf({ type, flags }: CompiledField): string[] {
  const values = ["field-missing", "field-invalid"];
  if (type === "unsigned" || type === "signed") return [...values, "value-out-of-range"];
  if (type === "enumeration") return [...values, "name-unknown"];
  return flags ? [...values, "reserved-bit-set"] : [];
}

export const writingGroup: Group = {
  name: "writing: each value missing, no integer, not allowed",
  wanted: records.flatMap(({ id, fields, tails }) => [
    goodText(id),
    ...(fields.some(({ type }) => reasonsOf({ type } as CompiledField).length === 0 && type !== "flags")
      ? [ownText(id)]
      : []),
    // Without one element the list is shorter, so the last one stands for the array.
    ...fields
      .filter(
        ({ array, index }) => array === undefined || index === fields.filter((one) => one.array === array).length - 1,
      )
      .flatMap((field) => reasonsOf(field).map((reason) => badText(field.path, reason))),
    ...tails.flatMap(({ path, count }) => [
      badText(fields[count]!.path, "count-mismatch"),
      badText(path, "value-out-of-range"),
    ]),
  ]),
  shown(files) {
    return new Set(
      vectorsOfKind(files, "record-writing").map(({ record, flags, expected: { reason, path } }) => {
        if (reason === undefined) return (flags.includes("OwnValues") ? ownText : goodText)(record as string);
        const tail = records.flatMap(({ tails }) => tails).find((one) => path!.startsWith(`${one.path}[`));
        return badText(tail?.path ?? path!, reason);
      }),
    );
  },
};
