/** What chance makes of each capability: ordinary records with their limits, and one damage in half of them. */
import * as fc from "fast-check";
import {
  type CompiledRecord,
  checksumOf,
  encode,
  encodeFrame,
  encodeMessage,
  isFault,
  layout,
} from "../../protocol/index.ts";
import { madeDecode, madeEncode, madeEpc, madeHeader, madeMessage, madeSlots, madeUnframe } from "./made-case.ts";
import { madeReading } from "./made-reading.ts";
import { recordInput } from "./record-arbitrary.ts";
import { record } from "./record-case.ts";
import type { ReplayCase } from "./replay-case.ts";

/** A capability and the cases made for it. */
export interface Maker {
  readonly needs: string;
  readonly cases: fc.Arbitrary<ReplayCase>;
}

const octet = fc.integer({ min: 0, max: 255 });
const octets = (least: number, most: number) =>
  fc.array(octet, { minLength: least, maxLength: most }).map((bytes) => Uint8Array.from(bytes));

/** Bytes as they are, or with one damage; `seal` puts the checksum right again behind a changed bit. */
function damaged(bytes: fc.Arbitrary<Uint8Array>, seal: (bytes: Uint8Array) => void): fc.Arbitrary<Uint8Array> {
  const damage = fc.oneof(
    { weight: 4, arbitrary: fc.constant({ kind: "none" } as const) },
    {
      weight: 1,
      arbitrary: fc.record({ kind: fc.constant("cut" as const), share: fc.double({ min: 0, max: 1, noNaN: true }) }),
    },
    { weight: 1, arbitrary: fc.record({ kind: fc.constant("more" as const), tail: octets(1, 4) }) },
    {
      weight: 3,
      arbitrary: fc.record({
        kind: fc.constant("bit" as const),
        place: fc.nat(),
        bit: fc.integer({ min: 0, max: 7 }),
        sealed: fc.boolean(),
      }),
    },
  );
  return fc.tuple(bytes, damage).map(([whole, how]) => {
    if (how.kind === "none") return whole;
    if (how.kind === "cut") return whole.subarray(0, Math.floor(how.share * whole.length));
    if (how.kind === "more") return Uint8Array.from([...whole, ...how.tail]);
    const out = Uint8Array.from(whole);
    if (out.length === 0) return out;
    out[how.place % out.length]! ^= 1 << how.bit;
    if (how.sealed) seal(out);
    return out;
  });
}

/** Writes the checksums of a record anew. */
function sealer({ fields }: CompiledRecord): (bytes: Uint8Array) => void {
  return (bytes) => {
    for (const { type, algorithm, over, byte } of fields) {
      if (type !== "checksum") continue;
      const sum = checksumOf(algorithm!, bytes, over![0], over![1] + 1);
      bytes[byte] = sum >> 8;
      bytes[byte + 1] = sum & 0xff;
    }
  };
}

function encoded(id: string): fc.Arbitrary<Uint8Array> {
  return recordInput(record(id)).map(({ values, tails }) => orThrow(encode(record(id), values, tails)));
}

function orThrow(bytes: Uint8Array | object): Uint8Array {
  if (isFault(bytes)) throw new Error(`an allowed record is not encoded: ${JSON.stringify(bytes)}`);
  return bytes as Uint8Array;
}

function recordBytes(id: string): fc.Arbitrary<Uint8Array> {
  return damaged(encoded(id), sealer(record(id)));
}

const bankRecords = ["header", "frame", "counters", "calibration", "burst", "passwords", "epc", "xpc", "tid"];

function encodeCases(id: string): fc.Arbitrary<ReplayCase> {
  return recordInput(record(id)).map(({ values }) => {
    const raws: Record<string, number | number[]> = {};
    for (const { id: field, array } of record(id).fields) {
      if (values[field] === undefined) continue;
      if (array === undefined) raws[field] = values[field];
      else ((raws[array] ??= []) as number[]).push(values[field]);
    }
    return madeEncode(id, values, raws);
  });
}

/** Two frames whose sequences are mostly near each other; now and then the same bytes. */
const slots = fc
  .tuple(
    recordBytes("frame"),
    recordInput(record("frame")),
    fc.oneof(fc.integer({ min: -3, max: 3 }), fc.constant(0x8000), fc.integer({ min: 0, max: 0xffff })),
    fc.boolean(),
  )
  .map(([first, { values }, ahead, twice]) => {
    const a = first.length === 16 ? first : new Uint8Array(16);
    const sequence = (((a[2]! << 8) | a[3]!) + ahead) & 0xffff;
    const b = twice && ahead === 0 ? a : orThrow(encode(record("frame"), { ...values, sequence }));
    return Uint8Array.from([...a, ...b]);
  });

