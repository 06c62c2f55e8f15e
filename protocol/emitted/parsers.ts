// Emitted from layout 1, fingerprint 028961a7: change protocol/spec/ and run "npm run emit".
import { Parser } from "binary-parser";

/** Reads the raw values of a record's fixed part, in the order of its fields, from at least that many bytes. */
export type Read = (bytes: Uint8Array) => number[];

/** Reads a record's tails; the bytes must hold as many elements as the counts say. */
export type ReadTails = (bytes: Uint8Array) => { [id: string]: number[] };

const headerContainers = new Parser()
  .uint16be("byte0")
  .uint32be("fingerprint")
  .uint16be("byte6")
  .uint16be("samplingPeriod")
  .uint32be("sensorSerial")
  .uint16be("seal");

/** Header: 16 bytes. */
export function readHeader(bytes: Uint8Array): number[] {
  const c = headerContainers.parse(bytes);
  return [
    (c.byte0 >>> 8) & 0xff, // dsfid: always 0
    (c.byte0 >>> 4) & 0xf, // kind: always 1
    c.byte0 & 0xf, // layout: always 1
    c.fingerprint, // fingerprint: 0 to 4294967295
    (c.byte6 >>> 8) & 0xff, // firmware_major: 0 to 255
    c.byte6 & 0xff, // firmware_minor: 0 to 255
    c.samplingPeriod, // sampling_period: 10 to 60000, 0.01 to 60 s
    c.sensorSerial, // sensor_serial: 1 to 4294967295
    c.seal, // seal: seal over bytes 0 to 13
  ];
}

const frameContainers = new Parser()
  .uint16be("byte0")
  .uint16be("sequence")
  .uint32be("byte4")
  .int16be("temperature")
  .uint32be("byte10")
  .uint16be("seal");

/** Sensor frame: 16 bytes. */
export function readFrame(bytes: Uint8Array): number[] {
  const c = frameContainers.parse(bytes);
  return [
    (c.byte0 >>> 12) & 0xf, // kind: always 2
    (c.byte0 >>> 8) & 0xf, // layout: always 1
    c.byte0 & 0xff, // status: flags in 0xff
    c.sequence, // sequence: 0 to 65535
    (c.byte4 >>> 24) & 0xff, // reserved: always 0
    c.byte4 & 0xffffff, // pressure: 3328000 to 16128000, 26000 to 126000 Pa, 16777215 not_measured
    c.temperature, // temperature: -4000 to 12500, -40 to 125 Cel, -32768 not_measured
    (c.byte10 >>> 20) & 0xfff, // supply: 0 to 4094, 0 to 4.094 V, 4095 not_measured
    c.byte10 & 0xfffff, // uptime: 0 to 1048574, 0 to 104857.4 s, 1048575 saturated
    c.seal, // seal: seal over bytes 0 to 13
  ];
}

const countersContainers = new Parser()
  .uint16be("byte0")
  .uint32be("coldStarts")
  .uint32be("byte6")
  .uint32be("frames")
  .uint16be("seal");

/** Counters: 16 bytes. */
export function readCounters(bytes: Uint8Array): number[] {
  const c = countersContainers.parse(bytes);
  return [
    (c.byte0 >>> 12) & 0xf, // kind: always 3
    (c.byte0 >>> 8) & 0xf, // layout: always 1
    c.byte0 & 0xff, // reuse_cycles: 0 to 254, 255 saturated
    c.coldStarts, // cold_starts: 0 to 4294967294, 4294967295 saturated
    (c.byte6 >>> 24) & 0xff, // fruitless_starts: 0 to 254, 255 saturated
    c.byte6 & 0xffffff, // brown_outs: 0 to 16777214, 16777215 saturated
    c.frames, // frames: 0 to 4294967294, 4294967295 saturated
    c.seal, // seal: seal over bytes 0 to 13
  ];
}

const calibrationContainers = new Parser()
  .uint16be("byte0")
  .uint16be("date")
  .uint32be("sensorSerial")
  .uint32be("byte8")
  .uint32be("byte12")
  .int16be("temperatureEffect")
  .int16be("gainTemperature")
  .int16be("curvature")
  .int16be("referenceTemperature")
  .uint16be("expandedUncertainty")
  .uint16be("byte26")
  .uint16be("byte28")
  .uint16be("seal");

