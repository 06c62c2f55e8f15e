/** Reads a capture kept as pcapng: packets of our link type, each a message of the link; others are passed over. */
import { isFault, type Layout, type Reason, reasons, sentence } from "../../protocol/index.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import { judgeHeader } from "./header-rules.ts";
import { type CaptureHeader, LineFault, type Notice, type Reject } from "./item.ts";
import { type Greeting, heardIn } from "./link-messages.ts";
import { type Block, BlockReader } from "./pcapng-blocks.ts";
import { LINK_TYPE } from "./pcapng-format.ts";

/** Packets are counted from 1 through the whole file, as Wireshark counts them; what stands between two has the number of the next. */
export interface PacketPlace {
  readonly packet: number;
}

export interface PcapngCounts {
  bytes: number;
  packets: number;
  sections: number;
  read: number;
  ambient: number;
  /** Messages that report nothing, and packets of other link types. */
  other: number;
  /** Blocks of types that are not looked into. */
  passed: number;
  rejected: number;
}

export type PcapngItem =
  | { readonly place: PacketPlace; readonly header: CaptureHeader }
  /** A section without a header of ours, or a kit that greets in one. */
  | { readonly place: PacketPlace; readonly session: Greeting | typeof UNKNOWN }
  /** `raw` is the whole block. */
  | { readonly place: PacketPlace; readonly report: TagReport | AmbientReport; readonly raw: Uint8Array }
  | { readonly place: PacketPlace; readonly notice: Notice }
  | { readonly place: PacketPlace; readonly reject: Reject }
  | { readonly place: PacketPlace; readonly more: Uint8Array };

const UNKNOWN = { started: null, barometerUncertaintyPa: null } as const;

type Packet = Extract<Block, { readonly kind: "packet" }>;

/** Async iterable of the items; iterate once. An error of the source comes out of the iteration. */
export class PcapngCapture implements AsyncIterable<PcapngItem> {
  readonly counts: PcapngCounts = {
    bytes: 0,
    packets: 0,
    sections: 0,
    read: 0,
    ambient: 0,
    other: 0,
    passed: 0,
    rejected: 0,
  };
  readonly #source: AsyncIterable<Uint8Array>;
  readonly #name: string;
  readonly #layout: Layout;
  readonly #blocks = new BlockReader();
  /** What the section says of itself: a header of ours, none, or one that was refused, for the reason given. */
  #header: "ours" | "none" | "missed" | { readonly reason: Reason; readonly packet: number } = "none";

  /** `name` is what messages call the file. */
  constructor(source: AsyncIterable<Uint8Array>, name: string, layout: Layout) {
    this.#source = source;
    this.#name = name;
    this.#layout = layout;
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<PcapngItem> {
    for await (const bytes of this.#source) {
      this.counts.bytes += bytes.length;
      for (const block of this.#blocks.push(bytes)) yield* this.#take(block);
    }
    for (const block of this.#blocks.end()) yield* this.#take(block);
    const { read, ambient, rejected, packets } = this.counts;
    if (read + ambient + rejected > 0) return;
    const says = `${reasons["file-empty"].says} (no report in ${packets} packets)`;
    yield { place: this.#next, notice: { reason: "file-empty", sentence: `${this.#name}: ${says} [file-empty]` } };
  }

  get #next(): PacketPlace {
    return { packet: this.counts.packets + 1 };
  }

  *#take(block: Block): Generator<PcapngItem> {
    switch (block.kind) {
      case "section":
        yield* this.#section(block.comments, block.raw);
        return;
      case "packet":
        this.counts.packets++;
        yield* this.#packet(block, { packet: this.counts.packets });
        return;
      case "damage":
        yield this.#reject(this.#next, "between packets", block.raw, block.fault.code, sentence(block.fault));
        return;
      case "other":
        this.counts.passed++;
        return;
      case "more":
        yield { place: this.#next, more: block.raw };
    }
  }

  *#section(comments: readonly string[], raw: Uint8Array): Generator<PcapngItem> {
    this.counts.sections++;
    const place = this.#next;
    const members = comments.map(membersOf).find((found) => found !== null);
    if (!members) {
      this.#header = "none";
      yield { place, session: UNKNOWN };
      return;
    }
    const { header, fault, blocks } = judgeHeader(members, this.#layout);
    const subject = `section ${this.counts.sections}`;
    if (header === null) {
      this.#header = blocks ? { reason: fault!.reason, packet: place.packet } : "missed";
      yield this.#reject(place, subject, raw, fault!.reason, faultText(fault!));
      return;
    }
    this.#header = "ours";
    if (fault) yield this.#notice(place, subject, fault);
    yield { place, header };
  }

  *#packet(block: Packet, place: PacketPlace): Generator<PcapngItem> {
    if (block.linkType !== LINK_TYPE) {
      this.counts.other++;
      return;
    }
    const subject = `packet ${place.packet}`;
    if (typeof this.#header === "object") {
      const { reason, packet } = this.#header;
      yield this.#reject(place, subject, block.raw, reason, reasons[reason].says, packet);
      return;
    }
    const heard = heardIn(this.#layout, block.data, block.outbound ? "to-kit" : "to-host");
    if (heard === "other") {
      this.counts.other++;
    } else if (isFault(heard)) {
      const byte = block.byte + block.data.byteOffset - block.raw.byteOffset + heard.byte;
      yield this.#reject(place, subject, block.raw, heard.code, sentence({ ...heard, byte }));
    } else if ("session" in heard) {
      this.counts.other++;
      // The header of a section knows more than the kit's greeting.
      if (this.#header === "ours") return;
      this.#header = "missed";
      yield { place, session: heard.session };
    } else {
      if (this.#header === "none") {
        this.#header = "missed";
        const found = `layout ${this.#layout.layout} is assumed; date and barometer uncertainty are not known`;
        yield this.#notice(place, subject, new LineFault("header-missing", null, found));
      }
      this.counts[heard.report.kind]++;
      yield { place, report: heard.report, raw: block.raw };
    }
  }

  #notice(place: PacketPlace, subject: string, fault: LineFault): PcapngItem {
    const says = `${this.#name}: ${subject}: ${faultText(fault)}`;
    return { place, notice: { reason: fault.reason, sentence: says } };
  }

  #reject(
    place: PacketPlace,
    subject: string,
    raw: Uint8Array,
    reason: Reason,
    says: string,
    becauseOf: number | null = null,
  ): PcapngItem {
    this.counts.rejected++;
    return { place, reject: { reason, field: null, sentence: `${this.#name}: ${subject}: ${says}`, raw, becauseOf } };
  }
}

/** Members of a capture header that stands in a comment; null for any other comment. */
function membersOf(comment: string): Record<string, unknown> | null {
  try {
    const value: unknown = JSON.parse(comment);
    const isHeader = typeof value === "object" && value !== null && "record" in value && value.record === "capture";
    return isHeader ? (value as Record<string, unknown>) : null;
  } catch {
    return null;
  }
}

function faultText({ reason, field, found }: LineFault): string {
  return `${field === null ? "" : `${field}: `}${reasons[reason].says} (${found}) [${reason}]`;
}
