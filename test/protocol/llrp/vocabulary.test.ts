/** How tables of LLRP are read from their texts, worked by hand. */
import { describe, expect, it } from "vitest";
import { element, fieldsOf, numberOf, parameterOf, placesOf } from "../../../protocol/llrp/vocabulary.ts";

describe("fieldsOf", () => {
  it("reads every kind of field, with any space between", () => {
    expect(fieldsOf("  OpSpecID:u16 _:7\n B:s12  C:h96 D:u1v E:u8v F:utf8v G:u16v H:u32v I:rest ")).toEqual([
      { name: "OpSpecID", type: "unsigned", bits: 16 },
      { name: null, type: "unsigned", bits: 7 },
      { name: "B", type: "signed", bits: 12 },
      { name: "C", type: "hex", bits: 96 },
      { name: "D", type: "u1v", bits: 0 },
      { name: "E", type: "u8v", bits: 0 },
      { name: "F", type: "utf8v", bits: 0 },
      { name: "G", type: "u16v", bits: 0 },
      { name: "H", type: "u32v", bits: 0 },
      { name: "I", type: "rest", bits: 0 },
    ]);
    expect(fieldsOf("")).toEqual([]);
  });

  it.each(["A", "A:", ":u8", "A:u8:u8", "A-B:u8", "A:u8;"])("takes %s for no field", (word) => {
    expect(() => fieldsOf(word)).toThrow(`${word} is no field`);
  });

  it.each(["x8", "u", "u8v9", "9u1v", "restful", "arrest", "xu8", "u8x", "su8"])("takes %s for no type", (kind) => {
    expect(() => fieldsOf(`A:${kind}`)).toThrow(`${kind} is no type`);
  });
});

describe("placesOf", () => {
  const Infinite = Number.POSITIVE_INFINITY;

  it("reads one, perhaps one, any number, and at least one", () => {
    expect(placesOf("A  EPC-96? B* C|D+")).toEqual([
      { names: ["A"], min: 1, max: 1 },
      { names: ["EPC-96"], min: 0, max: 1 },
      { names: ["B"], min: 0, max: Infinite },
      { names: ["C", "D"], min: 1, max: Infinite },
    ]);
    expect(placesOf("")).toEqual([]);
  });
});

describe("an element", () => {
  const inner = element("FieldError", { FieldNum: 3, ErrorCode: 301 });
  const status = element("LLRPStatus", { StatusCode: 101, ErrorDescription: "no" }, [
    inner,
    element("FieldError", { FieldNum: 4, ErrorCode: 301 }),
  ]);

  it("has neither values nor parameters unless they are given", () => {
    expect(element("KEEPALIVE")).toEqual({ name: "KEEPALIVE", values: {}, parameters: [] });
  });

  it("gives the first parameter of a name", () => {
    expect(parameterOf(status, "FieldError")).toBe(inner);
    expect(parameterOf(status, "ParameterError")).toBeUndefined();
  });

  it("gives a number by its field's name, and says when there is none", () => {
    expect(numberOf(status, "StatusCode")).toBe(101);
    expect(() => numberOf(status, "ErrorDescription")).toThrow("LLRPStatus has no number ErrorDescription");
    expect(() => numberOf(status, "Code")).toThrow("LLRPStatus has no number Code");
  });
});
