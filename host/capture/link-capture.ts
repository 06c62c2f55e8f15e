/** Reads raw bytes of the link, as they came from a reader kit, as a capture, in bounded memory. */
import { Deframer, type Fault, isFault, type Layout, reasons, sentence } from "../../protocol/index.ts";
import { MAX_ENCODED } from "../../protocol/link/framing.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import type { Notice, Reject } from "./item.ts";
import { type Greeting, heardIn } from "./link-messages.ts";

/** Frames are counted from 1 by their delimiters, damaged ones too. */
export interface FramePlace {
  readonly frame: number;
}

export interface LinkCaptureCounts {
  bytes: number;
  frames: number;
  sessions: number;
  read: number;
  ambient: number;
  /** Answers to requests: they do not say what was asked. */
  other: number;
  rejected: number;
}

export type LinkItem =
  /** The kit greets: its clock may begin anew. */
  | { readonly place: FramePlace; readonly session: Greeting }
  /** `raw` is the frame with its delimiter. */
  | { readonly place: FramePlace; readonly report: TagReport | AmbientReport; readonly raw: Uint8Array }
  | { readonly place: FramePlace; readonly notice: Notice }
  | { readonly place: FramePlace; readonly reject: Reject }
  | { readonly place: FramePlace; readonly more: Uint8Array };

/** Async iterable of the items; iterate once. An error of the source comes out of the iteration. */
export class LinkCapture implements AsyncIterable<LinkItem> {
  readonly counts: LinkCaptureCounts = { bytes: 0, frames: 0, sessions: 0, read: 0, ambient: 0, other: 0, rejected: 0 };
  readonly #source: AsyncIterable<Uint8Array>;
  readonly #name: string;
  readonly #layout: Layout;
  readonly #deframer = new Deframer();
  /** Bytes of the file before those held. */
  #taken = 0;
  /** Bytes since the last delimiter; those of a frame that is too long are handed on. */
  #held: Uint8Array[] = [];
  #heldBytes = 0;
  /** Whether the bytes held go on a frame that is too long. */
  #long = false;
  #bodies: Uint8Array[] = [];
  #faults: Fault[] = [];

  /** `name` is what messages call the file. */
  constructor(source: AsyncIterable<Uint8Array>, name: string, layout: Layout) {
    this.#source = source;
    this.#name = name;
    this.#layout = layout;
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<LinkItem> {
    for await (const bytes of this.#source) {
      this.counts.bytes += bytes.length;
      for (let from = 0; from < bytes.length; ) {
        const zero = bytes.indexOf(0, from);
        const to = zero < 0 ? bytes.length : zero + 1;
        yield* this.#take(bytes.subarray(from, to), zero >= 0);
        from = to;
      }
    }
    this.#deframer.end((fault) => this.#faults.push(fault));
    yield* this.#items();
    const { read, ambient, rejected, frames } = this.counts;
    if (read + ambient + rejected > 0) return;
    const says = `${reasons["file-empty"].says} (no report in ${frames} frames)`;
    yield { place: this.#place, notice: { reason: "file-empty", sentence: `${this.#name}: ${says} [file-empty]` } };
  }

  get #place(): FramePlace {
    return { frame: this.counts.frames + 1 };
  }

  *#take(bytes: Uint8Array, delimited: boolean): Generator<LinkItem> {
    this.#held.push(bytes);
    this.#heldBytes += bytes.length;
    this.#deframer.push(
      bytes,
      (body) => this.#bodies.push(body),
      (fault) => this.#faults.push(fault),
    );
    if (!delimited && this.#heldBytes <= MAX_ENCODED) return;
    // A delimiter with nothing before it is legal filling.
    const idle = delimited && this.#heldBytes === 1 && !this.#long;
    yield* this.#items();
    this.#long = !delimited;
    if (delimited && !idle) this.counts.frames++;
  }

  /** What the bytes held are: faults first, for a frame may stand behind damaged bytes. */
  *#items(): Generator<LinkItem> {
    const place = this.#place;
    const raw = joined(this.#held, this.#heldBytes);
    const from = this.#taken;
    this.#taken += raw.length;
    this.#held = [];
    this.#heldBytes = 0;
    const faults = this.#faults.splice(0);
    for (const fault of faults) yield this.#reject(place, "", fault, fault === faults[0] ? raw : NOTHING);
    if (this.#long && faults.length === 0) yield { place, more: raw };
    const bodies = this.#bodies.splice(0);
    for (const body of bodies) {
      const heard = heardIn(this.#layout, body, "to-host");
      if (heard === "other") this.counts.other++;
      else if (isFault(heard)) yield this.#reject(place, ` from byte ${from}, message`, heard, raw);
      else if ("session" in heard) {
        this.counts.sessions++;
        yield { place, session: heard.session };
      } else {
        this.counts[heard.report.kind]++;
        yield { place, report: heard.report, raw };
      }
    }
  }

  /** `more` is added to the place of a fault whose byte is not that of the file. */
  #reject(place: FramePlace, more: string, fault: Fault, raw: Uint8Array): LinkItem {
    this.counts.rejected++;
    const says = `${this.#name}: frame ${place.frame}${more}: ${sentence(fault)}`;
    return { place, reject: { reason: fault.code, field: fault.path, sentence: says, raw, becauseOf: null } };
  }
}

const NOTHING = new Uint8Array(0);

function joined(parts: readonly Uint8Array[], length: number): Uint8Array {
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}
