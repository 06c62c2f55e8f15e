/** The reader over the link, against a stub kit in memory and a clock that stands still. */
import { Duplex } from "node:stream";
import { describe, expect, it } from "vitest";
import { LinkReader, type LinkReaderOptions } from "../../../host/reader/link-reader.ts";
import { ReaderError } from "../../../host/reader/reader-error.ts";
import type { AmbientReport, TagReport } from "../../../host/reader/report.ts";
import type { Fault } from "../../../protocol/model/reasons.ts";
import { ManualClock } from "../../support/manual-clock.ts";
import { StubKit } from "../../support/stub-kit.ts";

const EPC = "303401234567";

function bench(options: LinkReaderOptions = {}) {
  const clock = new ManualClock();
  const stream: Duplex = new Duplex({
    read: () => undefined,
    write(chunk: Uint8Array, _encoding, done) {
      kit.receive(chunk);
      done();
    },
  });
  const kit = new StubKit((frame) => stream.push(frame));
  const reader = new LinkReader({ name: "test", stream, listenOnly: false }, { clock, ...options });
  const reports: (TagReport | AmbientReport)[] = [];
  const faults: Fault[] = [];
  const closed: (string | null)[] = [];
  reader.on("report", (report) => reports.push(report));
  reader.on("fault", (fault) => faults.push(fault));
  reader.on("closed", (reason) => closed.push(reason));
  return { clock, kit, stream, reader, reports, faults, closed };
}

/** What a promise came to, without waiting for it any longer than it takes. */
function watch<T>(promise: Promise<T>) {
  const state: { value?: T; error?: ReaderError } = {};
  promise.then(
    (value) => (state.value = value),
    (error) => (state.error = error),
  );
  return state;
}

async function failureOf(promise: Promise<unknown>): Promise<ReaderError> {
  const error = await promise.then(
    () => new Error("it succeeded"),
    (thrown) => thrown,
  );
  expect(error).toBeInstanceOf(ReaderError);
  return error;
}

describe("open", () => {
  it("asks what the kit is", async () => {
    const { reader, kit } = bench();
    expect(reader.info).toBeNull();
    const info = await reader.open();
    expect(info).toEqual({
      source: "test",
      blockWrite: false,
      lock: true,
      barometer: true,
      channelPlans: ["eu_lower"],
      powerLowDbm: 10,
      powerHighDbm: 30,
      barometerUncertaintyPa: 12,
      kitTimeUs: 1_000_000,
    });
    expect(reader.info).toEqual(info);
    expect(kit.heard).toEqual(["hello"]);
  });

  it("refuses a kit of another link version", async () => {
    const { reader, kit } = bench();
    kit.linkVersion = 2;
    const { message, fault } = await failureOf(reader.open());
    expect(message).toBe("the kit speaks version 2 of the link, this program version 1");
    expect(fault).toMatchObject({ code: "version-unknown", path: "welcome.link_version", expected: "1", actual: "2" });
  });

  it("asks again and again for ten seconds, then says that nothing answers", async () => {
    const { reader, kit, clock } = bench({ timeoutMs: 2000 });
    kit.deafTo.add("hello");
    const opening = watch(reader.open());
    await clock.advance(1999);
    expect(kit.heard).toEqual(["hello"]);
    await clock.advance(1);
    expect(kit.heard).toEqual(["hello", "hello"]);
    await clock.advance(7999);
    expect(opening.error).toBeUndefined();
    await clock.advance(1);
    expect(kit.heard).toEqual(new Array(5).fill("hello"));
    expect(opening.error!.message).toBe("no answer to hello in 2000 ms, asked 5 times");
    expect(opening.error!.fault).toMatchObject({ code: "request-timed-out", path: "hello" });
  });
});

