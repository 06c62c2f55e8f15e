/** What is done to a session with sixty-four tags, and the figures that come of it. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Random } from "../../sim/random.ts";
import { stop } from "../support/pty-pair.ts";
import { type Comparison, compare, keptIn, saidIn, shownIn } from "./account.ts";
import { layLine } from "./line.ts";
import { type ReadRun, startKit, startRead, unreadableLines } from "./programs.ts";

export interface SceneOptions {
  readonly seed: number;
  /** Resolves when the session has run for so long as a piece of it should. */
  readonly piece: (reading: ReadRun) => Promise<void>;
}

export interface Figures extends Comparison {
  readonly scene: string;
  /** Tag reports the kit handed to the line. */
  readonly said: number;
  /** Readings that a person saw. */
  readonly shown: number;
  /** Reports in the capture. */
  readonly kept: number;
  /** Readings shown that the capture does not hold. */
  readonly lost: number;
  /** Lines of the capture cut off in the middle. */
  readonly torn: number;
  /** Lines that were cut off and taken out when `read` went on. */
  readonly mended: number;
  /** Headers of the capture. */
  readonly headers: number;
  /** Exit status of the last `read`. */
  readonly status: number | null;
  /** Exit status of `kit` when its device vanished; null when it did not. */
  readonly kitStatus: number | null;
  /** Lines of the capture that `plyframe decode` calls no record. */
  readonly unreadable: number;
}

interface Stage {
  readonly reading: () => ReadRun;
  readonly piece: () => Promise<void>;
  /** Pulls the cable, and plugs in another with a new kit. */
  readonly replug: () => Promise<void>;
  /** Kills `read` and gives the same command again. */
  readonly kill: () => Promise<void>;
}

type Deed = (stage: Stage) => Promise<void>;

/** One session in a folder of its own. */
async function session(
  scene: string,
  { seed, piece }: SceneOptions,
  { noise = 0, fileBlocks = null }: { readonly noise?: number; readonly fileBlocks?: number | null },
  deed: Deed,
): Promise<Figures> {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-load-"));
  const truth = join(folder, "said.bin");
  const capture = join(folder, "session.jsonl");
  let line = await layLine({ truth, noise, seed });
  let kit = await startKit(line.far, seed);
  let kitStatus: number | null = null;
  const device = line.near;
  const runs = [startRead(device, capture, fileBlocks)];
  const reading = () => runs.at(-1)!;
  try {
    const replug = async () => {
      await line.pull();
      kitStatus = await kit.ended;
      await reading().said("trying to reach it again");
      line = await layLine({ truth, noise, seed }, device);
      kit = await startKit(line.far, seed);
      await reading().said("is back after");
    };
    const kill = async () => {
      reading().stop("SIGKILL");
      await reading().ended;
      runs.push(startRead(device, capture, fileBlocks));
    };
    await deed({ reading, piece: () => piece(reading()), replug, kill });
    // Told to end while it is looking for its reader again, it would rightly say that the reader is lost.
    await reading().more(1);
    reading().stop("SIGINT");
    const status = await reading().ended;
    await stop(kit.child);
    const { sessions, times, torn } = keptIn(capture);
    const said = saidIn(truth);
    const shown = runs.flatMap((run) => shownIn(run.stdout()));
    return {
      scene,
      said: said.length,
      shown: shown.length,
      kept: sessions.flat().length,
      ...compare(sessions, said),
      lost: shown.filter((one) => !times.has(one)).length,
      torn,
      mended: runs.filter((run) => run.stderr().includes("was cut off in the middle")).length,
      headers: sessions.length,
      status,
      kitStatus,
      unreadable: await unreadableLines(capture),
    };
  } finally {
    reading().stop("SIGKILL");
    await reading().ended;
    await stop(kit.child);
    await line.pull();
    rmSync(folder, { recursive: true, force: true });
  }
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
    await reading().said("incomplete");
    await piece();
  });

/** How often the scene of that name kills. */
export const KILLS = 3;

/** Killed at moments that nobody chose; the same command goes on in the same capture. */
export const killed = (options: SceneOptions) =>
  session("killed and resumed", options, {}, async ({ reading, piece, kill }) => {
    const random = new Random(options.seed, "moment");
    for (let i = 0; i < KILLS; i++) {
      await piece();
      await reading().more(1 + (random.integer() % 40));
      await kill();
    }
    await piece();
  });
