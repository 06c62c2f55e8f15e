import { once } from "node:events";
import { describe, expect, it, onTestFinished } from "vitest";
import { LlrpReader } from "../../../host/reader/llrp-reader.ts";
import { duplexPair } from "../../sim/support/duplex-pair.ts";
import { leg, llrpPair } from "../../support/llrp-pair.ts";
import { ManualClock } from "../../support/manual-clock.ts";
import { bytesOf } from "../../support/vectors.ts";

const [tag] = leg.tags;
const READ = { bank: "user", word: 0, count: 32 } as const;

/** A connection of which the test is the reader. */
function bare(options: object = {}) {
  const [near, far] = duplexPair();
  const reader = new LlrpReader({ name: "bare", stream: near, listenOnly: false }, options);
  onTestFinished(() => reader.close());
  const heard: Uint8Array[] = [];
  far.on("data", (chunk: Uint8Array) => heard.push(chunk));
  return { reader, far, heard: () => Buffer.concat(heard).toString("hex"), closed: once(reader, "closed") };
}

const greeting = (status: string) => bytesOf(`043f000000200000000000f600160080000c00060a24181e400001000006${status}`);

describe("an LLRP reader", () => {
  it("is asked what it is and does an inventory, whatever pieces its bytes come in", async () => {
    const { reader, until, faults, said } = llrpPair({ pieces: 7 });
    const info = await reader.open();
    expect(info).toMatchObject({ blockWrite: true, barometer: false, channelPlans: ["eu_lower"], powerHighDbm: 30 });
    await reader.startInventory({ periodMs: 100, read: READ });
    await until((reports) => new Set(reports.map(({ epc }) => epc)).size === 4);
    await reader.close();
    expect(faults).toEqual([]);
    expect(said.at(-1)!.message.name).toBe("CLOSE_CONNECTION_RESPONSE");
    expect(
      said
        .filter(({ by }) => by === "client")
        .slice(2)
        .every(({ message }) => message.version === 2),
    ).toBe(true);
  });

  it("of version 1.0.1 is spoken to in 1.0.1 once it has refused the question", async () => {
    const { reader, said } = llrpPair({ supportedVersion: 1 });
    await reader.open();
    await reader.close();
    const client = said.filter(({ by }) => by === "client").map(({ message }) => message);
    expect(client[0]).toMatchObject({ name: "GET_SUPPORTED_VERSION", version: 2 });
    expect(client.slice(1).map(({ version }) => version)).toEqual(client.slice(1).map(() => 1));
  });

  it("never credits one AccessSpec with the words of another", async () => {
    const { reader, until, reports } = llrpPair();
    await reader.open();
    await reader.startInventory({ periodMs: 100, read: { bank: "user", word: 0, count: 4 } });
    await until((seen) => seen.length > 2);
    const asked = leg.tags.map(({ epc }) => reader.read({ epc, bank: "tid", word: 0, count: 4 }));
    const answers = await Promise.all(asked);
    // The class identifier of a Gen2 TID begins with E2h.
    for (const { result, words } of answers) if (result === "done") expect(words[0]! >> 8).toBe(0xe2);
    expect(answers.filter(({ result }) => result === "done").length).toBeGreaterThanOrEqual(3);
    const services = reports.filter((report) => report.kind === "read" && report.result === "done");
    for (const report of services)
      if (report.kind === "read") expect([report.bank, report.words[0]! >> 8]).toEqual(["user", 0x00]);
    await reader.close();
  });

  it("gives each tag its own password when several are accessed at once", async () => {
    const { reader } = llrpPair({ accessTimeoutMs: 60_000 });
    await reader.open();
    const place = { bank: "user", word: 100 } as const;
    const [a, b] = [leg.tags[0]!, leg.tags[1]!];
    /** Answers up to the first `done`: a tag is lost now and then, over its password too. */
    const answers = async ({ epc }: { epc: string }, password: number, most: number) => {
      const all: string[] = [];
      while (all.length < most && !all.includes("done")) {
        all.push((await reader.write({ epc, ...place, words: [0x55aa], password })).result);
      }
      return all;
    };
    const right = await Promise.all([answers(a, a.accessPassword, 20), answers(b, b.accessPassword, 20)]);
    expect(right.map((all) => all.at(-1))).toEqual(["done", "done"]);
    const [wrong, meanwhile] = await Promise.all([answers(a, b.accessPassword, 5), answers(b, b.accessPassword, 20)]);
    expect(meanwhile.at(-1)).toBe("done");
    expect(wrong).not.toContain("done");
    // LLRP has no word for a wrong password at a Write: it is an error of the tag.
    expect(wrong).toContain("tag_error");
    await reader.close();
  });

  it("is refused clearly what LLRP or this reader cannot do", async () => {
    const { reader } = llrpPair();
    await reader.open();
    const access = { epc: tag!.epc, bank: "user" } as const;
    await expect(reader.setPower(-5)).rejects.toThrow("has no power of -5 dBm or less in its table");
    await expect(reader.setChannelPlan("us")).rejects.toThrow("LLRP cannot set a channel plan");
    await expect(reader.lock({ epc: tag!.epc, mask: 1, action: 1 })).rejects.toThrow(
      "lock and permalock of an area together",
    );
    await expect(reader.read({ ...access, word: 20_000, count: 1 })).rejects.toThrow("words 0 to 16383");
    await expect(reader.read({ ...access, epc: "30zz", word: 0, count: 1 })).rejects.toThrow("whole words of hex");
    await reader.close();
  });

  it("that has another client says which", async () => {
    const { reader, far } = bare();
    far.write(greeting("0002"));
    await expect(reader.open()).rejects.toThrow("another client has the reader");
  });

  it("answers every KEEPALIVE with its number", async () => {
    const { reader, far, heard } = bare();
    void reader.open().catch(() => undefined);
    far.write(greeting("0000"));
    far.write(bytesOf("043e0000000a000000c8"));
    await expect.poll(heard).toContain("04480000000a000000c8");
  });

  it("that falls silent is lost after two and a half keep-alives", async () => {
    const clock = new ManualClock();
    const { reader, far, closed } = bare({ clock, keepAliveMs: 1000, timeoutMs: 60_000 });
    void reader.open().catch(() => undefined);
    far.write(greeting("0000"));
    await new Promise(setImmediate);
    let lost = false;
    reader.on("closed", () => {
      lost = true;
    });
    await clock.advance(2499);
    expect(lost).toBe(false);
    await clock.advance(1);
    expect(await closed).toEqual(["lost bare: the reader no longer answers"]);
  });

  it("that says something else than LLRP is let go of, with the byte", async () => {
    const { reader, far, closed } = bare();
    const fault = once(reader, "fault");
    void reader.open().catch(() => undefined);
    far.write(Buffer.from("HTTP/1.1 400 Bad Request\r\n"));
    expect((await fault)[0]).toMatchObject({ code: "reserved-bit-set", byte: 0 });
    expect(await closed).toEqual(["lost bare: what it says is no LLRP any more"]);
  });

  it("that goes away rejects what was asked", async () => {
    const { reader, cut } = llrpPair();
    await reader.open();
    await reader.startInventory({ periodMs: 100 });
    const access = reader.read({ epc: "30".repeat(12), bank: "user", word: 0, count: 1 });
    cut();
    await expect(access).rejects.toThrow("lost pair");
  });
});
