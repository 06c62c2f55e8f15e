// Emitted from layout 1, fingerprint 028961a7: change protocol/spec/ and run "npm run emit".

/** Raw values: header. */
export interface HeaderRaws {
  readonly dsfid: 0;
  readonly kind: 1;
  readonly layout: 1;
  /** 0 to 4294967295 */
  readonly fingerprint: number;
  /** 0 to 255 */
  readonly firmwareMajor: number;
  /** 0 to 255 */
  readonly firmwareMinor: number;
  /** 10 to 60000 */
  readonly samplingPeriod: number;
  /** 1 to 4294967295 */
  readonly sensorSerial: number;
  readonly seal: number;
}

/** Physical values: header. */
export interface HeaderValues {
  /** 0 to 4294967295 */
  readonly fingerprint: number;
  /** 0 to 255 */
  readonly firmwareMajor: number;
  /** 0 to 255 */
  readonly firmwareMinor: number;
  /** 0.01 to 60 s */
  readonly samplingPeriodS: number;
  /** 1 to 4294967295 */
  readonly sensorSerial: number;
}

export type FrameStatus =
  | "first_after_cold_start"
  | "brown_out"
  | "sensor_fault"
  | "pressure_at_limit"
  | "sample_lost"
  | "calibration_missing"
  | "supply_low"
  | "burst_ready";

/** Raw values: sensor frame. */
export interface FrameRaws {
  readonly kind: 2;
  readonly layout: 1;
  readonly status: number;
  /** 0 to 65535 */
  readonly sequence: number;
  readonly reserved: 0;
  /** 3328000 to 16128000; 16777215: not_measured */
  readonly pressure: number;
  /** -4000 to 12500; -32768: not_measured */
  readonly temperature: number;
  /** 0 to 4094; 4095: not_measured */
  readonly supply: number;
  /** 0 to 1048574; 1048575: saturated */
  readonly uptime: number;
  readonly seal: number;
}

/** Physical values: sensor frame. */
export interface FrameValues {
  readonly status: readonly FrameStatus[];
  /** 0 to 65535 */
  readonly sequence: number;
  /** 26000 to 126000 Pa */
  readonly pressurePa: number | null;
  /** -40 to 125 Cel */
  readonly temperatureC: number | null;
  /** 0 to 4.094 V */
  readonly supplyV: number | null;
  /** 0 to 104857.4 s */
  readonly uptimeS: number;
}

/** Raw values: counters. */
export interface CountersRaws {
  readonly kind: 3;
  readonly layout: 1;
  /** 0 to 254; 255: saturated */
  readonly reuseCycles: number;
  /** 0 to 4294967294; 4294967295: saturated */
  readonly coldStarts: number;
  /** 0 to 254; 255: saturated */
  readonly fruitlessStarts: number;
  /** 0 to 16777214; 16777215: saturated */
  readonly brownOuts: number;
  /** 0 to 4294967294; 4294967295: saturated */
  readonly frames: number;
  readonly seal: number;
}

/** Physical values: counters. */
export interface CountersValues {
  /** 0 to 254 */
  readonly reuseCycles: number;
  /** 0 to 4294967294 */
  readonly coldStarts: number;
  /** 0 to 254 */
  readonly fruitlessStarts: number;
  /** 0 to 16777214 */
  readonly brownOuts: number;
  /** 0 to 4294967294 */
  readonly frames: number;
}

export type CalibrationMethod =
  | "bench_two_point"
  | "bench_multi_point"
  | "bench_with_temperature"
  | "limb_form"
  | "zero_only";

