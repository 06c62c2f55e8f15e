/**
 * `npm run bench:bulk [-- MEGABYTES] [-- --write]`: a capture made from a seed through every way of decoding it, the rivals
 * built here, all in one run on this machine. Every way must find the same. Best of the rounds, each way in turn, whole
 * processes. `--write` puts the tables into host/bulk/BULK.md.
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { formatFingerprint, layout } from "../../../protocol/index.ts";
import { frameRates } from "./frame-rates.ts";
import { writeCapture } from "./made-capture.ts";
import { table } from "./table.ts";

const ROUNDS = 12;
/** Of the usual program, which takes as long as all others together. */
const USUAL_ROUNDS = 2;
const SEED = 20_260_304;
const HERE = import.meta.dirname;
const ROOT = resolve(HERE, "../../..");
const PROGRAM = join(ROOT, JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8")).bin.plyframe);
const PAGE = resolve(HERE, "../../../host/bulk/BULK.md");
const USAGE_AT_EXIT = `data:text/javascript,process.on("exit",()=>{const{user,system}=process.cpuUsage();console.error("used",process.resourceUsage().maxRSS,(user+system)/1e6)})`;

interface Used {
  readonly rssKb: number;
  readonly cpuSeconds: number;
}

interface Found extends Partial<Used> {
  readonly lines: number;
  readonly reads: number;
  readonly ambient: number;
  readonly unreadable: number;
  readonly goodFrames: number;
  readonly sums?: object;
}

interface Way {
  readonly name: string;
  run(): Found;
  /** Runs it once more to see what it uses, where it does not say that itself. */
  measure?(): Used;
}

function output(command: string, words: readonly string[]): { stdout: string; stderr: string } {
  const { error, status, stdout, stderr } = spawnSync(command, words, { encoding: "utf8", maxBuffer: 1 << 26 });
  if (error) throw error;
  if (status !== 0 && status !== 1)
    throw new Error(`${command} ${words.join(" ")} ended with status ${status}: ${stderr}`);
  return { stdout, stderr };
}

/** The command as a person runs it; it prints no sums. */
function byCommand(program: string, file: string): Found {
  const { stdout } = output(process.execPath, [program, "decode", "--frames", "--json", file]);
  const account = JSON.parse(stdout) as Record<string, number> & {
    unreadable_lines: Record<string, { count: number }>;
  };
  const unreadable = Object.values(account.unreadable_lines).reduce((sum, { count }) => sum + count, 0);
  const { lines, reads, ambient, good_frames: goodFrames } = account;
  return { lines: lines!, reads: reads!, ambient: ambient!, unreadable, goodFrames: goodFrames! };
}

function usedByCommand(program: string, file: string): Used {
  const { stderr } = output(process.execPath, ["--import", USAGE_AT_EXIT, program, "decode", "--frames", file]);
  // Each thread says it as it ends; the last one knows all.
  const used = [...stderr.matchAll(/^used (\d+) ([\d.]+)$/gm)];
  const most = (group: number) => Math.max(...used.map((match) => Number(match[group])));
  return { rssKb: most(1), cpuSeconds: most(2) };
}

function waysOf(file: string, rival: string, oneThread: string): Way[] {
  const json = (command: string, ...words: string[]) => JSON.parse(output(command, words).stdout) as Found;
  const ours = (...words: string[]) => json(process.execPath, join(HERE, "ours.mjs"), file, ...words);
  const print = formatFingerprint(layout.fingerprint);
  const command = (name: string, program: string): Way => ({
    name,
    run: () => byCommand(program, file),
    measure: () => usedByCommand(program, file),
  });
  return [
    {
      name: "readline + JSON.parse + binary-parser + crc",
      run: () => json(process.execPath, join(HERE, "usual.mjs"), file, print),
    },
    { name: "C, gcc -O2, one thread", run: () => json(rival, file) },
    command("plyframe decode --frames", PROGRAM),
    command("the same, built for one thread", oneThread),
    { name: "WebAssembly, two threads", run: () => ours("WebAssembly", "2") },
    { name: "WebAssembly, one thread", run: () => ours("WebAssembly", "1") },
    { name: "plain TypeScript, two threads with WebAssembly", run: () => ours("plain", "2") },
    { name: "plain TypeScript, one thread", run: () => ours("plain", "1") },
  ];
}

/** The counts, and the sums where both have them, must be the same. */
function check(way: string, found: Found, other: Found): void {
  for (const key of ["lines", "reads", "ambient", "unreadable", "goodFrames", "sums"] as const) {
    if (found[key] === undefined || other[key] === undefined) continue;
    if (JSON.stringify(found[key]) === JSON.stringify(other[key])) continue;
    throw new Error(
      `${way} found ${key} ${JSON.stringify(found[key])}, the usual program ${JSON.stringify(other[key])}`,
    );
  }
}

function captureTable(file: string, rival: string, oneThread: string): { text: string; goals: string[] } {
  const ways = waysOf(file, rival, oneThread);
  const bytes = statSync(file).size;
  const best = ways.map(() => Number.POSITIVE_INFINITY);
  const cpu = ways.map(() => Number.POSITIVE_INFINITY);
  const rssKb: number[] = [];
  const found: Found[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    ways.forEach(({ name, run, measure }, i) => {
      if (i === 0 && round >= USUAL_ROUNDS) return;
      const from = performance.now();
      found[i] = run();
      best[i] = Math.min(best[i]!, (performance.now() - from) / 1000);
      const used = (measure?.() ?? found[i]) as Used;
      cpu[i] = Math.min(cpu[i]!, used.cpuSeconds);
      rssKb[i] = used.rssKb;
      check(name, found[i]!, found[0]!);
    });
  }
  const { lines, reads, goodFrames, unreadable } = found[0]!;
  const rows = ways.map(({ name }, i) => {
    const seconds = best[i]!;
    return [
      name,
      seconds.toFixed(2),
      (bytes / 1e6 / seconds).toFixed(0),
      (goodFrames / 1e6 / seconds).toFixed(2),
      (best[0]! / seconds).toFixed(1),
      (seconds / best[1]!).toFixed(2),
      cpu[i]!.toFixed(2),
      (rssKb[i]! / 1000).toFixed(0),
    ];
  });
  const head = ["way", "s", "MB/s", "million frames/s", "times the usual", "of C's time", "CPU s", "peak MB"];
  const text = `A capture of ${(bytes / 1e6).toFixed(0)} MB: ${lines} lines, ${reads} reads, ${goodFrames} good frames, ${unreadable} unreadable lines. All ways found the same.\n\n${table(head, rows)}`;
  const [usual, c, ours, alone] = best as [number, number, number, number];
  return {
    text,
    goals: [
      goal("times the usual program, goal at least 25", usual / ours, (value) => value >= 25),
      goal("of C's time, goal at most 1.5", ours / c, (value) => value <= 1.5),
      goal("of C's time with one thread", alone / c, null),
      goal("times the usual program's CPU time, whatever else the machine does", cpu[0]! / cpu[2]!, null),
      goal("times as fast as with one thread, by the second one", alone / ours, null),
    ],
  };
}

function goal(says: string, value: number, reached: ((value: number) => boolean) | null): string {
  const verdict = reached === null ? "" : reached(value) ? ": reached" : ": MISSED";
  return `- ${value.toFixed(2)} ${says}${verdict}`;
}

/** Start of the command beside an empty program of the same Node; medians in milliseconds. */
function starts(): string {
  const time = (...words: string[]) => {
    const from = performance.now();
    output(process.execPath, words);
    return performance.now() - from;
  };
  const pairs = Array.from({ length: 15 }, () => [time(PROGRAM, "--version"), time("-e", "0")] as const);
  const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1]!;
  const version = median(pairs.map(([ours]) => ours));
  const empty = median(pairs.map(([, bare]) => bare));
  const verdict = version < 120 ? "reached" : "MISSED";
  return `- ${version.toFixed(0)} ms for \`plyframe --version\`, ${empty.toFixed(0)} ms for an empty program; goal below 120: ${verdict}`;
}

