/** Captures as pcapng: what others may write, what is damaged, and what we write ourselves. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CaptureHeader } from "../../../host/capture/item.ts";
import { PcapngCapture, type PcapngItem } from "../../../host/capture/pcapng-capture.ts";
import { packetBlock, sectionBlocks } from "../../../host/capture/pcapng-writer.ts";
import { layout } from "../../../protocol/index.ts";
import { reportBody, welcomeBody } from "../../support/link-bytes.ts";
import { PcapngBytes } from "../../support/pcapng-bytes.ts";
import { good } from "./collect.ts";

const [little, big] = [new PcapngBytes("little"), new PcapngBytes("big")];
const body = (kitTimeUs: number) => reportBody({ ...good.read, kit_time_us: kitTimeUs });
const ambient = reportBody(good.ambient);
const comment = (changes: object = {}) => [1, JSON.stringify({ ...good.capture, ...changes })] as const;

async function collect(bytes: Uint8Array, cut = bytes.length) {
  async function* pieces() {
    for (let at = 0; at < bytes.length; at += cut) yield bytes.subarray(at, at + cut);
  }
  const capture = new PcapngCapture(pieces(), "leg.pcapng", layout);
  const items: PcapngItem[] = [];
  for await (const item of capture) items.push(item);
  return {
    items,
    counts: capture.counts,
    times: items.flatMap((item) => ("report" in item ? [item.report.kitTimeUs] : [])),
    reports: items.flatMap((item) => ("report" in item ? [item.report] : [])),
    headers: items.flatMap((item) => ("header" in item ? [item.header] : [])),
    sessions: items.flatMap((item) => ("session" in item ? [item.session] : [])),
    rejects: items.flatMap((item) => ("reject" in item ? [item.reject] : [])),
    notices: items.flatMap((item) => ("notice" in item ? [item.notice] : [])),
    lost: Buffer.concat(
      items.flatMap((item) => ("reject" in item ? [item.reject.raw] : "more" in item ? [item.more] : [])),
    ),
  };
}

const joined = (...parts: readonly Uint8Array[]) => Uint8Array.from(Buffer.concat(parts));

describe.each([
  ["little", little],
  ["big", big],
] as const)("a pcapng file in %s-endian order", (_, order) => {
  it("gives header, reads and ambient reports", async () => {
    const file = joined(order.section([comment()]), order.interface(147), order.packet(body(7)), order.packet(ambient));
    const { headers, reports, counts, notices, rejects } = await collect(file);
    expect(headers).toEqual([
      {
        version: 1,
        layout: 1,
        fingerprint: layout.fingerprint,
        started: "2026-03-04T09:00:00.000Z",
        source: "invented",
        barometerUncertaintyPa: 12,
      },
    ]);
    expect(reports).toEqual([
      {
        kind: "read",
        kitTimeUs: 7,
        epc: "30361f9404c0004000000007",
        pc: 0x3600,
        xpc: 0x0200,
        rssiDbm: -58.3,
        frequencyKhz: 866_300,
        result: "done",
        bank: "user",
        word: 8,
        words: [0xdead, 0xbeef, 1],
      },
      { kind: "ambient", kitTimeUs: 1_000_000, pressureRaw: 12_969_600, temperatureC: 22.5 },
    ]);
    expect(counts).toEqual({
      bytes: file.length,
      packets: 2,
      sections: 1,
      read: 1,
      ambient: 1,
      other: 0,
      passed: 0,
      rejected: 0,
    });
    expect([notices, rejects]).toEqual([[], []]);
  });

  it("may hold simple packets, blocks of unknown types, other link types, and messages to the kit", async () => {
    const hello = Uint8Array.from([1, 0, 1, 1, 4]);
    const file = joined(
      ...[
        order.section([[4, "another program"], comment()]),
        order.block(0x0bad, [1, 2, 3, 4], []),
        order.interface(147),
      ],
      ...[order.interface(1), order.simplePacket(body(1)), order.packetOf(1, [0xff, 0xff])],
      order.packet(hello, [[2, order.u32(2)]]),
      order.packet(body(2), [
        [1, "a comment"],
        [2, order.u32(1)],
      ]),
    );
    const { times, counts, rejects } = await collect(file);
    expect([times, rejects]).toEqual([[1, 2], []]);
    expect(counts).toMatchObject({ packets: 4, read: 2, other: 2, passed: 1 });
  });
});

describe("a section", () => {
  it("has a header of its own, in its own byte order", async () => {
    const file = joined(
      ...[little.section([comment()]), little.interface(147), little.packet(body(1))],
      ...[
        big.section([comment({ started: "2026-03-05T10:00:00Z", note: "second" })]),
        big.interface(147),
        big.packet(body(2)),
      ],
    );
    const { headers, times } = await collect(file);
    expect(headers.map(({ started, note }) => [started, note])).toEqual([
      ["2026-03-04T09:00:00.000Z", undefined],
      ["2026-03-05T10:00:00Z", "second"],
    ]);
    expect(times).toEqual([1, 2]);
  });

  it("numbers its interfaces anew, and its header knows more than a kit that greets in it", async () => {
    const file = joined(
      ...[little.section([comment()]), little.interface(147), little.packet(welcomeBody(9)), little.packet(body(1))],
      ...[little.section([comment()]), little.interface(1), little.packet(body(2))],
    );
    const { times, counts, sessions } = await collect(file);
    expect([times, counts.other, sessions]).toEqual([[1], 2, []]);
  });

  it("without a header says so once; a kit that greets in it tells its barometer", async () => {
    const bare = joined(little.section(), little.interface(147), little.packet(body(1)), little.packet(body(2)));
    const found = await collect(bare);
    expect(found.notices).toEqual([
      {
        reason: "header-missing",
        sentence:
          "leg.pcapng: packet 1: no header record where one must stand (layout 1 is assumed; date and barometer uncertainty are not known) [header-missing]",
      },
    ]);
    expect(found.times).toEqual([1, 2]);
    const greeted = joined(
      little.section(),
      little.interface(147),
      little.packet(welcomeBody(9)),
      little.packet(body(1)),
    );
    const { sessions, notices } = await collect(greeted);
    expect([sessions.map(({ barometerUncertaintyPa }) => barometerUncertaintyPa), notices]).toEqual([[null, 9], []]);
  });

  it.each([
    [
      { layout: 2 },
      "section 1: layout: written with another layout than the one read with (written with layout 2, read with 1) [layout-unknown]",
    ],
    [
      { version: 2 },
      "section 1: version: a version this program does not know (2, this program reads 1) [version-unknown]",
    ],
  ])("with the header %j is refused with all its packets, said once", async (changes, says) => {
    const parts = [
      little.section([comment(changes)]),
      little.interface(147),
      little.packet(body(1)),
      little.packet(body(2)),
    ];
    const { rejects, times } = await collect(
      joined(...parts, little.section([comment()]), little.interface(147), little.packet(body(3))),
    );
    expect(rejects.map(({ sentence, becauseOf }) => (becauseOf === null ? sentence : becauseOf))).toEqual([
      `leg.pcapng: ${says}`,
      1,
      1,
    ]);
    expect(rejects[1]!.raw).toEqual(parts[2]);
    expect(times).toEqual([3]);
  });

  it("of another specification is read and said to be so; a bad member of the header costs the header only", async () => {
    const tail = [little.interface(147), little.packet(body(1))];
    const other = await collect(joined(little.section([comment({ fingerprint: "01234567" })]), ...tail));
    expect([other.notices.map(({ reason }) => reason), other.times]).toEqual([["fingerprint-mismatch"], [1]]);
    const bad = await collect(joined(little.section([comment({ started: "yesterday" })]), ...tail));
    expect([bad.rejects.map(({ reason }) => reason), bad.times]).toEqual([["field-invalid"], [1]]);
  });
});

/** Good blocks around a damaged one; the damage begins at byte 188 or so, worked out from the parts before it. */
const before = joined(little.section([comment()]), little.interface(147), little.packet(body(1)));
const after = joined(little.packet(body(3)), little.packet(body(4)));
const middle = little.packet(body(2));

