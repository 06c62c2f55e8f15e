/** Access and Kill: two halves, each covered with an RN16 of its own (GS1 EPC Gen2 version 2, from memory). */
import { describe, expect, it } from "vitest";
import { AirPartner, errorOf, isDone, numberAt, SELECT_ALL } from "../support/air-partner.ts";

const ACCESS = 0x1234_5678;
const KILL = 0x0bad_cafe;

function met(passwords: { access?: number; kill?: number } = {}): { partner: AirPartner; handle: number } {
  const partner = new AirPartner();
  partner.configure({ access: ACCESS, kill: KILL, ...passwords });
  return { partner, handle: partner.singulate() };
}

describe("the access password", () => {
  it("secures the tag, which answers each half with its handle", () => {
    const { partner, handle } = met();
    expect(partner.chip.state).toBe("open");
    const replies = partner.password(handle, "access", ACCESS);
    for (const reply of replies) {
      expect(reply).toHaveLength(32);
      expect(numberAt(reply!, 0, 16)).toBe(handle);
    }
    expect(partner.chip.state).toBe("secured");
  });

  it("is not asked for where it is zero", () => {
    expect(met({ access: 0 }).partner.chip.state).toBe("secured");
  });

  it.each([
    ["the upper half", ACCESS ^ 0x0001_0000],
    ["the lower half", ACCESS ^ 0x0000_0001],
    ["the order of the halves", 0x5678_1234],
    ["all of it", 0],
  ])("wrong in %s: the tag falls silent and waits for another round", (_, value) => {
    const { partner, handle } = met();
    const [first, second] = partner.password(handle, "access", value);
    // Nobody may learn from the first half whether it was right.
    expect(first).toHaveLength(32);
    expect(second).toBeNull();
    expect(partner.chip.state).toBe("arbitrate");
    expect(partner.read(handle, 3, 0)).toBeNull();
  });

  it("needs an RN16 for every half: one that was used, or none at all, covers nothing", () => {
    const { partner, handle } = met();
    expect(partner.say({ kind: "access", covered: 0x1234, handle })).toBeNull();
    const rn = partner.coverOf(handle);
    expect(partner.say({ kind: "access", covered: 0x1234 ^ rn, handle })).not.toBeNull();
    expect(partner.say({ kind: "access", covered: 0x5678 ^ rn, handle })).toBeNull();
    expect(partner.chip.state).toBe("open");
  });

  it("begins anew behind any other command, and behind a half of the other password", () => {
    const { partner, handle } = met({ kill: ACCESS });
    const half = (kind: "access" | "kill", part: number) =>
      partner.say({ kind, covered: part ^ partner.coverOf(handle), handle });
    half("access", 0x1234);
    expect(partner.read(handle, 3, 0)).not.toBeNull();
    // The lower half stands first now, so that the tag is neither secured nor gone.
    expect(half("access", 0x5678)).toHaveLength(32);
    expect(partner.chip.state).toBe("open");
    expect(half("kill", 0x5678)).toHaveLength(32);
    expect(half("access", 0x5678)).toHaveLength(32);
    expect(partner.chip.state).toBe("open");
  });

  it("is forgotten with the singulation", () => {
    const { partner, handle } = met();
    partner.password(handle, "access", ACCESS);
    expect(partner.chip.state).toBe("secured");
    partner.singulate();
    expect(partner.chip.state).toBe("open");
  });
});

describe("the kill password", () => {
  it("ends the tag for good, and the tag says so once", () => {
    const { partner, handle } = met();
    const [first, second] = partner.password(handle, "kill", KILL);
    expect(numberAt(first!, 0, 16)).toBe(handle);
    expect(isDone(second, handle)).toBe(true);
    expect(partner.chip.state).toBe("killed");
    for (const forUs of [1000, 3600e6]) {
      partner.losePower(forUs);
      expect(partner.say(SELECT_ALL)).toBeNull();
      expect(partner.query()).toBeNull();
      expect(partner.chip.state).toBe("killed");
    }
  });

  it("of zero kills nothing: the tag refuses and goes on", () => {
    const { partner, handle } = met({ kill: 0 });
    expect(errorOf(partner.password(handle, "kill", 0)[1])).toBe(0);
    expect(partner.read(handle, 3, 0)).not.toBeNull();
  });

  it.each([0x0001_0000, 0x0000_0001])("wrong by %i kills nothing", (by) => {
    const { partner, handle } = met();
    expect(partner.password(handle, "kill", KILL ^ by)[1]).toBeNull();
    expect(partner.chip.state).toBe("arbitrate");
    partner.singulate();
    expect(partner.chip.state).toBe("open");
  });

  it("without power enough kills nothing, and the tag says so with 0Bh", () => {
    const { partner, handle } = met();
    partner.canWrite = false;
    expect(errorOf(partner.password(handle, "kill", KILL)[1])).toBe(0x0b);
    expect(partner.chip.state).toBe("open");
  });

  it("is not the access password, nor that one it", () => {
    const { partner, handle } = met();
    expect(partner.password(handle, "kill", ACCESS)[1]).toBeNull();
    const again = partner.singulate();
    expect(partner.password(again, "access", KILL)[1]).toBeNull();
  });
});
