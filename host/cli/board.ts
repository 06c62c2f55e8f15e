/** The live table: one row a tag, redrawn in place on a terminal, printed now and then elsewhere. */
import type { Reading } from "../readings/reading.ts";
import { isStale } from "../readings/stale.ts";
import { type Cells, readingCells } from "./reading-text.ts";
import { type Sites, siteName, siteOrder } from "./sites.ts";
import { columns, fold, paint, say, shownWidth } from "./terminal.ts";

const HEADS: { readonly [id in keyof Cells]: string } = {
  time: "seen at",
  site: "site",
  pressure: "pressure ± U",
  hectopascal: "in hPa",
  band: "band",
  temperature: "temperature",
  supply: "supply",
  age: "age",
  quality: "quality",
};

/** Left out one after the other where the terminal is too narrow; never pressure, age or quality. */
const DISPENSABLE: readonly (keyof Cells)[] = ["time", "supply", "hectopascal", "temperature", "band"];

/** Least room for quality flags beside the other columns. */
const QUALITY_ROOM = 24;

const LEFT: readonly (keyof Cells)[] = ["site", "band", "quality"];

/** Redraws on a terminal happen at most this often. */
const REDRAW_MS = 100;

/** Kit time between two printed tables where nothing can be redrawn. */
const PRINT_US = 5_000_000;

export class Board {
  readonly #sites: Sites;
  readonly #live: boolean;
  readonly #latest = new Map<string, Reading>();
  #drawn = 0;
  #drawnAtMs = -Infinity;
  #printedAtUs: number | null = null;

  constructor(sites: Sites) {
    this.#sites = sites;
    this.#live = process.stdout.isTTY === true;
  }

  add(reading: Reading): void {
    this.#latest.set(reading.epc, reading);
  }

  /** Time passed: what was seen has aged, whether or not something new came. */
  tick(nowUs: number): void {
    if (this.#latest.size === 0) return;
    if (this.#live) {
      if (performance.now() - this.#drawnAtMs >= REDRAW_MS) this.#draw(nowUs);
      return;
    }
    this.#printedAtUs ??= nowUs;
    if (nowUs - this.#printedAtUs < PRINT_US) return;
    this.#printedAtUs = nowUs;
    for (const line of boardLines(this.#latest, this.#sites, nowUs, 200)) say(line);
    say("");
  }

  #draw(nowUs: number): void {
    // A terminal that was never told its size says 0.
    const [width, rows] = [process.stdout.columns || 120, process.stdout.rows || 40];
    const lines = boardLines(this.#latest, this.#sites, nowUs, width - 1);
    // What scrolled off the screen cannot be drawn over.
    const room = Math.max(2, rows - 1);
    if (lines.length > room) lines.splice(room - 1, Infinity, `… ${lines.length - room + 1} more lines`);
    const up = this.#drawn > 0 ? `\u001b[${this.#drawn}A\r\u001b[J` : "";
    process.stdout.write(up + lines.map((line) => `${line}\n`).join(""));
    this.#drawn = lines.length;
    this.#drawnAtMs = performance.now();
  }
}

/** The table at a kit time, no line wider than `width`: columns give way, flags go on in lines of their own. */
export function boardLines(latest: ReadonlyMap<string, Reading>, sites: Sites, nowUs: number, width: number): string[] {
  const epcs = siteOrder(sites, latest.keys());
  const rows = epcs.map((epc) => {
    const reading = latest.get(epc);
    return reading ? readingCells(aged(reading, nowUs), sites) : unseen(siteName(sites, epc));
  });
  const kept = new Set(Object.keys(HEADS) as (keyof Cells)[]);
  kept.delete("quality");
  for (;;) {
    const ids = [...kept];
    const right = ids.flatMap((id, i) => (LEFT.includes(id) ? [] : [i]));
    const table = columns(
      [HEADS, ...rows].map((cells) => ids.map((id) => cells[id])),
      right,
      true,
    );
    const used = shownWidth(table[0]!) + 2;
    const dispensable = DISPENSABLE.find((id) => kept.has(id));
    if (used + QUALITY_ROOM > width && dispensable !== undefined) {
      kept.delete(dispensable);
      continue;
    }
    const [head, ...body] = table as [string, ...string[]];
    const lines = body.flatMap((line, i) => withQuality(line, rows[i]!.quality, used, width));
    return [paint.bold(`${head}  ${HEADS.quality}`.slice(0, width)), ...lines];
  }
}

function withQuality(line: string, quality: string, used: number, width: number): string[] {
  if (used + QUALITY_ROOM <= width || used + shownWidth(quality) <= width) {
    const [first, ...rest] = fold(quality, width - used);
    return [`${line}  ${first}`, ...rest.map((flags) => " ".repeat(used) + flags)];
  }
  return [line, ...fold(quality, width - 4).map((flags) => `    ${flags}`)];
}

/** A tag not seen for a while is as old as the time since then, and as stale, not as fresh as when it was last read. */
function aged(reading: Reading, nowUs: number): Reading {
  const ageS = reading.ageS + Math.max(0, nowUs - reading.kitTimeUs) / 1e6;
  const stale = isStale(ageS, reading.header?.samplingPeriodS ?? null) && !reading.quality.includes("stale");
  return { ...reading, ageS, quality: stale ? [...reading.quality, "stale"] : reading.quality };
}

function unseen(site: string): Cells {
  const none = { time: "-", hectopascal: "-", band: "-", temperature: "-", supply: "-", age: "-" };
  return { ...none, site, pressure: "-", quality: paint.yellow("not seen yet") };
}
