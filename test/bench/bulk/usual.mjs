/**
 * The usual program: readline, JSON.parse, binary-parser and crc, a line at a time, into the same columns with the same checks.
 * Prints what it found as one line of JSON. Places and ranges are written here by hand from the memory map.
 */
import { createReadStream } from "node:fs";
import { createInterface } from "node:readline";
import { Parser } from "binary-parser";
import { crc16ccitt } from "crc";

const PRESET = 0x504c;
const FINGERPRINT = Number.parseInt(process.argv[3], 16);

const headerChain = new Parser()
  .endianness("big")
  .uint8("dsfid")
  .bit4("kind")
  .bit4("layout")
  .uint32("fingerprint")
  .uint8("firmwareMajor")
  .uint8("firmwareMinor")
  .uint16("samplingPeriod")
  .uint32("sensorSerial")
  .uint16("seal");
const frameChain = new Parser()
  .endianness("big")
  .bit4("kind")
  .bit4("layout")
  .uint8("status")
  .uint16("sequence")
  .uint8("reserved")
  .bit24("pressure")
  .int16("temperature")
  .bit12("supply")
  .bit20("uptime")
  .uint16("seal");
const countersChain = new Parser()
  .endianness("big")
  .bit4("kind")
  .bit4("layout")
  .uint8("reuseCycles")
  .uint32("coldStarts")
  .uint16("fruitlessStarts")
  .uint16("brownOuts")
  .uint32("frames")
  .uint16("seal");

const ROWS = 65_536;
const columns = {
  kitTimeUs: new Float64Array(ROWS),
  tag: new Array(ROWS).fill(""),
  pc: new Uint16Array(ROWS),
  xpc: new Uint16Array(ROWS),
  rssiDbm: new Float64Array(ROWS),
  frequencyKhz: new Float64Array(ROWS),
  slot: new Uint8Array(ROWS),
  status: new Int32Array(ROWS),
  sequence: new Int32Array(ROWS),
  pressure: new Int32Array(ROWS),
  temperature: new Int32Array(ROWS),
  supply: new Int32Array(ROWS),
  uptime: new Int32Array(ROWS),
};
const found = {
  lines: 0,
  headers: 0,
  reads: 0,
  ambient: 0,
  blank: 0,
  unreadable: 0,
  goodFrames: 0,
  sums: { kitTimeUs: 0, sequence: 0, pressure: 0, temperature: 0, supply: 0, uptime: 0 },
};
const RESULTS = new Set(
  "done not_asked tag_lost tag_memory_overrun tag_memory_locked tag_power_insufficient tag_error password_wrong".split(
    " ",
  ),
);
const BANKS = new Set(["reserved", "epc", "tid", "user"]);
const WORD = /^[0-9a-f]{4}$/i;
const WORDS = /^([0-9a-f]{4})*$/i;

function isWhole(value, high) {
  return Number.isInteger(value) && value >= 0 && value <= high;
}

function isRead(r) {
  return (
    isWhole(r.kit_time_us, 2 ** 48 - 1) &&
    typeof r.epc === "string" &&
    r.epc.length <= 124 &&
    WORDS.test(r.epc) &&
    WORD.test(r.pc) &&
    WORD.test(r.xpc) &&
    (r.rssi_dbm === null || (typeof r.rssi_dbm === "number" && Math.abs(r.rssi_dbm) <= 3276.7)) &&
    isWhole(r.frequency_khz, 2 ** 32 - 1) &&
    RESULTS.has(r.result) &&
    BANKS.has(r.bank) &&
    isWhole(r.word, 65_535) &&
    typeof r.words === "string" &&
    r.words.length <= 1020 &&
    WORDS.test(r.words)
  );
}

function sealed(bytes, at, chain, kind) {
  const record = bytes.subarray(at, at + 16);
  const parsed = chain.parse(record);
  if (crc16ccitt(record.subarray(0, 14), PRESET) !== parsed.seal) return null;
  return parsed.kind === kind && parsed.layout === 1 ? parsed : null;
}

function frameAt(bytes, at) {
  const frame = sealed(bytes, at, frameChain, 2);
  if (frame?.reserved !== 0) return null;
  if ((frame.pressure < 3_328_000 || frame.pressure > 16_128_000) && frame.pressure !== 0xffffff) return null;
  if ((frame.temperature < -4000 || frame.temperature > 12_500) && frame.temperature !== -32_768) return null;
  return frame;
}

function newest(a, b) {
  if (!a || !b) return a ?? b;
  const ahead = (a.sequence - b.sequence) & 0xffff;
  return ahead === 0x8000 ? null : ahead < 0x8000 ? a : b;
}

function takeRead(r) {
  const row = found.reads++ % ROWS;
  columns.kitTimeUs[row] = r.kit_time_us;
  columns.tag[row] = r.epc;
  columns.pc[row] = Number.parseInt(r.pc, 16);
  columns.xpc[row] = Number.parseInt(r.xpc, 16);
  columns.rssiDbm[row] = r.rssi_dbm ?? Number.NaN;
  columns.frequencyKhz[row] = r.frequency_khz;
  columns.slot[row] = 0;
  found.sums.kitTimeUs += r.kit_time_us;
  if (r.result !== "done" || r.bank !== "user" || r.word !== 0 || r.words.length !== 128) return;
  const bytes = Buffer.from(r.words, "hex");
  const header = sealed(bytes, 0, headerChain, 1);
  const isOurs = header?.fingerprint === FINGERPRINT && header.dsfid === 0 && header.sensorSerial > 0;
  const [a, b] = [frameAt(bytes, 16), frameAt(bytes, 32)];
  sealed(bytes, 48, countersChain, 3);
  const frame = newest(a, b);
  if (!frame || !isOurs || header.samplingPeriod < 10 || header.samplingPeriod > 60_000) return;
  columns.slot[row] = frame === a ? 1 : 2;
  for (const id of ["status", "sequence", "pressure", "temperature", "supply", "uptime"]) columns[id][row] = frame[id];
  found.goodFrames++;
  for (const id of ["sequence", "pressure", "temperature", "supply", "uptime"]) found.sums[id] += frame[id];
}

for await (const line of createInterface({ input: createReadStream(process.argv[2]) })) {
  found.lines++;
  if (line.trim() === "") {
    found.blank++;
    continue;
  }
  let record = null;
  try {
    record = JSON.parse(line);
  } catch {
    found.unreadable++;
    continue;
  }
  if (record.record === "capture") found.headers++;
  else if (record.record === "ambient") found.ambient++;
  else if (record.record === "read" && isRead(record)) takeRead(record);
  else found.unreadable++;
}
const { user, system } = process.cpuUsage();
console.log(JSON.stringify({ ...found, rssKb: process.resourceUsage().maxRSS, cpuSeconds: (user + system) / 1e6 }));