/** Raw values: calibration block. */
export interface CalibrationRaws {
  readonly kind: 4;
  readonly layout: 1;
  readonly method: number;
  /** 0 to 14; 15: saturated */
  readonly reuseSince: number;
  /** 0 to 65534; 65535: not_stated */
  readonly date: number;
  /** 1 to 4294967295 */
  readonly sensorSerial: number;
  /** 0 to 254 */
  readonly reuseCount: number;
  /** -8388608 to 8388607 */
  readonly offset: number;
  /** 0 to 254; 255: not_limited */
  readonly reuseLimit: number;
  /** 262144 to 4194304 */
  readonly gain: number;
  /** -32768 to 32767 */
  readonly temperatureEffect: number;
  /** -32768 to 32767 */
  readonly gainTemperature: number;
  /** -32768 to 32767 */
  readonly curvature: number;
  /** -4000 to 12500 */
  readonly referenceTemperature: number;
  /** 0 to 65534; 65535: not_stated */
  readonly expandedUncertainty: number;
  /** -40 to 125 */
  readonly temperatureLow: number;
  /** -40 to 125 */
  readonly temperatureHigh: number;
  /** 1 to 255 */
  readonly span: number;
  /** 1 to 254; 255: not_limited */
  readonly validity: number;
  readonly seal: number;
}

/** Physical values: calibration block. */
export interface CalibrationValues {
  readonly method: CalibrationMethod;
  /** 0 to 14 */
  readonly reuseSince: number;
  /** 0 to 65534 d */
  readonly dateDays: number | null;
  /** 1 to 4294967295 */
  readonly sensorSerial: number;
  /** 0 to 254 */
  readonly reuseCount: number;
  /** -65536 to 65535.9921875 Pa */
  readonly offsetPa: number;
  /** 0 to 254 */
  readonly reuseLimit: number | null;
  /** 0.25 to 4 */
  readonly gain: number;
  /** -512 to 511.984375 Pa/K */
  readonly temperatureEffectPaPerK: number;
  /** -0.032768 to 0.032767 1/K */
  readonly gainTemperaturePerK: number;
  /** -0.000032768 to 0.000032767 1/Pa */
  readonly curvaturePerPa: number;
  /** -40 to 125 Cel */
  readonly referenceTemperatureC: number;
  /** 0 to 65534 Pa */
  readonly expandedUncertaintyPa: number | null;
  /** -40 to 125 Cel */
  readonly temperatureLowC: number;
  /** -40 to 125 Cel */
  readonly temperatureHighC: number;
  /** 1 to 255 hPa */
  readonly spanHpa: number;
  /** 1 to 254 mo */
  readonly validityMonths: number | null;
}

export type BurstStatus =
  | "first_after_cold_start"
  | "brown_out"
  | "sensor_fault"
  | "pressure_at_limit"
  | "sample_lost"
  | "calibration_missing"
  | "supply_low"
  | "burst_ready";

/** Raw values: burst block. */
export interface BurstRaws {
  readonly kind: 5;
  readonly layout: 1;
  readonly status: number;
  /** 0 to 65535 */
  readonly sequence: number;
  /** 0 to 25 */
  readonly count: number;
  /** 3328000 to 16128000; 16777215: not_measured */
  readonly pressure: number;
  /** 1 to 10000 */
  readonly interval: number;
  /** -4000 to 12500; -32768: not_measured */
  readonly temperature: number;
  /** -32767 to 32767; -32768: not_sampled */
  readonly samples: readonly number[];
  readonly seal: number;
}

/** Physical values: burst block. */
export interface BurstValues {
  readonly status: readonly BurstStatus[];
  /** 0 to 65535 */
  readonly sequence: number;
  /** 0 to 25 */
  readonly count: number;
  /** 26000 to 126000 Pa */
  readonly pressurePa: number | null;
  /** 0.001 to 10 s */
  readonly intervalS: number;
  /** -40 to 125 Cel */
  readonly temperatureC: number | null;
  /** -16383.5 to 16383.5 Pa */
  readonly samplesPa: readonly (number | null)[];
}

/** Raw values: kill and access passwords. */
export interface PasswordsRaws {
  /** 0 to 4294967295 */
  readonly killPassword: number;
  /** 0 to 4294967295 */
  readonly accessPassword: number;
}

/** Physical values: kill and access passwords. */
export interface PasswordsValues {
  /** 0 to 4294967295 */
  readonly killPassword: number;
  /** 0 to 4294967295 */
  readonly accessPassword: number;
}

