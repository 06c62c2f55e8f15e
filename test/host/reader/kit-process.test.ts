/** The reader against a kit in a process of its own: over stdin and stdout, a pseudo-terminal pair, and a recording. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it, onTestFinished } from "vitest";
import { LinkReader } from "../../../host/reader/link-reader.ts";
import type { AmbientReport, TagReport } from "../../../host/reader/report.ts";
import { openPort } from "../../../host/transport/port.ts";
import { needs } from "../../support/outside.ts";
import { openPtyPair, stop } from "../../support/pty-pair.ts";
import { StubKit } from "../../support/stub-kit.ts";

const EPC = "303401234567";
const stubKit = fileURLToPath(new URL("../../support/stub-kit.ts", import.meta.url));
const command = [process.execPath, "--import", "tsx", stubKit];

/** Without keep-alives, so that a lost port must show by itself. */
async function openReader(name: string) {
  const reader = new LinkReader(await openPort(name), { keepAliveMs: 3_600_000 });
  const reports: (TagReport | AmbientReport)[] = [];
  reader.on("report", (report) => reports.push(report));
  onTestFinished(() => reader.close());
  return { reader, reports, closed: once(reader, "closed") };
}

/** A kit on the far end of a cable, ready to serve. */
async function startKit(port: string): Promise<void> {
  const kit = spawn(command[0]!, [...command.slice(1), port], { stdio: ["ignore", "ignore", "pipe"] });
  onTestFinished(() => stop(kit));
  await once(kit.stderr, "data");
}

/** One of everything, the same over every port. */
async function useReader({ reader, reports }: Awaited<ReturnType<typeof openReader>>) {
  expect(await reader.open()).toMatchObject({ barometer: true, powerHighDbm: 30 });
  const read = { bank: "user", word: 0, count: 32 } as const;
  await reader.startInventory({ periodMs: 100, read });
  expect(await reader.write({ epc: EPC, bank: "user", word: 5, words: [0, 0xffff] })).toMatchObject({ result: "done" });
  const { words } = await reader.read({ epc: EPC, bank: "user", word: 4, count: 4 });
  expect(words).toEqual([0x1004, 0, 0xffff, 0x1007]);
  expect(reports.map(({ kind }) => kind)).toEqual(["read", "ambient"]);
}

describe("a kit in another process", () => {
  it("over its stdin and stdout", async () => {
    const session = await openReader(`exec:${command.map((word) => `'${word}'`).join(" ")}`);
    await useReader(session);
    await session.reader.close();
    expect(await session.closed).toEqual([null]);
  });

  needs("socat", () => {
    it("over a serial device, until the cable is pulled", async () => {
      const pair = await openPtyPair();
      await startKit(pair.far);
      const session = await openReader(pair.near);
      await useReader(session);
      await pair.pull();
      expect(await session.closed).toEqual([`lost ${pair.near}: the device vanished`]);
    });

    it("over a serial device, which is free again after close", async () => {
      const pair = await openPtyPair();
      await startKit(pair.far);
      for (let time = 0; time < 2; time++) {
        const session = await openReader(pair.near);
        await session.reader.open();
        await session.reader.setPower(20);
        await session.reader.close();
        await expect.poll(() => openPort(pair.near).then(({ stream }) => stream.destroy().destroyed)).toBe(true);
      }
      await pair.pull();
    });
  });
});

describe("a recording", () => {
  it("plays what was recorded, takes no request, and ends without a loss", async () => {
    const frames: Uint8Array[] = [Uint8Array.of(1, 2, 3)];
    const kit = new StubKit((frame) => frames.push(frame));
    for (let i = 0; i < 3; i++) kit.say("ambient_report", 0, { kit_time: i, pressure: 12_969_600, temperature: 2250 });
    const path = join(mkdtempSync(join(tmpdir(), "plyframe-recording-")), "link.bin");
    writeFileSync(path, Buffer.concat(frames));
    const { reader, reports, closed } = await openReader(`file:${path}`);
    expect(await reader.open()).toMatchObject({ source: `file:${path}`, powerLowDbm: null });
    const error = await reader.setPower(20).catch((thrown) => thrown);
    expect(error.message).toBe(`file:${path} is a recording: it cannot be asked for set_power`);
    expect(reports).toEqual([]);
    await reader.startInventory({ periodMs: 100 });
    expect(await closed).toEqual([null]);
    expect(reports.map(({ kitTimeUs }) => kitTimeUs)).toEqual([0, 1, 2]);
    expect(reader.counts).toMatchObject({ reports: 3, faults: 1, discardedBytes: 3 });
  });
});