describe("requests", () => {
  it("reads, writes and locks", async () => {
    const { reader, kit } = bench();
    await reader.open();
    expect(await reader.read({ epc: EPC, bank: "user", word: 3, count: 2 })).toEqual({
      result: "done",
      words: [0x1003, 0x1004],
      kitTimeUs: 2_000_000,
    });
    expect(await reader.write({ epc: EPC, bank: "user", word: 3, words: [0xbeef] })).toMatchObject({ result: "done" });
    expect(kit.memory.slice(2, 5)).toEqual([0x1002, 0xbeef, 0x1004]);
    expect(await reader.read({ epc: EPC, bank: "user", word: 120, count: 32 })).toMatchObject({
      result: "tag_memory_overrun",
      words: [],
    });
    expect(await reader.lock({ epc: EPC, mask: 3, action: 2, password: 1 })).toMatchObject({
      result: "password_wrong",
    });
    await reader.setChannelPlan("eu_lower");
    expect(kit.heard).toEqual(["hello", "read", "write", "read", "lock", "set_channel_plan"]);
  });

  it("reports what an inventory brings", async () => {
    const { reader, reports } = bench();
    await reader.open();
    await reader.startInventory({ periodMs: 250, read: { bank: "user", word: 4, count: 2 } });
    await reader.stopInventory();
    expect(reports).toEqual([
      {
        kind: "read",
        kitTimeUs: 3_000_000,
        epc: EPC,
        pc: 0x1c00,
        xpc: 0,
        rssiDbm: -58.3,
        frequencyKhz: 866_300,
        result: "done",
        bank: "user",
        word: 4,
        words: [0x1004, 0x1005],
      },
      { kind: "ambient", kitTimeUs: 3_000_001, pressureRaw: 12_969_600, temperatureC: null },
    ]);
    expect(reader.counts).toEqual({ reports: 2, faults: 0, discardedBytes: 0, lateAnswers: 0 });
  });

  it("passes a refusal on with its reason and place", async () => {
    const { reader } = bench();
    await reader.open();
    await reader.setPower(30);
    const { message, fault } = await failureOf(reader.setPower(31));
    expect(message).toBe("the reader refused set_power: a value the reader kit cannot serve [request-refused]");
    expect(fault).toMatchObject({ code: "request-refused", byte: 3, path: "set_power" });
  });

  it.each([
    { ask: (reader: LinkReader) => reader.setPower(400), code: "value-out-of-range", path: "set_power.power" },
    { ask: (reader: LinkReader) => reader.setPower(Number.NaN), code: "value-out-of-range", path: "set_power.power" },
    {
      ask: (reader: LinkReader) => reader.startInventory({ periodMs: 5 }),
      code: "value-out-of-range",
      path: "start_inventory.period",
    },
    {
      ask: (reader: LinkReader) => reader.read({ epc: EPC, bank: "user", word: 0, count: 256 }),
      code: "value-out-of-range",
      path: "read.word_count",
    },
    {
      ask: (reader: LinkReader) => reader.read({ epc: EPC, bank: "flash" as "user", word: 0, count: 1 }),
      code: "name-unknown",
      path: "read.bank",
    },
    {
      ask: (reader: LinkReader) => reader.read({ epc: "30340", bank: "user", word: 0, count: 1 }),
      code: "hex-odd-length",
      path: "read.epc",
    },
    {
      ask: (reader: LinkReader) => reader.read({ epc: "303401", bank: "user", word: 0, count: 1 }),
      code: "epc-length-invalid",
      path: "read.epc",
    },
    {
      ask: (reader: LinkReader) => reader.write({ epc: EPC, bank: "user", word: 0, words: [65_536] }),
      code: "value-out-of-range",
      path: "write.words[0]",
    },
  ])("does not send what the specification does not allow: $path, $code", async ({ ask, code, path }) => {
    const { reader, kit } = bench();
    await reader.open();
    expect((await failureOf(ask(reader))).fault).toMatchObject({ code, path });
    expect(kit.heard).toEqual(["hello"]);
    await reader.setPower(20);
  });

  it("asks for a read again, and for a write only once", async () => {
    const { reader, kit, clock } = bench({ timeoutMs: 100 });
    await reader.open();
    kit.deafTo.add("read").add("write").add("lock").add("block_write");
    const read = watch(reader.read({ epc: EPC, bank: "user", word: 0, count: 1 }));
    const write = watch(reader.write({ epc: EPC, bank: "user", word: 0, words: [1] }));
    const block = watch(reader.blockWrite({ epc: EPC, bank: "user", word: 0, words: [1] }));
    const lock = watch(reader.lock({ epc: EPC, mask: 1, action: 1 }));
    await clock.advance(1000);
    expect(kit.heard).toEqual(["hello", "read", "write", "block_write", "lock", "read"]);
    expect(read.error!.message).toBe("no answer to read in 100 ms, asked 2 times");
    for (const { error } of [write, block, lock]) expect(error!.message).toMatch(/^no answer to \w+ in 100 ms$/);
  });

  it("counts a late answer and gives it to nobody", async () => {
    const { reader, kit, clock } = bench({ timeoutMs: 100 });
    await reader.open();
    kit.deafTo.add("write");
    const write = watch(reader.write({ epc: EPC, bank: "user", word: 0, words: [1] }));
    await clock.advance(100);
    expect(write.error).toBeDefined();
    kit.say("access_answer", 2, { result: 0, word_count: 0, kit_time: 0 });
    await clock.advance(0);
    expect(reader.counts.lateAnswers).toBe(1);
    expect(await reader.read({ epc: EPC, bank: "user", word: 0, count: 1 })).toMatchObject({ words: [0x1000] });
  });

  it("matches answers that come in another order", async () => {
    const { reader, kit, clock } = bench();
    await reader.open();
    kit.deafTo.add("read");
    const first = watch(reader.read({ epc: EPC, bank: "user", word: 0, count: 1 }));
    const second = watch(reader.read({ epc: EPC, bank: "user", word: 1, count: 1 }));
    kit.say("access_answer", 3, { result: 0, word_count: 1, kit_time: 0 }, { words: [0x3333] });
    kit.say("access_answer", 2, { result: 0, word_count: 1, kit_time: 0 }, { words: [0x2222] });
    await clock.advance(0);
    expect(first.value!.words).toEqual([0x2222]);
    expect(second.value!.words).toEqual([0x3333]);
  });

  it("rejects an answer of the wrong kind", async () => {
    const { reader, kit } = bench();
    await reader.open();
    kit.deafTo.add("read");
    const read = failureOf(reader.read({ epc: EPC, bank: "user", word: 0, count: 1 }));
    kit.say("done", 2);
    const { message, fault } = await read;
    expect(message).toBe("read was answered with done instead of access_answer");
    expect(fault).toMatchObject({ code: "message-not-now", path: "read", expected: "access_answer", actual: "done" });
  });

  it.each([
    { wanted: 4, granted: 2, limit: 2 },
    { wanted: 3, granted: 9, limit: 3 },
    { wanted: 1, granted: 9, limit: 1 },
  ])(
    "keeps at most $limit under way when $wanted are wanted and $granted granted",
    async ({ wanted, granted, limit }) => {
      const { reader, kit, clock } = bench({ maxOutstanding: wanted });
      kit.maxOutstanding = granted;
      await reader.open();
      kit.deafTo.add("read");
      for (let word = 0; word < 6; word++) watch(reader.read({ epc: EPC, bank: "user", word, count: 1 }));
      await clock.advance(0);
      expect(kit.heard.length - 1).toBe(limit);
      kit.say("access_answer", 2, { result: 0, word_count: 0, kit_time: 0 });
      await clock.advance(0);
      expect(kit.heard.length - 1).toBe(limit + 1);
    },
  );
});

