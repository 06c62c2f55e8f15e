/**
 * Frames decoded per second, in one run on one machine: the plain decoder, the binary-parser decoder, and the rival.
 * The ratios are what is worth quoting. Every way must find the same good frames and the same sum of pressures.
 */
import { makeDecoder } from "../../protocol/codec/decode.ts";
import { encode, isFault } from "../../protocol/codec/encode.ts";
import { decodeWithParser } from "../../protocol/codec/parser.ts";
import { rawOf } from "../../protocol/codec/record.ts";
import { compile, fieldIndex, recordOf } from "../../protocol/model/layout.ts";
import { sentence } from "../../protocol/model/reasons.ts";
import { specification } from "../../protocol/spec/plyframe.ts";
import { decodeNaively } from "./naive.ts";

const FRAMES = 200_000;
const ROUNDS = 7;

const record = recordOf(compile(specification), "frame");
const SIZE = record.bytes;
const PRESSURE = fieldIndex(record, "pressure");

/** One frame after another, one in 64 of them damaged. */
function makeFrames(): Uint8Array {
  const all = new Uint8Array(FRAMES * SIZE);
  for (let i = 0; i < FRAMES; i++) {
    const bytes = encode(record, {
      status: i % 97 === 0 ? 1 : 0,
      sequence: i & 0xffff,
      pressure: 12_969_600 + ((i * 7919) % 1_000_000),
      temperature: 3000 + (i % 700),
      supply: 1800 + (i % 400),
      uptime: i,
    });
    if (isFault(bytes)) throw new Error(sentence(bytes));
    if (i % 64 === 63) bytes[6]! ^= 0x10;
    all.set(bytes, i * SIZE);
  }
  return all;
}

interface Sum {
  readonly good: number;
  readonly pressure: number;
}

const plain = makeDecoder(record);
const raws = new Float64Array(record.fields.length);

const ways: { name: string; run: (all: Uint8Array) => Sum }[] = [
  {
    name: "naive binary-parser + crc",
    run: (all) => {
      let [good, pressure] = [0, 0];
      for (let at = 0; at < all.length; at += SIZE) {
        const frame = decodeNaively(all.subarray(at, at + SIZE));
        if (!frame) continue;
        good++;
        pressure += frame.pressure;
      }
      return { good, pressure };
    },
  },
  {
    name: "binary-parser decoder",
    run: (all) => {
      let [good, pressure] = [0, 0];
      for (let at = 0; at < all.length; at += SIZE) {
        const decoded = decodeWithParser(record, all, at, at + SIZE);
        if (isFault(decoded)) continue;
        good++;
        pressure += rawOf(decoded, "pressure");
      }
      return { good, pressure };
    },
  },
  {
    name: "plain decoder",
    run: (all) => {
      let [good, pressure] = [0, 0];
      for (let at = 0; at < all.length; at += SIZE) {
        if (plain(all, at, at + SIZE, raws) !== 0) continue;
        good++;
        pressure += raws[PRESSURE]!;
      }
      return { good, pressure };
    },
  },
];

const all = makeFrames();
const best = ways.map(() => Number.POSITIVE_INFINITY);
const sums: Sum[] = [];
for (let round = 0; round < ROUNDS; round++) {
  ways.forEach(({ run }, i) => {
    const start = process.hrtime.bigint();
    sums[i] = run(all);
    const seconds = Number(process.hrtime.bigint() - start) / 1e9;
    best[i] = Math.min(best[i]!, seconds);
  });
}
for (const sum of sums) {
  if (sum.good !== sums[0]!.good || sum.pressure !== sums[0]!.pressure) throw new Error("the ways do not agree");
}

const damaged = FRAMES - sums[0]!.good;
console.log(
  `${FRAMES} frames of ${SIZE} bytes, ${damaged} damaged; best of ${ROUNDS} rounds; Node ${process.version}\n`,
);
console.log(`${"way".padEnd(28)}${"million frames/s".padStart(18)}${"times the naive way".padStart(22)}`);
ways.forEach(({ name }, i) => {
  const rate = (FRAMES / best[i]! / 1e6).toFixed(2);
  const ratio = (best[0]! / best[i]!).toFixed(1);
  console.log(`${name.padEnd(28)}${rate.padStart(18)}${ratio.padStart(22)}`);
});
