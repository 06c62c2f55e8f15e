/**
 * Inventoried flags and SL over time and without power: S0 is lost with power; S1 lasts 0.5 to 5 s, powered or not, and no
 * use renews it; S2, S3 and SL last while powered and more than 2 s without (GS1 EPC Gen2 version 2, from memory). A flag is
 * seen as a reader sees it: by which Query the tag answers.
 */
import { describe, expect, it } from "vitest";
import { type Session, SL } from "../../../sim/air/command.ts";
import { AirPartner, SELECT_ALL } from "../support/air-partner.ts";

const S = 1_000_000;
const sessions: readonly Session[] = [0, 1, 2, 3];

/** Target that the tag answers in; asking in a round leaves the flags as they are as long as the tag is not acknowledged. */
function flagOf(partner: AirPartner, session: Session): "A" | "B" | "both" | "none" {
  const [a, b] = (["A", "B"] as const).map((target) => partner.query({ session, target }) !== null);
  return a ? (b ? "both" : "A") : b ? "B" : "none";
}

/** Inventories the tag, so that its flag turns. */
function inventory(partner: AirPartner, session: Session, target: "A" | "B" = "A"): void {
  const rn = partner.query({ session, target })!;
  partner.say({ kind: "ack", rn });
  partner.say({ kind: "query_rep", session });
}

describe("an inventoried flag", () => {
  it.each(sessions)(
    "S%i turns when the tag was acknowledged and the round goes on, and back in the next",
    (session) => {
      const partner = new AirPartner();
      expect(flagOf(partner, session)).toBe("A");
      inventory(partner, session);
      expect(flagOf(partner, session)).toBe("B");
      for (const other of sessions) if (other !== session) expect(flagOf(partner, other)).toBe("A");
      inventory(partner, session, "B");
      expect(flagOf(partner, session)).toBe("A");
    },
  );

  it.each(sessions)("S%i turns by a Query of its session too, and by no other", (session) => {
    const partner = new AirPartner();
    const rn = partner.query({ session })!;
    partner.say({ kind: "ack", rn });
    const other = ((session + 1) % 4) as Session;
    partner.query({ session: other });
    expect(flagOf(partner, session)).toBe("A");
    partner.say({ kind: "ack", rn: partner.query({ session })! });
    partner.query({ session });
    expect(flagOf(partner, session)).toBe("B");
  });

  it.each(sessions)("S%i stays when a QueryRep of another session comes", (session) => {
    const partner = new AirPartner();
    partner.say({ kind: "ack", rn: partner.query({ session })! });
    partner.say({ kind: "query_rep", session: ((session + 1) % 4) as Session });
    expect(partner.chip.state).toBe("acknowledged");
  });

  it("S0 lasts as long as there is power", () => {
    const partner = new AirPartner();
    inventory(partner, 0);
    partner.nowUs += 3600 * S;
    expect(flagOf(partner, 0)).toBe("B");
    partner.losePower(100);
    expect(flagOf(partner, 0)).toBe("A");
  });

  it.each(["powered", "unpowered"])("S1 lasts for half a second and no more than five, %s", (how) => {
    const flagAfter = (us: number): string => {
      const partner = new AirPartner();
      inventory(partner, 1);
      if (how === "powered") partner.nowUs += us;
      else partner.losePower(us);
      return flagOf(partner, 1);
    };
    expect(flagAfter(0.499 * S)).toBe("B");
    expect(flagAfter(5 * S)).toBe("A");
  });

  it("S1 is not renewed by being looked at", () => {
    const partner = new AirPartner();
    inventory(partner, 1);
    for (let i = 0; i < 50; i++) {
      partner.nowUs += 0.1 * S;
      flagOf(partner, 1);
    }
    expect(flagOf(partner, 1)).toBe("A");
  });

  it.each([2, 3] as const)("S%i lasts while powered and for 2 s without, and is not kept for ever", (session) => {
    const partner = new AirPartner();
    inventory(partner, session);
    partner.nowUs += 3600 * S;
    expect(flagOf(partner, session)).toBe("B");
    partner.losePower(2 * S);
    expect(flagOf(partner, session)).toBe("B");
    // How much longer than 2 s is the tag's own affair; this one's is below a minute.
    partner.losePower(60 * S);
    expect(flagOf(partner, session)).toBe("A");
  });
});

describe("SL", () => {
  const selected = (partner: AirPartner) => [2, 3].map((sel) => partner.query({ sel: sel as 2 | 3 }) !== null);

  it("lasts while powered and for 2 s without, and is not kept for ever", () => {
    const partner = new AirPartner();
    expect(selected(partner)).toEqual([true, false]);
    partner.say({ ...SELECT_ALL, target: SL });
    partner.nowUs += 3600 * S;
    expect(selected(partner)).toEqual([false, true]);
    partner.losePower(2 * S);
    expect(selected(partner)).toEqual([false, true]);
    partner.losePower(60 * S);
    expect(selected(partner)).toEqual([true, false]);
  });
});

describe("a Select", () => {
  // Actions for tags that match and that do not, by the standard's table: + is SL or A, - is not SL or B, ! turns, . keeps.
  const table = ["+-", "+.", ".-", "!.", "-+", "-.", ".+", ".!"];
  const cases = table.flatMap((effects, action) =>
    [true, false].flatMap((matching) => [true, false].map((before) => ({ action, matching, before, effects }))),
  );
  const becomes = (effect: string, before: boolean) =>
    effect === "+" ? true : effect === "-" ? false : effect === "!" ? !before : before;

  it.each(cases)("action $action, matching $matching, before $before", ({ action, matching, before, effects }) => {
    const expected = becomes(effects[matching ? 0 : 1]!, before);
    for (const target of [...sessions, SL] as const) {
      const partner = new AirPartner();
      const start = partner.epc.slice(0, 8);
      const mask = matching ? start : start.map((bit) => 1 - bit);
      partner.say({ ...SELECT_ALL, target, action: before ? 0 : 4 });
      partner.say({ ...SELECT_ALL, target, action, pointer: 32, mask });
      if (target === SL) expect(partner.query({ sel: 3 }) !== null).toBe(expected);
      else expect(flagOf(partner, target as Session)).toBe(expected ? "A" : "B");
    }
  });
});