export type EpcIndicators =
  | "user_memory"
  | "extended";

/** Raw values: epc with storedcrc and storedpc. */
export interface EpcRaws {
  readonly storedCrc: number;
  /** 6 */
  readonly epcLength: number;
  readonly indicators: number;
  readonly toggle: 0;
  readonly attributes: 0;
  /** 0 to 65535 */
  readonly epc: readonly number[];
}

/** Physical values: epc with storedcrc and storedpc. */
export interface EpcValues {
  /** 6 word */
  readonly epcLength: number;
  readonly indicators: readonly EpcIndicators[];
  /** 0 to 65535 */
  readonly epc: readonly number[];
}

export type XpcXpcW1 =
  | "xeb"
  | "sensor_alarm"
  | "simple_sensor"
  | "full_function_sensor"
  | "snapshot_sensor"
  | "battery_assisted"
  | "computed_response"
  | "sl_indicator"
  | "notification"
  | "untraceable"
  | "killable"
  | "non_removable"
  | "hazmat";

/** Raw values: xpc_w1. */
export interface XpcRaws {
  readonly xpcW1: number;
}

/** Physical values: xpc_w1. */
export interface XpcValues {
  readonly xpcW1: readonly XpcXpcW1[];
}

export type TidFeatures =
  | "xtid"
  | "security"
  | "files";

/** Raw values: tid with xtid and serial. */
export interface TidRaws {
  readonly class: 226;
  readonly features: number;
  /** 0 to 511 */
  readonly designer: number;
  /** 0 to 4095 */
  readonly model: number;
  readonly xtidHeader: 8192;
  /** 0 to 65535 */
  readonly serial: readonly number[];
}

/** Physical values: tid with xtid and serial. */
export interface TidValues {
  readonly features: readonly TidFeatures[];
  /** 0 to 511 */
  readonly designer: number;
  /** 0 to 4095 */
  readonly model: number;
  /** 0 to 65535 */
  readonly serial: readonly number[];
}

/** Raw values: start of every message. */
export interface EnvelopeRaws {
  /** 0 to 255 */
  readonly type: number;
  /** 0 to 65535 */
  readonly request: number;
}

/** Physical values: start of every message. */
export interface EnvelopeValues {
  /** 0 to 255 */
  readonly type: number;
  /** 0 to 65535 */
  readonly request: number;
}

/** Raw values: hello. */
export interface HelloRaws {
  /** 1 to 255 */
  readonly linkVersion: number;
  /** 1 to 255 */
  readonly maxOutstanding: number;
}

/** Physical values: hello. */
export interface HelloValues {
  /** 1 to 255 */
  readonly linkVersion: number;
  /** 1 to 255 */
  readonly maxOutstanding: number;
}

export type WelcomeCapabilities =
  | "block_write"
  | "lock"
  | "barometer"
  | "eu_lower"
  | "eu_upper"
  | "us";

/** Raw values: answer to hello. */
export interface WelcomeRaws {
  /** 1 to 255 */
  readonly linkVersion: number;
  /** 1 to 255 */
  readonly maxOutstanding: number;
  readonly capabilities: number;
  /** -32768 to 32767 */
  readonly powerLow: number;
  /** -32768 to 32767 */
  readonly powerHigh: number;
  /** 0 to 65534; 65535: not_stated */
  readonly barometerUncertainty: number;
  readonly kitTimeReserved: 0;
  /** 0 to 281474976710655 */
  readonly kitTime: number;
}

/** Physical values: answer to hello. */
export interface WelcomeValues {
  /** 1 to 255 */
  readonly linkVersion: number;
  /** 1 to 255 */
  readonly maxOutstanding: number;
  readonly capabilities: readonly WelcomeCapabilities[];
  /** -327.68 to 327.67 dBm */
  readonly powerLowDbm: number;
  /** -327.68 to 327.67 dBm */
  readonly powerHighDbm: number;
  /** 0 to 65534 Pa */
  readonly barometerUncertaintyPa: number | null;
  /** 0 to 281474976710655 us */
  readonly kitTimeUs: number;
}

