/** `plyframe calibrate write` and `reuse`: the calibration block in a tag's memory. */
import { type DecodedRecord, explain, rawOf } from "../../../protocol/index.ts";
import { blockRecord } from "../../calibrate/block.ts";
import {
  afterReuse,
  blockWords,
  copyInForce,
  copyState,
  rawsOf,
  readTag,
  reuseInForce,
  type TagBlocks,
  TagError,
  type TagLink,
  writeBlock,
} from "../../calibrate/tag-block.ts";
import type { Reader } from "../../reader/reader.ts";
import { blockOf, expiry } from "../block-file.ts";
import { CommandError, EXIT } from "../exit.ts";
import { inputName } from "../input-text.ts";
import { numberOption } from "../number-option.ts";
import { type PlaceOptions, readerPlace } from "../reader-place.ts";
import { columns, note, paint, say } from "../terminal.ts";
import { withReader } from "../with-reader.ts";

export interface TagOptions extends PlaceOptions {
  readonly epc?: string;
  readonly password: string;
  readonly write?: boolean;
}

export interface ReuseOptions extends TagOptions {
  readonly retireAt?: string;
}

export async function writeCommand(file: string, options: TagOptions): Promise<void> {
  const { block, epc } = blockOf(file);
  const expired = expiry(block, new Date().toISOString().slice(0, 10));
  if (expired !== null) note(`plyframe: ${inputName(file)}: ${expired}`);
  const target = targetEpc(options.epc ?? epc ?? undefined, "--epc: the certificate names no tag; say which one");
  await withTag(options, target, async (link, tag) => {
    const serial = tag.header?.sensorSerial ?? null;
    if (serial === null)
      throw new CommandError(EXIT.device, `tag ${target}: its header is not whole; its sensor is not known`);
    if (serial !== rawOf(block, "sensor_serial")) {
      const found = `tag ${target} has sensor ${serial}, the calibration is of sensor ${rawOf(block, "sensor_serial")}`;
      throw new CommandError(EXIT.usage, `${inputName(file)}: ${found}; nothing was written`);
    }
    const cycles = reuseInForce(tag);
    const raws = rawsOf(block);
    const since = Math.max(0, cycles - rawOf(block, "reuse_count"));
    if (since > 0) {
      note(`plyframe: tag ${target} went through ${since} reuse cycles after this calibration: a check is due`);
      raws.reuse_count = cycles;
      raws.reuse_since = Math.min(15, since);
    }
    await bring(link, tag, raws, options);
  });
}

export async function reuseCommand(options: ReuseOptions): Promise<void> {
  const epc = targetEpc(options.epc, "--epc: say which tag went through a reuse cycle");
  const limit =
    options.retireAt === undefined
      ? undefined
      : options.retireAt === "none"
        ? null
        : numberOption("--retire-at", options.retireAt, 1, 254);
  await withTag(options, epc, async (link, tag) => {
    const copy = copyInForce(tag);
    if (!copy) {
      const [first, second] = tag.copies.map(copyState);
      throw new CommandError(
        EXIT.rejected,
        `tag ${epc}: no usable calibration to count on (copy 1: ${first}; copy 2: ${second})`,
      );
    }
    const cycles = reuseInForce(tag) + 1;
    if (cycles > 254)
      throw new CommandError(EXIT.rejected, `tag ${epc}: the count of reuse cycles is at its end: retire the tag`);
    const { raws, limit: now, retire } = afterReuse(copy, cycles, limit);
    await bring(link, tag, raws, options);
    const count = `Reuse cycle ${cycles}${now === null ? "" : ` of at most ${now}`}`;
    const check = "a check against the reference is due before the tag is used: plyframe calibrate check";
    if (options.write) say(`${count} counted: the cell saw heat, moisture or vacuum; ${check}`);
    if (retire) say(paint.yellow(`The tag has reached its limit of ${now} reuse cycles: it is to be retired.`));
  });
}

