/** Whatever `decode` is given, by what its first bytes say it is. */
import { layout } from "../../protocol/index.ts";
import { CaptureReader } from "../capture/capture-reader.ts";
import { recognised } from "../capture/file-kind.ts";
import type { CaptureItem } from "../capture/item.ts";
import { LinkCapture, type LinkItem } from "../capture/link-capture.ts";
import { type Heard, LlrpCapture, type LlrpItem, placeText } from "../capture/llrp-capture.ts";
import { llrpOfPackets } from "../capture/packet-file.ts";
import { PcapngCapture, type PcapngItem } from "../capture/pcapng-capture.ts";
import { CommandError, EXIT } from "./exit.ts";
import type { Source } from "./source.ts";

export type DecodeItem = CaptureItem | LlrpItem | LinkItem | PcapngItem;

/** What the file is a row of. */
export type Unit = "line" | "message" | "frame" | "packet";

export interface Recording {
  readonly items: AsyncIterable<DecodeItem>;
  readonly isLlrp: boolean;
  readonly unit: Unit;
  /** Number of the unit an item came from; counted from 1, never going back. */
  ordinal(item: DecodeItem): number;
  /** Place of an item as a message begins with it. */
  where(item: DecodeItem): string;
  /** What was in it, in one sentence. */
  summary(): string;
  isEmpty(): boolean;
}

/** Throws a CommandError for a file that cannot be read in this way, and what the source fails of. */
export async function openRecording({ bytes, file, name }: Source): Promise<Recording> {
  const { kind, all } = await recognised(bytes);
  switch (kind) {
    case "text":
      return ofText(new CaptureReader(all, name, layout), name);
    case "llrp":
      return ofLlrp(new LlrpCapture(oneSide(all), name), name);
    case "link":
      return ofLink(new LinkCapture(all, name, layout), name);
    case "pcapng":
      return ofPcapng(new PcapngCapture(all, name, layout), name);
    case "packets":
      if (file === null) {
        throw new CommandError(
          EXIT.usage,
          `${name}: a packet capture is read from a file, for it is read more than once`,
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
    unit: "line",
    ordinal: ({ place }) => ("line" in place ? place.line : 0),
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
    unit: "message",
    ordinal: ({ place }) => ("ordinal" in place ? place.ordinal : 0),
    where: ({ place }) => ("message" in place ? placeText(name, place) : name),
    summary: () => {
      const { messages, sessions, read, skipped, rejected } = counts;
      return `${messages} LLRP messages: ${sessions} sessions, ${read} reports, ${skipped} unknown parameters skipped, ${rejected} unreadable.`;
    },
    isEmpty: () => counts.read === 0,
  };
}

function ofLink(capture: LinkCapture, name: string): Recording {
  const { counts } = capture;
  return {
    items: capture,
    isLlrp: false,
    unit: "frame",
    ordinal: ({ place }) => ("frame" in place ? place.frame : 0),
    where: ({ place }) => `${name}: frame ${"frame" in place ? place.frame : ""}`,
    summary: () => {
      const { frames, sessions, read, ambient, other, rejected } = counts;
      return `${frames} link frames: ${sessions} greetings, ${read} read, ${ambient} ambient, ${other} answers, ${rejected} unreadable.`;
    },
    isEmpty: () => counts.read + counts.ambient === 0,
  };
}

function ofPcapng(capture: PcapngCapture, name: string): Recording {
  const { counts } = capture;
  return {
    items: capture,
    isLlrp: false,
    unit: "packet",
    ordinal: ({ place }) => ("packet" in place ? place.packet : 0),
    where: ({ place }) => `${name}: packet ${"packet" in place ? place.packet : ""}`,
    summary: () => {
      const { packets, sections, read, ambient, other, passed, rejected } = counts;
      const blocks = passed === 0 ? "" : ` ${passed} blocks of other types passed over.`;
      return `${packets} packets in ${sections} sections: ${read} read, ${ambient} ambient, ${other} other, ${rejected} unreadable.${blocks}`;
    },
    isEmpty: () => counts.read + counts.ambient === 0,
  };
}

async function* oneSide(all: AsyncIterable<Uint8Array>): AsyncGenerator<Heard> {
  for await (const bytes of all) yield { connection: "", side: "", bytes };
}
