/** What the firmware costs, counted on emulated cores. Written by `npm run firmware-cost -- --write`; a test holds it against the emulators. */

/** The frame's encoder and decoder alone, then the phases of the duty cycle as ply_step takes them. */
export type CostPhase =
  | "frame_encode"
  | "frame_decode"
  | "cold_start"
  | "check_supply"
  | "start_conversion"
  | "read_sensor"
  | "seal_frame"
  | "commit_frame"
  | "commit_counters"
  | "commit_burst";

export interface FirmwareCost {
  readonly target: "cortex-m0" | "cortex-m3" | "avr" | "msp430" | "rv32";
  /** What is counted: executed instructions, or cycles of the core's clock. */
  readonly unit: "instruction" | "cycle";
  /** What gave the figures. */
  readonly tool: string;
  /** Entries of the seal's table; 0: bit by bit. */
  readonly sealTable: 0 | 16 | 256;
  /** The largest count seen, with a port that only moves words in memory: the board's own comes on top. */
  readonly counts: Readonly<Record<CostPhase, number>>;
}

export const firmwareCosts: readonly FirmwareCost[] = [
  {
    target: "cortex-m0",
    unit: "instruction",
    tool: "arm-none-eabi-gcc 12.2.1 -Os; qemu-system-arm 7.2.22, microbit -icount, SysTick",
    sealTable: 0,
    counts: {
      frame_encode: 1661,
      frame_decode: 1755,
      cold_start: 10842,
      check_supply: 122,
      start_conversion: 55,
      read_sensor: 281,
      seal_frame: 1709,
      commit_frame: 402,
      commit_counters: 5896,
      commit_burst: 8403,
    },
  },
  {
    target: "cortex-m0",
    unit: "instruction",
    tool: "arm-none-eabi-gcc 12.2.1 -Os; qemu-system-arm 7.2.22, microbit -icount, SysTick",
    sealTable: 16,
    counts: {
      frame_encode: 373,
      frame_decode: 467,
      cold_start: 3114,
      check_supply: 122,
      start_conversion: 55,
      read_sensor: 281,
      seal_frame: 421,
      commit_frame: 402,
      commit_counters: 1848,
      commit_burst: 2699,
    },
  },
  {
    target: "cortex-m0",
    unit: "instruction",
    tool: "arm-none-eabi-gcc 12.2.1 -Os; qemu-system-arm 7.2.22, microbit -icount, SysTick",
    sealTable: 256,
    counts: {
      frame_encode: 169,
      frame_decode: 263,
      cold_start: 1890,
      check_supply: 122,
      start_conversion: 55,
      read_sensor: 281,
      seal_frame: 217,
      commit_frame: 402,
      commit_counters: 1208,
      commit_burst: 1799,
    },
  },
  {
    target: "cortex-m3",
    unit: "instruction",
    tool: "arm-none-eabi-gcc 12.2.1 -Os; qemu-system-arm 7.2.22, mps2-an385 -icount, SysTick",
    sealTable: 0,
    counts: {
      frame_encode: 1198,
      frame_decode: 1273,
      cold_start: 7886,
      check_supply: 103,
      start_conversion: 37,
      read_sensor: 214,
      seal_frame: 1229,
      commit_frame: 355,
      commit_counters: 4323,
      commit_burst: 6211,
    },
  },
  {
    target: "cortex-m3",
    unit: "instruction",
    tool: "arm-none-eabi-gcc 12.2.1 -Os; qemu-system-arm 7.2.22, mps2-an385 -icount, SysTick",
    sealTable: 16,
    counts: {
      frame_encode: 302,
      frame_decode: 377,
      cold_start: 2510,
      check_supply: 103,
      start_conversion: 37,
      read_sensor: 214,
      seal_frame: 333,
      commit_frame: 355,
      commit_counters: 1507,
      commit_burst: 2243,
    },
  },
  {
    target: "cortex-m3",
    unit: "instruction",
    tool: "arm-none-eabi-gcc 12.2.1 -Os; qemu-system-arm 7.2.22, mps2-an385 -icount, SysTick",
    sealTable: 256,
    counts: {
      frame_encode: 141,
      frame_decode: 216,
      cold_start: 1544,
      check_supply: 103,
      start_conversion: 37,
      read_sensor: 214,
      seal_frame: 172,
      commit_frame: 355,
      commit_counters: 1001,
      commit_burst: 1530,
    },
  },
  {
    target: "avr",
    unit: "cycle",
    tool: "avr-gcc 5.4.0 -Os; simavr, atmega1284p, timer 1",
    sealTable: 0,
    counts: {
      frame_encode: 1956,
      frame_decode: 2203,
      cold_start: 13537,
      check_supply: 363,
      start_conversion: 235,
      read_sensor: 841,
      seal_frame: 2109,
      commit_frame: 979,
      commit_counters: 7508,
      commit_burst: 10142,
    },
  },
  {
    target: "avr",
    unit: "cycle",
    tool: "avr-gcc 5.4.0 -Os; simavr, atmega1284p, timer 1",
    sealTable: 16,
    counts: {
      frame_encode: 1481,
      frame_decode: 1728,
      cold_start: 10687,
      check_supply: 363,
      start_conversion: 235,
      read_sensor: 841,
      seal_frame: 1631,
      commit_frame: 979,
      commit_counters: 6010,
      commit_burst: 8029,
    },
  },
  {
    target: "avr",
    unit: "cycle",
    tool: "avr-gcc 5.4.0 -Os; simavr, atmega1284p, timer 1",
    sealTable: 256,
    counts: {
      frame_encode: 572,
      frame_decode: 819,
      cold_start: 5233,
      check_supply: 363,
      start_conversion: 235,
      read_sensor: 841,
      seal_frame: 722,
      commit_frame: 979,
      commit_counters: 3152,
      commit_burst: 4000,
    },
  },
  {
    target: "msp430",
    unit: "cycle",
    tool: "clang 14.0.6 -Os; mspdebug 0.22, sim, MCLK of the tracer",
    sealTable: 0,
    counts: {
      frame_encode: 1593,
      frame_decode: 1840,
      cold_start: 11555,
      check_supply: 310,
      start_conversion: 212,
      read_sensor: 895,
      seal_frame: 1693,
      commit_frame: 914,
      commit_counters: 6503,
      commit_burst: 9147,
    },
  },
  {
    target: "msp430",
    unit: "cycle",
    tool: "clang 14.0.6 -Os; mspdebug 0.22, sim, MCLK of the tracer",
    sealTable: 16,
    counts: {
      frame_encode: 845,
      frame_decode: 1101,
      cold_start: 7114,
      check_supply: 310,
      start_conversion: 212,
      read_sensor: 895,
      seal_frame: 942,
      commit_frame: 914,
      commit_counters: 4164,
      commit_burst: 5856,
    },
  },
  {
    target: "msp430",
    unit: "cycle",
    tool: "clang 14.0.6 -Os; mspdebug 0.22, sim, MCLK of the tracer",
    sealTable: 256,
    counts: {
      frame_encode: 537,
      frame_decode: 784,
      cold_start: 5214,
      check_supply: 310,
      start_conversion: 212,
      read_sensor: 895,
      seal_frame: 634,
      commit_frame: 914,
      commit_counters: 3179,
      commit_burst: 4461,
    },
  },
  {
    target: "rv32",
    unit: "instruction",
    tool: "riscv64-unknown-elf-gcc 12.2.0 -Os; qemu-system-riscv32 7.2.22, virt -icount, minstret",
    sealTable: 0,
    counts: {
      frame_encode: 1343,
      frame_decode: 1453,
      cold_start: 9110,
      check_supply: 109,
      start_conversion: 51,
      read_sensor: 228,
      seal_frame: 1387,
      commit_frame: 363,
      commit_counters: 4906,
      commit_burst: 6799,
    },
  },
  {
    target: "rv32",
    unit: "instruction",
    tool: "riscv64-unknown-elf-gcc 12.2.0 -Os; qemu-system-riscv32 7.2.22, virt -icount, minstret",
    sealTable: 16,
    counts: {
      frame_encode: 419,
      frame_decode: 529,
      cold_start: 3566,
      check_supply: 109,
      start_conversion: 51,
      read_sensor: 228,
      seal_frame: 463,
      commit_frame: 363,
      commit_counters: 2002,
      commit_burst: 2707,
    },
  },
  {
    target: "rv32",
    unit: "instruction",
    tool: "riscv64-unknown-elf-gcc 12.2.0 -Os; qemu-system-riscv32 7.2.22, virt -icount, minstret",
    sealTable: 256,
    counts: {
      frame_encode: 216,
      frame_decode: 326,
      cold_start: 2348,
      check_supply: 109,
      start_conversion: 51,
      read_sensor: 228,
      seal_frame: 260,
      commit_frame: 363,
      commit_counters: 1364,
      commit_burst: 1808,
    },
  },
];

/** What a phase asks of the port at most, the same on every target. */
export interface PortTraffic {
  readonly phase: CostPhase;
  readonly wordsRead: number;
  readonly wordsWritten: number;
  readonly settles: number;
}

export const portTraffic: readonly PortTraffic[] = [
  { phase: "frame_encode", wordsRead: 0, wordsWritten: 0, settles: 0 },
  { phase: "frame_decode", wordsRead: 0, wordsWritten: 0, settles: 0 },
  { phase: "cold_start", wordsRead: 40, wordsWritten: 0, settles: 0 },
  { phase: "check_supply", wordsRead: 0, wordsWritten: 2, settles: 0 },
  { phase: "start_conversion", wordsRead: 0, wordsWritten: 0, settles: 0 },
  { phase: "read_sensor", wordsRead: 0, wordsWritten: 0, settles: 0 },
  { phase: "seal_frame", wordsRead: 0, wordsWritten: 0, settles: 0 },
  { phase: "commit_frame", wordsRead: 0, wordsWritten: 9, settles: 5 },
  { phase: "commit_counters", wordsRead: 16, wordsWritten: 9, settles: 5 },
  { phase: "commit_burst", wordsRead: 0, wordsWritten: 33, settles: 5 },
];
