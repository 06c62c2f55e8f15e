/** A reader that dies and returns while `plyframe read` is at work: the readings go on, the capture is whole, none is invented. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { tagReport } from "../../../host/reader/link-report.ts";
import { isFault, layout } from "../../../protocol/index.ts";
import { Deframer } from "../../../protocol/link/framing.ts";
import { decodeMessage } from "../../../protocol/link/message.ts";
import { needs } from "../../support/outside.ts";
import { complaints, linesOf, plyframe, type Running, start, testFolder } from "../../support/plyframe.ts";
import { openPtyPair } from "../../support/pty-pair.ts";
import { Relay } from "../../support/relay.ts";
import { type Scene, ScriptedKit } from "../../support/scripted-kit.ts";
import { EPC, frame, service } from "../readings/tag-words.ts";

interface Read {
  readonly epc: string;
  readonly kitTimeUs: number;
  readonly words: string;
}

const key = ({ epc, kitTimeUs, words }: Read) => `${epc} ${kitTimeUs} ${words}`;
const hex = (words: ArrayLike<number>) => Array.from(words, (word) => word.toString(16).padStart(4, "0")).join("");

/** The reports of tags in link bytes. */
function reportsIn(bytes: readonly Uint8Array[]): Read[] {
  const reads: Read[] = [];
  const deframer = new Deframer();
  for (const chunk of bytes) {
    deframer.push(
      chunk,
      (body) => {
        const message = decodeMessage(layout, body, "to-host");
        if (isFault(message) || message.message.id !== "tag_report") return;
        const { epc, kitTimeUs, words } = tagReport(message);
        reads.push({ epc, kitTimeUs, words: hex(words) });
      },
      () => undefined,
    );
  }
  return reads;
}

/** The reads of a capture from word 0 on, which is where rounds read: a list for each header. */
function readsOf(capture: string): Read[][] {
  const sessions: Read[][] = [];
  for (const line of linesOf(readFileSync(capture, "utf8"))) {
    const record = JSON.parse(line);
    if (record.record === "capture") sessions.push([]);
    if (record.record !== "read" || record.word !== 0) continue;
    sessions.at(-1)!.push({ epc: record.epc, kitTimeUs: record.kit_time_us, words: record.words });
  }
  return sessions;
}

/** The capture decodes without a complaint, to the readings that were shown. */
async function expectWhole(capture: string, shown: string, ...more: string[]) {
  const again = await plyframe(["decode", "--json", capture, ...more]);
  expect([again.status, complaints(again)]).toEqual([0, []]);
  expect(linesOf(again.stdout)).toEqual(linesOf(shown));
}

async function startKit(...words: string[]): Promise<{ kit: Running; port: number }> {
  const kit = start(["kit", ...words, "tcp:127.0.0.1:0", "--speed", "4"]);
  const [, port] = await kit.said(/tcp:127\.0\.0\.1:(\d+)/);
  return { kit, port: Number(port) };
}

/** Resolves when the program has shown so many readings more. */
async function moreReadings(reading: Running, count: number): Promise<void> {
  let lines = 0;
  await new Promise<void>((resolve) => {
    reading.child.stdout.on("data", (text: string) => {
      lines += text.split("\n").length - 1;
      if (lines >= count) resolve();
    });
  });
}

describe("a kit over TCP that dies and returns", () => {
  it("is read on, and everything it said until its death is kept", async () => {
    const relay = await new Relay().listen();
    const first = await startKit("--listen");
    relay.target = first.port;
    const capture = join(testFolder(), "leg.jsonl");
    const reading = start(["read", "--json", "--port", relay.port, "--capture", capture, "--retry", "600"]);
    await moreReadings(reading, 40);
    relay.target = null;
    first.kit.stop("SIGKILL");
    await reading.said(/lost tcp:.*; trying to reach it again\n/);
    await reading.said(/the other end closed the connection; next try in 0\.5 s\n/);
    relay.target = (await startKit("--listen")).port;
    await reading.said(/ is back after \d+ tries; the readings go on\n/);
    await moreReadings(reading, 40);
    reading.stop("SIGINT");
    const ended = await reading.ended;
    expect([ended.status, complaints(ended)]).toEqual([0, []]);

    const kept = readsOf(capture);
    const said = relay.said.map(reportsIn);
    expect([kept.length, said.length]).toEqual([2, 2]);
    expect(kept[0]!.map(key)).toEqual(said[0]!.map(key));
    // Of the second kit what came after Ctrl-C is not kept.
    expect(kept[1]!.map(key)).toEqual(said[1]!.slice(0, kept[1]!.length).map(key));
    expect(kept[1]!.length).toBeGreaterThan(10);
    await expectWhole(capture, ended.stdout);
  });
});

