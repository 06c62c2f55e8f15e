/** Emits protocol/memory-map.svg: the USER bank to scale, then every record of it as rows of eight words, bit for bit. */
import { type EmittedFile, layoutMark } from "../model/emitted-file.ts";
import { type CompiledField, type CompiledRecord, type Layout, recordOf } from "../model/layout.ts";
import type { BankSpec, Region } from "../model/vocabulary.ts";

const WIDTH = 1000;
const MARGIN = 24;
const WORDS = 8;
const BIT = (WIDTH - 2 * MARGIN) / (WORDS * 16);
const WORD = BIT * 16;
const ROW = 62;
/** Words of one Read, the unit the map is arranged for. */
const READ = 32;

export function emitSvg(layout: Layout): EmittedFile[] {
  const bank = layout.banks.find(({ id }) => id === "user")!;
  const ids = [...new Set(bank.regions.flatMap(({ record }) => (record === null ? [] : [record])))];
  const drawn: string[] = [title(layout, bank), legend(76), overview(bank, 104)];
  let y = 196;
  for (const id of ids) {
    const record = recordOf(layout, id);
    const regions = bank.regions.filter((region) => region.record === id);
    drawn.push(band(record, regions, y));
    y += 44 + ROW * Math.ceil(record.bytes / 2 / WORDS);
  }
  const height = y + 6;
  const text = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${height}" width="${WIDTH}" height="${height}" role="img" aria-labelledby="title">
<title id="title">Words and bits of the USER bank, ${layoutMark(layout)}</title>
${STYLE}
<rect class="page" width="${WIDTH}" height="${height}" rx="10"/>
${drawn.join("\n")}
</svg>
`;
  return [{ path: "protocol/memory-map.svg", text }];
}

const STYLE = `<style>
  text { font-family: "Helvetica Neue", Helvetica, Arial, "Liberation Sans", "DejaVu Sans", sans-serif; fill: #1c2733; }
  .page { fill: #fbfcfd; }
  .name { font-weight: 600; }
  .small { font-size: 10.5px; }
  .tiny { font-size: 10px; }
  .soft { fill: #566573; }
  .head { font-size: 15px; font-weight: 700; }
  .big { font-size: 20px; font-weight: 700; }
  .cell { stroke: #fbfcfd; stroke-width: 1.5; }
  .line { stroke: #8a98a6; stroke-width: 1; fill: none; }
  .region { fill: #dfe7f5; }
  .fixed { fill: #d3dae1; }
  .flags { fill: #fbd58b; }
  .number { fill: #b5d8f3; }
  .enumeration { fill: #b4e2cf; }
  .reserved { fill: #eceff2; }
  .checksum { fill: #dccaf1; }
  @media (prefers-color-scheme: dark) {
    text { fill: #e8edf2; }
    .page { fill: #141b22; }
    .soft { fill: #a3b1be; }
    .cell { stroke: #141b22; }
    .line { stroke: #6c7a88; }
    .region { fill: #2b3a52; }
    .fixed { fill: #3d4a57; }
    .flags { fill: #755412; }
    .number { fill: #1d4d73; }
    .enumeration { fill: #1c5c45; }
    .reserved { fill: #252f39; }
    .checksum { fill: #523678; }
  }
</style>`;

const escaped = (text: string) => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;");
const round = (value: number) => String(Math.round(value * 100) / 100);

function label(x: number, y: number, classes: string, text: string, anchor = "start"): string {
  return `<text class="${classes}" x="${round(x)}" y="${round(y)}" text-anchor="${anchor}">${escaped(text)}</text>`;
}

function box(x: number, y: number, width: number, height: number, kind: string): string {
  const place = `x="${round(x)}" y="${round(y)}" width="${round(width)}" height="${round(height)}"`;
  return `<rect class="cell ${kind}" ${place} rx="3"/>`;
}

function title(layout: Layout, bank: BankSpec): string {
  const octets = `bank 11, ${bank.words} words of 16 bits; a row below is eight words, bit 15 of each word on the left`;
  return [
    label(MARGIN, 36, "big", `${layout.name}: USER bank`),
    label(WIDTH - MARGIN, 36, "small soft", layoutMark(layout), "end"),
    label(MARGIN, 56, "small soft", octets),
  ].join("\n");
}

function legend(y: number): string {
  const kinds = [
    ["number", "number"],
    ["flags", "flags"],
    ["enumeration", "enumeration"],
    ["fixed", "fixed value"],
    ["reserved", "reserved, zero"],
    ["checksum", "checksum"],
  ] as const;
  return kinds
    .map(([kind, text], i) => {
      const x = MARGIN + i * 118;
      return `${box(x, y - 10, 16, 12, kind)}\n${label(x + 22, y, "small", text)}`;
    })
    .join("\n");
}

/** The whole bank in one line, to scale, with the Reads it is arranged for. */
function overview(bank: BankSpec, y: number): string {
  const scale = (WIDTH - 2 * MARGIN) / bank.words;
  const drawn = bank.regions.map(({ id, word, words }) => {
    const x = MARGIN + word * scale;
    const middle = x + (words * scale) / 2;
    return [
      box(x, y, words * scale, 38, "region"),
      lines(middle, y + 19, fitted(id.split("_"), words * scale - 6, 12) ?? { list: [id], size: 8 }),
      label(x + 2, y + 50, "small soft", `${word}`),
    ].join("\n");
  });
  const reads = bank.regions
    .filter(({ word, words }) => word === 0 || words === READ)
    .map(({ word }) => {
      const [from, to] = [MARGIN + word * scale + 2, MARGIN + (word + READ) * scale - 2];
      const path = `M${round(from)} ${y + 56}v6H${round(to)}v-6`;
      return `<path class="line" d="${path}"/>\n${label((from + to) / 2, y + 75, "small soft", `one Read of ${READ} words`, "middle")}`;
    });
  return [...drawn, ...reads].join("\n");
}

function band(record: CompiledRecord, regions: readonly Region[], y: number): string {
  const where = regions.map(({ id, word, words }) => `${id}: words ${word} to ${word + words - 1}`).join(",  ");
  const offsets = Array.from({ length: record.bytes / 2 }, (_, word) =>
    label(MARGIN + (word % WORDS) * WORD + 3, rowTop(y, word) + 9, "tiny soft", `+${word}`),
  );
  return [
    label(MARGIN, y + 18, "head", record.title),
    label(WIDTH - MARGIN, y + 18, "small soft", where, "end"),
    ...offsets,
    ...record.fields.flatMap((field) => cells(field, y)),
  ].join("\n");
}

/** Top of the row a word of a band lies in. */
function rowTop(y: number, word: number): number {
  return y + 26 + Math.floor(word / WORDS) * ROW;
}

/** One cell for each row of words the field touches. */
function cells(field: CompiledField, y: number): string[] {
  const drawn: string[] = [];
  let bit = (field.byte + field.bytes) * 8 - field.shift - field.width;
  const end = bit + field.width;
  while (bit < end) {
    const stop = Math.min(end, (Math.floor(bit / (16 * WORDS)) + 1) * 16 * WORDS);
    const x = MARGIN + (bit % (16 * WORDS)) * BIT;
    const width = (stop - bit) * BIT;
    const top = rowTop(y, Math.floor(bit / 16)) + 13;
    drawn.push(box(x, top, width, CELL, KINDS[field.type]), ...cellText(field, x, top, width));
    bit = stop;
  }
  return drawn;
}

const CELL = 46;

const KINDS: Record<CompiledField["type"], string> = {
  unsigned: "number",
  signed: "number",
  flags: "flags",
  enumeration: "enumeration",
  constant: "fixed",
  reserved: "reserved",
  checksum: "checksum",
};

function cellText(field: CompiledField, x: number, top: number, width: number): string[] {
  const middle = x + width / 2;
  const words = field.array === undefined ? field.id.split("_") : [field.id];
  const note = cellNotes(field).find((text) => extent(text, 10) < width - 8) ?? "";
  const fit = fitted(words, width - 5, 12.5);
  if (!fit) return [turned(middle, top + CELL / 2, width, words)];
  const name = lines(middle, top + (note === "" ? CELL / 2 : fit.list.length > 1 ? 16 : 18), fit);
  return note === "" ? [name] : [name, label(middle, top + 39, "tiny soft", note, "middle")];
}

/** Width and scale in a few characters, `24 bits, 1/128 Pa`, the longer text first. */
function cellNotes({ type, width, num, den, unit, array }: CompiledField): string[] {
  if (array !== undefined) return [];
  if (type === "flags") return [`${width} flags`];
  const bits = `${width} bits`;
  if (num === undefined || (num === den && unit === "1")) return [bits];
  const step = den === 1 ? `${num}` : `${num}/${den}`;
  return [`${bits}, ${step}${unit === "1" ? "" : ` ${unit}`}`, bits];
}

/** Width of a text in pixels, near enough for a sans-serif face. */
function extent(text: string, size: number): number {
  return text.length * size * 0.57;
}

interface Fit {
  readonly list: readonly string[];
  readonly size: number;
}

/** A name on one line, or a word a line, and its size; undefined when neither is legible. */
function fitted(words: readonly string[], width: number, largest: number): Fit | undefined {
  const sizeOf = (list: readonly string[]) => Math.min(largest, ...list.map((text) => width / extent(text, 1)));
  const whole = { list: [words.join(" ")], size: sizeOf([words.join(" ")]) };
  const split = { list: words, size: sizeOf(words) };
  if (whole.size >= 11 || words.length === 1) return whole.size >= 9 ? whole : undefined;
  return split.size >= 8 ? { list: words, size: Math.min(split.size, 11) } : undefined;
}

function lines(x: number, middle: number, { list, size }: Fit): string {
  const drawn = list.map((text, i) => {
    const y = middle + (i - (list.length - 1) / 2) * size * 1.05 + size * 0.36;
    const place = `x="${round(x)}" y="${round(y)}" text-anchor="middle"`;
    return `<text class="name" style="font-size:${round(size)}px" ${place}>${escaped(text)}</text>`;
  });
  return drawn.join("\n");
}

/** A name turned by a quarter, for cells of a few bits. */
function turned(x: number, y: number, width: number, words: readonly string[]): string {
  const fit = fitted(words, CELL - 4, Math.min(11.5, (width - 4) / words.length)) ?? { list: words, size: 8 };
  return `<g transform="translate(${round(x)} ${round(y)}) rotate(-90)">${lines(0, 0, fit)}</g>`;
}
