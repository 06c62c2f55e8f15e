/** A bad line between two serial devices, as a program of its own: `noise-process.ts KIT_DEVICE HOST_DEVICE SHARE SEED`. */
import { openPort } from "../../host/transport/port.ts";
import { Random } from "../../sim/random.ts";

const [kitDevice, hostDevice, share, seed] = process.argv.slice(2) as [string, string, string, string];
const random = new Random(Number(seed), "noise");
const below = (end: number) => Math.floor(random.fraction() * end);

/** A run left out, a bit turned over or bytes put in. */
function spoilt(bytes: Uint8Array): Uint8Array {
  if (random.fraction() >= Number(share)) return bytes;
  const at = below(bytes.length);
  const kind = below(3);
  if (kind === 0) return Uint8Array.from([...bytes.subarray(0, at), ...bytes.subarray(at + 1 + below(20))]);
  if (kind === 1) return bytes.map((byte, i) => (i === at ? byte ^ (1 << below(8)) : byte));
  const put = Array.from({ length: 1 + below(20) }, () => below(256));
  return Uint8Array.from([...bytes.subarray(0, at), ...put, ...bytes.subarray(at)]);
}

const [kit, host] = [(await openPort(kitDevice)).stream, (await openPort(hostDevice)).stream];
const forward = async (from: typeof kit, to: typeof kit, change: (bytes: Uint8Array) => Uint8Array) => {
  for await (const bytes of from as AsyncIterable<Uint8Array>) {
    // A line that takes no more makes the sender wait.
    if (!to.write(change(bytes))) await new Promise((resolve) => to.once("drain", resolve));
  }
};
console.log("ready");
await Promise.all([forward(kit, host, spoilt), forward(host, kit, (bytes) => bytes)]);
