/** The microcontrollers the firmware is built for, and how an image of each is linked and run. */
import { join } from "node:path";
import { harnessFolder } from "./program.ts";

type Emulator = "qemu" | "simavr" | "mspdebug";

export interface Target {
  readonly id: "cortex-m0" | "cortex-m3" | "avr" | "msp430" | "rv32";
  readonly title: string;
  readonly compiler: string;
  /** Options that choose the core. */
  readonly core: readonly string[];
  readonly linker: string;
  /** Options of the linker driver for an image that runs in the emulator. */
  readonly link: readonly string[];
  /** Sources an image needs beside the harness. */
  readonly support: readonly string[];
  readonly nm: string;
  readonly objdump: string;
  readonly emulator: Emulator;
  /** Programs that have to be installed to build and run. */
  readonly programs: readonly string[];
  readonly runner: string;
  readonly runnerArgs: readonly string[];
  /** Bytes a call pushes that the compiler's stack figures leave out. */
  readonly returnBytes: number;
}

const semihosting = (file: string) => `enable=on,target=native,arg=prog,arg=${file}`;

/** File of questions, in the image's folder. */
export const QUESTIONS = "questions.txt";

function picolibc(flash: string, flashSize: string, ram: string, ramSize: string): string[] {
  const place = { flash, flash_size: flashSize, ram, ram_size: ramSize };
  return [
    "--crt0=semihost",
    "--oslib=semihost",
    ...Object.entries(place).map(([name, value]) => `-Wl,--defsym=__${name}=${value}`),
  ];
}

function qemu(machine: readonly string[]): string[] {
  const quiet = ["-display", "none", "-monitor", "none", "-serial", "none"];
  return [...machine, ...quiet, "-semihosting-config", semihosting(QUESTIONS), "-kernel", "image"];
}

const arm = {
  compiler: "arm-none-eabi-gcc",
  linker: "arm-none-eabi-gcc",
  support: [],
  nm: "arm-none-eabi-nm",
  objdump: "arm-none-eabi-objdump",
  emulator: "qemu",
  programs: ["arm-none-eabi-gcc", "qemu-system-arm"],
  runner: "qemu-system-arm",
  returnBytes: 0,
} as const;

/** QEMU has no Cortex-M0+ core; its instruction set is the Cortex-M0's, ARMv6-M. */
export const targets: readonly Target[] = [
  {
    ...arm,
    id: "cortex-m0",
    title: "Arm Cortex-M0+",
    core: ["-mcpu=cortex-m0plus", "-mthumb", "--specs=picolibc.specs"],
    link: picolibc("0", "0x40000", "0x20000000", "0x4000"),
    runnerArgs: qemu(["-M", "microbit"]),
  },
  {
    ...arm,
    id: "cortex-m3",
    title: "Arm Cortex-M3",
    core: ["-mcpu=cortex-m3", "-mthumb", "--specs=picolibc.specs"],
    link: picolibc("0", "0x400000", "0x20000000", "0x400000"),
    runnerArgs: qemu(["-M", "mps2-an385"]),
  },
  {
    id: "avr",
    title: "AVR (16-bit int)",
    compiler: "avr-gcc",
    core: ["-mmcu=atmega1284p", "-DF_CPU=8000000UL", "-idirafter", "/usr/include"],
    linker: "avr-gcc",
    link: ["-Wl,--undefined=_mmcu,--section-start=.mmcu=0x910000"],
    support: [join(harnessFolder, "avr/console.c")],
    nm: "avr-nm",
    objdump: "avr-objdump",
    emulator: "simavr",
    programs: ["avr-gcc", "simavr"],
    runner: "simavr",
    runnerArgs: ["-m", "atmega1284p", "-f", "8000000", "image"],
    returnBytes: 0,
  },
  {
    id: "msp430",
    title: "MSP430 (16-bit int)",
    compiler: "clang",
    core: ["--target=msp430", "-ffreestanding", "-fno-builtin"],
    linker: "ld.lld",
    link: ["-T", join(harnessFolder, "msp430/link.ld")],
    support: ["start.S", "runtime.c", "console.c"].map((name) => join(harnessFolder, "msp430", name)),
    nm: "llvm-nm",
    objdump: "llvm-objdump",
    emulator: "mspdebug",
    programs: ["clang", "ld.lld", "llvm-nm", "mspdebug"],
    runner: "mspdebug",
    runnerArgs: ["-n", "-q", "sim", "read commands.txt"],
    returnBytes: 2,
  },
  {
    id: "rv32",
    title: "RISC-V RV32IMAC",
    compiler: "riscv64-unknown-elf-gcc",
    core: ["-march=rv32imac", "-mabi=ilp32", "--specs=picolibc.specs"],
    linker: "riscv64-unknown-elf-gcc",
    link: picolibc("0x80000000", "0x200000", "0x80200000", "0x200000"),
    support: [],
    nm: "riscv64-unknown-elf-nm",
    objdump: "riscv64-unknown-elf-objdump",
    emulator: "qemu",
    programs: ["riscv64-unknown-elf-gcc", "qemu-system-riscv32"],
    runner: "qemu-system-riscv32",
    runnerArgs: qemu(["-M", "virt", "-cpu", "rv32", "-bios", "none"]),
    returnBytes: 0,
  },
];

export function targetOf(id: Target["id"]): Target {
  return targets.find((target) => target.id === id)!;
}

/** Sizes of the seal's table: bit by bit, by nibble, by byte. */
export const sealTables = [0, 16, 256] as const;

export type SealTable = (typeof sealTables)[number];

export const sealNames: Readonly<Record<SealTable, string>> = {
  0: "bit by bit",
  16: "nibble table",
  256: "byte table",
};
