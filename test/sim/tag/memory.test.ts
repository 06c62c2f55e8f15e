import { describe, expect, it } from "vitest";
import { layout } from "../../../protocol/index.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { commissionedMemory } from "../../../sim/tag/factory.ts";
import { Locks, locksInService } from "../../../sim/tag/locks.ts";
import type { TagMemory } from "../../../sim/tag/memory.ts";

const RESERVED = 0;
const EPC = 1;
const TID = 2;
const USER = 3;
const tag = trainingLeg.tags[0]!;
const fresh = () => commissionedMemory(tag);

/** As the chip does it: a word at a time once the whole is allowed. */
function write(memory: TagMemory, bank: number, word: number, words: readonly number[], secured: boolean) {
  const refused = memory.refusal(bank, word, words, secured);
  if (!refused) for (const [i, value] of words.entries()) memory.store(bank, word + i, value);
  return refused;
}

// Payload bits of Gen2 Lock (from memory): mask 19..10, action 9..0; pairs kill, access, EPC, TID, user from the top,
// in each pair first the password bit, then the permanent bit.
const USER_PASSWORD = 0b00_00_00_00_10;
const USER_PERMANENT = 0b00_00_00_00_01;

describe("a commissioned tag", () => {
  it("says in its EPC bank who it is: PC 3600h for six words, user memory and XPC, and FS in XPC_W1", () => {
    const { pc, xpc, epc } = fresh().identity();
    expect(pc).toBe(0x3600);
    expect(xpc).toBe(0x0200);
    expect(epc.map((word) => word.toString(16).padStart(4, "0")).join("")).toBe(tag.epc);
  });

  it("has a TID of class E2h with XTID 2000h and the chip's serial", () => {
    const words = fresh().read(TID, 0, 6, false) as number[];
    expect(words[0]! >> 8).toBe(0xe2);
    expect((words[0]! >> 5) & 0b111).toBe(0b100);
    expect(words[2]).toBe(0x2000);
    expect(words[3]! * 2 ** 32 + words[4]! * 2 ** 16 + words[5]!).toBe(tag.chipSerial);
  });

  it("carries the same calibration block twice and the layout's fingerprint in its header", () => {
    const memory = fresh();
    expect(memory.read(USER, 40, 16, false)).toEqual(memory.read(USER, 56, 16, false));
    const header = memory.read(USER, 0, 8, false) as number[];
    expect(header[1]! * 65_536 + header[2]!).toBe(layout.fingerprint);
  });

  it("has empty slots and an empty burst block", () => {
    const memory = fresh();
    expect(memory.read(USER, 8, 16, false)).toEqual(new Array(16).fill(0));
    expect(memory.read(USER, 72, 32, false)).toEqual(new Array(32).fill(0));
  });
});

describe("reading", () => {
  it("ends at the last word of each bank", () => {
    for (const [bank, words] of [
      [RESERVED, 4],
      [TID, 6],
      [USER, 104],
    ] as const) {
      expect(fresh().read(bank, words - 1, 1, true)).toHaveLength(1);
      expect(fresh().read(bank, words - 1, 2, true)).toBe("tag_memory_overrun");
      expect(fresh().read(bank, words, 1, true)).toBe("tag_memory_overrun");
    }
    expect(fresh().read(4, 0, 1, true)).toBe("tag_memory_overrun");
  });

  it("finds XPC_W1 at word 33 and nothing between it and the EPC", () => {
    expect(fresh().read(EPC, 33, 1, false)).toEqual([0x0200]);
    expect(fresh().read(EPC, 8, 1, false)).toBe("tag_memory_overrun");
    expect(fresh().read(EPC, 7, 2, false)).toBe("tag_memory_overrun");
    expect(fresh().read(EPC, 32, 2, false)).toBe("tag_memory_overrun");
  });

  it("shows the passwords only to a secured reader", () => {
    expect(fresh().read(RESERVED, 2, 2, false)).toBe("tag_memory_locked");
    expect(fresh().read(RESERVED, 0, 1, false)).toBe("tag_memory_locked");
    const words = fresh().read(RESERVED, 2, 2, true) as number[];
    expect(words[0]! * 65_536 + words[1]!).toBe(tag.accessPassword);
  });
});

describe("writing", () => {
  it("needs a secured reader in EPC and USER, and never works in TID", () => {
    const memory = fresh();
    for (const bank of [EPC, USER]) {
      expect(write(memory, bank, 5, [0x1234], false)).toBe("tag_memory_locked");
      expect(write(memory, bank, 5, [0x1234], true)).toBeNull();
      expect(memory.read(bank, 5, 1, false)).toEqual([0x1234]);
    }
    expect(write(memory, TID, 3, [1], true)).toBe("tag_memory_locked");
  });

  it("writes all words or none", () => {
    const memory = fresh();
    const before = memory.read(USER, 100, 4, false);
    expect(write(memory, USER, 102, [1, 2, 3], true)).toBe("tag_memory_overrun");
    expect(memory.read(USER, 100, 4, false)).toEqual(before);
  });

  it("keeps what the tag computes: StoredCRC, XPC_W1, the indicators of the PC", () => {
    const memory = fresh();
    expect(write(memory, EPC, 0, [0], true)).toBe("tag_memory_locked");
    expect(write(memory, EPC, 33, [0], true)).toBe("tag_memory_locked");
    expect(write(memory, EPC, 1, [0x1800], true)).toBeNull();
    expect(memory.identity().pc).toBe(0x1e00);
    expect(memory.identity().epc).toHaveLength(3);
    expect(write(memory, EPC, 1, [0x3800], true)).toBe("tag_memory_overrun");
  });
});

describe("locks", () => {
  it("are in service as the specification says: passwords, EPC and USER by password, TID for good", () => {
    expect(locksInService(layout.banks).state).toBe(0b10_10_10_11_10);
  });

  it("open an area to everyone and close it again", () => {
    const memory = fresh();
    expect(memory.locks.apply(USER_PASSWORD, 0)).toBe(true);
    expect(write(memory, USER, 40, [7], false)).toBeNull();
    expect(memory.locks.apply(USER_PASSWORD, USER_PASSWORD)).toBe(true);
    expect(write(memory, USER, 40, [8], false)).toBe("tag_memory_locked");
    expect(memory.read(USER, 40, 1, false)).toEqual([7]);
  });

  it("ignore action bits outside the mask", () => {
    const locks = new Locks(0);
    expect(locks.apply(USER_PASSWORD, 0b11_11_11_11_11)).toBe(true);
    expect(locks.state).toBe(USER_PASSWORD);
  });

  it("are for good once permanent: writeable for ever or never again", () => {
    const open = new Locks(USER_PERMANENT);
    expect(open.allows("user", false)).toBe(true);
    expect(open.apply(USER_PASSWORD, USER_PASSWORD)).toBe(false);
    const closed = new Locks(USER_PASSWORD | USER_PERMANENT);
    expect(closed.allows("user", true)).toBe(false);
    expect(closed.apply(USER_PERMANENT, 0)).toBe(false);
    expect(closed.state).toBe(USER_PASSWORD | USER_PERMANENT);
    expect(closed.apply(USER_PERMANENT, USER_PERMANENT)).toBe(true);
  });

  it("refuse a payload as a whole when one area of it is permanent", () => {
    const locks = new Locks(USER_PERMANENT);
    expect(locks.apply(0b10_00_00_00_10, 0b10_00_00_00_10)).toBe(false);
    expect(locks.state).toBe(USER_PERMANENT);
    expect(locks.allows("kill", false)).toBe(true);
  });
});
