import { bitCrc, queryCrc } from "../../protocol/bytes/bit-crc.ts";
import { type Bits, bitsOf, bitsOfWords, sealed } from "./bits.ts";
import type { Command } from "./command.ts";
import { encodeEbv } from "./ebv.ts";

/** First bits of the commands; the shortest belong to the most frequent. */
export const CODES = {
  query_rep: "00",
  ack: "01",
  query: "1000",
  query_adjust: "1001",
  select: "1010",
  nak: "11000000",
  req_rn: "11000001",
  read: "11000010",
  write: "11000011",
  kill: "11000100",
  lock: "11000101",
  access: "11000110",
  block_write: "11000111",
  block_erase: "11001000",
  block_permalock: "11001001",
} as const satisfies Record<Command["kind"], string>;

/** UpDn of QueryAdjust. */
export const UP_DOWN = { 1: "110", 0: "000", [-1]: "011" } as const;

/** The bits of a command, checksum included. Its numbers are taken as they are: too large a one loses its upper bits. */
export function encodeCommand(command: Command): Bits {
  const code = Array.from(CODES[command.kind], Number);
  switch (command.kind) {
    case "query_rep":
      return [...code, ...bitsOf(command.session, 2)];
    case "ack":
      return [...code, ...bitsOf(command.rn, 16)];
    case "query": {
      const { dr, m, trext, sel, session, target, q } = command;
      const fields = [dr, ...bitsOf(m, 2), trext ? 1 : 0, ...bitsOf(sel, 2), ...bitsOf(session, 2)];
      const body = [...code, ...fields, target === "B" ? 1 : 0, ...bitsOf(q, 4)];
      return [...body, ...bitsOf(bitCrc(queryCrc, body), 5)];
    }
    case "query_adjust":
      return [...code, ...bitsOf(command.session, 2), ...Array.from(UP_DOWN[command.change], Number)];
    case "nak":
      return code;
    case "select": {
      const { target, action, bank, pointer, mask, truncate } = command;
      const place = [...bitsOf(target, 3), ...bitsOf(action, 3), ...bitsOf(bank, 2), ...encodeEbv(pointer)];
      return sealed([...code, ...place, ...bitsOf(mask.length, 8), ...mask, truncate ? 1 : 0]);
    }
    case "req_rn":
      return sealed([...code, ...bitsOf(command.rn, 16)]);
    default:
      return sealed([...code, ...argumentsOf(command), ...bitsOf(command.handle, 16)]);
  }
}

/** What stands between the code and the handle. */
function argumentsOf(command: Extract<Command, { readonly handle: number }>): Bits {
  switch (command.kind) {
    case "access":
      return bitsOf(command.covered, 16);
    case "kill":
      return [...bitsOf(command.covered, 16), 0, 0, 0];
    case "lock":
      return [...bitsOf(command.mask, 10), ...bitsOf(command.action, 10)];
    case "block_permalock": {
      const { bank, block, range, mask } = command;
      const blocks = [...bitsOf(bank, 2), ...encodeEbv(block), ...bitsOf(range, 8)];
      return [...bitsOf(0, 8), mask ? 1 : 0, ...blocks, ...bitsOfWords(mask ?? [])];
    }
    default: {
      const place = [...bitsOf(command.bank, 2), ...encodeEbv(command.word)];
      if (command.kind === "write") return [...place, ...bitsOf(command.covered, 16)];
      if (command.kind !== "block_write") return [...place, ...bitsOf(command.count, 8)];
      return [...place, ...bitsOf(command.words.length, 8), ...bitsOfWords(command.words)];
    }
  }
}