describe("an LLRP reader that dies and returns", () => {
  it("is set up anew and read on", async () => {
    const relay = await new Relay().listen();
    const first = await startKit("--llrp");
    relay.target = first.port;
    const ambient = ["--ambient", "1008.2+-0.5hPa"];
    const capture = join(testFolder(), "leg.jsonl");
    const address = relay.port.replace("tcp:", "");
    const words = ["read", "--json", "--llrp", address, "--capture", capture, "--retry", "600", ...ambient];
    const reading = start(words);
    await moreReadings(reading, 40);
    relay.target = null;
    first.kit.stop("SIGKILL");
    await reading.said(/lost tcp:.*; trying to reach it again\n/);
    relay.target = (await startKit("--llrp")).port;
    await reading.said(/ is back after \d+ (try|tries); the readings go on\n/);
    await moreReadings(reading, 40);
    reading.stop("SIGINT");
    const ended = await reading.ended;
    expect([ended.status, complaints(ended)]).toEqual([0, []]);
    expect(readsOf(capture).map((reads) => reads.length > 10)).toEqual([true, true]);
    await expectWhole(capture, ended.stdout, ...ambient);
  });
});

needs("socat", () => {
  describe("a kit on a serial device that dies and returns", () => {
    it("is missed when it falls silent, and read on", async () => {
      const cable = await openPtyPair();
      onTestFinished(() => cable.pull());
      const kit = start(["kit", "--port", cable.far, "--speed", "4"]);
      await kit.said(/on /);
      const folder = testFolder();
      const [capture, log] = [join(folder, "leg.jsonl"), join(folder, "link.bin")];
      const words = ["--json", "--port", cable.near, "--capture", capture, "--link-log", log, "--retry", "600"];
      const reading = start(["read", ...words]);
      await moreReadings(reading, 40);
      kit.stop("SIGKILL");
      await kit.ended;
      await reading.said(/: the reader no longer answers; trying to reach it again\n/);
      await start(["kit", "--port", cable.far, "--speed", "4"]).said(/on /);
      await reading.said(/ is back after \d+ (try|tries); the readings go on\n/);
      await moreReadings(reading, 40);
      reading.stop("SIGINT");
      const ended = await reading.ended;
      expect([ended.status, complaints(ended)]).toEqual([0, []]);
      const kept = readsOf(capture);
      expect(kept.map((reads) => reads.length > 10)).toEqual([true, true]);
      const came = reportsIn([readFileSync(log)]).map(key);
      expect(kept.flat().map(key)).toEqual(came.slice(0, kept.flat().length));
      await expectWhole(capture, ended.stdout);
    });
  });
});

const EPC_WORDS = EPC.match(/.{4}/g)!.map((word) => Number.parseInt(word, 16));

/** Two sightings of a tag with frames of these sequences. */
const sights = (...sequences: number[]) =>
  sequences.map((sequence, i) => {
    const { words } = service({ a: frame({ sequence }), b: frame({ sequence: sequence - 1 }) });
    return { timeUs: 1_000_000 + i * 500_000, epc: EPC_WORDS, words };
  });

async function scripted(scenes: readonly Scene[], ...more: string[]) {
  const kit = await new ScriptedKit(scenes).listen();
  const capture = join(testFolder(), "leg.jsonl");
  const reading = start(["read", "--json", "--port", kit.port, "--capture", capture, ...more], { input: "" });
  return { kit, capture, reading };
}

const sequencesOf = (stdout: string) => linesOf(stdout).map((line) => JSON.parse(line).sequence);

/** Lines about the connection, the port's name left out. */
const linkLines = (stderr: string, port: string) =>
  linesOf(stderr)
    .map((line) => line.replaceAll(port, "PORT"))
    .filter((line) => /PORT|refused|answered|given up/.test(line) && !line.startsWith("capture:"));

