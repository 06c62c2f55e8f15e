/** LLRP's status codes. Source: GS1/EPCglobal Low Level Reader Protocol 1.0.1. */
import { type LlrpElement, numberOf, parameterOf } from "./vocabulary.ts";

const IN_MESSAGE = [
  "M_ParameterError",
  "M_FieldError",
  "M_UnexpectedParameter",
  "M_MissingParameter",
  "M_DuplicateParameter",
  "M_OverflowParameter",
  "M_OverflowField",
  "M_UnknownParameter",
  "M_UnknownField",
  "M_UnsupportedMessage",
  "M_UnsupportedVersion",
  "M_UnsupportedParameter",
];

const names = new Map<number, string>([
  [0, "M_Success"],
  ...IN_MESSAGE.map((name, i): [number, string] => [100 + i, name]),
  // The same for a parameter, without message and version.
  ...IN_MESSAGE.slice(0, 9).map((name, i): [number, string] => [200 + i, name.replace("M_", "P_")]),
  [209, "P_UnsupportedParameter"],
  [300, "A_Invalid"],
  [301, "A_OutOfRange"],
  [401, "R_DeviceError"],
]);

/** `110 M_UnsupportedVersion`; the number alone when the standard has no name for it. */
export function statusName(code: number): string {
  const name = names.get(code);
  return name === undefined ? `${code}` : `${code} ${name}`;
}

/** Code of a status name. Throws an Error for a name the standard does not have. */
export function statusCode(name: string): number {
  for (const [code, known] of names) if (known === name) return code;
  throw new Error(`${name} is no status of LLRP`);
}

/** What an LLRPStatus says: code, the reader's words, and the parameter or field that is to blame, outermost first. */
export function statusText(status: LlrpElement): string {
  const parts = [statusName(numberOf(status, "StatusCode"))];
  const text = status.values.ErrorDescription;
  if (typeof text === "string" && text !== "") parts.push(text);
  for (let at: LlrpElement | undefined = status; at; at = parameterOf(at, "ParameterError")) {
    if (at.name === "ParameterError") parts.push(`parameter ${numberOf(at, "ParameterType")}`);
    const field = parameterOf(at, "FieldError");
    if (field) parts.push(`field ${numberOf(field, "FieldNum")}`);
  }
  return parts.join(", ");
}