/** Calibration block: 32 bytes. */
export function readCalibration(bytes: Uint8Array): number[] {
  const c = calibrationContainers.parse(bytes);
  return [
    (c.byte0 >>> 12) & 0xf, // kind: always 4
    (c.byte0 >>> 8) & 0xf, // layout: always 1
    (c.byte0 >>> 4) & 0xf, // method: one of 1 bench_two_point, 2 bench_multi_point, 3 bench_with_temperature, 4 limb_form, 5 zero_only
    c.byte0 & 0xf, // reuse_since: 0 to 14, 15 saturated
    c.date, // date: 0 to 65534, 0 to 65534 d, 65535 not_stated
    c.sensorSerial, // sensor_serial: 1 to 4294967295
    (c.byte8 >>> 24) & 0xff, // reuse_count: 0 to 254
    (c.byte8 << 8) >> 8, // offset: -8388608 to 8388607, -65536 to 65535.9921875 Pa
    (c.byte12 >>> 24) & 0xff, // reuse_limit: 0 to 254, 255 not_limited
    c.byte12 & 0xffffff, // gain: 262144 to 4194304, 0.25 to 4
    c.temperatureEffect, // temperature_effect: -32768 to 32767, -512 to 511.984375 Pa/K
    c.gainTemperature, // gain_temperature: -32768 to 32767, -0.032768 to 0.032767 1/K
    c.curvature, // curvature: -32768 to 32767, -0.000032768 to 0.000032767 1/Pa
    c.referenceTemperature, // reference_temperature: -4000 to 12500, -40 to 125 Cel
    c.expandedUncertainty, // expanded_uncertainty: 0 to 65534, 0 to 65534 Pa, 65535 not_stated
    (c.byte26 << 16) >> 24, // temperature_low: -40 to 125, -40 to 125 Cel
    (c.byte26 << 24) >> 24, // temperature_high: -40 to 125, -40 to 125 Cel
    (c.byte28 >>> 8) & 0xff, // span: 1 to 255, 1 to 255 hPa
    c.byte28 & 0xff, // validity: 1 to 254, 1 to 254 mo, 255 not_limited
    c.seal, // seal: seal over bytes 0 to 29
  ];
}

const burstContainers = new Parser()
  .uint16be("byte0")
  .uint16be("sequence")
  .uint32be("byte4")
  .uint16be("interval")
  .int16be("temperature")
  .array("samples", { type: "int16be", length: 25 })
  .uint16be("seal");

/** Burst block: 64 bytes. */
export function readBurst(bytes: Uint8Array): number[] {
  const c = burstContainers.parse(bytes);
  return [
    (c.byte0 >>> 12) & 0xf, // kind: always 5
    (c.byte0 >>> 8) & 0xf, // layout: always 1
    c.byte0 & 0xff, // status: flags in 0xff
    c.sequence, // sequence: 0 to 65535
    (c.byte4 >>> 24) & 0xff, // count: 0 to 25
    c.byte4 & 0xffffff, // pressure: 3328000 to 16128000, 26000 to 126000 Pa, 16777215 not_measured
    c.interval, // interval: 1 to 10000, 0.001 to 10 s
    c.temperature, // temperature: -4000 to 12500, -40 to 125 Cel, -32768 not_measured
    c.samples[0], // samples[0]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[1], // samples[1]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[2], // samples[2]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[3], // samples[3]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[4], // samples[4]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[5], // samples[5]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[6], // samples[6]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[7], // samples[7]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[8], // samples[8]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[9], // samples[9]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[10], // samples[10]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[11], // samples[11]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[12], // samples[12]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[13], // samples[13]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[14], // samples[14]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[15], // samples[15]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[16], // samples[16]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[17], // samples[17]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[18], // samples[18]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[19], // samples[19]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[20], // samples[20]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[21], // samples[21]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[22], // samples[22]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[23], // samples[23]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.samples[24], // samples[24]: -32767 to 32767, -16383.5 to 16383.5 Pa, -32768 not_sampled
    c.seal, // seal: seal over bytes 0 to 61
  ];
}

const passwordsContainers = new Parser()
  .uint32be("killPassword")
  .uint32be("accessPassword");

