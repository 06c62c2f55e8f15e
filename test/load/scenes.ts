/** What is done to a session with many tags, and the figures that come of it. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Random } from "../../sim/random.ts";
import { openPtyPair, stop } from "../support/pty-pair.ts";
import { keptIn, saidIn, shownIn } from "./account.ts";
import { type ReadRun, startKit, startRead, unreadableLines } from "./programs.ts";

export interface SceneOptions {
  readonly tags: number;
  readonly speed: number;
  readonly seed: number;
  /** Resolves when the session has run for so long as a piece of it should. */
  readonly piece: (reading: ReadRun) => Promise<void>;
}

export interface Figures {
  readonly scene: string;
  /** Tag reports the kit handed to the line. */
  readonly said: number;
  /** Readings that a person saw. */
  readonly shown: number;
  /** Reports in the capture. */
  readonly kept: number;
  /** Reports said before the last one kept that are not in the capture: the line lost them, or the disk. */
  readonly missing: number;
  /** Readings shown that the capture does not hold. */
  readonly lost: number;
  /** Reports in the capture that the kit did not say in this form, or that stand there twice. */
  readonly wrong: number;
  /** Lines of the capture cut off in the middle. */
  readonly torn: number;
  /** Exit status of `read`; null when it was killed. */
  readonly status: number | null;
  /** Lines of the capture that `plyframe decode` calls no record. */
  readonly unreadable: number;
}

type Deed = (stage: Stage) => Promise<void>;

interface Stage {
  readonly reading: ReadRun;
  readonly piece: () => Promise<void>;
  /** Pulls the cable, and plugs in another with the same kit asked anew. */
  readonly replug: () => Promise<void>;
}

/** One session in a folder of its own. */
async function session(
  scene: string,
  { tags, speed, seed, piece }: SceneOptions,
  { noise = 0, fileBlocks = null }: { readonly noise?: number; readonly fileBlocks?: number | null },
  deed: Deed,
): Promise<Figures> {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-load-"));
  const truth = join(folder, "said.bin");
  const capture = join(folder, "session.jsonl");
  let cable = await openPtyPair();
  const kitOn = () => startKit({ device: cable.far, tags, speed, noise, seed, truth });
  let kit = await kitOn();
  const device = cable.near;
  const reading = startRead(device, capture, fileBlocks);
  try {
    const replug = async () => {
      await stop(kit);
      await cable.pull();
      await reading.said("trying to reach it again");
      cable = await openPtyPair(device.slice(0, device.lastIndexOf("/")));
      kit = await kitOn();
      await reading.said("is back after");
    };
    await deed({ reading, piece: () => piece(reading), replug });
    reading.stop("SIGINT");
    const status = await reading.ended;
    await stop(kit);
    const kept = keptIn(capture);
    const said = saidIn(truth);
    const shown = shownIn(reading.stdout());
    return {
      scene,
      said: said.length,
      shown: shown.length,
      kept: kept.reports.length,
      missing: missing(kept.reports, said),
      lost: shown.filter((one) => !kept.times.has(one)).length,
      wrong: strangers(kept.reports, said),
      torn: kept.torn,
      status,
      unreadable: await unreadableLines(capture),
    };
  } finally {
    reading.stop("SIGKILL");
    await reading.ended;
    await stop(kit);
    await cable.pull();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** How many of `kept` are not among `said`, each of which may be used up once. */
function strangers(kept: readonly string[], said: readonly string[]): number {
  const left = new Map<string, number>();
  for (const one of said) left.set(one, (left.get(one) ?? 0) + 1);
  return kept.filter((one) => {
    const count = left.get(one) ?? 0;
    left.set(one, count - 1);
    return count <= 0;
  }).length;
}

/** How many of `said` up to the last of `kept` were not kept. */
function missing(kept: readonly string[], said: readonly string[]): number {
  return said.lastIndexOf(kept.at(-1) ?? "") + 1 - (kept.length - strangers(kept, said));
}

export const steady = (options: SceneOptions) => session("steady", options, {}, ({ piece }) => piece());

export const replugged = (options: SceneOptions) =>
  session("unplugged and plugged in", options, {}, async ({ piece, replug }) => {
    await piece();
    await replug();
    await piece();
  });

/** One piece of bytes in ten is spoilt. */
export const noisy = (options: SceneOptions) => session("noise", options, { noise: 0.1 }, ({ piece }) => piece());

/** The file may not grow beyond so many kilobytes: the system refuses to take more, as a full disk does. */
export const fullDisk = (options: SceneOptions) =>
  session("disk full", options, { fileBlocks: 24 }, async ({ reading, piece }) => {
    await reading.said("incomplete");
    await piece();
  });

/** Killed at a moment that nobody chose; a new session is a new capture. */
export const killed = (options: SceneOptions) =>
  session("killed", options, {}, async ({ reading, piece }) => {
    await piece();
    await reading.more(1 + (new Random(options.seed, "moment").integer() % 40));
    reading.stop("SIGKILL");
  });