const load = loadavg()[0]!;
const words = process.argv.slice(2);
const megabytes = Number(words.find((word) => /^\d+$/.test(word)) ?? 500);
const folder = mkdtempSync(join(tmpdir(), "plyframe-bench-"));
try {
  const rival = join(folder, "rival");
  output("gcc", ["-O2", "-std=gnu11", "-o", rival, join(HERE, "rival.c")]);
  const file = join(folder, "capture.jsonl");
  writeCapture(file, megabytes * 1e6, SEED);
  const command = join(folder, "command");
  // In a process of its own: a process begins with the peak memory of the one that starts it.
  output(process.execPath, [join(HERE, "one-thread.mjs"), command]);
  const capture = captureTable(file, rival, join(command, "main.js"));
  const frames = frameRates(folder, rival);
  const machine = `${cpus().length} cores, ${cpus()[0]!.model.trim()}, Node ${process.version}; best of ${ROUNDS} rounds, of the usual program ${USUAL_ROUNDS}. Processes that wanted a core when it began: ${load.toFixed(1)}.`;
  const text = [machine, capture.text, capture.goals.join("\n"), frames, starts()].join("\n\n");
  console.log(text);
  if (words.includes("--write")) {
    const page = readFileSync(PAGE, "utf8");
    const marked = /(<!-- bench:bulk -->\n)[\s\S]*?(<!-- \/bench:bulk -->)/;
    writeFileSync(
      PAGE,
      page.replace(marked, (_, open: string, close: string) => `${open}${text}\n${close}`),
    );
  }
} finally {
  rmSync(folder, { recursive: true });
}
