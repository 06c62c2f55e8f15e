import { describe, expect, it } from "vitest";
import { addressesOf } from "../../../protocol/model/address.ts";
import { compile, fieldIndex, recordOf } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { type Bent, bent, fieldOf, small } from "../../support/small-specification.ts";

describe("compile", () => {
  const sampleOf = (bend: (s: Bent) => void = () => undefined) => recordOf(compile(bent(bend)), "sample");

  it("gives every slice its container, shift, width and sign", () => {
    const slices = sampleOf().fields.map(({ id, byte, bytes, little, shift, width, signed }) => {
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

  it("names every field by record and id, an element by its index", () => {
    expect(sampleOf().fields.map(({ path }) => path)).toEqual([
      "sample.kind",
      "sample.layout",
      "sample.status",
      "sample.level",
      "sample.spare",
      "sample.mode",
      "sample.run[0]",
      "sample.run[1]",
      "sample.seal",
    ]);
  });

  it("steps through an array by its container, with the element's sign and the array's byte order", () => {
    const bend = (s: Bent) => {
      const element = { ...fieldOf(s, "run").element, type: "signed", range: [-9, 9] };
      s.records[1].fields.push({ ...fieldOf(s, "run"), at: 1, count: 3, container: 16, order: "little", element });
      s.records[1].bytes = 7;
    };
    const { fields } = recordOf(compile(bent(bend)), "ask");
    expect(fields.slice(1)).toMatchObject(
      [1, 3, 5].map((byte, index) => ({
        id: `run[${index}]`,
        type: "signed",
        byte,
        bytes: 2,
        little: true,
        shift: 0,
        width: 16,
        signed: true,
        array: "run",
        index,
      })),
    );
  });

  it("fills in what a type has by default", () => {
    const sample = sampleOf();
    const level = sample.fields[fieldIndex(sample, "level")]!;
    expect(level).toMatchObject({ unit: "Pa", num: 1, den: 2, add: 3, min: -100, max: 100, coldStart: -32_768 });
    expect(recordOf(compile(small), "ask").fields[0]).toMatchObject({ add: 0, sentinels: [], coldStart: null });
    expect(sample.fields[fieldIndex(sample, "status")]!.named).toBe(0b11);
  });

  it("points a tail at the field that counts it", () => {
    const { tails } = recordOf(compile(small), "ask");
    expect(tails).toEqual([{ id: "items", path: "ask.items", why: "Items.", bytes: 2, little: false, count: 0 }]);
    const bend = (s: Bent) => {
      s.records[1].fields.unshift({ ...s.records[1].fields[0], id: "first" });
      s.records[1].fields[1].at = 1;
      s.records[1].bytes = 2;
      Object.assign(s.records[1].tails[0], { container: 8, order: "little" });
    };
    expect(recordOf(compile(bent(bend)), "ask").tails).toMatchObject([{ bytes: 1, little: true, count: 1 }]);
  });

  it("keeps overrides of writer and lock", () => {
    const record = sampleOf((s) => Object.assign(fieldOf(s, "mode"), { writer: "reader", lock: "permanent" }));
    expect(record.fields[fieldIndex(record, "mode")]).toMatchObject({ writer: "reader", lock: "permanent" });
    expect("writer" in record.fields[0]!).toBe(false);
    expect("lock" in record.fields[0]!).toBe(false);
  });

  it("throws for names that do not exist, a programming error", () => {
    expect(() => recordOf(compile(small), "nothing")).toThrow("layout 1 has no record nothing");
    expect(() => fieldIndex(sampleOf(), "nothing")).toThrow("record sample has no field nothing");
  });

  it("lists every problem of a wrong specification, a line each", () => {
    const wrong = bent((s) => (s.layout = 15) && (fieldOf(s, "level").why = ""));
    expect(() => compile(wrong)).toThrow(
      /^layout: .* \[layout-number-invalid\]\nsample\.level: .* \[reason-missing\]$/,
    );
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