/** Kill and access passwords: 8 bytes. */
export function readPasswords(bytes: Uint8Array): number[] {
  const c = passwordsContainers.parse(bytes);
  return [
    c.killPassword, // kill_password: 0 to 4294967295
    c.accessPassword, // access_password: 0 to 4294967295
  ];
}

const epcContainers = new Parser()
  .uint16be("storedCrc")
  .uint16be("byte2")
  .array("epc", { type: "uint16be", length: 6 });

/** EPC with StoredCRC and StoredPC: 16 bytes. */
export function readEpc(bytes: Uint8Array): number[] {
  const c = epcContainers.parse(bytes);
  return [
    c.storedCrc, // stored_crc: air over bytes 2 to 15
    (c.byte2 >>> 11) & 0x1f, // epc_length: 6, 6 word
    (c.byte2 >>> 9) & 0x3, // indicators: flags in 0x3
    (c.byte2 >>> 8) & 0x1, // toggle: always 0
    c.byte2 & 0xff, // attributes: always 0
    c.epc[0], // epc[0]: 0 to 65535
    c.epc[1], // epc[1]: 0 to 65535
    c.epc[2], // epc[2]: 0 to 65535
    c.epc[3], // epc[3]: 0 to 65535
    c.epc[4], // epc[4]: 0 to 65535
    c.epc[5], // epc[5]: 0 to 65535
  ];
}

const xpcContainers = new Parser()
  .uint16be("xpcW1");

/** XPC_W1: 2 bytes. */
export function readXpc(bytes: Uint8Array): number[] {
  const c = xpcContainers.parse(bytes);
  return [
    c.xpcW1, // xpc_w1: flags in 0x8fff
  ];
}

const tidContainers = new Parser()
  .uint32be("byte0")
  .uint16be("xtidHeader")
  .array("serial", { type: "uint16be", length: 3 });

/** TID with XTID and serial: 12 bytes. */
export function readTid(bytes: Uint8Array): number[] {
  const c = tidContainers.parse(bytes);
  return [
    (c.byte0 >>> 24) & 0xff, // class: always 226
    (c.byte0 >>> 21) & 0x7, // features: flags in 0x7
    (c.byte0 >>> 12) & 0x1ff, // designer: 0 to 511
    c.byte0 & 0xfff, // model: 0 to 4095
    c.xtidHeader, // xtid_header: always 8192
    c.serial[0], // serial[0]: 0 to 65535
    c.serial[1], // serial[1]: 0 to 65535
    c.serial[2], // serial[2]: 0 to 65535
  ];
}

const envelopeContainers = new Parser()
  .uint8("type")
  .uint16be("request");

/** Start of every message: 3 bytes. */
export function readEnvelope(bytes: Uint8Array): number[] {
  const c = envelopeContainers.parse(bytes);
  return [
    c.type, // type: 0 to 255
    c.request, // request: 0 to 65535
  ];
}

const helloContainers = new Parser()
  .uint8("linkVersion")
  .uint8("maxOutstanding");

/** Hello: 2 bytes. */
export function readHello(bytes: Uint8Array): number[] {
  const c = helloContainers.parse(bytes);
  return [
    c.linkVersion, // link_version: 1 to 255
    c.maxOutstanding, // max_outstanding: 1 to 255
  ];
}

const welcomeContainers = new Parser()
  .uint8("linkVersion")
  .uint8("maxOutstanding")
  .uint16be("capabilities")
  .int16be("powerLow")
  .int16be("powerHigh")
  .uint16be("barometerUncertainty")
  .uint64be("byte10");

/** Answer to hello: 18 bytes. */
export function readWelcome(bytes: Uint8Array): number[] {
  const c = welcomeContainers.parse(bytes);
  return [
    c.linkVersion, // link_version: 1 to 255
    c.maxOutstanding, // max_outstanding: 1 to 255
    c.capabilities, // capabilities: flags in 0x003f
    c.powerLow, // power_low: -32768 to 32767, -327.68 to 327.67 dBm
    c.powerHigh, // power_high: -32768 to 32767, -327.68 to 327.67 dBm
    c.barometerUncertainty, // barometer_uncertainty: 0 to 65534, 0 to 65534 Pa, 65535 not_stated
    Number(BigInt.asUintN(16, c.byte10 >> 48n)), // kit_time_reserved: always 0
    Number(BigInt.asUintN(48, c.byte10)), // kit_time: 0 to 281474976710655, 0 to 281474976710655 us
  ];
}

