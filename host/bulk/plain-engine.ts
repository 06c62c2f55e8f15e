/** The engine in plain TypeScript: for machines without vectors in WebAssembly, and to check the other one against. */
import { type FrameFields, judgeFrame, storeFrame } from "../../protocol/emitted/bulk.ts";
import type { Layout } from "../../protocol/index.ts";
import { LINE_LIMIT } from "../capture/lines.ts";
import {
  DATA_BYTES,
  type Engine,
  INPUT_BYTES,
  makeColumns,
  ROWS,
  SLACK,
  STATE,
  sharedArray,
  TAG_BYTES,
  type TakenRead,
} from "./engine.ts";
import { type Limits, type ListedName, MOST_WORD_BYTES, reportLimits } from "./limits.ts";
import { KINDS, type Kind, type Order } from "./order.ts";
import { PlainRows } from "./plain-rows.ts";
import { PlainTags } from "./plain-tags.ts";
import { PlainValues } from "./plain-values.ts";

/** Names with their closing quote. */
type Names = readonly { readonly text: Uint8Array; readonly raw: number }[];

const [
  LINE_END,
  KIT_TIME,
  EPC,
  PC,
  XPC,
  RSSI,
  FREQUENCY,
  RESULT,
  BANK,
  WORD,
  WORDS,
  AMBIENT_KIT_TIME,
  PRESSURE,
  TEMPERATURE,
] = KINDS.keys();

