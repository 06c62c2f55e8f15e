/** Our way, by engine and threads: node ours.mjs FILE WebAssembly|plain 1|2. Prints what it found as one line of JSON. */
import { startWorker } from "../../../dist/host/bulk/worker.js";

const [file, engineName, threads] = process.argv.slice(2);
// As the command does it: the second thread starts while the first one loads.
if (threads === "2") startWorker();
const { Account } = await import("../../../dist/host/bulk/account.js");
const { fileBatches } = await import("../../../dist/host/bulk/file-batches.js");
const { PlainEngine } = await import("../../../dist/host/bulk/plain-engine.js");
const { wasmEngine } = await import("../../../dist/host/bulk/wasm-engine.js");
const { layout } = await import("../../../dist/protocol/index.js");
const engine = engineName === "plain" ? new PlainEngine(layout) : wasmEngine(layout);
const account = new Account(layout);
const sums = { kitTimeUs: 0, sequence: 0, pressure: 0, temperature: 0, supply: 0, uptime: 0 };
const ids = ["sequence", "pressure", "temperature", "supply", "uptime"];
for await (const batch of fileBatches(file, layout, engine, account, { name: file, threads: Number(threads) })) {
  const { frame, kitTimeUs } = batch.reads;
  for (let row = 0; row < batch.rows; row++) sums.kitTimeUs += kitTimeUs[row];
  for (const id of ids) {
    const column = batch.fields[id];
    let sum = 0;
    for (let row = 0; row < batch.rows; row++) if (frame[row] === 0) sum += column[row];
    sums[id] += sum;
  }
}
const { lines } = account;
let unreadable = 0;
for (const { count } of account.unreadable.values()) unreadable += count;
const { user, system } = process.cpuUsage();
console.log(
  JSON.stringify({
    lines: lines.lines,
    headers: lines.headers,
    reads: lines.read,
    ambient: lines.ambient,
    blank: lines.blank,
    unreadable,
    goodFrames: account.frames,
    sums,
    rssKb: process.resourceUsage().maxRSS,
    cpuSeconds: (user + system) / 1e6,
  }),
);
