/** What a program says of itself in answer to hello. */
import { type Pairs, parseAnswer } from "./answer.ts";
import { isCapability } from "./capability.ts";

/** Version of the contract in vectors/REPLAY.md. */
const CONTRACT = "1";

/** What hello asks. */
export const HELLO: Pairs = [["contract", CONTRACT]];

export interface Greeting {
  readonly name: string;
  /** Null when the program states none. */
  readonly version: string | null;
  /** Eight hex digits: the specification the program was written for. */
  readonly fingerprint: string;
  /** Declared capabilities that the contract has. */
  readonly can: readonly string[];
  /** Declared, and unknown to the contract. */
  readonly unknown: readonly string[];
}

const KEYS = ["contract", "name", "version", "fingerprint", "can"];

/** The greeting in an answer to hello, or one sentence why it is none. */
export function parseGreeting(text: string): Greeting | string {
  const answer = parseAnswer(text);
  if (typeof answer === "string") return `the answer to hello cannot be read: ${answer}`;
  if (answer.verdict !== "good") return "hello was not answered with good";
  const { pairs } = answer;
  const strange = [...pairs.keys()].find((key) => !KEYS.includes(key));
  if (strange !== undefined) return `the answer to hello has a key the contract does not know: ${strange}`;
  const [contract, name, fingerprint, can] = ["contract", "name", "fingerprint", "can"].map((key) => pairs.get(key));
  if (contract !== CONTRACT) return `contract=${contract ?? ""}: this program asks by contract ${CONTRACT}`;
  if (!name) return "the answer to hello has no name";
  if (!/^[0-9a-f]{8}$/.test(fingerprint ?? "")) return "the answer to hello has no fingerprint of eight hex digits";
  const declared = (can ?? "").split(",").filter((word) => word !== "");
  return {
    name,
    version: pairs.get("version") ?? null,
    fingerprint: fingerprint!,
    can: declared.filter(isCapability),
    unknown: declared.filter((word) => !isCapability(word)),
  };
}
