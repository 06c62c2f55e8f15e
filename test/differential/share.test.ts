/** A bounded share of the differential run; the whole is `npm run differential`. */
import { describe, expect, it } from "vitest";
import { reasons } from "../../protocol/index.ts";
import { Random } from "../../sim/random.ts";
import { needs } from "../support/outside.ts";
import { makeFrames, SIZE } from "./made-frames.ts";
import { disagreements, kaitaiWay, nativeWay, ownWays, reasonCounts } from "./ways.ts";

const all = makeFrames(20_000, new Random(11, "share"));
const [plain, ...others] = ownWays();
const expected = plain!.answer(all);

describe("twenty thousand frames", () => {
  it("meet every reason a frame of 16 bytes can be refused for", () => {
    const found = [...reasonCounts(expected).keys()].sort((a, b) => a - b);
    const wanted = [
      "record-empty",
      "checksum-mismatch",
      "kind-unexpected",
      "layout-unknown",
      "reserved-bit-set",
      "value-out-of-range",
    ] as const;
    expect(found).toEqual([0, ...wanted.map((reason) => reasons[reason].number)].sort((a, b) => a - b));
  });

  it.each(others)("$name agrees with the plain decoder on every one", ({ answer }) => {
    expect(disagreements(expected, answer(all))).toEqual([]);
  });

  it("the parser of Kaitai Struct agrees with the plain decoder on every one", async () => {
    expect(disagreements(expected, (await kaitaiWay()).answer(all))).toEqual([]);
  }, 240_000);

  it("a disagreement on one field of one frame is found", () => {
    const good = expected.findIndex((verdict, i) => i % 7 === 0 && verdict === 0);
    const other = expected.slice();
    other[good + 3]! ^= 1;
    expect(disagreements(expected, other)).toEqual([good / 7]);
    expect(all.length / SIZE).toBe(20_000);
  });

  needs("gcc", () => {
    it("native C agrees with the plain decoder on every one", () => {
      expect(disagreements(expected, nativeWay().answer(all))).toEqual([]);
    });
  });
});