const setPowerContainers = new Parser()
  .int16be("power");

/** Set transmit power: 2 bytes. */
export function readSetPower(bytes: Uint8Array): number[] {
  const c = setPowerContainers.parse(bytes);
  return [
    c.power, // power: -32768 to 32767, -327.68 to 327.67 dBm
  ];
}

const setChannelPlanContainers = new Parser()
  .uint8("plan");

/** Set channel plan: 1 bytes. */
export function readSetChannelPlan(bytes: Uint8Array): number[] {
  const c = setChannelPlanContainers.parse(bytes);
  return [
    c.plan, // plan: one of 1 eu_lower, 2 eu_upper, 3 us
  ];
}

const startInventoryContainers = new Parser()
  .uint16be("period")
  .uint8("bank")
  .uint16be("pointer")
  .uint8("wordCount");

/** Start inventory: 6 bytes. */
export function readStartInventory(bytes: Uint8Array): number[] {
  const c = startInventoryContainers.parse(bytes);
  return [
    c.period, // period: 10 to 60000, 0.01 to 60 s
    c.bank, // bank: one of 0 reserved, 1 epc, 2 tid, 3 user
    c.pointer, // pointer: 0 to 65535
    c.wordCount, // word_count: 0 to 255, 0 to 255 word
  ];
}

const stopInventoryContainers = new Parser();

/** Stop inventory: 0 bytes. */
export function readStopInventory(bytes: Uint8Array): number[] {
  stopInventoryContainers.parse(bytes);
  return [];
}

const readContainers = new Parser()
  .uint32be("password")
  .uint8("bank")
  .uint16be("pointer")
  .uint8("wordCount")
  .uint8("epcWords");

/** Read: 9 bytes. */
export function readRead(bytes: Uint8Array): number[] {
  const c = readContainers.parse(bytes);
  return [
    c.password, // password: 0 to 4294967295
    c.bank, // bank: one of 0 reserved, 1 epc, 2 tid, 3 user
    c.pointer, // pointer: 0 to 65535
    c.wordCount, // word_count: 0 to 255, 0 to 255 word
    c.epcWords, // epc_words: 0 to 31, 0 to 31 word
  ];
}

const readWhole = new Parser()
  .nest("fixed", { type: readContainers })
  .array("epc", { type: "uint16be", length: (whole) => whole.fixed.epcWords });

/** Read: what follows the fixed part. */
export function readReadTails(bytes: Uint8Array): { [id: string]: number[] } {
  const whole = readWhole.parse(bytes);
  return { epc: whole.epc };
}

const writeContainers = new Parser()
  .uint32be("password")
  .uint8("bank")
  .uint16be("pointer")
  .uint8("wordCount")
  .uint8("epcWords");

/** Write: 9 bytes. */
export function readWrite(bytes: Uint8Array): number[] {
  const c = writeContainers.parse(bytes);
  return [
    c.password, // password: 0 to 4294967295
    c.bank, // bank: one of 0 reserved, 1 epc, 2 tid, 3 user
    c.pointer, // pointer: 0 to 65535
    c.wordCount, // word_count: 0 to 255, 0 to 255 word
    c.epcWords, // epc_words: 0 to 31, 0 to 31 word
  ];
}

const writeWhole = new Parser()
  .nest("fixed", { type: writeContainers })
  .array("epc", { type: "uint16be", length: (whole) => whole.fixed.epcWords })
  .array("words", { type: "uint16be", length: (whole) => whole.fixed.wordCount });

/** Write: what follows the fixed part. */
export function readWriteTails(bytes: Uint8Array): { [id: string]: number[] } {
  const whole = writeWhole.parse(bytes);
  return { epc: whole.epc, words: whole.words };
}

const blockWriteContainers = new Parser()
  .uint32be("password")
  .uint8("bank")
  .uint16be("pointer")
  .uint8("wordCount")
  .uint8("epcWords");

/** Block write: 9 bytes. */
export function readBlockWrite(bytes: Uint8Array): number[] {
  const c = blockWriteContainers.parse(bytes);
  return [
    c.password, // password: 0 to 4294967295
    c.bank, // bank: one of 0 reserved, 1 epc, 2 tid, 3 user
    c.pointer, // pointer: 0 to 65535
    c.wordCount, // word_count: 0 to 255, 0 to 255 word
    c.epcWords, // epc_words: 0 to 31, 0 to 31 word
  ];
}

