/** `plyframe write`: calibration block, access password and locks of a tag, each read back or tried out, or its end. */
import type { Reader } from "../../reader/reader.ts";
import { ReaderError } from "../../reader/reader-error.ts";
import {
  isIrreversible,
  type Lock,
  type LockArea,
  type LockState,
  lockAreas,
  lockPayload,
  lockStates,
} from "../../reader/tag-locks.ts";
import { changePassword, passwordInForce, passwordWords, tried } from "../../reader/tag-password.ts";
import { CommandError, EXIT } from "../exit.ts";
import { killTag } from "../kill-tag.ts";
import { type PlaceOptions, readerPlace } from "../reader-place.ts";
import { note, say } from "../terminal.ts";
import { confirmed } from "../typed-confirmation.ts";
import { withReader } from "../with-reader.ts";
import { writeCommand } from "./calibrate-write.ts";

export interface WriteOptions extends PlaceOptions {
  readonly epc: string;
  readonly password: string;
  readonly calibration?: string;
  readonly newPassword?: string;
  readonly lock: readonly string[];
  readonly kill?: string;
  readonly dryRun?: boolean;
}

export async function write(options: WriteOptions): Promise<void> {
  const place = readerPlace(options);
  const epc = epcOf(options.epc);
  const password = passwordOf("--password", options.password);
  const wanted = options.newPassword === undefined ? null : passwordOf("--new-password", options.newPassword);
  const locks = options.lock.map(lockOf);
  const dryRun = options.dryRun === true;
  const changes = options.calibration !== undefined || wanted !== null || locks.length > 0;
  if (options.kill !== undefined) {
    const killPassword = passwordOf("--kill", options.kill);
    if (changes) throw new CommandError(EXIT.usage, "--kill stands alone: a dead tag keeps nothing that is written");
    if (killPassword === 0) throw new CommandError(EXIT.usage, "--kill 0: a kill password of zero never kills");
    return killTag(place, { epc, killPassword, accessPassword: password, dryRun });
  }
  if (!changes) {
    throw new CommandError(EXIT.usage, "nothing to write: give --calibration, --new-password, --lock or --kill");
  }
  if (!dryRun) await confirm(epc, locks.filter(isIrreversible));
  if (options.calibration !== undefined) {
    await writeCommand(options.calibration, { ...options, epc, write: !dryRun });
  }
  if (wanted === null && locks.length === 0) return;
  await withReader(place, async (reader) => {
    let inForce = password;
    if (wanted !== null) {
      await bringPassword(reader, epc, password, wanted, dryRun);
      if (!dryRun) inForce = wanted;
    }
    if (locks.length > 0) await bringLocks(reader, epc, inForce, locks, dryRun);
  });
}

async function bringPassword(reader: Reader, epc: string, from: number, to: number, dryRun: boolean): Promise<void> {
  const half = passwordWords(to)[0] * 65_536 + passwordWords(from)[1];
  const now = await passwordInForce(reader, epc, [from, half, to]);
  if (typeof now !== "number") throw failed(epc, "the access password could not be read", now.failed);
  say("RESERVED word  before  after");
  passwordWords(now).forEach((word, i) => {
    say(`            ${2 + i}  ${hex(word)}    ${hex(passwordWords(to)[i]!)}`);
  });
  if (dryRun) return say("Nothing was written (dry run).");
  const wrong = await changePassword(reader, epc, from, to).catch(readerSentence);
  if (wrong) {
    throw failed(epc, "the access password may be half written; give the same command again to finish it", wrong);
  }
  say("The access password was written and read back with itself.");
}

async function bringLocks(
  reader: Reader,
  epc: string,
  password: number,
  locks: readonly Lock[],
  dryRun: boolean,
): Promise<void> {
  for (const { area, state } of locks) say(`${area} -> ${state}`);
  if (dryRun) return say("Nothing was locked (dry run).");
  const payload = lockPayload(locks);
  const answer = await tried(() => reader.lock({ epc, ...payload, password })).catch(readerSentence);
  if (typeof answer === "string") throw failed(epc, "the lock may be set or not; give the same command again", answer);
  if (answer.result !== "done") throw failed(epc, "the lock was not set", answer.result);
  for (const { area, state } of locks) {
    const found = await tryOut(reader, epc, area, password);
    if (found === null) note(`plyframe: ${area}: set, but nothing harmless shows whether it holds`);
    else if (found !== (state === "open" || state === "always_open")) {
      throw failed(epc, `${area} is not ${state} although the tag said it was done`, found ? "open" : "closed");
    } else say(`${area} is ${state}: tried without the password.`);
  }
}

/** Whether an area is open to a reader without the password: passwords are read, other areas written as they are. */
async function tryOut(reader: Reader, epc: string, area: LockArea, password: number): Promise<boolean | null> {
  if (password === 0) return null;
  if (area === "kill" || area === "access") {
    const word = area === "kill" ? 0 : 2;
    const { result } = await tried(() => reader.read({ epc, bank: "reserved", word, count: 1 }));
    return open(result);
  }
  const place = { epc, bank: area, word: area === "tid" ? 3 : 2 } as const;
  const { words, result } = await tried(() => reader.read({ ...place, count: 1 }));
  if (result !== "done") return null;
  return open((await tried(() => reader.write({ ...place, words }))).result);
}

function open(result: string): boolean | null {
  return result === "done" ? true : result === "tag_memory_locked" ? false : null;
}

/** What cannot be taken back is done only for someone who types the end of the EPC. */
async function confirm(epc: string, locks: readonly Lock[]): Promise<void> {
  if (locks.length === 0) return;
  const what = locks.map(({ area, state }) => `${area} ${state}`).join(", ");
  const question = `This cannot be undone on tag ${epc}: ${what}. Type the last eight digits of its EPC to go on:`;
  await confirmed(question, epc.slice(-8));
}

function lockOf(text: string): Lock {
  const [area, state] = text.split("=");
  if (!lockAreas.includes(area as LockArea) || !lockStates.includes(state as LockState)) {
    const says = `give AREA=STATE, of ${lockAreas.join(", ")} and ${lockStates.join(", ")}`;
    throw new CommandError(EXIT.usage, `--lock ${text}: ${says}`);
  }
  return { area: area as LockArea, state: state as LockState };
}

/** Why the reader could not be asked any more. */
function readerSentence(error: unknown): string {
  if (error instanceof ReaderError) return error.message;
  throw error;
}

function failed(epc: string, what: string, result: string): CommandError {
  return new CommandError(EXIT.device, `tag ${epc}: ${what} (${result})`);
}

function epcOf(text: string): string {
  if (!/^(?:[0-9a-f]{4}){1,31}$/i.test(text)) {
    throw new CommandError(EXIT.usage, `--epc ${text}: give whole words of hex digits`);
  }
  return text.toLowerCase();
}

function passwordOf(name: string, text: string): number {
  if (!/^[0-9a-f]{1,8}$/i.test(text)) throw new CommandError(EXIT.usage, `${name}: give up to eight hex digits`);
  return Number.parseInt(text, 16);
}

function hex(word: number): string {
  return word.toString(16).padStart(4, "0");
}
