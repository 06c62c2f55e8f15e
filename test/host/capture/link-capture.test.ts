/** Raw bytes of the link as a capture: frames made by hand, whole and damaged. */
import { describe, expect, it } from "vitest";
import { LinkCapture, type LinkItem } from "../../../host/capture/link-capture.ts";
import { layout } from "../../../protocol/index.ts";
import { frameOf, reportBody, welcomeBody } from "../../support/link-bytes.ts";
import { good } from "./collect.ts";

const read = (kitTimeUs: number) => frameOf(reportBody({ ...good.read, kit_time_us: kitTimeUs }));
const ambient = frameOf(reportBody(good.ambient));
const joined = (...parts: readonly Uint8Array[]) => Uint8Array.from(Buffer.concat(parts));

async function collect(bytes: Uint8Array, cut = bytes.length) {
  async function* pieces() {
    for (let at = 0; at < bytes.length; at += cut) yield bytes.subarray(at, at + cut);
  }
  const capture = new LinkCapture(pieces(), "log", layout);
  const items: LinkItem[] = [];
  for await (const item of capture) items.push(item);
  return {
    items,
    counts: capture.counts,
    reports: items.flatMap((item) => ("report" in item ? [item.report] : [])),
    times: items.flatMap((item) => ("report" in item ? [item.report.kitTimeUs] : [])),
    frames: items.flatMap((item) => ("report" in item ? [item.place.frame] : [])),
    sessions: items.flatMap((item) => ("session" in item ? [item.session] : [])),
    sentences: items.flatMap((item) =>
      "reject" in item ? [item.reject.sentence] : "notice" in item ? [item.notice.sentence] : [],
    ),
    lost: Buffer.concat(
      items.flatMap((item) => ("reject" in item ? [item.reject.raw] : "more" in item ? [item.more] : [])),
    ),
  };
}

describe("raw bytes of the link", () => {
  it("give the kit's greeting, reads and ambient reports, frame by frame", async () => {
    const bytes = joined(
      frameOf(welcomeBody(14)),
      read(5),
      Uint8Array.of(0, 0),
      ambient,
      frameOf(Uint8Array.of(0x40, 0, 3)),
    );
    const { reports, frames, sessions, counts, sentences } = await collect(bytes);
    expect(reports).toEqual([
      {
        kind: "read",
        kitTimeUs: 5,
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
    // Zeros with nothing before them are filling and no frame.
    expect(frames).toEqual([2, 3]);
    expect(sessions.map(({ barometerUncertaintyPa }) => barometerUncertaintyPa)).toEqual([14]);
    expect(counts).toEqual({ bytes: bytes.length, frames: 4, sessions: 1, read: 1, ambient: 1, other: 1, rejected: 0 });
    expect(sentences).toEqual([]);
  });

  it("give the same however they are cut into pieces", async () => {
    const bytes = joined(
      read(1),
      Uint8Array.of(9, 9, 9, 0),
      read(2),
      Uint8Array.from(Array(3000).fill(7)),
      Uint8Array.of(0),
      read(3),
    );
    const whole = await collect(bytes, 4096);
    for (const cut of [1, 2, 50, 333]) {
      const pieces = await collect(bytes, cut);
      expect([pieces.reports, pieces.sentences, pieces.counts]).toEqual([whole.reports, whole.sentences, whole.counts]);
      expect(pieces.lost).toEqual(whole.lost);
    }
  });
});

describe("damaged bytes of the link", () => {
  it("are named with their byte and kept as they came; what follows is read", async () => {
    const damaged = Uint8Array.from(read(2));
    // In the words, where no code of the stuffing stands.
    damaged[damaged.indexOf(0xde)] = 0xdf;
    const { times, sentences, lost } = await collect(joined(read(1), damaged, read(3)));
    expect(times).toEqual([1, 3]);
    expect(sentences).toEqual([
      expect.stringMatching(
        new RegExp(`^log: frame 2: link: .*\\(byte ${read(1).length}: .*\\[link-checksum-mismatch\\]$`),
      ),
    ]);
    expect(lost).toEqual(Buffer.from(damaged));
  });

  it("before a whole frame cost no frame", async () => {
    const { times, sentences, lost } = await collect(joined(Uint8Array.from([1, 2, 3, 4, 5]), read(1), read(2)));
    expect([times, sentences.length]).toEqual([[1, 2], 1]);
    expect(lost).toEqual(Buffer.from(joined(Uint8Array.from([1, 2, 3, 4, 5]), read(1))));
  });

  it("without a delimiter are kept whole, however long", async () => {
    const long = joined(Uint8Array.from(Array(10_000).fill(3)), Uint8Array.of(0));
    for (const cut of [20_000, 700]) {
      const { times, sentences, lost, counts } = await collect(joined(read(1), long, read(2)), cut);
      expect(times).toEqual([1, 2]);
      expect(sentences).toEqual([expect.stringContaining("log: frame 2: link: more bytes without a delimiter")]);
      expect(lost).toEqual(Buffer.from(long));
      expect(counts).toMatchObject({ frames: 3, rejected: 1 });
    }
  });

  it("that end in the middle of a frame are named", async () => {
    const { times, sentences } = await collect(joined(read(1), read(2).subarray(0, 20)));
    expect([times, sentences]).toEqual([
      [1],
      [expect.stringMatching(/^log: frame 2: link: .*the end of the stream\) \[link-stuffing-invalid\]$/)],
    ]);
  });

  it("within a whole frame are named by the field of the message, with the frame's first byte", async () => {
    const body = reportBody(good.read);
    body[21] = 99;
    const { times, sentences } = await collect(joined(read(1), frameOf(body)));
    expect(times).toEqual([1]);
    expect(sentences).toEqual([
      expect.stringContaining(
        `log: frame 2 from byte ${read(1).length}, message: tag_report.result: a value outside the closed list (byte 21`,
      ),
    ]);
  });

  it("without a report at all are said to be empty", async () => {
    const { sentences } = await collect(frameOf(welcomeBody(14)));
    expect(sentences).toEqual(["log: no record at all (no report in 1 frames) [file-empty]"]);
  });
});
