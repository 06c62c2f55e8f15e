/** Whatever `decode` is given, by what its first bytes say it is. */
import { layout } from "../../protocol/index.ts";
import { CaptureReader } from "../capture/capture-reader.ts";
import { KIND_BYTES, kindOf, peeked } from "../capture/file-kind.ts";
import type { CaptureItem } from "../capture/item.ts";
import { type Heard, LlrpCapture, type LlrpItem, placeText } from "../capture/llrp-capture.ts";
import { llrpOfPackets } from "../capture/packet-file.ts";
import { CommandError, EXIT, systemSentence } from "./exit.ts";

export type DecodeItem = CaptureItem | LlrpItem;

export interface Recording {
  readonly items: AsyncIterable<DecodeItem>;
  readonly isLlrp: boolean;
  /** Bytes read so far. */
  bytes(): number;
  /** Place of an item as a message begins with it. */
  where(item: DecodeItem): string;
  /** What was in it, in one sentence. */
  summary(): string;
  isEmpty(): boolean;
}

/** `file` is what was asked for, `name` what messages call it. Throws a CommandError when it cannot be read. */
export async function openRecording(
  source: AsyncIterable<Uint8Array | string>,
  file: string,
  name: string,
): Promise<Recording> {
  const { first, all } = await peeked(source, KIND_BYTES).catch((error) => {
    throw new CommandError(EXIT.device, systemSentence(name, error));
  });
  switch (kindOf(first)) {
    case "text":
      return ofText(new CaptureReader(all, name, layout), name);
    case "llrp":
      return ofLlrp(new LlrpCapture(oneSide(all), name), name);
    case "packets":
      if (file === "-") {
        throw new CommandError(
          EXIT.usage,
          "standard input: a packet capture is read from a file, for it is read more than once",
        );
      }
      return ofLlrp(new LlrpCapture(llrpOfPackets(file), name), name);
  }
}

function ofText(capture: CaptureReader, name: string): Recording {
  const { counts } = capture;
  return {
    items: capture,
    isLlrp: false,
    bytes: () => counts.bytes,
    where: ({ place }) => `${name}:${"line" in place ? place.line : ""}`,
    summary: () => {
      const { lines, headers, read, ambient, blank } = counts;
      const unreadable = Object.values(counts.rejected).reduce((sum, count) => sum + count, 0);
      return `${lines} lines: ${headers} header, ${read} read, ${ambient} ambient, ${blank} blank, ${unreadable} unreadable.`;
    },
    isEmpty: () => (counts.noticed["file-empty"] ?? 0) > 0,
  };
}

function ofLlrp(capture: LlrpCapture, name: string): Recording {
  const { counts } = capture;
  return {
    items: capture,
    isLlrp: true,
    bytes: () => counts.bytes,
    where: ({ place }) => ("message" in place ? placeText(name, place) : name),
    summary: () => {
      const { messages, sessions, read, skipped, rejected } = counts;
      return `${messages} LLRP messages: ${sessions} sessions, ${read} reports, ${skipped} unknown parameters skipped, ${rejected} unreadable.`;
    },
    isEmpty: () => counts.read === 0,
  };
}

async function* oneSide(all: AsyncIterable<Uint8Array>): AsyncGenerator<Heard> {
  for await (const bytes of all) yield { connection: "", side: "", bytes };
}
