/**
 * The Gen2 air interface against figures worked out by a separate program from the layouts of GS1 EPC UHF Gen2 2.1, which are
 * from memory; the EBVs are the examples of an annex of GS1's Tag Data Standard 2.3.
 */
import { describe, expect, it } from "vitest";
import { BitReader, type Bits } from "../../sim/air/bits.ts";
import { type Command, cover, SL } from "../../sim/air/command.ts";
import { decodeCommand } from "../../sim/air/decode-command.ts";
import { encodeEbv, readEbv } from "../../sim/air/ebv.ts";
import { encodeCommand } from "../../sim/air/encode-command.ts";
import { decodeOutcome, encodeReply, type Reply } from "../../sim/air/reply.ts";
import * as timing from "../../sim/air/timing.ts";

const bits = (text: string): Bits => Array.from(text, Number);
const query = { kind: "query", dr: 1, m: 2, trext: true, sel: 0, session: 1, target: "A", q: 4 } as const;
const handle = 0xabcd;

const commands: readonly [string, Command, string][] = [
  ["Query, FM0", { ...query, dr: 0, m: 0, trext: false, session: 0, q: 0 }, "1000000000000000010000"],
  ["Query, FM0, Q 4", { ...query, dr: 0, m: 0, trext: false, session: 0 }, "1000000000000010011101"],
  ["Query, Miller 4, S1", query, "1000110100010010011001"],
  ["Query, Miller 8, SL, S2, B", { ...query, m: 3, sel: 3, session: 2, target: "B", q: 15 }, "1000111111101111110100"],
  ["Req_RN", { kind: "req_rn", rn: 0x1234 }, "1100000100010010001101000011000101100010"],
  [
    "Read",
    { kind: "read", bank: 3, word: 0, count: 4, handle },
    "1100001011000000000000010010101011110011011000110001110101",
  ],
  [
    "Read, pointer of two blocks",
    { kind: "read", bank: 3, word: 128, count: 1, handle },
    "110000101110000001000000000000000110101011110011011010101001001011",
  ],
  [
    "Write",
    { kind: "write", bank: 3, word: 2, covered: cover(0x5678, 0x1111), handle },
    "110000111100000010010001110110100110101011110011010110110110010011",
  ],
  [
    "Select",
    { kind: "select", target: SL, action: 0, bank: 1, pointer: 0x20, mask: bits("0011000001100110"), truncate: false },
    "1010100000010010000000010000001100000110011000001100010001011",
  ],
];

describe("commands", () => {
  it.each(commands)("%s", (_, command, expected) => {
    expect(encodeCommand(command).join("")).toBe(expected);
    expect(decodeCommand(bits(expected))).toEqual(command);
  });

  // Lengths of the standard's table of commands, from memory.
  it.each<[Command, number]>([
    [{ kind: "query_rep", session: 2 }, 4],
    [{ kind: "ack", rn: 1 }, 18],
    [{ kind: "query_adjust", session: 1, change: -1 }, 9],
    [{ kind: "nak" }, 8],
    [{ kind: "kill", covered: 1, handle }, 59],
    [{ kind: "lock", mask: 2, action: 2, handle }, 60],
    [{ kind: "access", covered: 1, handle }, 56],
    [{ kind: "block_write", bank: 3, word: 0, words: [1], handle }, 74],
    [{ kind: "block_erase", bank: 3, word: 0, count: 1, handle }, 58],
    [{ kind: "block_permalock", bank: 3, block: 0, range: 1, mask: null, handle }, 67],
    [{ kind: "block_permalock", bank: 3, block: 0, range: 1, mask: [1], handle }, 83],
  ])("%o is as long as the standard says and is read back", (command, length) => {
    expect(encodeCommand(command)).toHaveLength(length);
    expect(decodeCommand(encodeCommand(command))).toEqual(command);
  });

  it("lock the USER bank by password with the payload 00802h", () => {
    const lock = encodeCommand({ kind: "lock", mask: 0x002, action: 0x002, handle });
    expect(lock.slice(8, 28).join("")).toBe((0x00802).toString(2).padStart(20, "0"));
  });
});

describe("replies", () => {
  it.each<[Reply, string, number]>([
    [{ kind: "words", words: [0xbeef], handle }, "0101111101110111110101011110011011111000010110000", 1],
    [{ kind: "success", handle }, "010101011110011010000110010000100", 0],
    [{ kind: "error", code: 4, handle }, "10000010010101011110011010001010111110111", 0],
  ])("%o", (reply, expected, words) => {
    expect(encodeReply(reply).join("")).toBe(expected);
    expect(decodeOutcome(bits(expected), words)).toEqual(reply);
  });
});

