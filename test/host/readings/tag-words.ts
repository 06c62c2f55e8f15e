/**
 * A tag's USER bank written by hand from the memory map, without the encoder under test: bytes packed here and a bitwise
 * CRC made from the seal's parameters (polynomial 1021h, preset 504Ch, not reflected, no final xor).
 */
import type { TagReport } from "../../../host/reader/report.ts";
import { layout } from "../../../protocol/index.ts";

function sealed(body: number[]): number[] {
  let register = 0x504c;
  for (const byte of body) {
    for (let bit = 7; bit >= 0; bit--) {
      const carry = ((register >> 15) ^ (byte >> bit)) & 1;
      register = ((register << 1) & 0xffff) ^ (carry ? 0x1021 : 0);
    }
  }
  return [...body, register >> 8, register & 0xff];
}

function big(value: number, bytes: number): number[] {
  return Array.from({ length: bytes }, (_, i) => Math.floor(value / 256 ** (bytes - 1 - i)) & 0xff);
}

const MARK = { header: 1, frame: 2, counters: 3, calibration: 4, burst: 5 } as const;
const mark = (kind: keyof typeof MARK, version: number) => (MARK[kind] << 4) | version;

export function frame(
  f: Partial<
    Record<"status" | "sequence" | "pressure" | "temperature" | "supply" | "uptime" | "layout" | "reserved", number>
  > = {},
) {
  const { status = 0, sequence = 100, pressure = 12_969_600, temperature = 3000, supply = 1800, uptime = 50 } = f;
  return sealed([
    ...[
      mark("frame", f.layout ?? 1),
      status,
      ...big(sequence, 2),
      f.reserved ?? 0,
      ...big(pressure, 3),
      ...big(temperature, 2),
    ],
    ...big(supply * 2 ** 20 + uptime, 4),
  ]);
}

export function header(h: Partial<Record<"layout" | "fingerprint" | "period" | "serial", number>> = {}) {
  const { fingerprint = layout.fingerprint, period = 500, serial = 4711 } = h;
  return sealed([0, mark("header", h.layout ?? 1), ...big(fingerprint, 4), 2, 7, ...big(period, 2), ...big(serial, 4)]);
}

export function counters(c: Partial<Record<"reuse" | "frames", number>> = {}) {
  return sealed([mark("counters", 1), c.reuse ?? 0, ...big(3, 4), 1, ...big(2, 3), ...big(c.frames ?? 100, 4)]);
}

type CalibrationKey =
  | "method"
  | "since"
  | "date"
  | "serial"
  | "count"
  | "offset"
  | "limit"
  | "gain"
  | "effect"
  | "gainTemperature";
type RangeKey = "curvature" | "reference" | "uncertainty" | "low" | "high" | "span" | "validity";

/** Defaults: gain 1, no other term, day 2000 (2025-06-23), 60 Pa, 15 to 40 °C, 150 hPa, 12 months, no limit of reuse. */
export function calibration(c: Partial<Record<CalibrationKey | RangeKey, number>> = {}) {
  return sealed([
    ...[mark("calibration", 1), ((c.method ?? 2) << 4) | (c.since ?? 0), ...big(c.date ?? 2000, 2)],
    ...[
      ...big(c.serial ?? 4711, 4),
      c.count ?? 0,
      ...big(c.offset ?? 0, 3),
      c.limit ?? 255,
      ...big(c.gain ?? 1_048_576, 3),
    ],
    ...[...big(c.effect ?? 0, 2), ...big(c.gainTemperature ?? 0, 2), ...big(c.curvature ?? 0, 2)],
    ...[...big(c.reference ?? 2500, 2), ...big(c.uncertainty ?? 60, 2), (c.low ?? 15) & 0xff, (c.high ?? 40) & 0xff],
    ...[c.span ?? 150, c.validity ?? 12],
  ]);
}

export function burst(b: {
  status?: number;
  sequence?: number;
  base?: number;
  interval?: number;
  samples: number[];
  count?: number;
}) {
  const samples = Array.from({ length: 25 }, (_, i) => b.samples[i] ?? -32_768);
  return sealed([
    ...[mark("burst", 1), b.status ?? 0, ...big(b.sequence ?? 100, 2), b.count ?? b.samples.length],
    ...[...big(b.base ?? 12_969_600, 3), ...big(b.interval ?? 40, 2), ...big(3000, 2)],
    ...samples.flatMap((sample) => big(sample, 2)),
  ]);
}

export const EMPTY_SLOT: readonly number[] = new Array(16).fill(0);

/** A copy with one byte changed, as a power cut leaves it. */
export function torn(bytes: readonly number[], at = 5): number[] {
  return bytes.map((byte, i) => (i === at ? byte ^ 0x40 : byte));
}

export function wordsOf(...records: readonly (readonly number[])[]): number[] {
  const bytes = records.flat();
  return Array.from({ length: bytes.length / 2 }, (_, i) => bytes[2 * i]! * 256 + bytes[2 * i + 1]!);
}

export const EPC = "30361f9404c0004000000007";

/** A report of USER words read from `word` on. */
export function report(word: number, words: number[], more: Partial<TagReport> = {}): TagReport {
  return {
    ...{
      kind: "read",
      kitTimeUs: 10_000_000,
      epc: EPC,
      pc: 0x3600,
      xpc: 0x0200,
      rssiDbm: -58.3,
      frequencyKhz: 866_300,
    },
    ...{ result: "done", bank: "user", word, words },
    ...more,
  };
}

interface Service {
  header?: readonly number[];
  a?: readonly number[];
  b?: readonly number[];
  counters?: readonly number[];
}

/** The Read of words 0 to 31: header, both slots, first counters. Slot B is one frame behind unless given. */
export function service(s: Service = {}, more: Partial<TagReport> = {}): TagReport {
  const parts = [s.header ?? header(), s.a ?? frame(), s.b ?? frame({ sequence: 99 }), s.counters ?? counters()];
  return report(0, wordsOf(...parts), more);
}

/** The Read of words 40 to 71: both copies of the calibration block. */
export function calibrations(
  first: readonly number[] = calibration(),
  second: readonly number[] = first,
  more: Partial<TagReport> = {},
): TagReport {
  return report(40, wordsOf(first, second), more);
}
