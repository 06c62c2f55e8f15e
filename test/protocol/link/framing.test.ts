/** Frames against bytes worked outside: checksums by zlib's crc32 in Python, stuffing by hand. */
import { describe, expect, it } from "vitest";
import { formatHex, parseHex } from "../../../protocol/bytes/hex.ts";
import { Deframer, encodeFrame, MAX_BODY, MAX_ENCODED } from "../../../protocol/link/framing.ts";
import type { Fault } from "../../../protocol/model/reasons.ts";

const bytes = (hex: string) => parseHex(hex) as Uint8Array;

const examples = [
  { name: "one byte", body: "01", frame: "06 01 a5 05 df 1b 00" },
  { name: "one zero", body: "00", frame: "01 05 d2 02 ef 8d 00" },
  { name: "the CRC catalogue's check text", body: "313233343536373839", frame: "0e 313233343536373839 cbf43926 00" },
];

function deframe(...chunks: Uint8Array[]) {
  const deframer = new Deframer();
  const events: (string | Fault)[] = [];
  for (const chunk of chunks) {
    deframer.push(
      chunk,
      (body) => events.push(formatHex(body)),
      (fault) => events.push(fault),
    );
  }
  return { events, deframer };
}

describe("encodeFrame", () => {
  it.each(examples)("$name", ({ body, frame }) => {
    expect(formatHex(encodeFrame(bytes(body)))).toBe(frame.replaceAll(" ", ""));
  });

  it("takes 1 to 1024 bytes", () => {
    expect(() => encodeFrame(new Uint8Array(0))).toThrow(RangeError);
    expect(() => encodeFrame(new Uint8Array(MAX_BODY + 1))).toThrow("1 to 1024 bytes, not 1025");
    expect(encodeFrame(new Uint8Array(MAX_BODY).fill(1)).length).toBe(MAX_ENCODED + 1);
  });
});