/** Raw values: set transmit power. */
export interface SetPowerRaws {
  /** -32768 to 32767 */
  readonly power: number;
}

/** Physical values: set transmit power. */
export interface SetPowerValues {
  /** -327.68 to 327.67 dBm */
  readonly powerDbm: number;
}

export type SetChannelPlanPlan =
  | "eu_lower"
  | "eu_upper"
  | "us";

/** Raw values: set channel plan. */
export interface SetChannelPlanRaws {
  readonly plan: number;
}

/** Physical values: set channel plan. */
export interface SetChannelPlanValues {
  readonly plan: SetChannelPlanPlan;
}

export type StartInventoryBank =
  | "reserved"
  | "epc"
  | "tid"
  | "user";

/** Raw values: start inventory. */
export interface StartInventoryRaws {
  /** 10 to 60000 */
  readonly period: number;
  readonly bank: number;
  /** 0 to 65535 */
  readonly pointer: number;
  /** 0 to 255 */
  readonly wordCount: number;
}

/** Physical values: start inventory. */
export interface StartInventoryValues {
  /** 0.01 to 60 s */
  readonly periodS: number;
  readonly bank: StartInventoryBank;
  /** 0 to 65535 */
  readonly pointer: number;
  /** 0 to 255 word */
  readonly wordCount: number;
}

/** Raw values: stop inventory. */
export interface StopInventoryRaws {
}

/** Physical values: stop inventory. */
export interface StopInventoryValues {
}

export type ReadBank =
  | "reserved"
  | "epc"
  | "tid"
  | "user";

/** Raw values: read. */
export interface ReadRaws {
  /** 0 to 4294967295 */
  readonly password: number;
  readonly bank: number;
  /** 0 to 65535 */
  readonly pointer: number;
  /** 0 to 255 */
  readonly wordCount: number;
  /** 0 to 31 */
  readonly epcWords: number;
}

/** Physical values: read. */
export interface ReadValues {
  /** 0 to 4294967295 */
  readonly password: number;
  readonly bank: ReadBank;
  /** 0 to 65535 */
  readonly pointer: number;
  /** 0 to 255 word */
  readonly wordCount: number;
  /** 0 to 31 word */
  readonly epcWords: number;
}

export type WriteBank =
  | "reserved"
  | "epc"
  | "tid"
  | "user";

/** Raw values: write. */
export interface WriteRaws {
  /** 0 to 4294967295 */
  readonly password: number;
  readonly bank: number;
  /** 0 to 65535 */
  readonly pointer: number;
  /** 0 to 255 */
  readonly wordCount: number;
  /** 0 to 31 */
  readonly epcWords: number;
}

/** Physical values: write. */
export interface WriteValues {
  /** 0 to 4294967295 */
  readonly password: number;
  readonly bank: WriteBank;
  /** 0 to 65535 */
  readonly pointer: number;
  /** 0 to 255 word */
  readonly wordCount: number;
  /** 0 to 31 word */
  readonly epcWords: number;
}

export type BlockWriteBank =
  | "reserved"
  | "epc"
  | "tid"
  | "user";

/** Raw values: block write. */
export interface BlockWriteRaws {
  /** 0 to 4294967295 */
  readonly password: number;
  readonly bank: number;
  /** 0 to 65535 */
  readonly pointer: number;
  /** 0 to 255 */
  readonly wordCount: number;
  /** 0 to 31 */
  readonly epcWords: number;
}

/** Physical values: block write. */
export interface BlockWriteValues {
  /** 0 to 4294967295 */
  readonly password: number;
  readonly bank: BlockWriteBank;
  /** 0 to 65535 */
  readonly pointer: number;
  /** 0 to 255 word */
  readonly wordCount: number;
  /** 0 to 31 word */
  readonly epcWords: number;
}

