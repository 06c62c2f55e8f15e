/** AccessSpecs at work: which tag one is meant for, and its operations on that tag. */
import { parseHex } from "../../protocol/bytes/hex.ts";
import { type BitArray, element, type LlrpElement, numberOf, parameterOf } from "../../protocol/llrp/vocabulary.ts";
import type { Identity } from "../tag/memory.ts";
import type { PasswordedAccess } from "./orders.ts";
import type { Access, AccessResult } from "./singulated.ts";

const EPC_BANK = 1;
/** Bit address of the PC word; the EPC begins a word behind it. */
const PC_BIT = 16;

/** Whether an AccessSpec's pattern fits the tag: all of its target tags must. */
export function isMeantFor(spec: LlrpElement, { pc, epc }: Identity): boolean {
  const tagSpec = parameterOf(parameterOf(spec, "AccessCommand")!, "C1G2TagSpec")!;
  const bits = [pc, ...epc].flatMap((word) => Array.from({ length: 16 }, (_, i) => (word >> (15 - i)) & 1));
  return tagSpec.parameters.every((target) => {
    const [mask, data] = [bitsOf(target.values.TagMask as BitArray), bitsOf(target.values.TagData as BitArray)];
    if (mask.length === 0) return true;
    const from = numberOf(target, "Pointer") - PC_BIT;
    const known = numberOf(target, "MB") === EPC_BANK && from >= 0 && from + mask.length <= bits.length;
    const fits = known && mask.every((cares, i) => cares === 0 || bits[from + i] === data[i]);
    return fits === (numberOf(target, "Match") === 1);
  });
}

/** What the operations of an AccessSpec ask of the tag, each with the password it carries. */
export function accessesOf(spec: LlrpElement): PasswordedAccess[] {
  return operationsOf(spec)
    .filter(isServed)
    .map((operation) => {
      const access = accessOf(operation);
      return { password: access.kind === "kill" ? 0 : numberOf(operation, "AccessPassword"), access };
    });
}

/** Every operation of an AccessSpec with what came of it; `results` has one for each of `accessesOf`. */
export function resultsOf(spec: LlrpElement, results: readonly AccessResult[]): LlrpElement[] {
  const left = [...results];
  return operationsOf(spec).map((operation) => {
    const { name } = operation;
    const OpSpecID = numberOf(operation, "OpSpecID");
    // Not simulated: the reader says that it is to blame.
    if (name === "C1G2BlockErase") return element("C1G2BlockEraseOpSpecResult", { Result: 6, OpSpecID });
    const access = accessOf(operation);
    const { result, words } = left.shift()!;
    switch (access.kind) {
      case "read":
        return element("C1G2ReadOpSpecResult", { Result: READ_RESULT[result], OpSpecID, ReadData: words });
      case "lock":
        return element("C1G2LockOpSpecResult", { Result: LOCK_RESULT[result], OpSpecID });
      case "kill": {
        const refusal = access.password === 0 ? KILL_PASSWORD_ZERO : KILL_RESULT[result];
        return element("C1G2KillOpSpecResult", { Result: refusal, OpSpecID });
      }
      default: {
        const NumWordsWritten = result === "done" ? access.words.length : 0;
        const of = access.kind === "write" ? "C1G2WriteOpSpecResult" : "C1G2BlockWriteOpSpecResult";
        return element(of, { Result: WRITE_RESULT[result], OpSpecID, NumWordsWritten });
      }
    }
  });
}

function operationsOf(spec: LlrpElement): LlrpElement[] {
  return parameterOf(spec, "AccessCommand")!.parameters.filter(({ name }) => name !== "C1G2TagSpec");
}

function isServed({ name }: LlrpElement): boolean {
  return name !== "C1G2BlockErase";
}

/** LLRP 1.0.1 has no words for most of what can go wrong with a Read. */
const READ_RESULT: Results = {
  done: 0,
  tag_lost: 2,
  tag_memory_overrun: 1,
  tag_memory_locked: 1,
  tag_power_insufficient: 1,
  tag_error: 1,
  password_wrong: 1,
};

const WRITE_RESULT: Results = {
  done: 0,
  tag_memory_overrun: 1,
  tag_memory_locked: 2,
  tag_power_insufficient: 3,
  tag_error: 4,
  tag_lost: 5,
  password_wrong: 4,
};

const KILL_PASSWORD_ZERO = 1;

const KILL_RESULT: Results = {
  done: 0,
  tag_power_insufficient: 2,
  tag_error: 3,
  tag_memory_locked: 3,
  tag_memory_overrun: 3,
  password_wrong: 3,
  tag_lost: 4,
};

const LOCK_RESULT: Results = {
  done: 0,
  tag_power_insufficient: 1,
  tag_error: 2,
  tag_memory_locked: 2,
  tag_memory_overrun: 2,
  password_wrong: 2,
  tag_lost: 3,
};

type Results = { readonly [result in AccessResult["result"]]: number };

/** Lock and permalock bits of a privilege: read-write when secured, permalock, permaunlock, unlock. */
const PRIVILEGE_BITS = [0b10, 0b11, 0b01, 0b00];
const KILL_SHIFT = 8;

function accessOf(operation: LlrpElement): Access {
  if (operation.name === "C1G2Lock") {
    let [mask, action] = [0, 0];
    for (const payload of operation.parameters) {
      const shift = KILL_SHIFT - 2 * numberOf(payload, "DataField");
      mask |= 0b11 << shift;
      action |= PRIVILEGE_BITS[numberOf(payload, "Privilege")]! << shift;
    }
    return { kind: "lock", mask, action };
  }
  if (operation.name === "C1G2Kill") return { kind: "kill", password: numberOf(operation, "KillPassword") };
  const place = { bank: numberOf(operation, "MB"), word: numberOf(operation, "WordPointer") };
  if (operation.name === "C1G2Read") return { kind: "read", ...place, count: numberOf(operation, "WordCount") };
  const words = operation.values.WriteData as readonly number[];
  return { kind: operation.name === "C1G2Write" ? "write" : "block_write", ...place, words };
}

function bitsOf({ bits, hex }: BitArray): number[] {
  const bytes = parseHex(hex) as Uint8Array;
  return Array.from({ length: bits }, (_, i) => (bytes[i >> 3]! >> (7 - (i % 8))) & 1);
}
