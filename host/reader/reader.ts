/** A reader of tags, whatever protocol stands behind it. */
import type { EventEmitter } from "node:events";
import type { Fault } from "../../protocol/model/reasons.ts";
import type { AmbientReport, BankName, TagReport } from "./report.ts";

/** Where a reader may transmit: 865 to 868 MHz, 915 to 921 MHz, 902 to 928 MHz. */
export type ChannelPlan = "eu_lower" | "eu_upper" | "us";

/** What a reader is and can do; null where it does not say. */
export interface ReaderInfo {
  /** The port or address it is reached by. */
  readonly source: string;
  readonly blockWrite: boolean;
  readonly lock: boolean;
  readonly barometer: boolean;
  readonly channelPlans: readonly ChannelPlan[];
  readonly powerLowDbm: number | null;
  readonly powerHighDbm: number | null;
  /** Expanded uncertainty (k = 2) of the barometer. */
  readonly barometerUncertaintyPa: number | null;
  /** The reader's clock when it was asked. */
  readonly kitTimeUs: number | null;
}

/** Words to read: `count` 1 to 255 from word address `word`. */
export interface WordRange {
  readonly bank: BankName;
  readonly word: number;
  readonly count: number;
}

export interface InventoryRequest {
  /** Time from one round to the next, 10 to 60 000 ms. */
  readonly periodMs: number;
  /** One Read on every tag that answers. */
  readonly read?: WordRange;
}

interface Access {
  /** EPC of the tag in hex: whole words, at most 31. */
  readonly epc: string;
  /** Access password, 32 bits; 0 or absent when none is needed. */
  readonly password?: number;
}

export interface ReadRequest extends Access, WordRange {}

export interface WriteRequest extends Access {
  readonly bank: BankName;
  readonly word: number;
  readonly words: readonly number[];
}

/** Gen2 Lock payload: ten mask bits and ten action bits. */
export interface LockRequest extends Access {
  readonly mask: number;
  readonly action: number;
}

export interface KillRequest {
  readonly epc: string;
  /** Kill password, 32 bits and not 0. */
  readonly password: number;
}

/** What came of an access on the air. */
export interface AccessResult {
  /** `done` or why it failed: the names of the specification's access results. */
  readonly result: string;
  /** Words read; empty for anything but a read. */
  readonly words: readonly number[];
  readonly kitTimeUs: number;
}

/** What has come in so far; nothing is dropped uncounted. */
export interface ReaderCounts {
  readonly reports: number;
  /** Stretches of damaged bytes, and whole messages that could not be understood. */
  readonly faults: number;
  readonly discardedBytes: number;
  /** Answers that came after their request had been given up. */
  readonly lateAnswers: number;
}

export interface ReaderEvents {
  report: [report: TagReport | AmbientReport];
  fault: [fault: Fault];
  /** Once, at the end: why in one sentence, or null when it was closed by `close` or a recording is over. */
  closed: [reason: string | null];
}

/**
 * Attach listeners, then `open`. Every request rejects with a ReaderError when the reader refuses it, does not answer or
 * is gone; a failure on the air is no rejection but the `result` of the access.
 */
export interface Reader extends EventEmitter<ReaderEvents> {
  /** What `open` found out; null before. */
  readonly info: ReaderInfo | null;
  readonly counts: ReaderCounts;
  open(): Promise<ReaderInfo>;
  setPower(powerDbm: number): Promise<void>;
  setChannelPlan(plan: ChannelPlan): Promise<void>;
  /** Starts rounds, or changes those that are under way. Reports come as events. */
  startInventory(request: InventoryRequest): Promise<void>;
  stopInventory(): Promise<void>;
  read(request: ReadRequest): Promise<AccessResult>;
  /** One Write command a word. */
  write(request: WriteRequest): Promise<AccessResult>;
  /** All words in one BlockWrite command. */
  blockWrite(request: WriteRequest): Promise<AccessResult>;
  lock(request: LockRequest): Promise<AccessResult>;
  /** Ends a tag for good. `tag_lost` when it did not answer: it may be dead, or the password another. */
  kill(request: KillRequest): Promise<AccessResult>;
  /** Stops an inventory that runs, rejects what is under way and lets go of the port. Never rejects. */
  close(): Promise<void>;
}