function changed(at: number, bytes: readonly number[]): Uint8Array {
  const copy = Uint8Array.from(middle);
  copy.set(bytes, at);
  return copy;
}

describe("a block that lies", () => {
  const length = middle.length;
  it.each([
    [
      "of a length that is no multiple of four",
      changed(4, little.u32(length + 2)),
      4,
      "count-mismatch",
      "block.length",
    ],
    ["of a length beyond any block", changed(4, little.u32(0xffff_fff0)), 4, "count-mismatch", "block.length"],
    ["of a length too small for its type", changed(4, little.u32(16)), 4, "count-mismatch", "block.length"],
    [
      "of a length that runs into the next",
      changed(4, little.u32(length + 8)),
      length + 4,
      "count-mismatch",
      "block.length",
    ],
    [
      "with another length at its end",
      changed(length - 4, little.u32(12)),
      length - 4,
      "count-mismatch",
      "block.length",
    ],
    ["of more data than it has", changed(20, little.u32(length)), 20, "count-mismatch", "packet.length"],
    ["of an interface that is not there", changed(8, little.u32(5)), 8, "name-unknown", "packet.interface"],
    [
      "of an option that runs past it",
      little.block(6, [...middle.subarray(8, -4), ...little.u16(1), ...little.u16(99)], []),
      length - 4,
      "count-mismatch",
      "packet.options",
    ],
    [
      "of a type nobody knows, and a wrong length",
      changed(0, [...little.u32(77), ...little.u32(length + 4)]),
      length,
      "count-mismatch",
      "block.length",
    ],
  ] as const)("%s is named with its byte; what follows is read", async (_, block, offset, reason, path) => {
    const { rejects, times, lost, counts } = await collect(joined(before, block, after));
    expect(
      rejects.map((reject) => [reject.reason, reject.sentence.match(/: ([a-z.]+): .*\(byte (\d+):/)?.slice(1)]),
    ).toEqual([[reason, [path, `${before.length + offset}`]]]);
    expect([times, counts.rejected]).toEqual([[1, 3, 4], 1]);
    expect(lost).toEqual(Buffer.from(block));
  });

  it("is named anew after good blocks, and a block of another type is passed over again", async () => {
    const bad = changed(4, little.u32(3));
    const note = little.block(0x0bad, [1, 2, 3, 4], []);
    const { rejects, times, counts, lost } = await collect(joined(before, bad, after, note, bad, after));
    expect(rejects.map(({ reason }) => reason)).toEqual(["count-mismatch", "count-mismatch"]);
    expect([times, counts.passed]).toEqual([[1, 3, 4, 3, 4], 1]);
    expect(lost).toEqual(Buffer.from(joined(bad, bad)));
  });

  it("of damage inside the message is named by field, with the byte of the file", async () => {
    // Byte 21 of the body is the result: 99 is in no list.
    const { rejects, times } = await collect(joined(before, changed(28 + 21, [99]), after));
    expect(rejects[0]!.sentence).toContain(
      `leg.pcapng: packet 2: tag_report.result: a value outside the closed list (byte ${before.length + 49}`,
    );
    expect(times).toEqual([1, 3, 4]);
  });

  it("and is cut short by the end of the file is named", async () => {
    const { rejects, times } = await collect(joined(before, middle.subarray(0, 30)));
    expect(rejects.map(({ sentence }) => sentence)).toEqual([
      `leg.pcapng: between packets: block: fewer bytes than the record has (byte ${before.length}: expected ${length} bytes, found 30 bytes) [record-too-short]`,
    ]);
    expect(times).toEqual([1]);
  });

  it("costs bounded memory: a huge length is refused at once", async () => {
    const capture = new PcapngCapture(
      (async function* () {
        yield joined(before, changed(4, little.u32(0x7fff_fff0)));
        for (let i = 0; i < 16; i++) yield new Uint8Array(1 << 20);
        yield after;
      })(),
      "leg.pcapng",
      layout,
    );
    let [times, most] = [0, 0];
    for await (const item of capture) {
      if ("report" in item) times++;
      if ("more" in item) most = Math.max(most, item.more.length);
    }
    expect(times).toBe(3);
    expect(most).toBeLessThan(3 << 20);
  });
});

describe("any file", () => {
  const file = joined(before, middle, after);

  it("gives the same however it is cut into pieces", async () => {
    const whole = await collect(file);
    for (const cut of [1, 3, 7, 64, 100]) expect((await collect(file, cut)).items).toEqual(whole.items);
  });

  it("with some bytes replaced throws nothing, loses no byte of what it rejects, and invents no read", async () => {
    const change = fc.tuple(fc.nat(file.length - 1), fc.nat(255));
    await fc.assert(
      fc.asyncProperty(
        fc.array(change, { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 5, max: 400 }),
        async (changes, cut) => {
          const damaged = Uint8Array.from(file);
          for (const [at, value] of changes) damaged[at] = value;
          const [whole, pieces] = [await collect(damaged), await collect(damaged, cut)];
          expect(pieces.times).toEqual(whole.times);
          expect(pieces.lost).toEqual(whole.lost);
          expect(Buffer.from(damaged).includes(Buffer.from(whole.rejects[0]?.raw ?? []))).toBe(true);
          expect(whole.counts.read).toBeLessThanOrEqual(4);
        },
      ),
      { numRuns: 200 },
    );
  });

  it("that is empty of reports says so", async () => {
    const { notices } = await collect(joined(little.section([comment()]), little.interface(147)));
    expect(notices).toEqual([
      { reason: "file-empty", sentence: "leg.pcapng: no record at all (no report in 0 packets) [file-empty]" },
    ]);
  });
});

describe("a file we write", () => {
  const header: CaptureHeader = {
    version: 1,
    layout: 1,
    fingerprint: layout.fingerprint,
    started: "2026-03-04T09:00:00.123456Z",
    source: "tcp:127.0.0.1:4870",
    barometerUncertaintyPa: 12.5,
    note: 'line\nbreak, "quotes", µ and 👣',
  };

  it("brings every member of the header back", async () => {
    for (const one of [header, { ...header, barometerUncertaintyPa: null, source: "", note: "" }]) {
      const { headers, notices } = await collect(joined(sectionBlocks(layout, one), packetBlock(0, body(1))));
      expect([headers, notices]).toEqual([[one], []]);
    }
  });

  it("has the blocks that the draft asks for, byte by byte", () => {
    const one: CaptureHeader = { ...header, note: "x" };
    const json = `{"record":"capture","version":1,"layout":1,"fingerprint":"${layout.fingerprint.toString(16).padStart(8, "0")}","started":"${one.started}","source":"${one.source}","barometer_uncertainty_pa":12.5,"note":"x"}`;
    const says = `link messages of a reader kit, layout 1, specification ${layout.fingerprint.toString(16).padStart(8, "0")}`;
    const expected = joined(
      little.section([
        [1, json],
        [4, "plyframe"],
      ]),
      little.interface(147, [
        [2, one.source],
        [3, says],
        [9, [6]],
      ]),
    );
    expect(Buffer.from(sectionBlocks(layout, one))).toEqual(Buffer.from(expected));
    // 2026-03-04T09:00:00Z is 1772614800 s after 1970 (date -u +%s): 1772614800000001 µs = 64C2Eh · 2^32 + 52AC9401h.
    const packet = little.packet([1, 2, 3, 4, 5], [[2, [1, 0, 0, 0]]]);
    packet.set(
      [...little.u32(Number(1772614800000001n >> 32n)), ...little.u32(Number(1772614800000001n & 0xffffffffn))],
      12,
    );
    expect(Buffer.from(packetBlock(1772614800000001, Uint8Array.of(1, 2, 3, 4, 5)))).toEqual(Buffer.from(packet));
  });

  it("refuses a header that no option can hold", () => {
    expect(() => sectionBlocks(layout, { ...header, note: "x".repeat(65_536) })).toThrow(RangeError);
  });
});
