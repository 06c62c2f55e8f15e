/** What a program can declare: a verb, or a verb for one record or message, and whether it names places. */
import { layout } from "../../protocol/index.ts";

/** The program gives byte and path with every bad answer and is held to them. */
export const PLACES = "places";

/** Verbs of the contract beside hello, and what may stand behind the dot. */
const banked: readonly string[] = layout.banks.flatMap(({ regions }) => regions.map(({ record }) => record ?? ""));
const records = layout.records.filter(({ id }) => banked.includes(id)).map(({ id }) => id);
const messages = layout.messages.map(({ id }) => id);
const verbs: { readonly [verb: string]: readonly string[] } = {
  decode: records,
  encode: records,
  write: layout.records.map(({ id }) => id),
  slots: [],
  header: [],
  reading: [],
  unframe: [],
  message: messages,
  epc: [],
  epc_write: [],
  quantity: [],
  stored_crc: [],
  slice: [],
};

/** Whether the contract has this capability. */
export function isCapability(word: string): boolean {
  if (word === PLACES) return true;
  const [verb, part, ...more] = word.split(".") as [string, string?, ...string[]];
  if (!Object.hasOwn(verbs, verb) || more.length > 0) return false;
  return part === undefined || verbs[verb]!.includes(part);
}

/** Whether a program that declares `can` is to be asked a case that needs `needed`, such as `decode.frame`. */
export function covers(can: readonly string[], needed: string): boolean {
  return can.includes(needed) || can.includes(needed.split(".")[0]!);
}
