/** Parsers of byte streams: link frames, link messages, LLRP. */
import { Deframer, decodeMessage, formatHex, isFault, layout } from "../../../protocol/index.ts";
import { LlrpStream } from "../../../protocol/llrp/stream.ts";
import { bytesOf, vectorsOf } from "../../support/vectors.ts";
import { type FuzzParser, textOf, unequal } from "../fuzz-parser.ts";

/** Every wire of a vector file, good or bad. */
function wires(file: string, member: "wire" | "body"): Uint8Array[] {
  const { good, bad } = vectorsOf<{ readonly wire: string; readonly body: string }>(file);
  return [...good, ...bad].map(({ given }) => bytesOf(given[member]));
}

/** Frames and what is in them, in both directions. */
export const link: FuzzParser = {
  name: "link",
  seeds: () => wires("link-frames.json", "wire"),
  run: async (pieces) => {
    const deframer = new Deframer();
    const said: unknown[] = [];
    const onBody = (body: Uint8Array) => {
      const messages = (["to-host", "to-kit"] as const).map((direction) => decodeMessage(layout, body, direction));
      said.push(formatHex(body), messages);
    };
    for (const piece of pieces) deframer.push(piece, onBody, (fault) => said.push(fault));
    const waiting = deframer.counts;
    deframer.end((fault) => said.push(fault));
    const { received, framed, discarded, idle, pending, frames, faults } = deframer.counts;
    const size = pieces.reduce((sum, piece) => sum + piece.length, 0);
    return {
      said: textOf([said, deframer.counts]),
      broken: unequal(
        ["bytes received = bytes given", received, size],
        ["received = framed + discarded + idle", received, framed + discarded + idle],
        ["the same before the end", received, waiting.framed + waiting.discarded + waiting.idle + waiting.pending],
        ["pending at the end = 0", pending, 0],
        ["bodies and faults = those counted", said.length, 2 * frames + faults],
      ),
    };
  },
};

/** Bodies of messages, without a checksum before them that would keep mutations out. */
export const messages: FuzzParser = {
  name: "messages",
  seeds: () => wires("link-messages.json", "body"),
  run: async (pieces) => {
    const body = Uint8Array.from(pieces.flatMap((piece) => [...piece]));
    const found = (["to-host", "to-kit"] as const).map((direction) => decodeMessage(layout, body, direction));
    const beyond = found.filter((one) => isFault(one) && (one.byte < 0 || one.byte > body.length));
    return { said: textOf(found), broken: unequal(["faults beyond the body", beyond.length, 0]) };
  },
};

/** Messages of LLRP. */
export const llrp: FuzzParser = {
  name: "llrp",
  seeds: () => [...wires("llrp-stream.json", "wire"), ...wires("llrp.json", "wire")],
  run: async (pieces) => {
    const said: unknown[] = [];
    const raws: string[] = [];
    const stream = new LlrpStream({
      onMessage: (message, { byte, raw }) => {
        said.push(message, byte);
        raws.push(formatHex(raw));
      },
      onFault: (fault, origin) => {
        said.push(fault);
        if (origin) raws.push(formatHex(origin.raw));
      },
    });
    for (const piece of pieces) stream.push(piece);
    stream.end();
    const { received, taken, refused, discarded, pending } = stream.counts;
    const all = Buffer.concat(pieces).toString("hex");
    const kept = raws.join("");
    return {
      said: textOf([said, stream.counts, stream.lost]),
      broken: unequal(
        ["bytes received = bytes given", received, all.length / 2],
        ["received = taken + refused + discarded", received, taken + refused + discarded],
        ["pending at the end = 0", pending, 0],
        ["bytes given back = taken + refused", kept.length / 2, taken + refused],
        ["bytes given back, as they came", kept, all.slice(0, kept.length)],
      ),
    };
  },
};
