import { describe, expect, it } from "vitest";
import { concernOf } from "../../../host/replay/concern.ts";
import { judge } from "../../../host/replay/judge.ts";
import {
  badAnswer,
  type Expected,
  goodAnswer,
  hint,
  may,
  must,
  openAnswer,
  type ReplayCase,
} from "../../../host/replay/replay-case.ts";

const good = goodAnswer([must("sequence", 7), must("temperature", -1), may("seal", 41165)]);
const bad = badAnswer("checksum-mismatch", { byte: 14, bit: 0, path: "frame.seal" });

function keys(expected: Expected, text: string, places = false): string[] {
  return judge(expected, text, places).differences.map(({ key, level }) => `${level} ${key}`);
}

describe("a good answer is wrong", () => {
  it.each([
    ["good sequence=7 temperature=-1", []],
    ["good temperature=-1 seal=41165 sequence=7", []],
    ["good sequence=7 temperature=65535", ["must temperature"]],
    ["good sequence=07 temperature=-1", ["must sequence"]],
    ["good sequence=7", ["must temperature"]],
    ["good sequence=7 temperature=-1 seal=1", ["must seal"]],
    ["good sequence=7 temperature=-1 mood=1", ["must mood"]],
    ["bad checksum-mismatch", ["must verdict"]],
    ["unsupported", ["must verdict"]],
    ["god", ["must answer"]],
  ])("%s", (text, expected) => expect(keys(good, text)).toEqual(expected));

  it("in what is not known of it only where nothing was left open", () => {
    expect(keys(openAnswer([may("seal", 1)]), "good fingerprint=1")).toEqual([]);
    expect(keys(openAnswer([may("seal", 1)]), "good seal=2")).toEqual(["must seal"]);
  });
});

describe("a bad answer is wrong", () => {
  it.each([
    ["bad checksum-mismatch", []],
    ["bad checksum-mismatch byte=3 path=frame.kind", []],
    ["bad kind-unexpected", ["must reason"]],
    ["good", ["must verdict"]],
    ["bad checksum-mismatch says=torn", ["must says"]],
  ])("%s, places not asked for", (text, expected) => expect(keys(bad, text)).toEqual(expected));

  it.each([
    ["bad checksum-mismatch byte=14 path=frame.seal", []],
    ["bad checksum-mismatch byte=14 path=frame.seal bit=0", []],
    ["bad checksum-mismatch byte=14 path=frame.seal bit=3", ["should bit"]],
    ["bad checksum-mismatch byte=0 path=frame.kind", ["should byte", "should path"]],
    ["bad checksum-mismatch", ["should byte", "should path"]],
  ])("%s, with places", (text, expected) => expect(keys(bad, text, true)).toEqual(expected));
});

describe("the field concerned", () => {
  const asked = (expected: Expected, verb = "decode", about = "frame", bytes = ""): ReplayCase => {
    return { id: "x", group: "g", why: "", needs: verb, verb, given: [["bytes", bytes]], expected, about };
  };
  const field = (one: ReplayCase, text: string) => concernOf(one, judge(one.expected, text, true));

  it.each([
    ["the one that differs", good, "good sequence=7 temperature=65535", "frame.temperature"],
    [
      "the one that was rejected without reason",
      good,
      "bad value-out-of-range byte=8 path=frame.temperature",
      "frame.temperature",
    ],
    ["the checksum, when the answer has no place", good, "bad checksum-mismatch", "frame.seal"],
    ["the reserved bits, when the answer has no place", good, "bad reserved-bit-set", "frame.reserved"],
    ["the record, when it is about its length", good, "bad record-too-short", "frame"],
    ["the one that should have been rejected", bad, "good sequence=7", "frame.seal"],
    ["the record, when a path means nothing", good, "bad value-out-of-range path=moon.phase", "frame"],
  ])("is %s", (_, expected, text, path) => expect(field(asked(expected), text)).toBe(path));

  it("is that of the check that was reported wrongly, when it comes first", () => {
    const later = badAnswer("layout-unknown", { byte: 0, bit: 8, path: "frame.layout" });
    expect(field(asked(later), "bad checksum-mismatch byte=14 path=frame.seal")).toBe("frame.seal");
    expect(field(asked(later), "bad value-out-of-range byte=4 path=frame.pressure")).toBe("frame.layout");
  });

  it("is found in written bytes by the first one that differs", () => {
    const right = goodAnswer([must("bytes", "2101000700c57a310bd3a4100258a0cd")]);
    // Supply is the high 12 bits of bytes 10 to 13, uptime the low 20.
    expect(field(asked(right, "encode"), "good bytes=2101000700c57a310bd3b4100258a0cd")).toBe("frame.supply");
    expect(field(asked(right, "encode"), "good bytes=2101000700c57a310bd3a4110258a0cd")).toBe("frame.uptime");
    expect(field(asked(right, "encode"), "good bytes=2101")).toBe("frame");
  });

  it("is the sequence between slots, and the fault of a slot that was taken in spite of it", () => {
    const b = goodAnswer([must("slot", "b"), must("sequence", 4711)]);
    expect(field(asked(b, "slots", "slots"), "good slot=a sequence=4710")).toBe("frame.sequence");
    const broken = goodAnswer([must("slot", "b"), must("sequence", 4711), hint("a", "reserved-bit-set")]);
    expect(field(asked(broken, "slots", "slots"), "good slot=a sequence=4712")).toBe("frame.reserved");
  });
});