const blockWriteWhole = new Parser()
  .nest("fixed", { type: blockWriteContainers })
  .array("epc", { type: "uint16be", length: (whole) => whole.fixed.epcWords })
  .array("words", { type: "uint16be", length: (whole) => whole.fixed.wordCount });

/** Block write: what follows the fixed part. */
export function readBlockWriteTails(bytes: Uint8Array): { [id: string]: number[] } {
  const whole = blockWriteWhole.parse(bytes);
  return { epc: whole.epc, words: whole.words };
}

const lockContainers = new Parser()
  .uint32be("password")
  .uint32be("byte4")
  .uint8("epcWords");

/** Lock: 9 bytes. */
export function readLock(bytes: Uint8Array): number[] {
  const c = lockContainers.parse(bytes);
  return [
    c.password, // password: 0 to 4294967295
    (c.byte4 >>> 20) & 0xfff, // lock_reserved: always 0
    (c.byte4 >>> 10) & 0x3ff, // mask: 0 to 1023
    c.byte4 & 0x3ff, // action: 0 to 1023
    c.epcWords, // epc_words: 0 to 31, 0 to 31 word
  ];
}

const lockWhole = new Parser()
  .nest("fixed", { type: lockContainers })
  .array("epc", { type: "uint16be", length: (whole) => whole.fixed.epcWords });

/** Lock: what follows the fixed part. */
export function readLockTails(bytes: Uint8Array): { [id: string]: number[] } {
  const whole = lockWhole.parse(bytes);
  return { epc: whole.epc };
}

const killContainers = new Parser()
  .uint32be("password")
  .uint8("epcWords");

/** Kill: 5 bytes. */
export function readKill(bytes: Uint8Array): number[] {
  const c = killContainers.parse(bytes);
  return [
    c.password, // password: 1 to 4294967295
    c.epcWords, // epc_words: 0 to 31, 0 to 31 word
  ];
}

const killWhole = new Parser()
  .nest("fixed", { type: killContainers })
  .array("epc", { type: "uint16be", length: (whole) => whole.fixed.epcWords });

/** Kill: what follows the fixed part. */
export function readKillTails(bytes: Uint8Array): { [id: string]: number[] } {
  const whole = killWhole.parse(bytes);
  return { epc: whole.epc };
}

const keepAliveContainers = new Parser();

/** Keep-alive: 0 bytes. */
export function readKeepAlive(bytes: Uint8Array): number[] {
  keepAliveContainers.parse(bytes);
  return [];
}

const doneContainers = new Parser();

/** Done: 0 bytes. */
export function readDone(bytes: Uint8Array): number[] {
  doneContainers.parse(bytes);
  return [];
}

const accessAnswerContainers = new Parser()
  .uint8("result")
  .uint8("wordCount")
  .uint64be("byte2");

/** Answer to an access: 10 bytes. */
export function readAccessAnswer(bytes: Uint8Array): number[] {
  const c = accessAnswerContainers.parse(bytes);
  return [
    c.result, // result: one of 0 done, 1 not_asked, 60 tag_lost, 61 tag_memory_overrun, 62 tag_memory_locked, 63 tag_power_insufficient, 64 tag_error, 65 password_wrong
    c.wordCount, // word_count: 0 to 255, 0 to 255 word
    Number(BigInt.asUintN(16, c.byte2 >> 48n)), // kit_time_reserved: always 0
    Number(BigInt.asUintN(48, c.byte2)), // kit_time: 0 to 281474976710655, 0 to 281474976710655 us
  ];
}

const accessAnswerWhole = new Parser()
  .nest("fixed", { type: accessAnswerContainers })
  .array("words", { type: "uint16be", length: (whole) => whole.fixed.wordCount });

/** Answer to an access: what follows the fixed part. */
export function readAccessAnswerTails(bytes: Uint8Array): { [id: string]: number[] } {
  const whole = accessAnswerWhole.parse(bytes);
  return { words: whole.words };
}

const errorContainers = new Parser()
  .uint8("reason")
  .uint8("about")
  .uint16be("byte");

