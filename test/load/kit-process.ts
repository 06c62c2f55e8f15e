/**
 * A kit with many tags on a serial device, as a program of its own. What it says is kept in a file before the line gets it;
 * the line may be noisy: `kit-process.ts DEVICE TAGS SPEED NOISE_SHARE SEED TRUTH_FILE`.
 */
import { appendFileSync } from "node:fs";
import { openPort } from "../../host/transport/port.ts";
import { makeKit, serveKit } from "../../sim/index.ts";
import { Random } from "../../sim/random.ts";
import { manyTags } from "./many-tags.ts";

const [device, tags, speed, noise, seed, truth] = process.argv.slice(2) as [
  string,
  string,
  string,
  string,
  string,
  string,
];
const random = new Random(Number(seed), "noise");
const below = (end: number) => Math.floor(random.fraction() * end);

/** A run left out, a bit turned over or bytes put in. */
function spoilt(bytes: Uint8Array): Uint8Array {
  if (bytes.length === 0 || random.fraction() >= Number(noise)) return bytes;
  const at = below(bytes.length);
  const kind = below(3);
  if (kind === 0) return Uint8Array.from([...bytes.subarray(0, at), ...bytes.subarray(at + 1 + below(20))]);
  if (kind === 1) return bytes.map((byte, i) => (i === at ? byte ^ (1 << below(8)) : byte));
  const put = Array.from({ length: 1 + below(20) }, () => below(256));
  return Uint8Array.from([...bytes.subarray(0, at), ...put, ...bytes.subarray(at)]);
}

const kit = makeKit(manyTags(Number(tags), Number(seed)));
const port = await openPort(device);
console.log("ready");
await serveKit(
  {
    receive: (bytes) => kit.receive(bytes),
    advance: (toUs) => kit.advance(toUs),
    take: () => {
      const bytes = kit.take();
      if (bytes.length > 0) appendFileSync(truth, bytes);
      return spoilt(bytes);
    },
  },
  port.stream,
  { speed: Number(speed) },
).catch((error: Error) => console.log(error.message));
