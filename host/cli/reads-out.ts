/** Reads and ambient reports as they were seen, in a pcapng file. */
import { type Fault, isFault, layout } from "../../protocol/index.ts";
import type { CaptureHeader } from "../capture/item.ts";
import { messageOf } from "../capture/link-messages.ts";
import { packetBlock, sectionBlocks } from "../capture/pcapng-writer.ts";
import type { DecodeOut, Kept } from "./decode-out.ts";
import { CommandError, EXIT } from "./exit.ts";
import type { OutFile } from "./out-file.ts";

/** Bytes that are written at once. */
const HEAP = 1 << 16;

export class ReadsOut implements DecodeOut {
  readonly #file: OutFile;
  readonly #source: string;
  #blocks: Uint8Array[] = [];
  #bytes = 0;
  /** What packets still lack before them. */
  #section: Uint8Array | null = sectionBlocks(layout, null);
  #startedUs: number | null = null;
  /** Kit time of the section's first report. */
  #firstUs: number | null = null;
  #packets = 0;
  #rounded = 0;

  constructor(file: OutFile, source: string) {
    this.#file = file;
    this.#source = source;
  }

  get path(): string {
    return this.#file.path;
  }

  item(item: Kept, wanted: boolean): Fault | null {
    if (!("report" in item)) {
      this.#begin(item);
      return null;
    }
    const { report } = item;
    this.#firstUs ??= report.kitTimeUs;
    if (!wanted) return null;
    const message = messageOf(layout, report);
    if (isFault(message)) return message;
    if (message.rounded) this.#rounded++;
    if (this.#section) this.#push(this.#section);
    this.#section = null;
    // Without a date kit time stands for itself; a kit clock that begins anew would lead to before the capture.
    const sinceUs = Math.max(0, report.kitTimeUs - this.#firstUs);
    this.#push(packetBlock(this.#startedUs === null ? report.kitTimeUs : this.#startedUs + sinceUs, message.body));
    this.#packets++;
    return null;
  }

  outcome(): void {
    // What was read is kept, not what it means.
  }

  async drain(all: boolean): Promise<void> {
    if (this.#blocks.length === 0 || (!all && this.#bytes < HEAP)) return;
    const bytes = Buffer.concat(this.#blocks);
    this.#blocks = [];
    this.#bytes = 0;
    await this.#file.write(bytes);
  }

  async finish(): Promise<string> {
    // A capture without a report is a file with a section all the same.
    if (this.#section) this.#push(this.#section);
    await this.drain(true);
    await this.#file.commit();
    const rounded = this.#rounded > 0 ? `, ${this.#rounded} of them with a value rounded to the link's steps` : "";
    return `${this.#packets} packets${rounded}`;
  }

  discard(): Promise<void> {
    return this.#file.discard();
  }

  #begin(item: Exclude<Kept, { report: unknown }>): void {
    const { started } = "header" in item ? item.header : item.session;
    this.#startedUs = started === null ? null : Date.parse(started) * 1000;
    this.#firstUs = null;
    if ("header" in item) this.#section = this.#sectionOf(item.header);
    else if ("welcome" in item.session) {
      const greeting = packetBlock(0, item.session.welcome);
      this.#section = Buffer.concat([this.#sectionOf(null), greeting]);
    } else if (started !== null) {
      const { layout: number, fingerprint } = layout;
      const { barometerUncertaintyPa } = item.session;
      const source = this.#source;
      this.#section = this.#sectionOf({
        version: 1,
        layout: number,
        fingerprint,
        started,
        source,
        barometerUncertaintyPa,
      });
    } else this.#section = this.#sectionOf(null);
  }

  #sectionOf(header: CaptureHeader | null): Uint8Array {
    try {
      return sectionBlocks(layout, header);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      throw new CommandError(EXIT.device, `${this.path}: the capture's header does not fit: ${error.message}`);
    }
  }

  #push(block: Uint8Array): void {
    this.#blocks.push(block);
    this.#bytes += block.length;
  }
}
