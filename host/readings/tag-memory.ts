/** What is known of one tag's USER bank from the reads so far. */
import {
  type CompiledRecord,
  type DecodedRecord,
  decode,
  type Fault,
  isFault,
  type Layout,
  physicalOf,
  rawOf,
  recordOf,
} from "../../protocol/index.ts";
import type { Copy } from "./calibration.ts";
import { Freshness } from "./freshness.ts";
import type { TagCounters, TagHeader } from "./reading.ts";

export interface UserRegion {
  readonly id: string;
  readonly word: number;
  readonly words: number;
  readonly record: CompiledRecord;
}

/** Regions of the USER bank that hold a record, in the order of their words. */
export function userRegions(layout: Layout): readonly UserRegion[] {
  const bank = layout.banks.find(({ id }) => id === "user")!;
  return bank.regions.flatMap(({ id, word, words, record }) =>
    record === null ? [] : [{ id, word, words, record: recordOf(layout, record) }],
  );
}

/** A read of the USER bank as bytes, and where the regions lie in them. */
export class UserRead {
  readonly bytes: Uint8Array;
  readonly #first: number;
  readonly #end: number;

  constructor(word: number, words: readonly number[]) {
    this.bytes = new Uint8Array(words.length * 2);
    words.forEach((value, i) => {
      this.bytes[2 * i] = value >> 8;
      this.bytes[2 * i + 1] = value & 0xff;
    });
    this.#first = word;
    this.#end = word + words.length;
  }

  covers({ word, words }: UserRegion): "whole" | "part" | "none" {
    if (this.#first <= word && this.#end >= word + words) return "whole";
    return this.#first < word + words && this.#end > word ? "part" : "none";
  }

  /** First byte of a region; negative when the region begins before the read. */
  at({ word }: UserRegion): number {
    return (word - this.#first) * 2;
  }

  decode(region: UserRegion): DecodedRecord | Fault {
    const at = this.at(region);
    return decode(region.record, this.bytes, at, at + region.record.bytes);
  }
}

export class TagMemory {
  readonly freshness = new Freshness();
  readonly bursts = new Freshness();
  /** Last whole header. */
  header: DecodedRecord | null = null;
  /** Why the header in the latest read of it was not whole. */
  headerFault: Fault | null = null;
  readonly copies: { calibration_1: Copy; calibration_2: Copy } = { calibration_1: null, calibration_2: null };
  #counters: DecodedRecord | null = null;

  /** Takes in every region that lies whole in a read. */
  absorb(read: UserRead, regions: readonly UserRegion[]): void {
    for (const region of regions) {
      if (read.covers(region) !== "whole") continue;
      if (region.id === "calibration_1" || region.id === "calibration_2") this.copies[region.id] = read.decode(region);
      else if (region.record.id === "counters") this.#count(read.decode(region));
      else if (region.id === "header") this.#head(read.decode(region));
    }
  }

  #head(answer: DecodedRecord | Fault): void {
    this.headerFault = isFault(answer) ? answer : null;
    if (!isFault(answer)) this.header = answer;
  }

  /** The two copies are written in turn: the one with more frames is the newer. */
  #count(answer: DecodedRecord | Fault): void {
    if (isFault(answer)) return;
    if (!this.#counters || rawOf(answer, "frames") >= rawOf(this.#counters, "frames")) this.#counters = answer;
  }

  /** Sensor serial, sampling period and firmware; null while no header was read. */
  get tagHeader(): TagHeader | null {
    if (!this.header) return null;
    return {
      firmware: `${rawOf(this.header, "firmware_major")}.${rawOf(this.header, "firmware_minor")}`,
      samplingPeriodS: physicalOf(this.header, "sampling_period")!,
      sensorSerial: rawOf(this.header, "sensor_serial"),
    };
  }

  /** Null while no whole counters were read; a saturated counter stands at its highest value. */
  get counters(): TagCounters | null {
    if (!this.#counters) return null;
    const count = (id: string) => physicalOf(this.#counters!, id)!;
    return {
      reuseCycles: count("reuse_cycles"),
      coldStarts: count("cold_starts"),
      fruitlessStarts: count("fruitless_starts"),
      brownOuts: count("brown_outs"),
      frames: count("frames"),
    };
  }
}
