/** `plyframe decode --frames`, the compiled program: the same account and the same rejects as `decode`, whatever the way in. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it, onTestFinished } from "vitest";
import { PROGRAM } from "../../support/plyframe.ts";

const captures = new URL("../../../vectors/captures/", import.meta.url);
const leg = readFileSync(new URL("training-leg.jsonl", captures));
const damaged = readFileSync(new URL("damaged.jsonl", captures));

function desk(): string {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-decode-frames-"));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  return folder;
}

function run(cwd: string, words: readonly string[], input: Uint8Array | string = "") {
  const { status, stdout, stderr } = spawnSync(process.execPath, [PROGRAM, "decode", ...words], {
    cwd,
    input,
    encoding: "utf8",
    maxBuffer: 1 << 28,
    // Only ends a program that would never end by itself.
    timeout: 100_000,
  });
  return { status, stdout, stderr };
}

describe("decode --frames", () => {
  it("gives the account of a damaged capture, and keeps the rejects that decode keeps", () => {
    const folder = desk();
    writeFileSync(join(folder, "damaged.jsonl"), damaged);
    const { status, stdout } = run(folder, ["--frames", "--rejects", "ours.jsonl", "damaged.jsonl"]);
    expect(status).toBe(1);
    expect(stdout).toBe(`18 lines: 1 header, 8 read, 1 ambient, 1 blank, 7 unreadable.
8 reads: 2 good frames, 0 bursts, 0 without a frame, 1 record-too-short, 2 slots-both-bad, 1 layout-unknown, 1 fingerprint-mismatch, 1 tag-lost.
9 lines did not fit the learned order of members and were read one by one.
  unreadable line, hex-odd-length: 1 (line 4)
  unreadable line, hex-bad-digit: 1 (line 5)
  unreadable line, json-invalid: 2 (lines 6, 15)
  unreadable line, field-missing: 1 (line 7)
  unreadable line, value-out-of-range: 1 (line 8)
  unreadable line, name-unknown: 1 (line 9)
  read, record-too-short: 1 (line 10)
  read, slots-both-bad: 2 (lines 11, 12)
  read, layout-unknown: 1 (line 13)
  read, fingerprint-mismatch: 1 (line 14)
  read, tag-lost: 1 (line 16)
`);
    run(folder, ["--json", "--rejects", "theirs.jsonl", "damaged.jsonl"]);
    const [ours, theirs] = ["ours.jsonl", "theirs.jsonl"].map((name) => readFileSync(join(folder, name)));
    expect(ours!.length).toBeGreaterThan(1000);
    expect(ours!.equals(theirs!)).toBe(true);
  });

  it("reads a file, standard input and a packed file alike", () => {
    const folder = desk();
    writeFileSync(join(folder, "leg.jsonl"), leg);
    writeFileSync(join(folder, "leg.jsonl.gz"), gzipSync(leg));
    const ways = [
      run(folder, ["--frames", "--json", "leg.jsonl"]),
      run(folder, ["--frames", "--json", "-"], leg),
      run(folder, ["--frames", "--json", "leg.jsonl.gz"]),
    ];
    for (const { status, stdout } of ways) {
      expect(status).toBe(0);
      expect(stdout).toBe(ways[0]!.stdout);
    }
    const account = JSON.parse(ways[0]!.stdout) as { lines: number; reads: number };
    expect(account).toMatchObject({ lines: 233, reads: 225, rejected: 0 });
  });

  it("writes the good frames with their values, or those from a line on", () => {
    const folder = desk();
    writeFileSync(join(folder, "leg.jsonl"), leg);
    const { status, stderr } = run(folder, ["--frames", "--out", "frames.csv", "leg.jsonl"]);
    expect({ status, stderr }).toMatchObject({
      status: 0,
      stderr: expect.stringMatching(/frames.csv holds \d+ frames/),
    });
    const rows = readFileSync(join(folder, "frames.csv"), "utf8").split(/\r?\n/);
    expect(rows[0]).toBe(
      "line,kit_time_us,epc,slot,rssi_dbm,frequency_khz,status,sequence,pressure_pa,temperature_cel,supply_v,uptime_s",
    );
    // Line 3 of the capture: slot A holds 2101 0000 00cc8428 0a51 94000000 7561, slot B was never written. By hand:
    // 0xcc8428 = 13403176, / 128 = 104712.3125 Pa; 0x0a51 = 2641, / 100; 0x940 = 2368, / 1000; 0 / 10.
    expect(rows[1]).toBe("3,105514,3066c4409047e14000004b03,a,-35.4,865700,1,0,104712.3125,26.41,2.368,0");
    run(folder, ["--frames", "--from", "100", "--out", "late.csv", "leg.jsonl"]);
    const late = readFileSync(join(folder, "late.csv"), "utf8").split(/\r?\n/);
    expect(late.slice(1)).toEqual(rows.filter((row) => Number(row.split(",")[0]) >= 100).concat(""));
  });

  it("says what it cannot read, and leaves no output behind", () => {
    const folder = desk();
    // An LLRP keepalive (type 62) of version 1, by the standard: 0x043e, length 10, message 1.
    writeFileSync(join(folder, "llrp.bin"), Buffer.from("043e0000000a00000001", "hex"));
    const { status, stderr } = run(folder, ["--frames", "--out", "frames.csv", "llrp.bin"]);
    expect(status).toBe(2);
    expect(stderr).toContain("llrp.bin: holds LLRP messages; --frames reads JSON Lines and CSV");
    expect(() => readFileSync(join(folder, "frames.csv"))).toThrow("ENOENT");
    expect(run(folder, ["--frames", "nothing.jsonl"]).status).toBe(3);
    // Linux allows names of 255 bytes.
    const long = run(folder, ["--frames", "x".repeat(256)]);
    expect(long.status).toBe(3);
    expect(long.stderr).toMatch(/^plyframe: x{256}: .*\n$/);
    expect(run(folder, ["--frames", "--from", "x", "llrp.bin"]).status).toBe(2);
  });

  it("gives an empty capture status 1", () => {
    const folder = desk();
    const { status, stderr } = run(folder, ["--frames", "-"], "");
    expect(status).toBe(1);
    expect(stderr).toContain("[file-empty]");
  });

  it("ends when a large file holds nothing that two threads could share", () => {
    const folder = desk();
    writeFileSync(join(folder, "large.jsonl"), Buffer.alloc(33 * 1024 * 1024, "x"));
    const { status, stdout } = run(folder, ["--frames", "--json", "large.jsonl"]);
    expect(status).toBe(1);
    expect(JSON.parse(stdout)).toMatchObject({ lines: 1, reads: 0, rejected: 1 });
    // The keepalive from above, and more than enough behind it.
    const keepalive = Buffer.from("043e0000000a00000001", "hex");
    writeFileSync(join(folder, "llrp.bin"), Buffer.concat([keepalive, Buffer.alloc(33 * 1024 * 1024)]));
    expect(run(folder, ["--frames", "llrp.bin"]).status).toBe(2);
  });

  it("makes one account of a large file, whether one thread reads it or two", () => {
    const folder = desk();
    const version2 = Buffer.from(leg.toString().split("\n")[0]!.replace('"version":1', '"version":2'));
    // More lines than one batch takes, so that a block has several.
    const garbage = Buffer.from("x\n".repeat(5000));
    const others = new Map<number, Uint8Array>([
      [120, garbage],
      [121, garbage],
      [300, version2],
    ]);
    const pieces = Array.from({ length: 480 }, (_, i) => others.get(i) ?? (i % 70 === 69 ? damaged : leg));
    const text = Buffer.concat(pieces);
    expect(text.length).toBeGreaterThan(32 * 1024 * 1024);
    writeFileSync(join(folder, "large.jsonl"), text);
    const two = run(folder, ["--frames", "--json", "--rejects", "two.jsonl", "large.jsonl"]);
    const one = run(folder, ["--frames", "--json", "--rejects", "one.jsonl", "-"], text);
    // Each thread learns the order of members by itself, so only the count of lines that did not fit may differ.
    const account = ({ stdout }: typeof one) => ({ ...JSON.parse(stdout), fell_back: null });
    expect(account(two)).toEqual(account(one));
    const messages = (stderr: string) => stderr.split("\n").filter((line) => line.startsWith("plyframe: "));
    expect(messages(two.stderr)).toEqual(
      messages(one.stderr).map((line) => line.replace("standard input", "large.jsonl")),
    );
    const [kept, keptByOne] = ["two.jsonl", "one.jsonl"].map((name) => readFileSync(join(folder, name)));
    expect(kept!.length).toBeGreaterThan(10_000);
    expect(kept!.equals(keptByOne!)).toBe(true);
  });
});