describe("EBVs", () => {
  it.each([
    [0, "00"],
    [1, "01"],
    [31, "1f"],
    [127, "7f"],
    [128, "8100"],
    [129, "8101"],
    [16_383, "ff7f"],
    [16_384, "818000"],
  ])("%i is %s", (value, hex) => {
    const expected = Array.from(hex, (digit) => Number.parseInt(digit, 16).toString(2).padStart(4, "0")).join("");
    expect(encodeEbv(value).join("")).toBe(expected);
    expect(readEbv(new BitReader(bits(expected)))).toBe(value);
  });
});

describe("an EBV", () => {
  it.each([
    ["that is cut", "8"],
    ["whose last block is missing", "81"],
    ["of five blocks", "8080808001"],
  ])("%s is none", (_, hex) => {
    const cut = Array.from(hex, (digit) => Number.parseInt(digit, 16).toString(2).padStart(4, "0")).join("");
    expect(readEbv(new BitReader(bits(cut)))).toBeNull();
  });
});

/** Worked profiles: symbol by symbol from the durations' definitions, by the separate program; µs. */
const profiles = {
  A: { tariUs: 6.25, rtcalUs: 15.625, trcalUs: 100 / 3, dr: 1, m: 0, trext: false },
  B: { tariUs: 12.5, rtcalUs: 37.5, trcalUs: 250 / 3, dr: 1, m: 2, trext: false },
  C: { tariUs: 25, rtcalUs: 75, trcalUs: 200, dr: 0, m: 0, trext: false },
  D: { tariUs: 25, rtcalUs: 62.5, trcalUs: 250 / 3, dr: 1, m: 2, trext: true },
} as const satisfies Record<string, timing.LinkProfile>;

const worked = [
  ["T1", 15.6, 39.1, 250, 62.5],
  ["query", 239.6, 558.3, 1137.5, 870.8],
  ["ack", 175, 400, 787.5, 662.5],
  ["req_rn", 346.9, 812.5, 1612.5, 1350],
  ["read", 487.5, 1150, 2287.5, 1912.5],
  ["write", 550, 1300, 2587.5, 2162.5],
  ["rn16", 35.9, 421.9, 575, 609.4],
  ["identity", 210.9, 2171.9, 3375, 2359.4],
  ["identity with XPC_W1", 235.9, 2421.9, 3775, 2609.4],
  ["handle", 60.9, 671.9, 975, 859.4],
  ["4 words", 162.5, 1687.5, 2600, 1875],
  ["8 words", 262.5, 2687.5, 4200, 2875],
  ["delayed", 81.3, 875, 1300, 875],
  ["total", 1796, 8065, 14_575, 10_784],
] as const;

describe.each(Object.keys(profiles) as (keyof typeof profiles)[])("durations with profile %s", (name) => {
  const profile = profiles[name];
  const column = Object.keys(profiles).indexOf(name) + 1;
  /** Half the bits ones, as the worked figures have it. */
  const half = (length: number) => Array.from({ length }, (_, i) => i % 2);
  const say = (length: number, isQuery = false) => timing.commandUs(profile, half(length), isQuery);
  const reply = (length: number, delayed = false) => timing.replyUs(profile, length, delayed);
  const [t1, t2] = [timing.turnaroundUs(profile), timing.answerWindowUs(profile)[0]];
  const found: Record<string, number> = {
    T1: t1,
    query: say(22, true),
    ack: say(18),
    req_rn: say(40),
    read: say(58),
    write: say(66),
    rn16: reply(16),
    identity: reply(128),
    "identity with XPC_W1": reply(144),
    handle: reply(32),
    "4 words": reply(33 + 64),
    "8 words": reply(33 + 128),
    delayed: reply(33, true),
  };
  // Query, ACK, Req_RN and Read with their replies; the shortest T2 between a reply and the next command.
  const said = ["query", "rn16", "ack", "identity", "req_rn", "handle", "read", "4 words"];
  found.total = said.reduce((sum, what) => sum + found[what]!, 4 * t1 + 3 * t2);

  it.each(worked)("%s", (what, ...figures) => {
    const figure = figures[column - 1]!;
    // Printed with one digit behind the point, the total with none.
    expect(Math.abs(found[what]! - figure)).toBeLessThanOrEqual(what === "total" ? 0.5 : 0.0501);
  });
});