describe("Deframer", () => {
  it.each(examples)("finds $name", ({ body, frame }) => {
    expect(deframe(bytes(frame)).events).toEqual([body]);
  });

  it("takes the longest body, and not one byte more", () => {
    const longest = new Uint8Array(MAX_BODY).fill(7);
    expect(deframe(encodeFrame(longest)).events).toEqual(["07".repeat(MAX_BODY)]);
    // 1033 codes of 01h are 1032 zeros: short enough on the wire, too long unstuffed.
    const zeros = new Uint8Array(MAX_ENCODED + 1).fill(1);
    zeros[MAX_ENCODED] = 0;
    const found = { expected: "1024 bytes of body", actual: "1028 bytes" };
    expect(deframe(zeros).events).toEqual([
      { code: "link-frame-too-long", byte: 0, bit: null, path: "link", ...found },
    ]);
  });

  it("takes the longest body behind one byte of noise that came with it", () => {
    const frame = encodeFrame(new Uint8Array(MAX_BODY).fill(7));
    const { events } = deframe(Uint8Array.of(9, ...frame));
    expect(events).toMatchObject([{ code: "link-frame-too-long", byte: 0 }, "07".repeat(MAX_BODY)]);
  });

  it("names a wrong checksum with the place in the stream, the expected and the found one", () => {
    const { events } = deframe(
      bytes("06 01 a5 05 df 1b 00"),
      bytes("06 02 a5 05 df 1b 00"),
      bytes("06 01 a5 05 df 1b 00"),
    );
    // CRC-32 of the byte 02h by Python's zlib.
    const found = { expected: "0x3c0c8ea1", actual: "0xa505df1b" };
    expect(events).toEqual([
      "01",
      { code: "link-checksum-mismatch", byte: 7, bit: null, path: "link", ...found },
      "01",
    ]);
  });

  it("names wrong stuffing once a stretch, and finds the frame behind it", () => {
    const { events, deframer } = deframe(bytes("ff ff ff 06 01 a5 05 df 1b 00"));
    const found = { expected: "codes that end at the delimiter", actual: "a code that runs past it" };
    expect(events).toEqual([{ code: "link-stuffing-invalid", byte: 0, bit: null, path: "link", ...found }, "01"]);
    expect(deframer.counts).toEqual({
      frames: 1,
      faults: 1,
      received: 10,
      framed: 7,
      discarded: 3,
      idle: 0,
      pending: 0,
    });
  });

  it("is not led astray by a false frame start that reaches into a good frame", () => {
    // Read as a frame from its first byte, the code 09h ends exactly at the delimiter.
    const { events } = deframe(bytes("09 11 22 06 01 a5 05 df 1b 00"));
    expect(events).toMatchObject([{ code: "link-checksum-mismatch", byte: 0 }, "01"]);
  });

  it.each([MAX_ENCODED, MAX_ENCODED + 1, 5 * MAX_ENCODED, 100_000])(
    "finds a frame behind %i bytes without a delimiter",
    (length) => {
      const noise = Uint8Array.from({ length }, (_, i) => 1 + (((i * 7919) >> 3) % 255));
      const { events, deframer } = deframe(noise, bytes("06 01 a5 05 df 1b 00 06 01 a5 05 df 1b 00"));
      const found = { expected: "a delimiter in 1033 bytes", actual: "more than 1033 bytes" };
      expect(events).toEqual([{ code: "link-frame-too-long", byte: 0, bit: null, path: "link", ...found }, "01", "01"]);
      expect(deframer.counts).toMatchObject({ discarded: length, framed: 14, faults: 1 });
    },
  );

  it("counts the place of a fault from the start of the stream, delimiters included", () => {
    const { events } = deframe(bytes("00 06 01 a5 05 df 1b 00 00"), new Uint8Array(MAX_ENCODED + 1).fill(9));
    expect(events).toMatchObject(["01", { code: "link-frame-too-long", byte: 9 }]);
  });

  it("accounts for every byte at every moment: framed, discarded, filling or waiting", () => {
    const deframer = new Deframer();
    const faults: string[] = [];
    const push = (chunk: Uint8Array) =>
      deframer.push(
        chunk,
        () => undefined,
        ({ code }) => void faults.push(code),
      );
    const counts = { frames: 0, faults: 0, received: 0, framed: 0, discarded: 0, idle: 0, pending: 0 };
    push(bytes("00 06 01 a5"));
    expect(deframer.counts).toEqual({ ...counts, received: 4, idle: 1, pending: 3 });
    push(bytes("05 df 1b 00"));
    expect(deframer.counts).toEqual({ ...counts, received: 8, idle: 1, frames: 1, framed: 7 });
    push(new Uint8Array(1033).fill(9));
    expect(deframer.counts).toMatchObject({ received: 1041, faults: 0, discarded: 0, pending: 1033 });
    push(Uint8Array.of(9, 9));
    expect(deframer.counts).toMatchObject({ received: 1043, faults: 1, discarded: 2, pending: 1033 });
    push(Uint8Array.of(9));
    expect(deframer.counts).toMatchObject({ received: 1044, faults: 1, discarded: 3, pending: 1033 });
    push(Uint8Array.of(0));
    expect(deframer.counts).toMatchObject({ received: 1045, faults: 1, discarded: 1037, pending: 0, framed: 7 });
    push(new Uint8Array(1034).fill(9));
    deframer.end(({ code }) => void faults.push(code));
    expect(deframer.counts).toMatchObject({ received: 2079, faults: 2, discarded: 2071, pending: 0 });
    expect(faults).toEqual(["link-frame-too-long", "link-frame-too-long"]);
  });

  it("calls a stream that ends after as many bytes as the longest frame has unfinished, not too long", () => {
    const { events, deframer } = deframe(new Uint8Array(1033).fill(9));
    deframer.end((fault) => events.push(fault));
    expect(events).toMatchObject([{ code: "link-stuffing-invalid", byte: 0, actual: "the end of the stream" }]);
  });

  it("finds a frame wherever it stands behind noise without a delimiter", () => {
    const frame = bytes("06 01 a5 05 df 1b 00");
    for (let length = 3 * MAX_ENCODED; length <= 5 * MAX_ENCODED; length++) {
      const noise = new Uint8Array(length).fill(9);
      const pieces = Array.from({ length: Math.ceil(length / 500) }, (_, i) => noise.subarray(500 * i, 500 * (i + 1)));
      expect(deframe(...pieces, frame).events.at(-1), `behind ${length} bytes`).toBe("01");
    }
  });

  it("says that a frame is too long as soon as it is, not when the delimiter comes", () => {
    expect(deframe(new Uint8Array(MAX_ENCODED).fill(9)).events).toEqual([]);
    expect(deframe(new Uint8Array(MAX_ENCODED).fill(9), Uint8Array.of(9)).events).toHaveLength(1);
    expect(deframe(new Uint8Array(MAX_ENCODED).fill(9), Uint8Array.of(9), Uint8Array.of(9)).events).toHaveLength(1);
  });

  it("lets delimiters pass as filling", () => {
    const { events, deframer } = deframe(bytes("00 00 06 01 a5 05 df 1b 00 00"));
    expect(events).toEqual(["01"]);
    expect(deframer.counts).toMatchObject({ idle: 3, faults: 0, discarded: 0 });
  });

  it("calls bytes without room for a body a wrong frame", () => {
    const { events } = deframe(bytes("05 00 01 00 01 01 01 01 01 00"));
    const link = { bit: null, path: "link" };
    const room = { code: "link-checksum-mismatch", ...link, expected: "a body and its checksum" };
    expect(events).toEqual([
      {
        code: "link-stuffing-invalid",
        byte: 0,
        ...link,
        expected: "codes that end at the delimiter",
        actual: "a code that runs past it",
      },
      { ...room, byte: 2, actual: "0x" },
      // Four codes of 01h are three zeros and the end, five are four.
      { ...room, byte: 4, actual: "0x00000000" },
    ]);
  });

  it("calls half a frame at the end of the stream a fault", () => {
    const { deframer } = deframe(bytes("06 01 a5 05 df 1b 00 06 01 a5"));
    const faults: Fault[] = [];
    deframer.end((fault) => faults.push(fault));
    deframer.end((fault) => faults.push(fault));
    const found = { expected: "a delimiter", actual: "the end of the stream" };
    expect(faults).toEqual([{ code: "link-stuffing-invalid", byte: 7, bit: null, path: "link", ...found }]);
    expect(deframer.counts).toMatchObject({ frames: 1, faults: 1, discarded: 3, pending: 0 });
  });

  it("hands out bodies that stay as they are", () => {
    const bodies: Uint8Array[] = [];
    new Deframer().push(
      bytes("06 01 a5 05 df 1b 00 01 05 d2 02 ef 8d 00"),
      (body) => bodies.push(body),
      () => expect.unreachable(),
    );
    expect(bodies.map((body) => formatHex(body))).toEqual(["01", "00"]);
  });
});
