/** One session in every form that decode reads, packed and not: the same readings as from the JSON Lines capture. */
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import * as zlib from "node:zlib";
import { describe, expect, it } from "vitest";
import { frameOf, reportBody, welcomeBody } from "../../support/link-bytes.ts";
import { needs } from "../../support/outside.ts";
import { PcapngBytes } from "../../support/pcapng-bytes.ts";
import {
  complaints,
  type Ended,
  execKit,
  LEG,
  legLines,
  linesOf,
  plyframe,
  start,
  testFolder,
} from "../../support/plyframe.ts";

const records = legLines.map((line) => JSON.parse(line) as Record<string, unknown>);
const [header, ...reports] = records as [Record<string, unknown>, ...Record<string, unknown>[]];
const little = new PcapngBytes("little");

/** The capture as CSV, whose columns are named as the members are. */
function csv(): string {
  const names = [
    "record",
    "kit_time_us",
    "epc",
    "pc",
    "xpc",
    "rssi_dbm",
    "frequency_khz",
    "result",
    "bank",
    "word",
    "words",
  ];
  const columns = [...names, "pressure_raw", "temperature_cel"];
  const lines = reports.map((report) => columns.map((name) => report[name] ?? "").join(","));
  return [columns.join(","), ...lines, ""].join("\n");
}

const withoutHeader = `${legLines.slice(1).join("\n")}\n`;
const link = Buffer.concat([welcomeBody(12), ...reports.map(reportBody)].map(frameOf));
const pcapng = Buffer.concat([
  little.section([[1, JSON.stringify(header)]]),
  little.interface(147),
  ...reports.map((report) => little.packet(reportBody(report))),
]);

async function readings(bytes: string | Uint8Array, ...more: readonly string[]): Promise<readonly string[]> {
  const ended = await plyframe(["decode", "--json", ...more, "-"], { input: bytes });
  return read(ended);
}

function read(ended: Ended): readonly string[] {
  expect([ended.status, complaints(ended).filter((line) => !line.includes("[header-missing]"))]).toEqual([0, []]);
  return linesOf(ended.stdout);
}

/** The first that differs, if any, and not all of them. */
function expectSame(found: readonly unknown[], wanted: readonly unknown[]): void {
  found.forEach((one, i) => {
    expect(one).toEqual(wanted[i]);
  });
  expect(found.length).toBe(wanted.length);
}

