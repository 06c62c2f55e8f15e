/** The firmware's duty cycle on the host, with a board that a test leads. */
import { join } from "node:path";
import {
  chooseSlot,
  type DecodedRecord,
  decode,
  encode,
  isFault,
  layout,
  type RawValues,
  recordOf,
} from "../../../protocol/index.ts";
import { firmwareSource, harness, includes } from "./image.ts";
import { run, workFolder } from "./program.ts";

/** Phases by number, as in ply_phase. */
export const phases = [
  "cold_start",
  "check_supply",
  "start_conversion",
  "read_sensor",
  "seal_frame",
  "commit_frame",
  "commit_counters",
  "commit_burst",
] as const;

/** Word addresses of the USER bank. */
const user = layout.banks.find(({ id }) => id === "user")!;

export function wordOf(region: string): number {
  return user.regions.find(({ id }) => id === region)!.word;
}

/** What the board shows. */
interface Board {
  readonly nowMs: number;
  readonly phase: (typeof phases)[number];
  readonly hex: string;
}

/** Builds the program that is led; `options` go to the compiler. Returns its folder. */
export function buildDutyCycle(options: readonly string[] = [], source: string = firmwareSource): string {
  const folder = workFolder();
  const sanitize = ["-fsanitize=address,undefined", "-fno-sanitize-recover=all", "-g", "-O1"];
  const sources = [source, harness("duty.c"), harness("board.c")];
  run("gcc", ["-std=c99", ...sanitize, ...includes, ...options, ...sources, "-o", "duty"], folder);
  return folder;
}

/** Leads the program by lines; one board for each `show`. */
export function lead(folder: string, lines: readonly string[]): Board[] {
  const { stdout } = run(join(folder, "duty"), [], folder, `${lines.join("\n")}\n`);
  return stdout
    .trim()
    .split("\n")
    .map((line) => {
      const [nowMs, phase, hex] = line.split(" ");
      return { nowMs: Number(nowMs), phase: phases[Number(phase)]!, hex: hex! };
    });
}

/** A record encoded by the TypeScript codec, as a line that puts it into the bank. */
export function put(region: string, raws: RawValues): string {
  const { record } = user.regions.find(({ id }) => id === region)!;
  const bytes = encode(recordOf(layout, record!), raws);
  if (isFault(bytes)) throw new Error(`${bytes.path}: ${bytes.code}`);
  const words = [...bytes].reduce<string[]>((all, byte, i) => {
    if (i % 2 === 0) all.push("");
    all[all.length - 1] += byte.toString(16).padStart(2, "0");
    return all;
  }, []);
  return `word ${wordOf(region)} ${words.join(" ")}`;
}

/** What the TypeScript decoder says of a region of the bank. */
export function take({ hex }: Board, region: string): DecodedRecord {
  const { record } = user.regions.find(({ id }) => id === region)!;
  const compiled = recordOf(layout, record!);
  const bytes = Uint8Array.from(hex.match(/../g)!, (pair) => Number.parseInt(pair, 16));
  const at = 2 * wordOf(region);
  const answer = decode(compiled, bytes, at, at + compiled.bytes);
  if (isFault(answer)) throw new Error(`${region}: ${answer.code}`);
  return answer;
}

/** The newest whole frame of the bank, by the slot choice of the TypeScript side. */
export function newestFrame({ hex }: Board): DecodedRecord {
  const bytes = Uint8Array.from(hex.match(/../g)!, (pair) => Number.parseInt(pair, 16));
  const frame = recordOf(layout, "frame");
  const choice = chooseSlot(frame, bytes, 2 * wordOf("slot_a"), 2 * wordOf("slot_b"));
  if (choice.frame === null) throw new Error(choice.fault!.code);
  return choice.frame;
}
