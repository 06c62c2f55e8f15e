/** From one read to one row, as the C in native/rows.h does it. */
import {
  type FrameFields,
  judgeCounters,
  judgeFrame,
  judgeHeader,
  sequenceOf,
  storeFrame,
} from "../../protocol/emitted/bulk.ts";
import { type Layout, reasons } from "../../protocol/index.ts";
import { NOT_READ } from "./batch.ts";
import { type Columns, STATE, type TakenRead, UNJUDGED } from "./engine.ts";
import type { PlainTags } from "./plain-tags.ts";

type Judge = (a: number, b: number, c: number, d: number) => number;

const JUDGES: { readonly [record: string]: Judge } = {
  header: judgeHeader,
  frame: judgeFrame,
  counters: judgeCounters,
};

const TOO_SHORT = reasons["record-too-short"].number * 256 + 255;
const DONE = 0;

interface PlacedRegion {
  readonly first: number;
  readonly end: number;
  readonly judge: Judge | null;
  readonly verdicts: Uint16Array;
}

/** Adds rows to the columns of an engine. */
export class PlainRows {
  readonly #columns: Columns;
  readonly #fields: FrameFields;
  readonly #fieldColumns: readonly (Int32Array | Uint32Array)[];
  readonly #state: Uint32Array;
  readonly #view: DataView;
  readonly #tags: PlainTags;
  readonly #regions: readonly PlacedRegion[];
  readonly #slotA: PlacedRegion;
  readonly #slotB: PlacedRegion;
  readonly #header: Uint16Array;
  readonly #burst: Uint16Array;
  readonly #user: number;

  constructor(layout: Layout, columns: Columns, state: Uint32Array, data: Uint8Array, tags: PlainTags) {
    this.#columns = columns;
    this.#fields = columns.fields as FrameFields;
    this.#fieldColumns = Object.values(columns.fields);
    this.#state = state;
    this.#view = new DataView(data.buffer, data.byteOffset, data.length);
    this.#tags = tags;
    const user = layout.banks.find(({ id }) => id === "user")!;
    const regions = user.regions.filter(({ record }) => record !== null);
    const placed = regions.map(({ id, word, words, record }) => ({
      first: word,
      end: word + words,
      judge: JUDGES[record!] ?? null,
      verdicts: columns.verdicts[id]!,
    }));
    this.#regions = placed;
    this.#slotA = placed[regions.findIndex(({ id }) => id === "slot_a")]!;
    this.#slotB = placed[regions.findIndex(({ id }) => id === "slot_b")]!;
    this.#header = columns.verdicts.header!;
    this.#burst = columns.verdicts.burst!;
    this.#user = user.number;
  }

  addRead(read: TakenRead): void {
    const state = this.#state;
    const { reads } = this.#columns;
    const row = state[STATE.rows]!++;
    const dataAt = state[STATE.data]!;
    reads.line[row] = state[STATE.lines]!;
    reads.byte[row] = read.byte - state[STATE.origin]!;
    reads.kitTimeUs[row] = read.kitTimeUs;
    reads.tag[row] = this.#tags.numberOf(read.epcBytes);
    reads.pc[row] = read.pc;
    reads.xpc[row] = read.xpc;
    reads.rssiDbm[row] = read.rssiDbm;
    reads.frequencyKhz[row] = read.frequencyKhz;
    reads.result[row] = read.result;
    reads.bank[row] = read.bank;
    reads.word[row] = read.word;
    reads.words[row] = read.dataBytes >> 1;
    reads.dataAt[row] = dataAt;
    reads.slot[row] = 0;
    reads.partial[row] = 0;
    if (read.result === DONE && read.bank === this.#user) this.#judgeUser(row, read.word, read.dataBytes >> 1, dataAt);
    else for (const { verdicts } of this.#regions) verdicts[row] = NOT_READ;
    if (reads.slot[row] === 0) for (const column of this.#fieldColumns) column[row] = 0;
    if (reads.slot[row] === 0 || reads.partial[row] !== 0 || this.#header[row] !== 0 || this.#burst[row] !== NOT_READ) {
      this.#columns.odd[state[STATE.odd]!++] = row;
    }
    state[STATE.data] = dataAt + read.dataBytes;
    state[STATE.lines]!++;
  }

  addAmbient(byte: number, kitTimeUs: number, pressureRaw: number, temperatureC: number): void {
    const state = this.#state;
    const { ambient } = this.#columns;
    const row = state[STATE.ambientRows]!++;
    ambient.line[row] = state[STATE.lines]!++;
    ambient.byte[row] = byte - state[STATE.origin]!;
    ambient.kitTimeUs[row] = kitTimeUs;
    ambient.pressureRaw[row] = pressureRaw;
    ambient.temperatureC[row] = temperatureC;
  }

  #judgeUser(row: number, word: number, words: number, dataAt: number): void {
    const end = word + words;
    const regions = this.#regions;
    let isPartial = words === 0;
    let unjudged = 0;
    for (let i = 0; i < regions.length; i++) {
      const { first, end: regionEnd, judge, verdicts } = regions[i]!;
      if (word <= first && end >= regionEnd) {
        if (judge) verdicts[row] = this.#judge(judge, dataAt + 2 * (first - word));
        else {
          verdicts[row] = UNJUDGED;
          unjudged = 1;
        }
      } else if (word < regionEnd && end > first) {
        verdicts[row] = TOO_SHORT;
        isPartial = true;
      } else verdicts[row] = NOT_READ;
    }
    this.#state[STATE.unjudged]! += unjudged;
    const { reads } = this.#columns;
    const [a, b] = [this.#slotA.verdicts[row]!, this.#slotB.verdicts[row]!];
    if ((a === NOT_READ) !== (b === NOT_READ)) isPartial = true;
    reads.partial[row] = isPartial ? 1 : 0;
    if (a === NOT_READ || a === TOO_SHORT || b === NOT_READ || b === TOO_SHORT) return;
    const atA = dataAt + 2 * (this.#slotA.first - word);
    const atB = dataAt + 2 * (this.#slotB.first - word);
    const slot = this.#choose(a, b, atA, atB);
    reads.slot[row] = slot;
    if (slot !== 0) this.#store(row, slot === 1 ? atA : atB);
  }

  #judge(judge: Judge, at: number): number {
    const view = this.#view;
    return judge(view.getUint32(at), view.getUint32(at + 4), view.getUint32(at + 8), view.getUint32(at + 12));
  }

  #store(row: number, at: number): void {
    const view = this.#view;
    storeFrame(
      this.#fields,
      row,
      view.getUint32(at),
      view.getUint32(at + 4),
      view.getUint32(at + 8),
      view.getUint32(at + 12),
    );
  }

  /** 1 or 2 for the slot with the newest whole frame, by RFC 1982; 0 when neither is whole or the two have no order. */
  #choose(a: number, b: number, atA: number, atB: number): number {
    if (a !== 0) return b === 0 ? 2 : 0;
    if (b !== 0) return 1;
    const view = this.#view;
    const distance = (sequenceOf(view.getUint32(atA)) - sequenceOf(view.getUint32(atB))) & 0xffff;
    if (distance === 0x8000) return 0;
    if (distance !== 0) return distance < 0x8000 ? 1 : 2;
    for (let i = 0; i < 16; i += 4) if (view.getInt32(atA + i) !== view.getInt32(atB + i)) return 0;
    return 1;
  }
}