/** A tag whose header is its own; the blocks belong to it more often than not. */
const readings = fc
  .record({
    header: recordInput(record("header")),
    own: fc.integer({ min: 0, max: 9 }),
    slots: slots,
    counters: encoded("counters"),
    blocks: fc.tuple(
      recordInput(record("calibration")),
      recordInput(record("calibration")),
      fc.integer({ min: 0, max: 9 }),
    ),
    load: fc.integer({ min: -800_000, max: 6_000_000 }),
    ambient: fc.option(
      fc.record({
        pressure_raw: fc.integer({ min: 3_328_000, max: 16_128_000 }),
        expanded_uncertainty_pa: fc.option(fc.integer({ min: 0, max: 2000 })),
      }),
    ),
  })
  .map(({ header, own, slots: frames, counters, blocks: [first, second, foreign], load, ambient }) => {
    const fingerprint = own === 0 ? header.values.fingerprint! : layout.fingerprint;
    const head = orThrow(encode(record("header"), { ...header.values, fingerprint }));
    const serial = header.values.sensor_serial!;
    const block = ({ values }: typeof first, belongs: boolean) =>
      orThrow(encode(record("calibration"), { ...values, sensor_serial: belongs ? serial : values.sensor_serial! }));
    const blocks = Uint8Array.from([...block(first, foreign !== 0 && foreign !== 1), ...block(second, foreign !== 1)]);
    if (foreign === 2) blocks[5]! ^= 1;
    const memory = Uint8Array.from([...head, ...frames, ...counters]);
    // An ambient near the frame's pressure, so that most gauge pressures are those of a bandage.
    const pressure = (memory[21]! << 16) | (memory[22]! << 8) | memory[23]!;
    const near = Math.min(16_128_000, Math.max(3_328_000, pressure - load));
    return madeReading({ memory, blocks, ambient: ambient && { ...ambient, pressure_raw: near } });
  });

const bodies = fc.oneof(
  octets(1, 60),
  fc.tuple(fc.integer({ min: 250, max: 1024 }), octet).map(([length, byte]) => new Uint8Array(length).fill(byte)),
);

/** Frames, noise and filling in any order, one frame damaged now and then, cut into chunks anywhere. */
const streams = fc
  .tuple(
    fc.array(
      fc.oneof(
        { weight: 3, arbitrary: damaged(bodies.map(encodeFrame), () => undefined) },
        { weight: 2, arbitrary: octets(1, 12) },
        { weight: 1, arbitrary: fc.constant(new Uint8Array(1)) },
      ),
      { minLength: 1, maxLength: 6 },
    ),
    fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 3 }),
  )
  .map(([pieces, cuts]) => {
    const wire = Uint8Array.from(pieces.flatMap((piece) => [...piece]));
    const places = [0, ...cuts.map((cut) => Math.floor(cut * wire.length)).sort((a, b) => a - b), wire.length];
    const chunks = places
      .slice(1)
      .map((to, i) => wire.subarray(places[i]!, to))
      .filter(({ length }) => length > 0);
    return chunks.length > 0 ? chunks : [new Uint8Array(1)];
  });

function messageBytes(id: string): fc.Arbitrary<Uint8Array> {
  const { direction, record: payload } = layout.messages.find((message) => message.id === id)!;
  const whole = fc
    .tuple(recordInput(record(payload)), fc.integer({ min: 0, max: 65_535 }))
    .map(([{ values, tails }, request]) => orThrow(encodeMessage(layout, id, direction, request, values, tails)));
  return damaged(whole, () => undefined);
}

/** Any 96 bits behind a header that is mostly known, and now and then too few or too many of them. */
const epcs = fc
  .tuple(
    fc.oneof({ weight: 6, arbitrary: fc.constantFrom(0x30, 0x33, 0x34) }, { weight: 1, arbitrary: octet }),
    fc.integer({ min: 0, max: 63 }),
    octets(10, 10),
    fc.boolean(),
  )
  .map(([header, second, rest, small]) => {
    const bytes = Uint8Array.from([header, (second << 2) | (rest[0]! & 3), ...rest]);
    // A small company prefix is one with as many digits as its partition allows.
    if (small) bytes.fill(0, 2, 4);
    return bytes;
  });

/** Every capability that cases are made for. */
export const makers: readonly Maker[] = [
  ...bankRecords.map((id) => ({ needs: `decode.${id}`, cases: recordBytes(id).map((bytes) => madeDecode(id, bytes)) })),
  ...bankRecords.map((id) => ({ needs: `encode.${id}`, cases: encodeCases(id) })),
  { needs: "slots", cases: slots.map(madeSlots) },
  { needs: "header", cases: recordBytes("header").map((bytes) => madeHeader(bytes.subarray(0, 16))) },
  { needs: "reading", cases: readings },
  { needs: "unframe", cases: streams.map(madeUnframe) },
  ...layout.messages.map(({ id }) => ({
    needs: `message.${id}`,
    cases: messageBytes(id).map((body) => madeMessage(id, body)),
  })),
  { needs: "epc", cases: damaged(epcs, () => undefined).map((bytes) => madeEpc(Buffer.from(bytes).toString("hex"))) },
];