/** Raw values: lock. */
export interface LockRaws {
  /** 0 to 4294967295 */
  readonly password: number;
  readonly lockReserved: 0;
  /** 0 to 1023 */
  readonly mask: number;
  /** 0 to 1023 */
  readonly action: number;
  /** 0 to 31 */
  readonly epcWords: number;
}

/** Physical values: lock. */
export interface LockValues {
  /** 0 to 4294967295 */
  readonly password: number;
  /** 0 to 1023 */
  readonly mask: number;
  /** 0 to 1023 */
  readonly action: number;
  /** 0 to 31 word */
  readonly epcWords: number;
}

/** Raw values: kill. */
export interface KillRaws {
  /** 1 to 4294967295 */
  readonly password: number;
  /** 0 to 31 */
  readonly epcWords: number;
}

/** Physical values: kill. */
export interface KillValues {
  /** 1 to 4294967295 */
  readonly password: number;
  /** 0 to 31 word */
  readonly epcWords: number;
}

/** Raw values: keep-alive. */
export interface KeepAliveRaws {
}

/** Physical values: keep-alive. */
export interface KeepAliveValues {
}

/** Raw values: done. */
export interface DoneRaws {
}

/** Physical values: done. */
export interface DoneValues {
}

export type AccessAnswerResult =
  | "done"
  | "not_asked"
  | "tag_lost"
  | "tag_memory_overrun"
  | "tag_memory_locked"
  | "tag_power_insufficient"
  | "tag_error"
  | "password_wrong";

/** Raw values: answer to an access. */
export interface AccessAnswerRaws {
  readonly result: number;
  /** 0 to 255 */
  readonly wordCount: number;
  readonly kitTimeReserved: 0;
  /** 0 to 281474976710655 */
  readonly kitTime: number;
}

/** Physical values: answer to an access. */
export interface AccessAnswerValues {
  readonly result: AccessAnswerResult;
  /** 0 to 255 word */
  readonly wordCount: number;
  /** 0 to 281474976710655 us */
  readonly kitTimeUs: number;
}

/** Raw values: error. */
export interface ErrorRaws {
  /** 1 to 255 */
  readonly reason: number;
  /** 0 to 255 */
  readonly about: number;
  /** 0 to 65535 */
  readonly byte: number;
}

/** Physical values: error. */
export interface ErrorValues {
  /** 1 to 255 */
  readonly reason: number;
  /** 0 to 255 */
  readonly about: number;
  /** 0 to 65535 */
  readonly byte: number;
}

export type TagReportResult =
  | "done"
  | "not_asked"
  | "tag_lost"
  | "tag_memory_overrun"
  | "tag_memory_locked"
  | "tag_power_insufficient"
  | "tag_error"
  | "password_wrong";

export type TagReportBank =
  | "reserved"
  | "epc"
  | "tid"
  | "user";

/** Raw values: tag report. */
export interface TagReportRaws {
  readonly kitTimeReserved: 0;
  /** 0 to 281474976710655 */
  readonly kitTime: number;
  /** 0 to 65535 */
  readonly pc: number;
  /** 0 to 65535 */
  readonly xpc: number;
  /** -32767 to 32767; -32768: not_measured */
  readonly rssi: number;
  /** 0 to 4294967295 */
  readonly frequency: number;
  readonly result: number;
  readonly bank: number;
  /** 0 to 65535 */
  readonly pointer: number;
  /** 0 to 255 */
  readonly wordCount: number;
  /** 0 to 31 */
  readonly epcWords: number;
}

/** Physical values: tag report. */
export interface TagReportValues {
  /** 0 to 281474976710655 us */
  readonly kitTimeUs: number;
  /** 0 to 65535 */
  readonly pc: number;
  /** 0 to 65535 */
  readonly xpc: number;
  /** -3276.7 to 3276.7 dBm */
  readonly rssiDbm: number | null;
  /** 0 to 4294967295 kHz */
  readonly frequencyKhz: number;
  readonly result: TagReportResult;
  readonly bank: TagReportBank;
  /** 0 to 65535 */
  readonly pointer: number;
  /** 0 to 255 word */
  readonly wordCount: number;
  /** 0 to 31 word */
  readonly epcWords: number;
}

