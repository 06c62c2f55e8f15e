import { describe, expect, it } from "vitest";
import { addressesOf } from "../../../protocol/model/address.ts";
import { compile, fieldIndex, recordOf } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { bent, fieldOf, small } from "../../support/small-specification.ts";

describe("compile", () => {
  const layout = compile(small);
  const sample = recordOf(layout, "sample");

  it("gives every slice its container, shift, width and sign", () => {
    const slices = sample.fields.map(({ id, byte, bytes, little, shift, width, signed }) => {
      return `${id} ${byte}+${bytes} ${little ? "little" : "big"} ${shift}/${width}${signed ? " signed" : ""}`;
    });
    expect(slices).toEqual([
      "kind 0+2 big 12/4",
      "layout 0+2 big 8/4",
      "status 0+2 big 0/8",
      "level 2+2 big 0/16 signed",
      "spare 4+2 big 8/8",
      "mode 4+2 big 0/8",
      "run[0] 6+1 big 0/8",
      "run[1] 7+1 big 0/8",
      "seal 8+2 big 0/16",
    ]);
  });

  it("fills in what a type has by default", () => {
    const level = sample.fields[fieldIndex(sample, "level")]!;
    expect(level).toMatchObject({ unit: "Pa", num: 1, den: 2, add: 3, min: -100, max: 100, coldStart: -32_768 });
    expect(recordOf(layout, "ask").fields[0]).toMatchObject({ add: 0, sentinels: [], coldStart: null });
    expect(sample.fields[fieldIndex(sample, "status")]!.named).toBe(0b11);
  });

  it("points a tail at the field that counts it", () => {
    expect(recordOf(layout, "ask").tails).toEqual([
      { id: "items", path: "ask.items", why: "Items.", bytes: 2, little: false, count: 0 },
    ]);
  });

  it("keeps overrides of writer and lock", () => {
    const record = recordOf(compile(bent((s) => (fieldOf(s, "mode").writer = "reader"))), "sample");
    expect(record.fields[fieldIndex(record, "mode")]!.writer).toBe("reader");
    expect("writer" in record.fields[0]!).toBe(false);
  });

  it("throws for names that do not exist, a programming error", () => {
    expect(() => recordOf(layout, "nothing")).toThrow("layout 1 has no record nothing");
    expect(() => fieldIndex(sample, "nothing")).toThrow("record sample has no field nothing");
  });
});

describe("addressesOf", () => {
  it("counts words from the start of the bank", () => {
    const addresses = addressesOf(compile(small)).map(({ region, field, word, words, bits }) => {
      return `${region}.${field} ${word}+${words} [${bits}]`;
    });
    expect(addresses).toContain("first.kind 0+1 [15,12]");
    expect(addresses).toContain("first.run[1] 3+1 [7,0]");
    expect(addresses).toContain("first.seal 4+1 [15,0]");
    expect(addresses).toHaveLength(9);
  });

  it("puts the pressure of slot B into words 18 and 19 of USER", () => {
    const pressure = addressesOf(compile(specification)).find(
      ({ region, field }) => region === "slot_b" && field === "pressure",
    );
    expect(pressure).toEqual({ bank: "user", region: "slot_b", field: "pressure", word: 18, words: 2, bits: [23, 0] });
  });
});
