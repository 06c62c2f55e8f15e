/** Captures and sessions told in numbers, through frames packed by hand; everything in them is invented. */
import { Readable } from "node:stream";
import { headerLine, reportLine } from "../../../host/capture/capture-writer.ts";
import type { SessionFile } from "../../../host/sessions/session-file.ts";
import { type SessionResult, workOut } from "../../../host/sessions/session-result.ts";
import { layout } from "../../../protocol/index.ts";
import { burst, calibration, calibrations, EPC, frame, report, service, wordsOf } from "../readings/tag-words.ts";

export { EPC };

/** 1013.25 hPa in 1/128 Pa. */
export const AMBIENT = 12_969_600;
export const STARTED = "2026-03-04T09:00:00.000Z";

/** Raw steps of a pressure in mmHg: 133.322387415 Pa each (NIST SP 811), 128 steps a pascal. */
export function steps(mmhg: number): number {
  return Math.round(mmhg * 133.322387415 * 128);
}

export interface Tale {
  readonly epc?: string;
  /** Times of the samples in seconds, with the pressure above ambient in mmHg. */
  readonly samples: readonly (readonly [timeS: number, mmhg: number])[];
  readonly temperature?: (timeS: number) => number;
  readonly calibration?: Parameters<typeof calibration>[0] | null;
  /** When the calibration is read; with the first sample when left out. */
  readonly calibratedAtS?: number;
  /** Bursts: time read, and samples in mmHg above the first. */
  readonly bursts?: readonly (readonly [timeS: number, baseMmhg: number, mmhg: readonly number[]])[];
}

/** Report lines of one tag: the calibration first (unless null), then a read for each sample. */
function linesOf({
  epc = EPC,
  samples,
  temperature = () => 30,
  calibration: block = {},
  calibratedAtS,
  bursts = [],
}: Tale) {
  const at = (timeS: number) => ({ epc, kitTimeUs: Math.round(timeS * 1e6) });
  const lines: { timeS: number; text: string }[] = [];
  const first = calibratedAtS ?? samples[0]?.[0] ?? 0;
  if (block) lines.push({ timeS: first, text: reportLine(calibrations(calibration(block), undefined, at(first))) });
  samples.forEach(([timeS, mmhg], index) => {
    const a = frame({
      sequence: (100 + index) % 65_536,
      pressure: AMBIENT + steps(mmhg),
      temperature: Math.round(temperature(timeS) * 100),
    });
    const b = frame({ sequence: (99 + index) % 65_536, pressure: AMBIENT });
    lines.push({ timeS, text: reportLine(service({ a, b }, at(timeS))) });
  });
  bursts.forEach(([timeS, base, mmhg], index) => {
    const words = wordsOf(burst({ sequence: index, base: AMBIENT + steps(base), samples: mmhg.map(burstRaw) }));
    lines.push({ timeS, text: reportLine(report(72, words, at(timeS))) });
  });
  return lines;
}

/** A burst's sample: difference from the base in its own steps of 1/2 Pa. */
function burstRaw(mmhg: number): number {
  return Math.round(mmhg * 133.322387415 * 2);
}

export interface Setting {
  readonly started?: string;
  /** Every ten seconds; false: the reader has no barometer. */
  readonly barometer?: boolean;
  readonly lastS?: number;
}

/** A capture of several tags, in the order of time. */
export function capture(tales: readonly Tale[], { started = STARTED, barometer = true, lastS }: Setting = {}): string {
  const lines = tales.flatMap(linesOf);
  const end = lastS ?? Math.max(...lines.map(({ timeS }) => timeS));
  for (let timeS = 0; barometer && timeS <= end; timeS += 10) {
    lines.push({
      timeS: timeS - 1e-9,
      text: reportLine({ kind: "ambient", kitTimeUs: timeS * 1e6, pressureRaw: AMBIENT, temperatureC: null }),
    });
  }
  lines.sort((a, b) => a.timeS - b.timeS);
  return header(started) + lines.map(({ text }) => text).join("");
}

export function header(started = STARTED): string {
  const fixed = { version: 1, layout: 1, fingerprint: layout.fingerprint, source: "invented" } as const;
  return headerLine({ ...fixed, started, barometerUncertaintyPa: 12 });
}

/** Samples every half second from `fromS` up to `toS`. */
export function stretch(fromS: number, toS: number, mmhg: (timeS: number) => number): [number, number][] {
  const list: [number, number][] = [];
  for (let timeS = fromS; timeS < toS; timeS += 0.5) list.push([timeS, mmhg(timeS)]);
  return list;
}

export function sessionFile(changes: Partial<SessionFile> = {}): SessionFile {
  return {
    record: "session",
    version: 1,
    subject: { id: "S-017" },
    posture: "resting",
    captures: [{ file: "a.jsonl" }],
    tags: [{ epc: EPC, site: "B1" }],
    ambient: { source: "kit" },
    ...changes,
  };
}

/** Works a session out of texts: captures by their place in the file, other files by name. */
export function work(
  session: SessionFile,
  captures: readonly string[],
  files: { readonly [name: string]: string } = {},
): Promise<SessionResult> {
  return workOut(session, "walk.json", layout, "plyframe test", {
    openCapture: (index) => ({
      name: session.captures[index]!.file,
      bytes: Readable.from([Buffer.from(captures[index]!)], { objectMode: false }),
    }),
    readText: async (file) => files[file]!,
  });
}