/** An engine with memory of its own. */
export class PlainEngine implements Engine {
  readonly name = "plain";
  readonly input = sharedArray(Uint8Array, INPUT_BYTES + SLACK);
  readonly data = sharedArray(Uint8Array, DATA_BYTES + SLACK);
  readonly state = new Uint32Array(Object.keys(STATE).length);
  readonly columns;
  readonly #tags = new PlainTags(this.state);
  readonly #values = new PlainValues(this.input);
  readonly #rows: PlainRows;
  readonly #low = new Float64Array(KINDS.length);
  readonly #high = new Float64Array(KINDS.length);
  readonly #results: Names;
  readonly #banks: Names;
  readonly #word = new Uint8Array(2);
  #read: Order["steps"] = [];
  #ambient: Order["steps"] = [];
  readonly #found = {
    byte: 0,
    kitTimeUs: 0,
    epcBytes: 0,
    pc: 0,
    xpc: 0,
    rssiDbm: 0,
    frequencyKhz: 0,
    result: 0,
    bank: 0,
    word: 0,
    dataBytes: 0,
    pressureRaw: 0,
    temperatureC: 0,
  };

  constructor(layout: Layout) {
    this.columns = makeColumns(layout, (type) => sharedArray(type, ROWS) as never);
    this.#rows = new PlainRows(layout, this.columns, this.state, this.data, this.#tags);
    const { limits, results, banks } = reportLimits(layout);
    KINDS.forEach((kind: Kind, i) => {
      const [low, high] = (limits as Limits)[kind] ?? [0, 0];
      this.#low[i] = low;
      this.#high[i] = high;
    });
    this.#results = quoted(results);
    this.#banks = quoted(banks);
  }

  get tagBytes(): Uint8Array {
    return this.#tags.bytes;
  }

  get tagLengths(): Uint32Array {
    return this.#tags.lengths;
  }

  learn({ record, steps }: Order): void {
    if (record === "read") this.#read = steps;
    else this.#ambient = steps;
  }

  begin(origin: number): void {
    this.state.fill(0);
    this.state[STATE.origin] = origin;
    this.#tags.begin();
  }

  scan(from: number, to: number): number {
    const found = this.#found;
    this.input[to] = 0;
    let p = from;
    while (p < to && !this.#isFull()) {
      let next = this.#match(this.#read, p);
      if (next >= 0 && next - p <= LINE_LIMIT) {
        found.byte = p;
        this.#rows.addRead(found);
      } else {
        next = this.#match(this.#ambient, p);
        if (next < 0 || next - p > LINE_LIMIT) break;
        this.#rows.addAmbient(p, found.kitTimeUs, found.pressureRaw, found.temperatureC);
      }
      p = next;
    }
    return p;
  }

  takeRead(read: TakenRead): void {
    this.#rows.addRead(read);
  }

  takeAmbient(byte: number, kitTimeUs: number, pressureRaw: number, temperatureC: number): void {
    this.#rows.addAmbient(byte, kitTimeUs, pressureRaw, temperatureC);
  }

  takeFrames(count: number): void {
    const view = new DataView(this.input.buffer);
    const fields = this.columns.fields as FrameFields;
    const verdicts = this.columns.verdicts.slot_a!;
    for (let row = 0, at = 0; row < count; row++, at += 16) {
      const a = view.getUint32(at);
      const b = view.getUint32(at + 4);
      const c = view.getUint32(at + 8);
      const d = view.getUint32(at + 12);
      verdicts[row] = judgeFrame(a, b, c, d);
      storeFrame(fields, row, a, b, c, d);
    }
  }

  #isFull(): boolean {
    const { state } = this;
    return (
      state[STATE.rows]! >= ROWS ||
      state[STATE.ambientRows]! >= ROWS ||
      state[STATE.data]! + MOST_WORD_BYTES > DATA_BYTES
    );
  }

  /** The report at `p` by a learned order, and where its line ends; -1 when it does not fit. */
  #match(steps: Order["steps"], from: number): number {
    const { input } = this;
    const values = this.#values;
    const found = this.#found;
    let p = from;
    for (let i = 0; i < steps.length; i++) {
      const { text, value } = steps[i]!;
      for (let k = 0; k < text.length; k++) if (input[p + k] !== text[k]) return -1;
      p += text.length;
      switch (value) {
        case LINE_END:
          return p;
        case KIT_TIME:
        case AMBIENT_KIT_TIME:
          p = this.#within(values.whole(p), value);
          found.kitTimeUs = values.value;
          break;
        case EPC:
          p = this.#hexWords(p, EPC, this.tagBytes, this.state[STATE.tags]! * TAG_BYTES);
          found.epcBytes = values.value;
          break;
        case PC:
        case XPC:
          p = this.#hexWords(p, value, this.#word, 0);
          found[value === PC ? "pc" : "xpc"] = (this.#word[0]! << 8) | this.#word[1]!;
          break;
        case RSSI:
          p = this.#measured(p, RSSI);
          found.rssiDbm = values.value;
          break;
        case FREQUENCY:
          p = this.#within(values.whole(p), FREQUENCY);
          found.frequencyKhz = values.value;
          break;
        case RESULT:
          p = this.#name(p, this.#results);
          found.result = values.value;
          break;
        case BANK:
          p = this.#name(p, this.#banks);
          found.bank = values.value;
          break;
        case WORD:
          p = this.#within(values.whole(p), WORD);
          found.word = values.value;
          break;
        case WORDS:
          p = this.#hexWords(p, WORDS, this.data, this.state[STATE.data]!);
          found.dataBytes = values.value;
          break;
        case PRESSURE:
          p = this.#within(values.whole(p), PRESSURE);
          found.pressureRaw = values.value;
          break;
        case TEMPERATURE:
          p = this.#measured(p, TEMPERATURE);
          found.temperatureC = values.value;
          break;
        default:
          p = values.any(p);
      }
      if (p < 0) return -1;
    }
    return -1;
  }

  #within(p: number, kind: number): number {
    const { value } = this.#values;
    return value >= this.#low[kind]! && value <= this.#high[kind]! ? p : -1;
  }

  #measured(from: number, kind: number): number {
    const p = this.#values.decimalOrNull(from);
    return p < 0 || Number.isNaN(this.#values.value) ? p : this.#within(p, kind);
  }

  /** Whole 16-bit words in hex. */
  #hexWords(from: number, kind: number, to: Uint8Array, at: number): number {
    const p = this.#values.hex(from, to, at, this.#high[kind]!);
    return p >= 0 && this.#values.value % 2 === 0 ? this.#within(p, kind) : -1;
  }

  #name(from: number, names: Names): number {
    for (let i = 0; i < names.length; i++) {
      const { text, raw } = names[i]!;
      let k = 0;
      while (k < text.length && this.input[from + k] === text[k]) k++;
      if (k < text.length) continue;
      this.#values.value = raw;
      // The closing quote belongs to the text that follows.
      return from + text.length - 1;
    }
    return -1;
  }
}

function quoted(names: readonly ListedName[]): Names {
  return names.map(({ id, raw }) => ({ text: Buffer.from(`${id}"`), raw }));
}