describe("a session", () => {
  /** Readings of the JSON Lines capture; asked for once. */
  let asked: Promise<readonly string[]> | null = null;
  const wanted = () => (asked ??= readings(readFileSync(LEG)));

  it("as JSON Lines has readings with an uncertainty and without", async () => {
    const lines = await wanted();
    expect(lines.length).toBeGreaterThan(200);
    for (const value of ["null", "0\\.\\d+"]) {
      expect(lines.some((line) => new RegExp(`"expanded_uncertainty_mmhg":${value}`).test(line))).toBe(true);
    }
  });

  it("as pcapng", async () => expectSame(await readings(pcapng), await wanted()));

  it("as CSV, which holds no header: as JSON Lines without one", async () => {
    expectSame(await readings(csv()), await readings(withoutHeader));
  });

  /** Without a date nobody knows how old a calibration is; nothing else of a reading hangs on it here. */
  const undated = (lines: readonly string[]) =>
    lines.map((line) => {
      const reading = JSON.parse(line);
      if (reading.calibration !== null) reading.quality = [...reading.quality, "calibration_age_unknown"].sort();
      else reading.quality.sort();
      return reading;
    });
  const sorted = (lines: readonly string[]) =>
    lines.map((line) => {
      const reading = JSON.parse(line);
      reading.quality.sort();
      return reading;
    });

  it("as raw link bytes and then as pcapng, which keeps the kit's greeting", async () => {
    const out = join(testFolder(), "link.pcapng");
    expect((await plyframe(["decode", "--out", out, "-"], { input: link })).status).toBe(0);
    expectSame(sorted(await readings(readFileSync(out))), undated(await wanted()));
  });

  it("as raw link bytes, which know the barometer and no date", async () => {
    expectSame(sorted(await readings(link)), undated(await wanted()));
    expectSame(sorted(await readings(zlib.gzipSync(link))), undated(await wanted()));
  });

  it.each([
    ["JSON Lines", readFileSync(LEG)],
    ["pcapng", pcapng],
  ])("as %s packed with gzip, in a file and on standard input", async (_, bytes) => {
    const file = join(testFolder(), "leg.gz");
    writeFileSync(file, zlib.gzipSync(bytes));
    expectSame(read(await plyframe(["decode", "--json", file])), await wanted());
    expectSame(await readings(readFileSync(file)), await wanted());
  });

  it("that a kit told over the link: log and capture give the same, but for what was asked between", async () => {
    const folder = testFolder();
    const [log, capture] = [join(folder, "link.log"), join(folder, "leg.jsonl")];
    const live = await plyframe([
      "read",
      "--port",
      execKit("--speed 4"),
      "--for",
      "4",
      "--link-log",
      log,
      "--capture",
      capture,
    ]);
    expect(live.status).toBe(0);
    // Answers to requests do not say what was asked, so they are not in the log's readings.
    const unasked = linesOf(readFileSync(capture, "utf8")).filter((line) => !/"word":(?!0,)/.test(line));
    const kept = await readings(`${unasked.join("\n")}\n`);
    const replayed = await readings(readFileSync(log));
    expect(kept.length).toBeGreaterThan(40);
    // The log also has what was on its way when the session ended.
    expectSame(replayed.slice(0, kept.length), kept);
  });

  it("that an LLRP reader told: its bytes, packed or not, and the capture give the same", async () => {
    const folder = testFolder();
    const [log, capture] = [join(folder, "reader.llrp"), join(folder, "leg.jsonl")];
    const kit = start(["kit", "--llrp", "tcp:127.0.0.1:0", "--speed", "4"]);
    const [, address] = await kit.said(/tcp:(127\.0\.0\.1:\d+)/);
    const ambient = ["--ambient", "1008.2+-0.5hPa"];
    const live = await plyframe([
      "read",
      "--llrp",
      address!,
      "--for",
      "4",
      "--link-log",
      log,
      "--capture",
      capture,
      ...ambient,
    ]);
    expect(live.status).toBe(0);
    const kept = await readings(readFileSync(capture), ...ambient);
    expect(kept.length).toBeGreaterThan(40);
    for (const bytes of [readFileSync(log), zlib.gzipSync(readFileSync(log))]) {
      expectSame((await readings(bytes, ...ambient)).slice(0, kept.length), kept);
    }
    const out = join(folder, "reader.pcapng");
    expect((await plyframe(["decode", "--out", out, ...ambient, log])).status).toBe(0);
    expectSame((await readings(readFileSync(out), ...ambient)).slice(0, kept.length), kept);
  });
});

describe("a packed file", () => {
  it("that is cut short gives what came before, and says where it ends", async () => {
    const file = join(testFolder(), "leg.jsonl.gz");
    const packed = zlib.gzipSync(readFileSync(LEG));
    writeFileSync(file, packed.subarray(0, packed.length / 2));
    const [cut, whole] = [await plyframe(["decode", "--json", file]), await plyframe(["decode", "--json", LEG])];
    expect(complaints(cut)).toEqual([
      `plyframe: ${file}: the gzip data is cut short: the file ends at byte ${Math.floor(packed.length / 2)}`,
    ]);
    expect(cut.status).toBe(3);
    expect(linesOf(cut.stdout).length).toBeGreaterThan(20);
    expect(whole.stdout.startsWith(cut.stdout)).toBe(true);
    expect(cut.stderr).toMatch(/\d+ reads: \d+ readings/);
  });

  const canZstd = "createZstdDecompress" in zlib;
  needs("zstd", () => {
    it(`of zstd ${canZstd ? "gives the same" : "is refused, with the Node that can"}`, async () => {
      const file = join(testFolder(), "leg.jsonl.zst");
      writeFileSync(file, execFileSync("zstd", ["-q", "-c", LEG]));
      const ended = await plyframe(["decode", "--json", file]);
      if (canZstd) {
        expectSame(read(ended), await readings(readFileSync(LEG)));
        return;
      }
      expect(complaints(ended)).toEqual([
        `plyframe: ${file}: is packed with zstd, which Node ${process.versions.node} cannot unpack; Node 22.15 and newer can (of the 23 line from 23.8 on), or unpack it first`,
      ]);
      expect([ended.status, ended.stdout]).toEqual([3, ""]);
    });
  });
});
