import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseSession, SessionFault } from "../../../host/sessions/session-file.ts";
import { sessionSchema } from "../../../host/sessions/session-schema.ts";
import { sessionFile } from "./story.ts";

function faultsOf(text: string): readonly string[] {
  try {
    parseSession(text, "walk.json");
  } catch (error) {
    if (error instanceof SessionFault) return error.sentences;
    throw error;
  }
  return [];
}

const withChanges = (changes: object) => faultsOf(JSON.stringify({ ...sessionFile(), ...changes }));

describe("a session file", () => {
  it("is read", () => expect(withChanges({})).toEqual([]));

  it("gives EPCs in lower case", () => {
    const tags = [{ epc: "3066C4409047E14000004B01", site: "C" }];
    expect(parseSession(JSON.stringify(sessionFile({ tags })), "walk.json").tags[0]!.epc).toBe(
      "3066c4409047e14000004b01",
    );
  });

  it("that is no JSON is named with the line", () => {
    expect(faultsOf('{\n"record": "session",\n  oops')[0]).toMatch(/^walk\.json:3: not JSON$/);
  });

  it.each([
    [{ version: 2 }, /walk\.json: \/version must be equal to constant/],
    [{ captures: [] }, /walk\.json: \/captures must NOT have fewer than 1 items/],
    [{ tags: [{ site: "B1" }] }, /walk\.json: \/tags\/0 must have required property 'epc'/],
    [{ tags: [{ epc: "30g", site: "B1" }] }, /walk\.json: \/tags\/0\/epc must match pattern/],
    [{ ambient: { source: "guess" } }, /walk\.json: \/ambient\/source is none of kit, log, tag, typed, none/],
    [{ ambient: { source: "log" } }, /walk\.json: \/ambient must have required property 'file'/],
    [{ ambient: { source: "typed", pressure_hpa: 101_325 } }, /\/ambient\/pressure_hpa must be <= 1260/],
    [{ events: [{ event: "stood_up" }] }, /walk\.json: \/events\/0 must have required property/],
    [{ events: [{ event: "ran", kit_time_s: 1 }] }, /\/events\/0\/event must be equal to one of .*wrapped/],
    [{ events: [{ event: "walked", at: "10 o'clock" }] }, /\/events\/0\/at must match/],
    [{ events: [{ event: "walked", kit_time_s: 1, capture: 3 }] }, /\/events\/0\/capture is 3, but there are only 1/],
    [{ name: "somebody" }, /walk\.json: the file must NOT have additional properties \("name"\)/],
    [
      { wraps: [{ site: "X", tension_n: 1, layers: 1, circumference_cm: 1, width_cm: 1 }] },
      /\/wraps\/0\/site "X" is no site/,
    ],
  ])("with %j is refused, with its place", (changes, sentence) => {
    const faults = withChanges(changes);
    expect(
      faults.some((fault) => sentence.test(fault)),
      faults.join("\n"),
    ).toBe(true);
  });

  it("with a tag twice, or two tags at one place, is refused", () => {
    const [epc, other] = ["30361f9404c0004000000007", "30361f9404c0004000000008"];
    expect(
      withChanges({
        tags: [
          { epc, site: "B1" },
          { epc: epc!.toUpperCase(), site: "C" },
        ],
      })[0],
    ).toMatch(/\/tags\/1\/epc is the tag of \/tags\/0/);
    expect(
      withChanges({
        tags: [
          { epc, site: "B1" },
          { epc: other, site: "B1" },
        ],
      })[0],
    ).toMatch(/those of \/tags\/0 too/);
    expect(
      withChanges({
        tags: [
          { epc, site: "B1", layer: 1 },
          { epc: other, site: "B1", layer: 2 },
        ],
      }),
    ).toEqual([]);
  });

  it("with a subject that looks like a person is refused, and taken once the file says that it is a pseudonym", () => {
    expect(withChanges({ subject: { id: "Marie Mustermann" } })[0]).toMatch(
      /\/subject\/id looks like a name; use a pseudonym/,
    );
    expect(withChanges({ subject: { id: "14.03.1962" } })[0]).toMatch(/date of birth/);
    expect(withChanges({ subject: { id: "Marie Mustermann", id_is_pseudonym: true } })).toEqual([]);
    expect(withChanges({ subject: { id: "Marie Mustermann", id_is_pseudonym: false } })).toHaveLength(1);
  });

  it("has its schema published", () => {
    const published = readFileSync(new URL("../../../vectors/schema/session.schema.json", import.meta.url), "utf8");
    expect(published).toBe(`${JSON.stringify(sessionSchema, null, 2)}\n`);
  });
});
