/** LLRP from end to end: the simulated reader in a process of its own, over TCP; and what was recorded, decoded again. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { LlrpStream } from "../../../protocol/llrp/stream.ts";
import { type Packet, writePackets } from "../../support/dissect.ts";
import { needs } from "../../support/outside.ts";
import { complaints, linesOf, plyframe, start, testFolder } from "../../support/plyframe.ts";

const AMBIENT = ["--ambient", "1008.2+-0.5hPa"];

/** A session over TCP: its readings and the bytes the reader said. */
async function recorded() {
  const log = join(testFolder(), "reader.llrp");
  const kit = start(["kit", "--llrp", "tcp:127.0.0.1:0", "--speed", "4"]);
  const [, address] = await kit.said(/tcp:(127\.0\.0\.1:\d+)/);
  const live = await plyframe(["read", "--json", "--llrp", address!, "--for", "5", "--link-log", log, ...AMBIENT]);
  expect([live.status, complaints(live)]).toEqual([0, []]);
  return { log, live: linesOf(live.stdout) };
}

/** The reader's messages as packets, one each. */
function packetsOf(log: string): Packet[] {
  const packets: Packet[] = [];
  const stream = new LlrpStream({
    onMessage: (_, { raw }) => void packets.push({ by: "reader", raw }),
    onFault: (fault) => expect.fail(fault.code),
  });
  stream.push(readFileSync(log));
  return packets;
}

describe("an LLRP reader over TCP", () => {
  it("gives the same readings live, from its raw bytes in a file and on standard input", async () => {
    const { log, live } = await recorded();
    const readings = live.map((line) => JSON.parse(line));
    expect(new Set(readings.map(({ epc }) => epc)).size).toBe(4);
    expect(readings.some(({ expanded_uncertainty_mmhg: u }) => u !== null)).toBe(true);
    const again = await plyframe(["decode", "--json", log, ...AMBIENT]);
    expect([again.status, linesOf(again.stdout)]).toEqual([0, live]);
    expect(again.stderr).toMatch(/LLRP messages: 1 sessions, \d+ reports, 0 unknown parameters skipped, 0 unreadable/);
    const piped = await plyframe(["decode", "--json", "-", ...AMBIENT], { input: readFileSync(log) });
    expect([piped.status, linesOf(piped.stdout)]).toEqual([0, live]);
  });

  needs("tshark", () => {
    it("gives what packets hold before the place where their file is cut", async () => {
      const { log, live } = await recorded();
      const [whole, cut] = [join(testFolder(), "reader.pcap"), join(testFolder(), "cut.pcap")];
      writePackets(whole, packetsOf(log));
      const bytes = readFileSync(whole);
      writeFileSync(cut, bytes.subarray(0, bytes.length - 7));
      const again = await plyframe(["decode", "--json", cut, ...AMBIENT]);
      const readings = linesOf(again.stdout);
      expect(readings.length).toBeGreaterThan(0);
      expect(readings).toEqual(live.slice(0, readings.length));
      expect([again.status, complaints(again)]).toEqual([3, [expect.stringContaining("cut short")]]);
    });

    it("gives the same readings from packets, and says what is missing without tshark", async () => {
      const { log, live } = await recorded();
      const file = join(testFolder(), "reader.pcap");
      writePackets(file, packetsOf(log));
      const again = await plyframe(["decode", "--json", file, ...AMBIENT]);
      expect([again.status, complaints(again), linesOf(again.stdout)]).toEqual([0, [], live]);
      const without = await plyframe(["decode", file], { env: { PATH: testFolder() } });
      expect(complaints(without)).toEqual([
        `plyframe: ${file}: is a packet capture, and tshark, which puts its TCP streams together, is not installed`,
      ]);
      expect(without.status).toBe(3);
      const piped = await plyframe(["decode", "-"], { input: readFileSync(file) });
      expect([piped.status, complaints(piped)[0]]).toEqual([
        2,
        "plyframe: standard input: a packet capture is read from a file, for it is read more than once",
      ]);
    });
  });

  it("is refused what it cannot do in a sentence that names it once, and its address is its own", async () => {
    const kit = start(["kit", "--llrp", "tcp:127.0.0.1:0"]);
    const [, address] = await kit.said(/tcp:(127\.0\.0\.1:\d+)/);
    const refused = await plyframe(["read", "--llrp", address!, "--plan", "us", ...AMBIENT]);
    const says = "transmits by eu_lower only: LLRP cannot set a channel plan";
    expect([refused.status, complaints(refused)]).toEqual([3, [`plyframe: tcp:${address} ${says}`]]);
    const second = await plyframe(["kit", "--llrp", `tcp:${address}`]);
    expect([second.status, second.stderr.trim()]).toEqual([
      3,
      `plyframe: tcp:${address}: another program listens there already`,
    ]);
  });

  it("has no barometer, and both commands say so", async () => {
    const kit = start(["kit", "--llrp", "tcp:127.0.0.1:0", "--speed", "4"]);
    const [, address] = await kit.said(/tcp:(127\.0\.0\.1:\d+)/);
    const log = join(testFolder(), "reader.llrp");
    const live = await plyframe(["read", "--llrp", address!, "--for", "5", "--link-log", log]);
    const says = "An LLRP reader has no barometer, so pressures are absolute only";
    expect([live.status, live.stderr.includes(says), live.stdout.includes("absolute only")]).toEqual([0, true, true]);
    const again = await plyframe(["decode", log]);
    expect([again.status, again.stderr.includes(says)]).toEqual([0, true]);
  });

  it("keeps what is damaged in a recording as it came, and reads the rest", async () => {
    const { log } = await recorded();
    const packets = packetsOf(log);
    const at = packets.findIndex(({ raw }) => raw[1] === 61);
    const damaged = Uint8Array.from(packets[at]!.raw);
    damaged[13] = 0xff;
    const folder = testFolder();
    const [file, rejects] = [join(folder, "damaged.llrp"), join(folder, "rejects.llrp")];
    writeFileSync(file, Buffer.concat(packets.map(({ raw }, i) => (i === at ? damaged : raw))));
    const { status, stderr, stdout } = await plyframe(["decode", "--json", file, "--rejects", rejects, ...AMBIENT]);
    const byte = packets.slice(0, at).reduce((sum, { raw }) => sum + raw.length, 12);
    expect(stderr).toContain(`${file}: message ${at + 1}: RO_ACCESS_REPORT.TagReportData: a length that does not fit`);
    expect(stderr).toContain(`(byte ${byte}: expected`);
    expect([status, linesOf(stdout).length > 20]).toEqual([1, true]);
    expect(Buffer.compare(readFileSync(rejects), damaged)).toBe(0);
  });
});

describe("wrong use of LLRP", () => {
  it.each([
    [["read", "--llrp", "here:99999"], "--llrp here:99999: give a host, or host:port", 2],
    [["read", "--llrp", "127.0.0.1:1"], "cannot open tcp:127.0.0.1:1: nothing listens there", 3],
    [["read", "--llrp", "127.0.0.1", "--port", "x"], "give --port (a reader kit) or --llrp (an LLRP reader)", 2],
    [["kit", "--llrp", "--port", "x"], "--llrp: an LLRP reader listens on its own address", 2],
  ] as const)("%j", async (words, says, expected) => {
    const { status, stderr } = await plyframe(words);
    expect(stderr).toContain(says);
    expect(status).toBe(expected);
  });
});
