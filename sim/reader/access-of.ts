import { type DecodedRecord, rawOf } from "../../protocol/codec/record.ts";
import type { Access } from "./singulated.ts";

/** The access command of a request by its message id, or null when it names no words. Throws an Error for any other id. */
export function accessOf(id: string, content: DecodedRecord): Access | null {
  if (id === "kill") return { kind: id, password: rawOf(content, "password") };
  if (id === "lock") return { kind: id, mask: rawOf(content, "mask"), action: rawOf(content, "action") };
  const place = { bank: rawOf(content, "bank"), word: rawOf(content, "pointer") };
  const count = rawOf(content, "word_count");
  if (count === 0) return null;
  switch (id) {
    case "read":
      return { kind: id, ...place, count };
    case "write":
    case "block_write":
      return { kind: id, ...place, words: content.tails.words! };
    default:
      throw new Error(`${id} is no access`);
  }
}
