import { describe, expect, it } from "vitest";
import { isFault } from "../../../protocol/codec/encode.ts";
import { type DecodedRecord, decode, flagsOf, physicalOf, rawOf } from "../../../protocol/codec/record.ts";
import { chooseSlot, type SlotChoice } from "../../../protocol/codec/slots.ts";
import { layout } from "../../../protocol/index.ts";
import { recordOf } from "../../../protocol/model/layout.ts";
import { Program, shippedModule } from "../../../sim/firmware/program.ts";
import { WasmFirmware } from "../../../sim/firmware/wasm-firmware.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { commissionedMemory } from "../../../sim/tag/factory.ts";
import type { Conversion } from "../../../sim/tag/sensor.ts";
import { recordWords, toBytes } from "../../../sim/tag/words.ts";

const USER = 3;
const S = 1e6;
const [SLOT_A, COUNTERS_A, COUNTERS_B, CALIBRATION_1, CALIBRATION_2, BURST] = [8, 24, 32, 40, 56, 72] as const;

/** A board whose sensor and supply the test sets, and the firmware on it; `writes` logs every word that lands. */
function bench(before: readonly [word: number, words: readonly number[]][] = []) {
  const tagMemory = commissionedMemory(trainingLeg.tags[0]!);
  for (const [word, words] of before) tagMemory.poke(USER, word, words);
  const writes: { word: number; value: number; timeUs: number }[] = [];
  let nowUs = 0;
  const memory = {
    read: (word: number) => tagMemory.peek(USER, word),
    write: (word: number, value: number) => {
      writes.push({ word, value, timeUs: nowUs });
      tagMemory.poke(USER, word, [value]);
    },
  };
  const set = {
    conversion: { pressurePa: 100_000, temperatureC: 30 } as Conversion | null,
    at: (_: number): Conversion | null => set.conversion,
    supplyV: (): number => 2.5,
    alarm: false,
  };
  const firmware = new WasmFirmware({
    memory,
    sensor: { convert: (timeUs) => set.at(timeUs) },
    supplyV: () => set.supplyV(),
    setSensorAlarm: (on) => {
      set.alarm = on;
    },
  });
  let next = Number.POSITIVE_INFINITY;
  const words = (word: number, count: number) => Array.from({ length: count }, (_, i) => memory.read(word + i));
  const record = (id: string, word: number): DecodedRecord | null => {
    const spec = recordOf(layout, id);
    const decoded = decode(spec, toBytes(words(word, spec.bytes / 2)));
    return isFault(decoded) ? null : decoded;
  };
  const choice = (): SlotChoice => chooseSlot(recordOf(layout, "frame"), toBytes(words(SLOT_A, 16)), 0, 16);
  return {
    set,
    memory,
    writes,
    record,
    choice,
    coldStart(timeUs: number) {
      nowUs = timeUs;
      next = firmware.coldStart(timeUs);
    },
    runTo(toUs: number) {
      while (next <= toUs) {
        nowUs = next;
        next = firmware.wake(next);
        expect(next).toBeGreaterThan(nowUs);
      }
      nowUs = toUs;
    },
    powerLost(timeUs: number) {
      nowUs = timeUs;
      firmware.powerLost(timeUs);
      next = Number.POSITIVE_INFINITY;
    },
    frame: () => choice().frame!,
    counters() {
      const found = [COUNTERS_A, COUNTERS_B].flatMap((word) => record("counters", word) ?? []);
      return found.sort(
        (a, b) => rawOf(b, "cold_starts") - rawOf(a, "cold_starts") || rawOf(b, "frames") - rawOf(a, "frames"),
      )[0]!;
    },
  };
}

const counts = (tag: ReturnType<typeof bench>) =>
  ["cold_starts", "brown_outs", "fruitless_starts", "frames"].map((id) => rawOf(tag.counters(), id));