describe("a kit that is back but not ready", () => {
  it("is tried again whatever it refuses, and what it says then is read", async () => {
    const { reading, capture, kit } = await scripted(
      [
        { sights: sights(100, 101), cutAfter: "start_inventory" },
        { refuses: ["hello"] },
        { misanswers: ["hello"] },
        { refuses: ["start_inventory"] },
        { cutAfter: "hello" },
        { sights: sights(102, 103) },
      ],
      ...["--retry", "600"],
    );
    await reading.said(/"sequence":103/);
    reading.stop("SIGINT");
    const ended = await reading.ended;
    expect(sequencesOf(ended.stdout)).toEqual([100, 101, 102, 103]);
    expect(ended.status).toBe(0);
    expect(linkLines(ended.stderr, kit.port)).toEqual([
      "lost PORT: the other end closed the connection; trying to reach it again",
      expect.stringMatching(/^PORT: the reader refused hello: .*; next try in 0\.5 s$/),
      expect.stringMatching(/^PORT: hello was answered with done instead of welcome; next try in 1\.0 s$/),
      expect.stringMatching(/^PORT: the reader refused start_inventory: .*; next try in 2\.0 s$/),
      "lost PORT: the other end closed the connection; next try in 4.0 s",
      "PORT is back after 5 tries; the readings go on",
    ]);
    expect(readsOf(capture).map((reads) => reads.length)).toEqual([2, 2]);
    await expectWhole(capture, ended.stdout);
  });

  it("is given up after the time of --retry", async () => {
    const { reading, kit } = await scripted(
      [{ sights: sights(100), cutAfter: "start_inventory" }, { refuses: ["hello"] }],
      ...["--retry", "1"],
    );
    const ended = await reading.ended;
    expect(linkLines(ended.stderr, kit.port)).toEqual([
      "lost PORT: the other end closed the connection; trying to reach it again",
      expect.stringMatching(/^PORT: the reader refused hello: .*; next try in 0\.5 s$/),
      "given up after 3 tries",
      "plyframe: lost PORT: the other end closed the connection",
    ]);
    expect([ended.status, kit.connections, sequencesOf(ended.stdout)]).toEqual([3, 4, [100]]);
  });

  it("that is lost again before it was of use does not get more time for that", async () => {
    const { reading, kit } = await scripted(
      [{ sights: sights(100), cutAfter: "start_inventory" }, { cutAfter: "start_inventory" }],
      ...["--retry", "1"],
    );
    const ended = await reading.ended;
    expect([ended.status, kit.connections]).toEqual([3, 4]);
  });

  it("that was of use gets all the time again", async () => {
    const cut = { sights: sights(100), cutAfter: "start_inventory" };
    const { reading, kit } = await scripted([cut, cut, cut, cut, { refuses: ["hello"] }], ...["--retry", "0.3"]);
    const ended = await reading.ended;
    // Three times one try of 250 ms brings it back; then two tries in 300 ms do not.
    expect([ended.status, kit.connections]).toEqual([3, 6]);
  });

  it("is not waited for when a person stops that", async () => {
    const { reading } = await scripted(
      [{ sights: sights(100), cutAfter: "start_inventory" }, { refuses: ["hello"] }],
      ...["--retry", "600"],
    );
    await reading.said(/next try in 2\.0 s|next try in 0\.5 s/);
    reading.stop("SIGINT");
    const ended = await reading.ended;
    expect([ended.status, complaints(ended)]).toEqual([
      3,
      [expect.stringContaining("the other end closed the connection")],
    ]);
  });

  it("from the beginning is told and not tried again", async () => {
    const { reading, kit } = await scripted([{ refuses: ["hello"] }], "--retry", "600");
    const ended = await reading.ended;
    expect(complaints(ended)).toEqual([expect.stringContaining("the reader refused hello")]);
    expect([ended.status, kit.connections]).toEqual([3, 1]);
  });

  it("has what came over failed connections counted", async () => {
    const early = { sights: sights(100, 101), cutAfter: "start_inventory", refuses: ["start_inventory"] };
    const { reading } = await scripted(
      [{ sights: sights(100), cutAfter: "start_inventory" }, early, { sights: sights(102) }],
      ...["--retry", "600"],
    );
    await reading.said(/"sequence":102/);
    reading.stop("SIGINT");
    const ended = await reading.ended;
    expect(ended.stderr).toMatch(/^\d+ reports came over connections that failed before the readings could go on/m);
  });
});
