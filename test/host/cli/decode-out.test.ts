/** What `decode --out` leaves: the same readings in every form, under its name only when whole, never over another file. */
import { existsSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import * as zlib from "node:zlib";
import { describe, expect, it } from "vitest";
import { needs } from "../../support/outside.ts";
import {
  complaints,
  LEG,
  legLines,
  linesOf,
  PROGRAM,
  plyframe,
  startProgram,
  testFolder,
} from "../../support/plyframe.ts";

const DAMAGED = LEG.replace("training-leg", "damaged");

/** The rows of a CSV file without quoted cells, as objects. */
function csvRows(text: string): Record<string, string>[] {
  const [heading, ...lines] = linesOf(text);
  const names = heading!.split(",");
  return lines.map((line) => {
    const cells = line.split(",");
    expect(cells.length).toBe(names.length);
    return Object.fromEntries(names.map((name, i) => [name, cells[i]!]));
  });
}

describe("decode --out", () => {
  it("as .jsonl holds the lines of --json, packed or not", async () => {
    const folder = testFolder();
    const printed = await plyframe(["decode", "--json", LEG]);
    for (const name of ["leg.jsonl", "LEG.JSONL.gz"]) {
      const ended = await plyframe(["decode", "--out", join(folder, name), LEG]);
      expect([ended.status, ended.stdout, complaints(ended)]).toEqual([0, "", []]);
      expect(ended.stderr).toContain(`${join(folder, name)} holds ${linesOf(printed.stdout).length} lines`);
      const bytes = readFileSync(join(folder, name));
      expect((name.endsWith("gz") ? zlib.gunzipSync(bytes) : bytes).toString()).toBe(printed.stdout);
    }
    expect(readdirSync(folder).sort()).toEqual(["LEG.JSONL.gz", "leg.jsonl"]);
  });

  it("as .csv has every number of --json exactly, and nothing where there is none", async () => {
    const file = join(testFolder(), "leg.csv");
    await plyframe(["decode", "--out", file, LEG]);
    const { stdout } = await plyframe(["decode", "--json", LEG]);
    const readings = linesOf(stdout).map((line) => JSON.parse(line));
    const rows = csvRows(readFileSync(file, "utf8"));
    expect(rows.length).toBe(readings.length);
    rows.forEach((row, i) => {
      const { gauge_mmhg, kit_time_us, calibration, raw, quality, epc, expanded_uncertainty_mmhg } = readings[i];
      expect(row).toMatchObject({
        session_started: "2026-03-04T09:00:00.000Z",
        epc,
        kit_time_us: `${kit_time_us}`,
        gauge_mmhg: `${gauge_mmhg}`,
        expanded_uncertainty_mmhg: `${expanded_uncertainty_mmhg ?? ""}`,
        calibration_date: calibration?.date ?? "",
        raw_frame: raw.frame,
        quality: quality.join(" "),
        sample_time_s: "",
      });
      expect(Number(row.absolute_hpa)).toBe(readings[i].absolute_hpa);
    });
  });

  it("as .pcapng is a capture again: the same readings from it, and the same pcapng from that", async () => {
    const folder = testFolder();
    const [first, second] = [join(folder, "one.pcapng"), join(folder, "two.pcapng.gz")];
    await plyframe(["decode", "--out", first, LEG]);
    const [once, printed] = [await plyframe(["decode", "--json", first]), await plyframe(["decode", "--json", LEG])];
    expect([once.status, once.stdout === printed.stdout]).toEqual([0, true]);
    await plyframe(["decode", "--out", second, first]);
    expect(zlib.gunzipSync(readFileSync(second)).equals(readFileSync(first))).toBe(true);
  });

  it("as .pcapng says what the link's steps rounded, and keeps what it cannot hold apart", async () => {
    const folder = testFolder();
    const read = JSON.parse(legLines[2]!);
    const capture = [
      legLines[0],
      JSON.stringify({ ...read, rssi_dbm: -55.25 }),
      JSON.stringify({ ...read, rssi_dbm: null }),
    ];
    const ended = await plyframe(["decode", "--out", join(folder, "leg.pcapng"), "-"], {
      input: `${capture.join("\n")}\n`,
    });
    expect(ended.stderr).toContain("leg.pcapng holds 2 packets, 1 of them with a value rounded to the link's steps");
    const again = await plyframe(["decode", "--json", join(folder, "leg.pcapng")]);
    expect(linesOf(again.stdout).map((line) => JSON.parse(line).rssi_dbm)).toEqual([-55.3, null]);
  });

  it("has what is good of a damaged capture, and its status", async () => {
    const folder = testFolder();
    for (const name of ["out.jsonl", "out.csv", "out.parquet", "out.pcapng"]) {
      const ended = await plyframe(["decode", "--out", join(folder, name), "--rejects", join(folder, "bad"), DAMAGED]);
      expect([ended.status, complaints(ended).length]).toEqual([1, 12]);
      expect(ended.stderr).toContain("12 records rejected");
    }
    expect(linesOf(readFileSync(join(folder, "out.jsonl"), "utf8")).length).toBe(2);
    expect(csvRows(readFileSync(join(folder, "out.csv"), "utf8")).length).toBe(2);
    // The reads and the ambient report that could be read, whatever was in their words.
    const reads = await plyframe(["decode", join(folder, "out.pcapng")]);
    expect(reads.stderr).toContain("9 packets in 1 sections: 8 read, 1 ambient, 0 other, 0 unreadable.");
  });

  it("of a capture without readings is a file without rows", async () => {
    const folder = testFolder();
    for (const name of ["none.jsonl", "none.csv", "none.parquet", "none.pcapng"]) {
      const ended = await plyframe(["decode", "--out", join(folder, name), "-"], { input: `${legLines[0]}\n` });
      expect([name, ended.status]).toEqual([name, 1]);
    }
    expect(readFileSync(join(folder, "none.jsonl"), "utf8")).toBe("");
    expect(linesOf(readFileSync(join(folder, "none.csv"), "utf8"))).toEqual([expect.stringMatching(/^record,/)]);
    expect(readFileSync(join(folder, "none.parquet")).subarray(-4).toString()).toBe("PAR1");
    const empty = await plyframe(["decode", join(folder, "none.pcapng")]);
    expect(complaints(empty)).toEqual([expect.stringMatching(/no record at all \(no report in 0 packets\)/)]);
  });
});

describe("an output that is there already", () => {
  it("is refused, and replaced with --overwrite", async () => {
    const out = join(testFolder(), "leg.csv");
    writeFileSync(out, "mine\n");
    writeFileSync(`${out}.bad`, "mine too\n");
    const refused = await plyframe(["decode", "--out", out, "--rejects", `${out}.bad`, LEG]);
    expect(readFileSync(`${out}.bad`, "utf8")).toBe("mine too\n");
    expect([refused.status, complaints(refused)]).toEqual([
      2,
      [`plyframe: ${out}: is there already; give another name, or --overwrite to replace it`],
    ]);
    expect(readFileSync(out, "utf8")).toBe("mine\n");
    const replaced = await plyframe(["decode", "--out", out, "--overwrite", LEG]);
    expect([replaced.status, existsSync(`${out}.part`)]).toEqual([0, false]);
    expect(csvRows(readFileSync(out, "utf8")).length).toBe(218);
  });

  it("is refused when another run left or still writes a part of it", async () => {
    const out = join(testFolder(), "leg.csv");
    writeFileSync(`${out}.part`, "half");
    const refused = await plyframe(["decode", "--out", out, LEG]);
    expect([refused.status, complaints(refused)[0]]).toEqual([
      2,
      expect.stringContaining(`${out}.part: is there already`),
    ]);
    expect((await plyframe(["decode", "--out", out, "--overwrite", LEG])).status).toBe(0);
  });
});

describe("wrong use of --out", () => {
  it.each([
    [["--out", "leg.txt"], "--out leg.txt: give a name that ends in one of .jsonl, .csv, .parquet, .pcapng", 2],
    [["--out", "leg.parquet.gz"], "--out leg.parquet.gz: Parquet is packed within; leave out .gz", 2],
    [["--out", "leg.csv", "--json"], "--json writes to standard output, --out leg.csv to a file: give one of them", 2],
    [["--out", "leg.csv", "--rejects", "leg.csv"], "--out leg.csv: is the file of rejects too", 2],
    [["--out", "no/such/leg.csv"], "no/such/leg.csv: does not exist", 3],
    [["--out", "leg.csv", "--rejects", "no/such/bad"], "no/such/bad: does not exist", 3],
    [["--from", "0"], "--from 0: give a whole number, counted from 1", 2],
    [["--out", "leg.csv", "--from", "1000"], `--from 1000: ${LEG} has only 233 lines; nothing was written`, 2],
  ] as const)("%j", async (words, says, status) => {
    const folder = testFolder();
    const ended = await plyframe(["decode", ...words, LEG], { cwd: folder });
    expect(complaints(ended)).toEqual([expect.stringContaining(says)]);
    expect([ended.status, readdirSync(folder)]).toEqual([status, []]);
  });

  it("leaves the capture itself alone", async () => {
    const capture = join(testFolder(), "leg.jsonl");
    writeFileSync(capture, readFileSync(LEG));
    const ended = await plyframe(["decode", "--out", capture, "--overwrite", capture]);
    expect([ended.status, complaints(ended)[0]]).toEqual([
      2,
      expect.stringContaining("is the capture itself, which would be overwritten"),
    ]);
    expect(readFileSync(capture).equals(readFileSync(LEG))).toBe(true);
  });

  it("says which Node packs with zstd where this one does not", async () => {
    const folder = testFolder();
    const ended = await plyframe(["decode", "--out", join(folder, "leg.csv.zst"), LEG]);
    if ("createZstdCompress" in zlib) {
      const unpack = (zlib as unknown as { zstdDecompressSync: (bytes: Uint8Array) => Buffer }).zstdDecompressSync;
      expect(csvRows(unpack(readFileSync(join(folder, "leg.csv.zst"))).toString()).length).toBe(218);
      return;
    }
    expect(complaints(ended)).toEqual([
      expect.stringMatching(/leg\.csv\.zst: Node [\d.]+ cannot pack with zstd; Node 22\.15 and newer can/),
    ]);
    expect([ended.status, readdirSync(folder)]).toEqual([3, []]);
  });
});

describe("a disk that is full", () => {
  // A part that leads to /dev/full, where every write finds no space left (full(4)).
  it.each(["leg.jsonl", "leg.parquet", "leg.csv.gz"])(
    "is told in one sentence, and %s is not left half written",
    async (name) => {
      const folder = testFolder();
      const out = join(folder, name);
      symlinkSync("/dev/full", `${out}.part`);
      const ended = await plyframe(["decode", "--out", out, "--overwrite", LEG]);
      expect(complaints(ended)).toEqual([
        `plyframe: ${out}: no space left on the device; the unfinished file was removed`,
      ]);
      expect([ended.status, readdirSync(folder)]).toEqual([3, []]);
    },
  );
});

needs("script", () => {
  it("shows rate and time left on a terminal while it works", async () => {
    const folder = testFolder();
    const capture = join(folder, "long.jsonl");
    writeFileSync(capture, `${legLines[0]}\n${`${legLines.slice(1).join("\n")}\n`.repeat(40)}`);
    const command = `exec '${process.execPath}' '${PROGRAM}' decode --out '${join(folder, "long.csv")}' '${capture}'`;
    const { stdout, status } = await startProgram("script", ["-qec", command, "/dev/null"], { input: "" }).ended;
    expect(status).toBe(0);
    expect(stdout).toMatch(/\d+ %, \d+\.\d MB\/s, \d+ s left/);
    expect(stdout).toContain("long.csv holds 8720 rows");
  });
});