async function withTag(
  options: TagOptions,
  epc: string,
  work: (link: TagLink, tag: TagBlocks) => Promise<void>,
): Promise<void> {
  const password = passwordOf(options.password);
  await withReader(readerPlace(options), async (reader: Reader) => {
    const link = { reader, epc, password };
    try {
      await work(link, await readTag(link));
    } catch (error) {
      if (error instanceof TagError) throw new CommandError(EXIT.device, error.message);
      throw error;
    }
  });
}

/** Shows what would change and, when asked to, writes. */
async function bring(
  link: TagLink,
  tag: TagBlocks,
  raws: { [field: string]: number },
  options: TagOptions,
): Promise<void> {
  const next = blockWords(raws);
  for (const line of comparison(tag, next)) say(line);
  if (!options.write) {
    say("Nothing was written (dry run); a write brings both copies to the new words.");
    return;
  }
  let writes = 0;
  try {
    await writeBlock(link, next, ({ kind }) => {
      if (kind === "write") writes++;
    });
  } catch (error) {
    if (!(error instanceof TagError)) throw error;
    note(`plyframe: ${error.message}`);
    const state = await readTag(link).then(
      ({ copies }) => `copy 1 is ${copyState(copies[0])}; copy 2 is ${copyState(copies[1])}`,
      () => "what its copies hold could not be read",
    );
    throw new CommandError(
      EXIT.device,
      writes === 0
        ? `nothing was written: ${state}`
        : `the update was interrupted after ${writes} writes: ${state}. Give the same command again to finish it`,
    );
  }
  say(`Both copies written in ${writes} writes and read back.`);
}

function comparison(tag: TagBlocks, next: readonly number[]): string[] {
  const hex = (word: number) => word.toString(16).padStart(4, "0");
  const half = next.length;
  const rows = next.map((word, i) => {
    const [first, second] = [tag.words[i]!, tag.words[i + half]!];
    const mark = first === word && second === word ? "" : "*";
    return [`${i}`, hex(first), hex(second), hex(word), mark];
  });
  const copy = copyInForce(tag);
  const before = copy ? meanings(bytesOf(copyWords(tag, copy))) : new Map<string, string>();
  const after = meanings(bytesOf(next));
  const changes = [...after].flatMap(([field, meaning]) => {
    const was = before.get(field) ?? "none";
    return was === meaning || field === "seal" ? [] : [[`  ${field}`, was, "->", meaning]];
  });
  return [
    ...columns([["word", "copy 1", "copy 2", "new", ""], ...rows], [0]),
    ...(changes.length === 0 ? ["No field changes."] : columns(changes)),
  ];
}

function copyWords(tag: TagBlocks, copy: DecodedRecord): readonly number[] {
  const half = tag.words.length / 2;
  return copy === tag.copies[0] ? tag.words.slice(0, half) : tag.words.slice(half);
}

function meanings(bytes: Uint8Array): Map<string, string> {
  const { fields } = explain(blockRecord, bytes, 0, bytes.length);
  return new Map(fields.map(({ field, meaning }) => [field.id, meaning]));
}

function bytesOf(words: readonly number[]): Uint8Array {
  return Uint8Array.from(words.flatMap((word) => [word >> 8, word & 0xff]));
}

function targetEpc(epc: string | undefined, otherwise: string): string {
  if (epc === undefined) throw new CommandError(EXIT.usage, otherwise);
  if (!/^(?:[0-9a-f]{4}){1,31}$/i.test(epc))
    throw new CommandError(EXIT.usage, `--epc ${epc}: give whole words of hex digits`);
  return epc.toLowerCase();
}

function passwordOf(text: string): number {
  if (!/^[0-9a-f]{1,8}$/i.test(text)) throw new CommandError(EXIT.usage, "--password: give up to eight hex digits");
  return Number.parseInt(text, 16);
}
