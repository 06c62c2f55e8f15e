/**
 * The C firmware on a simulated tag. A phase of it is worked out at once, and its effects are laid out in time: every word
 * reaches memory when its write is over, so that power can be lost, and a reader can come, between any two of them and in
 * the middle of one.
 */
import { torn } from "../bridge/cells.ts";
import { classTag } from "../power/class-tag.ts";
import type { Board, Firmware } from "../tag/firmware.ts";
import type { Conversion } from "../tag/sensor.ts";
import { rawOfWord, regionOf } from "../tag/words.ts";
import { type Port, Program, shippedModule } from "./program.ts";

/** Times of a slow bridge and a slow core: orders of magnitude, common practice, no source. */
const WRITE_US = 1000;
const READ_US = 50;
const PHASE_US = 50;
const CONVERSION_US = 9000;

const USER = 3;
const SLOT_WORDS = [regionOf(USER, "slot_a").word, regionOf(USER, "slot_b").word];
const SENSOR_FAULT = rawOfWord("frame", "status", "sensor_fault");

interface Write {
  readonly word: number;
  readonly value: number;
  /** Kit time at which it is over. */
  readonly doneUs: number;
}

export class WasmFirmware implements Firmware {
  readonly #board: Board;
  readonly #program: Program;
  #startUs = 0;
  /** Kit time within the phase being worked out, then its end. */
  #clockUs = 0;
  #sleepUntilUs = 0;
  /** The air has the memory until then. */
  #heldUntilUs = 0;
  #writes: Write[] = [];
  #conversion: { readonly result: Conversion; readonly readyUs: number } | null = null;

  constructor(board: Board) {
    this.#board = board;
    this.#program = new Program(shippedModule(), this.#port());
  }

  coldStart(nowUs: number): number {
    this.#startUs = nowUs;
    this.#clockUs = nowUs;
    this.#sleepUntilUs = nowUs;
    this.#conversion = null;
    this.#program.start();
    return nowUs;
  }

  wake(nowUs: number): number {
    this.#land(nowUs);
    if (this.#nextUs() <= nowUs) {
      this.#clockUs = nowUs + PHASE_US;
      this.#program.step();
    }
    return this.#nextUs();
  }

  powerLost(nowUs: number): void {
    this.#land(nowUs);
    const [cut] = this.#writes;
    this.#writes = [];
    if (!cut) return;
    const { memory } = this.#board;
    const bits = Math.floor((16 * (nowUs - (cut.doneUs - WRITE_US))) / WRITE_US);
    if (bits > 0) memory.write(cut.word, torn(memory.read(cut.word), cut.value, bits, "msb"));
  }

  draw(nowUs: number): { currentA: number; untilUs: number } {
    const { processor, sensor, bridge } = classTag.load;
    // Most of a phase is spent on the bridge; the few instructions beside it are taken to cost the same.
    if (nowUs < this.#clockUs) return { currentA: processor.activeA + bridge.currentA, untilUs: this.#clockUs };
    const readyUs = this.#conversion?.readyUs ?? 0;
    if (nowUs < readyUs) return { currentA: processor.sleepA + sensor.conversionA, untilUs: readyUs };
    return { currentA: processor.sleepA, untilUs: Number.POSITIVE_INFINITY };
  }

  wordEndsUs(nowUs: number): number {
    const doneUs = this.#writes.find((write) => write.doneUs > nowUs)?.doneUs;
    return doneUs !== undefined && doneUs - WRITE_US < nowUs ? doneUs : nowUs;
  }

  holdBack(fromUs: number, untilUs: number): void {
    this.#heldUntilUs = untilUs;
    const held = this.#writes.findIndex(({ doneUs }) => doneUs > fromUs);
    if (held < 0) return;
    const lateUs = untilUs - Math.max(fromUs, this.#writes[held]!.doneUs - WRITE_US);
    if (lateUs <= 0) return;
    this.#writes = this.#writes.map((write, i) => (i < held ? write : { ...write, doneUs: write.doneUs + lateUs }));
    this.#clockUs += lateUs;
  }

  /** When there is something to do: a write is over, or the next phase is due. */
  #nextUs(): number {
    return this.#writes[0]?.doneUs ?? Math.max(this.#clockUs, this.#sleepUntilUs);
  }

  /** Writes that are over by now. */
  #land(nowUs: number): void {
    while (this.#writes.length > 0 && this.#writes[0]!.doneUs <= nowUs) {
      const { word, value } = this.#writes.shift()!;
      this.#board.memory.write(word, value);
      // A chip whose alarm bit the bridge can reach follows the frame that is now whole.
      if (SLOT_WORDS.includes(word) && value !== 0) this.#board.setSensorAlarm((value & SENSOR_FAULT) !== 0);
    }
  }

  #port(): Port {
    return {
      nowMs: () => Math.floor((this.#clockUs - this.#startUs) / 1000),
      sleepUntil: (ms) => {
        this.#sleepUntilUs = this.#startUs + ms * 1000;
      },
      supplyMv: () => Math.round(this.#board.supplyV() * 1000),
      sensorStart: () => {
        const result = this.#board.sensor.convert(this.#clockUs);
        this.#conversion = result && { result, readyUs: this.#clockUs + CONVERSION_US };
        return result !== null;
      },
      sensorReady: () => this.#conversion !== null && this.#clockUs >= this.#conversion.readyUs,
      sensorRead: () => this.#conversion && sensorCounts(this.#conversion.result),
      bridgeRead: (word, count) => {
        this.#clockUs += count * READ_US;
        return Array.from({ length: count }, (_, i) => this.#read(word + i));
      },
      bridgeWrite: (word, value) => {
        this.#clockUs = Math.max(this.#clockUs, this.#heldUntilUs) + WRITE_US;
        this.#writes.push({ word, value, doneUs: this.#clockUs });
        return true;
      },
      bridgeSettle: () => true,
    };
  }

  /** A word as it will be when the writes before this read are over. */
  #read(word: number): number {
    const pending = this.#writes.filter((write) => write.word === word).at(-1);
    return pending?.value ?? this.#board.memory.read(word);
  }
}

/** What the sensor's own registers hold: 1/128 Pa and 0.01 °C. */
function sensorCounts({ pressurePa, temperatureC }: Conversion): { pressure: number; temperature: number } {
  return { pressure: Math.max(0, Math.round(pressurePa * 128)), temperature: Math.round(temperatureC * 100) };
}