describe("damage", () => {
  it("is reported and counted, and the rest goes on", async () => {
    const { reader, stream, kit, clock, faults, reports } = bench();
    await reader.open();
    stream.push(Uint8Array.of(250, 6, 7));
    kit.say("ambient_report", 0, { kit_time: 5, pressure: 12_969_600, temperature: 2250 });
    await clock.advance(0);
    expect(faults).toMatchObject([{ code: "link-stuffing-invalid" }]);
    expect(reports).toMatchObject([{ kind: "ambient", temperatureC: 22.5 }]);
    expect(reader.counts).toMatchObject({ reports: 1, faults: 1, discardedBytes: 3 });
  });

  it("in a whole message is a fault too", async () => {
    const { reader, stream, clock, faults } = bench();
    await reader.open();
    // Body ee 00 00 with its CRC-32, by Python's zlib: a type in no list.
    stream.push(Uint8Array.from(Buffer.from("02ee01055c3d24b800", "hex")));
    await clock.advance(0);
    expect(faults).toMatchObject([{ code: "message-unknown", byte: 0, actual: "0xee" }]);
    expect(reader.counts).toMatchObject({ faults: 1, discardedBytes: 0 });
  });

  it("the kit tells of is a fault of the host's sending", async () => {
    const { reader, kit, clock, faults } = bench();
    await reader.open();
    kit.say("error", 0, { reason: 42, about: 6, byte: 0 });
    await clock.advance(0);
    expect(faults).toMatchObject([{ code: "link-checksum-mismatch", path: "read" }]);
  });
});