describe("frames", () => {
  it("come at the header's period, in slot A and slot B in turn, with sequence and uptime", () => {
    const tag = bench();
    tag.coldStart(0);
    tag.runTo(0.1 * S);
    expect(rawOf(tag.frame(), "sequence")).toBe(0);
    expect(tag.choice().slot).toBe("a");
    tag.runTo(0.35 * S);
    expect(rawOf(tag.frame(), "sequence")).toBe(1);
    expect(tag.choice().slot).toBe("b");
    tag.runTo(10.1 * S);
    expect(rawOf(tag.frame(), "sequence")).toBe(40);
    expect(physicalOf(tag.frame(), "uptime")).toBe(10);
    expect(physicalOf(tag.frame(), "pressure")).toBe(100_000);
    expect(physicalOf(tag.frame(), "temperature")).toBe(30);
    expect(physicalOf(tag.frame(), "supply")).toBe(2.5);
  });

  it("mark only the first one after a cold start, and go on counting over it", () => {
    const tag = bench();
    tag.coldStart(0);
    tag.runTo(0.1 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual(["first_after_cold_start"]);
    tag.runTo(1.1 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual([]);
    const before = rawOf(tag.frame(), "sequence");
    tag.powerLost(1.1 * S);
    tag.coldStart(5 * S);
    tag.runTo(5.1 * S);
    expect(rawOf(tag.frame(), "sequence")).toBe(before + 1);
    expect(flagsOf(tag.frame(), "status")).toEqual(["first_after_cold_start"]);
    expect(physicalOf(tag.frame(), "uptime")).toBe(0);
  });

  it("mark a brown-out once, count it once and keep the uptime over it", () => {
    const tag = bench();
    tag.coldStart(0);
    tag.runTo(1.1 * S);
    const before = rawOf(tag.frame(), "sequence");
    tag.set.supplyV = () => 1.7;
    tag.runTo(2.1 * S);
    expect(rawOf(tag.frame(), "sequence")).toBe(before);
    tag.set.supplyV = () => 2.5;
    tag.runTo(2.35 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual(["brown_out"]);
    expect(physicalOf(tag.frame(), "uptime")).toBeGreaterThanOrEqual(2.2);
    tag.runTo(2.6 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual([]);
    expect(counts(tag)[1]).toBe(1);
  });

  it("say that the sensor is silent, raise the alarm and take both back", () => {
    const tag = bench();
    tag.coldStart(0);
    tag.runTo(1.1 * S);
    tag.set.conversion = null;
    tag.runTo(2.1 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual(["sensor_fault"]);
    expect(physicalOf(tag.frame(), "pressure")).toBeNull();
    expect(physicalOf(tag.frame(), "temperature")).toBeNull();
    expect(tag.set.alarm).toBe(true);
    tag.set.conversion = { pressurePa: 101_000, temperatureC: 31 };
    tag.runTo(3.1 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual([]);
    expect(tag.set.alarm).toBe(false);
  });

  it.each([
    [25_000, 26_000],
    [130_000, 126_000],
  ])("saturate %d Pa at the end of the range and say so", (pressurePa, shownPa) => {
    const tag = bench();
    tag.set.conversion = { pressurePa, temperatureC: 30 };
    tag.coldStart(0);
    tag.runTo(1.1 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual(["pressure_at_limit"]);
    expect(physicalOf(tag.frame(), "pressure")).toBe(shownPa);
  });

  it("say when the supply sank during the sample", () => {
    const tag = bench();
    tag.coldStart(0);
    tag.runTo(1.1 * S);
    let looks = 0;
    tag.set.supplyV = () => (looks++ % 2 === 0 ? 2.5 : 1.9);
    tag.runTo(2.1 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual(["supply_low"]);
    expect(physicalOf(tag.frame(), "supply")).toBe(1.9);
  });

  it("say when no calibration copy is whole, and when one is again", () => {
    const tag = bench();
    const spoil = (word: number) => tag.memory.write(word, tag.memory.read(word) ^ 1);
    spoil(CALIBRATION_1 + 5);
    tag.coldStart(0);
    tag.runTo(0.35 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual([]);
    spoil(CALIBRATION_2 + 5);
    tag.runTo(8.1 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual(["calibration_missing"]);
    spoil(CALIBRATION_2 + 5);
    tag.runTo(16.1 * S);
    expect(flagsOf(tag.frame(), "status")).toEqual([]);
  });

  it("go on from 65535 to 0", () => {
    const frame = { status: 0, pressure: 12_800_000, temperature: 3000, supply: 2500, uptime: 9 };
    const tag = bench([
      [SLOT_A, recordWords("frame", { ...frame, sequence: 65_534 })],
      [SLOT_A + 8, recordWords("frame", { ...frame, sequence: 65_535 })],
    ]);
    tag.coldStart(0);
    tag.runTo(0.1 * S);
    expect(rawOf(tag.frame(), "sequence")).toBe(0);
    tag.runTo(0.35 * S);
    expect(rawOf(tag.frame(), "sequence")).toBe(1);
  });
});

describe("every record", () => {
  it("reaches memory word by word: its first word cleared before, and written at the very end", () => {
    const tag = bench();
    tag.coldStart(0);
    tag.runTo(0.1 * S);
    tag.writes.length = 0;
    tag.runTo(0.35 * S);
    const slotB = tag.writes.filter(({ word }) => word >= 16 && word < 24);
    expect(slotB.map(({ word }) => word)).toEqual([16, 18, 19, 20, 21, 22, 23, 17, 16]);
    expect(slotB[0]!.value).toBe(0);
    expect(slotB.at(-1)!.value >> 12).toBe(2);
    const gaps = slotB.slice(1).map(({ timeUs }, i) => timeUs - slotB[i]!.timeUs);
    expect(gaps).toEqual(new Array(8).fill(1000));
  });

  it("is torn in the word that is being written when power goes", () => {
    const tag = bench();
    tag.coldStart(0);
    tag.runTo(0.1 * S);
    const first = tag.writes.find(({ word }) => word === SLOT_A)!;
    // The ninth write is the commit word, 2101h: four of its bits after a quarter of its millisecond.
    const last = bench();
    last.coldStart(0);
    last.runTo(first.timeUs + 7250);
    last.powerLost(first.timeUs + 7250);
    expect(last.memory.read(SLOT_A)).toBe(0x2000);
  });

  it("leaves a reader a whole frame whenever power goes, in steps of 0.2 ms over two periods", () => {
    const at = 0.6 * S;
    let torn = 0;
    for (let us = at; us < at + 0.5 * S; us += 200) {
      const tag = bench();
      tag.coldStart(0);
      tag.runTo(us);
      const before = rawOf(tag.frame(), "sequence");
      tag.powerLost(us);
      const kept = tag.choice();
      // A commit word that is torn where its last bits were zero anyway is whole.
      expect([before, before + 1]).toContain(rawOf(kept.frame!, "sequence"));
      if (kept.notes.length > 0) torn++;
      tag.coldStart(2 * S);
      tag.runTo(2.1 * S);
      expect(rawOf(tag.frame(), "sequence")).toBeGreaterThan(before);
    }
    // Two commits of nine milliseconds each, of which all but the first write leave the older slot torn.
    expect(torn).toBeGreaterThan(60);
    expect(torn).toBeLessThan(100);
  });
});

describe("counters", () => {
  it("count cold starts and frames over losses of power, in two places in turn", () => {
    const tag = bench();
    tag.coldStart(0);
    tag.runTo(4.35 * S);
    expect(counts(tag)).toEqual([1, 0, 0, 17]);
    tag.powerLost(5 * S);
    tag.coldStart(6 * S);
    tag.runTo(6.2 * S);
    expect(counts(tag)).toEqual([2, 0, 0, 18]);
    const both = [COUNTERS_A, COUNTERS_B].map((word) => rawOf(tag.record("counters", word)!, "frames"));
    expect(both.sort((a, b) => a - b)).toEqual([17, 18]);
  });

  it("name starts that brought no frame, and then wait for a fuller store", () => {
    const tag = bench();
    for (let i = 0; i < 3; i++) {
      tag.coldStart(i * S);
      // Start, two words confirmed and nine of counters written, a conversion begun: then power goes.
      tag.runTo(i * S + 20_000);
      tag.powerLost(i * S + 20_000);
    }
    expect(counts(tag)).toEqual([3, 0, 3, 0]);
    tag.set.supplyV = () => 2.2;
    tag.coldStart(4 * S);
    tag.runTo(5 * S);
    expect(counts(tag)).toEqual([3, 0, 3, 0]);
    tag.set.supplyV = () => 2.3;
    tag.runTo(6 * S);
    expect(counts(tag)[0]).toBe(4);
    expect(counts(tag)[2]).toBe(0);
  });

  it("follow the reuse count of the calibration block and never fall", () => {
    const tag = bench();
    tag.coldStart(0);
    tag.runTo(0.1 * S);
    expect(rawOf(tag.counters(), "reuse_cycles")).toBe(1);
    const later = commissionedMemory({ ...trainingLeg.tags[0]!, reuseCycles: 9 });
    for (let i = 0; i < 16; i++) tag.memory.write(CALIBRATION_1 + i, later.peek(USER, CALIBRATION_1 + i));
    tag.runTo(8.1 * S);
    expect(rawOf(tag.counters(), "reuse_cycles")).toBe(9);
    for (let i = 0; i < 32; i++) tag.memory.write(CALIBRATION_1 + i, 0);
    tag.runTo(16.1 * S);
    expect(rawOf(tag.counters(), "reuse_cycles")).toBe(9);
  });

  it("stay at the highest value", () => {
    const full = { cold_starts: 0xffff_ffff, brown_outs: 0xff_ffff, fruitless_starts: 255, frames: 0xffff_ffff };
    const tag = bench([[COUNTERS_A, recordWords("counters", { ...full, reuse_cycles: 255 })]]);
    tag.coldStart(0);
    tag.runTo(0.02 * S);
    for (const word of [COUNTERS_A, COUNTERS_B]) {
      const record = tag.record("counters", word)!;
      for (const [id, value] of Object.entries(full)) expect(rawOf(record, id)).toBe(value);
      expect(rawOf(record, "reuse_cycles")).toBe(255);
    }
  });
});

describe("bursts", () => {
  const HUNDRED = 25.1 * S;

  it("bring 25 samples at 40 ms, tied to a frame, and the next frame says so", () => {
    const tag = bench();
    // A straight rise of 100 Pa/s: 4 Pa from sample to sample, whatever the codec does.
    tag.set.at = (nowUs) => ({ pressurePa: 100_000 + nowUs / 10_000, temperatureC: 30 });
    tag.coldStart(0);
    tag.runTo(HUNDRED + 0.92 * S);
    const burst = tag.record("burst", BURST)!;
    expect(rawOf(burst, "count")).toBe(25);
    expect(physicalOf(burst, "interval")).toBe(0.04);
    expect(rawOf(burst, "sequence")).toBe(99);
    for (let i = 0; i < 25; i++) expect(Math.abs(physicalOf(burst, `samples[${i}]`)! - 4 * i)).toBeLessThanOrEqual(0.5);
    const flagsFrom = (sequence: number) => {
      for (let us = HUNDRED; rawOf(tag.frame(), "sequence") < sequence; us += 10_000) tag.runTo(us);
      return flagsOf(tag.frame(), "status");
    };
    expect(flagsFrom(100)).toEqual(["burst_ready"]);
    expect(flagsFrom(101)).toEqual([]);
  });

  it("are given up at a brown-out or a cold start, and the old block stays", () => {
    const tag = bench();
    tag.coldStart(0);
    tag.runTo(HUNDRED);
    tag.set.supplyV = () => 1.7;
    tag.runTo(HUNDRED + 0.5 * S);
    tag.set.supplyV = () => 2.5;
    tag.runTo(HUNDRED + 3 * S);
    expect(tag.record("burst", BURST)).toBeNull();
    const other = bench();
    other.coldStart(0);
    other.runTo(HUNDRED + 0.3 * S);
    other.powerLost(HUNDRED + 0.3 * S);
    other.coldStart(HUNDRED + 1 * S);
    other.runTo(HUNDRED + 3 * S);
    expect(other.record("burst", BURST)).toBeNull();
  });
});

describe("a start", () => {
  it("takes nothing over from what RAM held", () => {
    const port = {
      nowMs: () => 0,
      sleepUntil: () => {},
      supplyMv: () => 2500,
      sensorStart: () => true,
      sensorReady: () => true,
      sensorRead: () => ({ pressure: 12_800_000, temperature: 3000 }),
      bridgeRead: (_: number, count: number) => new Uint16Array(count),
      bridgeWrite: () => true,
      bridgeSettle: () => true,
    };
    const states = [0x00, 0xa5, 0xff].map((garbage) => {
      const program = new Program(shippedModule(), port);
      program.state.fill(garbage);
      program.start();
      return Buffer.from(program.state).toString("hex");
    });
    expect(new Set(states).size).toBe(1);
  });
});
