/** Files that cannot be read or written. */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { needs } from "../../support/outside.ts";
import {
  complaints,
  execKit,
  LEG,
  legLines,
  PROGRAM,
  plyframe,
  startProgram,
  testFolder,
} from "../../support/plyframe.ts";

describe("a capture file", () => {
  it("that does not exist", async () => {
    const ended = await plyframe(["decode", "no-such.jsonl"], { cwd: testFolder() });
    expect(complaints(ended)).toEqual(["plyframe: no-such.jsonl: does not exist"]);
    expect([ended.status, ended.stdout]).toEqual([3, ""]);
  });

  it("that is a folder", async () => {
    const folder = testFolder();
    const ended = await plyframe(["decode", folder]);
    expect(complaints(ended)).toEqual([`plyframe: ${folder}: is a folder, not a file`]);
    expect(ended.status).toBe(3);
  });

  const superuser = process.getuid?.() === 0;
  needs(superuser ? "setpriv" : "sh", () => {
    it("that may not be read", async () => {
      const file = join(testFolder(), "secret.jsonl");
      writeFileSync(file, legLines.join("\n"), { mode: 0 });
      // Nothing keeps the superuser from reading until it gives up the two capabilities that say so.
      const humbled = ["setpriv", "--bounding-set", "-dac_override,-dac_read_search"];
      const [command, ...words] = [...(superuser ? humbled : []), process.execPath, PROGRAM, "decode", file];
      const ended = await startProgram(command!, words, { input: "" }).ended;
      expect(complaints(ended)).toEqual([`plyframe: ${file}: permission denied`]);
      expect(ended.status).toBe(3);
    });
  });

  it("that is empty", async () => {
    const ended = await plyframe(["decode", "-"], { input: "" });
    expect(complaints(ended)).toEqual([expect.stringMatching(/^plyframe: standard input:1: .*\[file-empty\]$/)]);
    expect([ended.status, ended.stdout]).toEqual([1, ""]);
  });

  it("of binary rubbish, with a sentence for each stretch between line feeds", async () => {
    const rubbish = Uint8Array.from({ length: 5000 }, (_, i) => ((i * 7919) % 251) | 128);
    for (const at of [1000, 4000]) rubbish[at] = 10;
    const folder = testFolder();
    const ended = await plyframe(["decode", "--rejects", join(folder, "rejects"), "-"], { input: rubbish });
    expect(complaints(ended).map((line) => line.match(/:(\d): .*\[json-invalid\]$/)?.[1])).toEqual(["1", "2", "3"]);
    expect([ended.status, ended.stdout]).toEqual([1, ""]);
    expect(readFileSync(join(folder, "rejects"))).toEqual(Buffer.from(rubbish));
  });

  it("that is asked to hold its own rejects is left as it is", async () => {
    const folder = testFolder();
    const file = join(folder, "leg.jsonl");
    writeFileSync(file, "not a record\n");
    const ended = await plyframe(["decode", "--rejects", "leg.jsonl", "./leg.jsonl"], { cwd: folder });
    expect(complaints(ended)).toEqual([expect.stringContaining("is the capture itself")]);
    expect(ended.status).toBe(2);
    expect(readFileSync(file, "utf8")).toBe("not a record\n");
  });
});

describe("a file to write", () => {
  it("in a folder that does not exist", async () => {
    const ended = await plyframe(["decode", "--rejects", "no/such/folder", LEG]);
    expect(complaints(ended)).toEqual(["plyframe: no/such/folder: does not exist"]);
    expect([ended.status, ended.stdout]).toEqual([3, ""]);
  });

  // /dev/full, where there is one, fails every write as a full disk does.
  const onFullDisk = it.skipIf(!existsSync("/dev/full"));

  onFullDisk("on a full disk: the rejects are called incomplete, the rest goes on", async () => {
    const input = `${legLines.slice(0, 3).join("\n")}\nrubbish\nrubbish\n${legLines[3]}\n`;
    const ended = await plyframe(["decode", "--json", "--rejects", "/dev/full", "-"], { input });
    const told = complaints(ended).filter((line) => line.includes("/dev/full"));
    expect(told).toEqual(["plyframe: the file of rejects is incomplete: /dev/full: no space left on the device"]);
    expect(ended.stderr).toContain("2 records rejected");
    expect(ended.status).toBe(3);
  });

  onFullDisk("on a full disk: a session goes on without its capture and says so once", async () => {
    const port = execKit("--speed 20");
    const ended = await plyframe(["read", "--json", "--port", port, "--for", "10", "--capture", "/dev/full"]);
    expect(complaints(ended)).toEqual(["plyframe: the capture is incomplete: /dev/full: no space left on the device"]);
    expect(ended.stdout.split("\n").length).toBeGreaterThan(20);
    expect(ended.status).toBe(3);
  });
});