describe("the end", () => {
  it("rejects everything under way and waiting, and everything after", async () => {
    const { reader, kit, stream, closed, clock } = bench({ maxOutstanding: 1 });
    await reader.open();
    kit.deafTo.add("read");
    const underWay = watch(reader.read({ epc: EPC, bank: "user", word: 0, count: 1 }));
    const waiting = watch(reader.read({ epc: EPC, bank: "user", word: 1, count: 1 }));
    stream.destroy(Object.assign(new Error("read ECONNRESET"), { code: "ECONNRESET" }));
    await clock.advance(0);
    expect(closed).toEqual(["lost test: the other end closed the connection"]);
    for (const { error } of [underWay, waiting, watch(reader.setPower(20))]) {
      await clock.advance(0);
      expect(error?.fault.code ?? "pending").toBe("link-closed");
    }
    await clock.advance(100_000);
    expect(kit.heard).toEqual(["hello", "read"]);
  });

  it("of the stream is the end of the reader, half a frame is damage", async () => {
    const { reader, stream, closed, faults, clock } = bench();
    await reader.open();
    stream.push(Uint8Array.of(9, 9));
    stream.push(null);
    await clock.advance(0);
    expect(closed).toEqual(["lost test: the other end closed the connection"]);
    expect(faults).toMatchObject([{ code: "link-stuffing-invalid", actual: "the end of the stream" }]);
  });

  it("by close stops the inventory first and is no loss", async () => {
    const { reader, kit, closed, faults, stream } = bench();
    await reader.open();
    await reader.startInventory({ periodMs: 100 });
    await reader.close();
    expect(kit.heard).toEqual(["hello", "start_inventory", "stop_inventory"]);
    expect(closed).toEqual([null]);
    expect(faults).toEqual([]);
    expect(stream.destroyed).toBe(true);
    expect((await failureOf(reader.setPower(20))).message).toBe("test was closed");
    await reader.close();
    expect(closed).toEqual([null]);
  });

  it("by close in the middle of a frame is no damage", async () => {
    const { reader, stream, closed, faults, clock } = bench();
    await reader.open();
    stream.push(Uint8Array.of(9, 9));
    await clock.advance(0);
    await reader.close();
    await clock.advance(0);
    expect(faults).toEqual([]);
    expect(closed).toEqual([null]);
  });

  it("comes when a silent kit does not answer keep-alives", async () => {
    const { reader, kit, closed, clock } = bench({ keepAliveMs: 5000, timeoutMs: 2000 });
    await reader.open();
    await clock.advance(5000);
    await clock.advance(5000);
    expect(kit.heard).toEqual(["hello", "keep_alive", "keep_alive"]);
    kit.deafTo.add("keep_alive");
    await clock.advance(5000 + 2 * 2000);
    expect(closed).toEqual(["lost test: the reader no longer answers"]);
  });

  it("does not come while a slow request is under way", async () => {
    const { reader, kit, closed, clock } = bench({ keepAliveMs: 1000, timeoutMs: 60_000 });
    await reader.open();
    kit.deafTo.add("write");
    const write = watch(reader.write({ epc: EPC, bank: "user", word: 0, words: [1] }));
    await clock.advance(10_000);
    expect(kit.heard).toEqual(["hello", "write"]);
    kit.say("access_answer", 2, { result: 0, word_count: 0, kit_time: 0 });
    await clock.advance(1000);
    expect(write.value).toMatchObject({ result: "done" });
    expect(kit.heard).toEqual(["hello", "write", "keep_alive"]);
    expect(closed).toEqual([]);
  });
});

describe("a kit that was switched off and on", () => {
  it("is lost at the next request, for it does nothing of what it was asked to", async () => {
    const { reader, kit, closed, clock } = bench({ keepAliveMs: 5000 });
    await reader.open();
    kit.forgets = true;
    await clock.advance(5000);
    await new Promise(setImmediate);
    expect(kit.heard).toEqual(["hello", "keep_alive"]);
    expect(closed).toEqual(["lost test: the reader began anew"]);
  });
});
