import { bitCrc, queryCrc } from "../../protocol/bytes/bit-crc.ts";
import { BitReader, type Bits, unsealed } from "./bits.ts";
import type { Command, Query, SelectTarget, Session } from "./command.ts";
import { readEbv } from "./ebv.ts";
import { CODES, UP_DOWN } from "./encode-command.ts";

/**
 * The command that a string of bits is, or null for anything a tag takes no notice of: an unknown code, a wrong length or
 * checksum, or a value kept for later. Never throws.
 */
export function decodeCommand(bits: Bits): Command | null {
  const kind = kindOf(bits);
  if (!kind) return null;
  const body = isSealed(kind) ? unsealed(bits) : bits;
  if (!body) return null;
  const reader = new BitReader(body);
  reader.bits(CODES[kind].length);
  const command = fieldsOf(kind, reader, bits);
  return command && reader.done ? command : null;
}

function kindOf(bits: Bits): Command["kind"] | null {
  const first = bits.slice(0, 8).join("");
  const kinds = Object.keys(CODES) as Command["kind"][];
  return kinds.find((kind) => first.startsWith(CODES[kind])) ?? null;
}

function isSealed(kind: Command["kind"]): boolean {
  return !["query", "query_rep", "query_adjust", "ack", "nak"].includes(kind);
}

function fieldsOf(kind: Command["kind"], reader: BitReader, whole: Bits): Command | null {
  switch (kind) {
    case "query_rep":
      return { kind, session: reader.number(2) as Session };
    case "ack":
      return { kind, rn: reader.number(16) };
    case "nak":
      return { kind };
    case "query":
      return queryOf(reader, whole);
    case "query_adjust": {
      const session = reader.number(2) as Session;
      const change = changeOf(reader.bits(3).join(""));
      return change === null ? null : { kind, session, change };
    }
    case "select": {
      const [target, action, bank] = [reader.number(3), reader.number(3), reader.number(2)];
      const pointer = readEbv(reader);
      const mask = reader.bits(reader.number(8));
      const truncate = reader.number(1) === 1;
      if (pointer === null || target > 4) return null;
      return { kind, target: target as SelectTarget, action, bank, pointer, mask, truncate };
    }
    case "req_rn":
      return { kind, rn: reader.number(16) };
    case "access":
      return { kind, covered: reader.number(16), handle: reader.number(16) };
    case "kill": {
      const covered = reader.number(16);
      return reader.number(3) === 0 ? { kind, covered, handle: reader.number(16) } : null;
    }
    case "lock":
      return { kind, mask: reader.number(10), action: reader.number(10), handle: reader.number(16) };
    case "block_permalock":
      return permalockOf(reader);
    default:
      return onWords(kind, reader);
  }
}

function queryOf(reader: BitReader, whole: Bits): Command | null {
  const dr = reader.number(1) as Query["dr"];
  const m = reader.number(2) as Query["m"];
  const trext = reader.number(1) === 1;
  const sel = reader.number(2) as Query["sel"];
  const session = reader.number(2) as Session;
  const target = reader.number(1) === 1 ? "B" : "A";
  const q = reader.number(4);
  const crc = reader.number(5);
  if (crc !== bitCrc(queryCrc, whole.slice(0, -5))) return null;
  return { kind: "query", dr, m, trext, sel, session, target, q };
}

function changeOf(upDown: string): 1 | 0 | -1 | null {
  return ([1, 0, -1] as const).find((change) => UP_DOWN[change] === upDown) ?? null;
}

function permalockOf(reader: BitReader): Command | null {
  const later = reader.number(8);
  const locks = reader.number(1) === 1;
  const bank = reader.number(2);
  const block = readEbv(reader);
  const range = reader.number(8);
  const mask = locks ? reader.words(range) : null;
  const handle = reader.number(16);
  return later !== 0 || block === null ? null : { kind: "block_permalock", bank, block, range, mask, handle };
}

function onWords(kind: "read" | "write" | "block_write" | "block_erase", reader: BitReader): Command | null {
  const bank = reader.number(2);
  const word = readEbv(reader);
  if (word === null) return null;
  if (kind === "write") return { kind, bank, word, covered: reader.number(16), handle: reader.number(16) };
  const count = reader.number(8);
  if (kind === "block_write") {
    const words = reader.words(count);
    return { kind, bank, word, words, handle: reader.number(16) };
  }
  return { kind, bank, word, count, handle: reader.number(16) };
}
