/** LLRP's status codes by number, as the standard's list has them (LLRP 1.0.1, LLRPStatus). */
import { describe, expect, it } from "vitest";
import { statusCode, statusName, statusText } from "../../../protocol/llrp/status.ts";
import { element, type LlrpElement } from "../../../protocol/llrp/vocabulary.ts";

const codes: readonly (readonly [number, string])[] = [
  [0, "M_Success"],
  [100, "M_ParameterError"],
  [101, "M_FieldError"],
  [102, "M_UnexpectedParameter"],
  [103, "M_MissingParameter"],
  [104, "M_DuplicateParameter"],
  [105, "M_OverflowParameter"],
  [106, "M_OverflowField"],
  [107, "M_UnknownParameter"],
  [108, "M_UnknownField"],
  [109, "M_UnsupportedMessage"],
  [110, "M_UnsupportedVersion"],
  [111, "M_UnsupportedParameter"],
  [200, "P_ParameterError"],
  [201, "P_FieldError"],
  [202, "P_UnexpectedParameter"],
  [203, "P_MissingParameter"],
  [204, "P_DuplicateParameter"],
  [205, "P_OverflowParameter"],
  [206, "P_OverflowField"],
  [207, "P_UnknownParameter"],
  [208, "P_UnknownField"],
  [209, "P_UnsupportedParameter"],
  [300, "A_Invalid"],
  [301, "A_OutOfRange"],
  [401, "R_DeviceError"],
];

describe("a status code", () => {
  it.each(codes)("%i is %s", (code, name) => {
    expect(statusName(code)).toBe(`${code} ${name}`);
    expect(statusCode(name)).toBe(code);
  });

  it("has no name where the standard has none", () => {
    const named = new Set(codes.map(([code]) => code));
    for (let code = 0; code < 1000; code++) if (!named.has(code)) expect(statusName(code)).toBe(`${code}`);
    expect(() => statusCode("M_Fine")).toThrow("M_Fine is no status of LLRP");
  });
});

describe("what a status says", () => {
  const status = (StatusCode: number, ErrorDescription: string, ...parameters: LlrpElement[]) =>
    statusText(element("LLRPStatus", { StatusCode, ErrorDescription }, parameters));
  const field = (FieldNum: number) => element("FieldError", { FieldNum, ErrorCode: 301 });
  const parameter = (ParameterType: number, ...parameters: LlrpElement[]) =>
    element("ParameterError", { ParameterType, ErrorCode: 200 }, parameters);

  it("is its code alone when the reader adds nothing", () => {
    expect(status(109, "")).toBe("109 M_UnsupportedMessage");
    expect(status(999, "")).toBe("999");
  });

  it("is the reader's words, and the field or parameters to blame, outermost first", () => {
    expect(status(101, "too much", field(3))).toBe("101 M_FieldError, too much, field 3");
    expect(status(100, "", parameter(177, parameter(183, field(0))))).toBe(
      "100 M_ParameterError, parameter 177, parameter 183, field 0",
    );
  });

  it("is nothing but the code when the words are missing", () => {
    expect(statusText(element("LLRPStatus", { StatusCode: 0 }))).toBe("0 M_Success");
  });
});