/** Raw values: ambient report. */
export interface AmbientReportRaws {
  readonly kitTimeReserved: 0;
  /** 0 to 281474976710655 */
  readonly kitTime: number;
  /** 3328000 to 16128000 */
  readonly pressure: number;
  /** -4000 to 12500; -32768: not_measured */
  readonly temperature: number;
}

/** Physical values: ambient report. */
export interface AmbientReportValues {
  /** 0 to 281474976710655 us */
  readonly kitTimeUs: number;
  /** 26000 to 126000 Pa */
  readonly pressurePa: number;
  /** -40 to 125 Cel */
  readonly temperatureC: number | null;
}

/** Raw values by record id. */
export interface RawsByRecord {
  readonly header: HeaderRaws;
  readonly frame: FrameRaws;
  readonly counters: CountersRaws;
  readonly calibration: CalibrationRaws;
  readonly burst: BurstRaws;
  readonly passwords: PasswordsRaws;
  readonly epc: EpcRaws;
  readonly xpc: XpcRaws;
  readonly tid: TidRaws;
  readonly envelope: EnvelopeRaws;
  readonly hello: HelloRaws;
  readonly welcome: WelcomeRaws;
  readonly set_power: SetPowerRaws;
  readonly set_channel_plan: SetChannelPlanRaws;
  readonly start_inventory: StartInventoryRaws;
  readonly stop_inventory: StopInventoryRaws;
  readonly read: ReadRaws;
  readonly write: WriteRaws;
  readonly block_write: BlockWriteRaws;
  readonly lock: LockRaws;
  readonly kill: KillRaws;
  readonly keep_alive: KeepAliveRaws;
  readonly done: DoneRaws;
  readonly access_answer: AccessAnswerRaws;
  readonly error: ErrorRaws;
  readonly tag_report: TagReportRaws;
  readonly ambient_report: AmbientReportRaws;
}

/** Physical values by record id. */
export interface ValuesByRecord {
  readonly header: HeaderValues;
  readonly frame: FrameValues;
  readonly counters: CountersValues;
  readonly calibration: CalibrationValues;
  readonly burst: BurstValues;
  readonly passwords: PasswordsValues;
  readonly epc: EpcValues;
  readonly xpc: XpcValues;
  readonly tid: TidValues;
  readonly envelope: EnvelopeValues;
  readonly hello: HelloValues;
  readonly welcome: WelcomeValues;
  readonly set_power: SetPowerValues;
  readonly set_channel_plan: SetChannelPlanValues;
  readonly start_inventory: StartInventoryValues;
  readonly stop_inventory: StopInventoryValues;
  readonly read: ReadValues;
  readonly write: WriteValues;
  readonly block_write: BlockWriteValues;
  readonly lock: LockValues;
  readonly kill: KillValues;
  readonly keep_alive: KeepAliveValues;
  readonly done: DoneValues;
  readonly access_answer: AccessAnswerValues;
  readonly error: ErrorValues;
  readonly tag_report: TagReportValues;
  readonly ambient_report: AmbientReportValues;
}

/** First word and number of words of every region, by bank. */
export const words = {
  reserved: {
    passwords: { word: 0, words: 4 },
  },
  epc: {
    epc: { word: 0, words: 8 },
    xpc: { word: 33, words: 1 },
  },
  tid: {
    tid: { word: 0, words: 6 },
  },
  user: {
    header: { word: 0, words: 8 },
    slotA: { word: 8, words: 8 },
    slotB: { word: 16, words: 8 },
    countersA: { word: 24, words: 8 },
    countersB: { word: 32, words: 8 },
    calibration1: { word: 40, words: 16 },
    calibration2: { word: 56, words: 16 },
    burst: { word: 72, words: 32 },
  },
} as const;