/** Error: 4 bytes. */
export function readError(bytes: Uint8Array): number[] {
  const c = errorContainers.parse(bytes);
  return [
    c.reason, // reason: 1 to 255
    c.about, // about: 0 to 255
    c.byte, // byte: 0 to 65535
  ];
}

const tagReportContainers = new Parser()
  .uint64be("byte0")
  .uint16be("pc")
  .uint16be("xpc")
  .int16be("rssi")
  .uint32be("frequency")
  .uint8("result")
  .uint8("bank")
  .uint16be("pointer")
  .uint8("wordCount")
  .uint8("epcWords");

/** Tag report: 24 bytes. */
export function readTagReport(bytes: Uint8Array): number[] {
  const c = tagReportContainers.parse(bytes);
  return [
    Number(BigInt.asUintN(16, c.byte0 >> 48n)), // kit_time_reserved: always 0
    Number(BigInt.asUintN(48, c.byte0)), // kit_time: 0 to 281474976710655, 0 to 281474976710655 us
    c.pc, // pc: 0 to 65535
    c.xpc, // xpc: 0 to 65535
    c.rssi, // rssi: -32767 to 32767, -3276.7 to 3276.7 dBm, -32768 not_measured
    c.frequency, // frequency: 0 to 4294967295, 0 to 4294967295 kHz
    c.result, // result: one of 0 done, 1 not_asked, 60 tag_lost, 61 tag_memory_overrun, 62 tag_memory_locked, 63 tag_power_insufficient, 64 tag_error, 65 password_wrong
    c.bank, // bank: one of 0 reserved, 1 epc, 2 tid, 3 user
    c.pointer, // pointer: 0 to 65535
    c.wordCount, // word_count: 0 to 255, 0 to 255 word
    c.epcWords, // epc_words: 0 to 31, 0 to 31 word
  ];
}

const tagReportWhole = new Parser()
  .nest("fixed", { type: tagReportContainers })
  .array("epc", { type: "uint16be", length: (whole) => whole.fixed.epcWords })
  .array("words", { type: "uint16be", length: (whole) => whole.fixed.wordCount });

/** Tag report: what follows the fixed part. */
export function readTagReportTails(bytes: Uint8Array): { [id: string]: number[] } {
  const whole = tagReportWhole.parse(bytes);
  return { epc: whole.epc, words: whole.words };
}

const ambientReportContainers = new Parser()
  .uint64be("byte0")
  .uint32be("pressure")
  .int16be("temperature");

/** Ambient report: 14 bytes. */
export function readAmbientReport(bytes: Uint8Array): number[] {
  const c = ambientReportContainers.parse(bytes);
  return [
    Number(BigInt.asUintN(16, c.byte0 >> 48n)), // kit_time_reserved: always 0
    Number(BigInt.asUintN(48, c.byte0)), // kit_time: 0 to 281474976710655, 0 to 281474976710655 us
    c.pressure, // pressure: 3328000 to 16128000, 26000 to 126000 Pa
    c.temperature, // temperature: -4000 to 12500, -40 to 125 Cel, -32768 not_measured
  ];
}

/** The reader of each record's fixed part. */
export const readers: { readonly [record: string]: Read } = {
  header: readHeader,
  frame: readFrame,
  counters: readCounters,
  calibration: readCalibration,
  burst: readBurst,
  passwords: readPasswords,
  epc: readEpc,
  xpc: readXpc,
  tid: readTid,
  envelope: readEnvelope,
  hello: readHello,
  welcome: readWelcome,
  set_power: readSetPower,
  set_channel_plan: readSetChannelPlan,
  start_inventory: readStartInventory,
  stop_inventory: readStopInventory,
  read: readRead,
  write: readWrite,
  block_write: readBlockWrite,
  lock: readLock,
  kill: readKill,
  keep_alive: readKeepAlive,
  done: readDone,
  access_answer: readAccessAnswer,
  error: readError,
  tag_report: readTagReport,
  ambient_report: readAmbientReport,
};

/** The reader of the tails of each record that has some. */
export const tailReaders: { readonly [record: string]: ReadTails } = {
  read: readReadTails,
  write: readWriteTails,
  block_write: readBlockWriteTails,
  lock: readLockTails,
  kill: readKillTails,
  access_answer: readAccessAnswerTails,
  tag_report: readTagReportTails,
};
