/** A tag's calibration copies over the air: read, brought to a new block copy by copy, and read back. */
import { type Access, updateCalibration } from "../../protocol/codec/calibration-update.ts";
import {
  type DecodedRecord,
  encode,
  isFault,
  layout,
  physicalOf,
  rawOf,
  sentence,
  words,
} from "../../protocol/index.ts";
import type { Reader } from "../reader/reader.ts";
import { ReaderError } from "../reader/reader-error.ts";
import { type Copy, chooseCalibration } from "../readings/calibration.ts";
import type { TagCounters, TagHeader } from "../readings/reading.ts";
import { TagMemory, UserRead, userRegions } from "../readings/tag-memory.ts";
import { blockRecord, wordsOf } from "./block.ts";

/** How a tag is reached. */
export interface TagLink {
  readonly reader: Reader;
  readonly epc: string;
  /** Access password; 0: none. */
  readonly password: number;
}

export interface TagBlocks {
  /** Both copies as they lie in memory. */
  readonly words: readonly number[];
  readonly copies: readonly [Copy, Copy];
  readonly header: TagHeader | null;
  readonly counters: TagCounters | null;
}

/** The tag or the reader did not do what was asked: one sentence. */
export class TagError extends Error {
  constructor(sentence: string) {
    super(sentence);
    this.name = "TagError";
  }
}

/** A weakly powered tag is lost now and then: an access is tried this often. */
const TRIES = 8;

/** Answers that another try may change. */
const PASSING = new Set(["tag_lost", "tag_power_insufficient"]);

const { calibration1, calibration2 } = words.user;
const COPIES = { word: calibration1.word, count: calibration1.words + calibration2.words };
const SERVICE = { word: 0, count: 32 };

/** Reads header, counters and both copies; throws a TagError when the tag cannot be read. */
export async function readTag(link: TagLink): Promise<TagBlocks> {
  const tag = new TagMemory();
  const regions = userRegions(layout);
  for (const { word, count } of [SERVICE, COPIES]) {
    tag.absorb(new UserRead(word, await accessed(link, { kind: "read", word, count })), regions);
  }
  const found = await accessed(link, { kind: "read", ...COPIES });
  const { calibration_1, calibration_2 } = tag.copies;
  return { words: found, copies: [calibration_1, calibration_2], header: tag.tagHeader, counters: tag.counters };
}

/** The copy readings are made with; null when none is whole and of this sensor. */
export function copyInForce({ copies: [first, second], header }: TagBlocks): DecodedRecord | null {
  const { calibration } = chooseCalibration(first, second, header?.sensorSerial ?? null);
  const copy = calibration && (calibration.copy === 1 ? first : second);
  return copy && !isFault(copy) ? copy : null;
}

/** Reuse cycles in force: the larger of what the counters and the block say. */
export function reuseInForce(tag: TagBlocks): number {
  const copy = copyInForce(tag);
  return Math.max(tag.counters?.reuseCycles ?? 0, copy ? rawOf(copy, "reuse_count") : 0);
}

/** What one copy holds, in a few words. */
export function copyState(copy: Copy): string {
  if (copy === null) return "not read";
  return isFault(copy) ? sentence(copy) : `whole, sensor ${rawOf(copy, "sensor_serial")}`;
}

/**
 * Brings a block into both copies in the specified order and reads both back; `onAccess` is told of every access that was
 * done. Throws a TagError when it was cut short; doing the same again is then always right.
 */
export async function writeBlock(
  link: TagLink,
  block: readonly number[],
  onAccess: (access: Access) => void,
): Promise<void> {
  const steps = updateCalibration(blockRecord, block);
  let failed: TagError | null = null;
  let step = steps.next();
  while (!step.done) {
    const access = step.value;
    try {
      const answer = await accessed(link, access);
      onAccess(access);
      step = steps.next(answer);
    } catch (error) {
      if (!(error instanceof TagError)) throw error;
      failed = error;
      step = steps.next(null);
    }
  }
  if (failed) throw failed;
  if (!step.value) throw new TagError("a copy does not read back as it was written");
  const both = await accessed(link, { kind: "read", ...COPIES });
  if (!both.every((word, i) => word === block[i % block.length])) {
    throw new TagError("the copies do not read back as they were written");
  }
}

/** Raw values of a block after one more reuse cycle, and whether that reaches its limit. */
export function afterReuse(copy: DecodedRecord, cycles: number, limit: number | null | undefined) {
  const reuseSince = blockRecord.fields.find(({ id }) => id === "reuse_since")!;
  const most = reuseSince.sentinels![0]!.raw;
  const now = limit === undefined ? physicalOf(copy, "reuse_limit") : limit;
  const noLimit = blockRecord.fields.find(({ id }) => id === "reuse_limit")!.sentinels![0]!.raw;
  const raws: { [field: string]: number } = {
    ...rawsOf(copy),
    reuse_count: cycles,
    reuse_since: Math.min(most, rawOf(copy, "reuse_since") + 1),
    reuse_limit: now ?? noLimit,
  };
  return { raws, limit: now, retire: now !== null && cycles >= now };
}

/** Raw values of a decoded record, by field id. */
export function rawsOf(copy: DecodedRecord): { [field: string]: number } {
  return Object.fromEntries(copy.record.fields.map(({ id }, i) => [id, copy.raws[i]!]));
}

/** Words of a block from its raw values; throws a TagError that names the first value its field does not allow. */
export function blockWords(raws: { readonly [field: string]: number }): number[] {
  const bytes = encode(blockRecord, raws);
  if (isFault(bytes)) throw new TagError(sentence(bytes));
  return wordsOf(bytes);
}

async function accessed({ reader, epc, password }: TagLink, access: Access): Promise<readonly number[]> {
  const place = `${access.kind} of USER word ${access.word}`;
  let result = "";
  for (let attempt = 0; attempt < TRIES; attempt++) {
    try {
      const tag = { epc, bank: "user", word: access.word, password } as const;
      const answer =
        access.kind === "read"
          ? await reader.read({ ...tag, count: access.count })
          : await reader.write({ ...tag, words: [access.value] });
      if (answer.result === "done") return answer.words;
      result = answer.result;
    } catch (error) {
      if (error instanceof ReaderError) throw new TagError(`${place}: ${error.message}`);
      throw error;
    }
    if (!PASSING.has(result)) break;
  }
  const locked = result === "tag_memory_locked" || result === "password_wrong";
  throw new TagError(`tag ${epc}: ${place} gave ${result}${locked ? "; it takes the tag's access password" : ""}`);
}
