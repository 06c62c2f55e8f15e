/** The `fhir` package (R4 structure definitions of HL7) judges the bundle; UCUM codes as HL7's unit list writes them. */
import { Fhir } from "fhir";
import type { Bundle, Observation } from "fhir/r4.js";
import { beforeAll, describe, expect, it } from "vitest";
import { fhirBundle } from "../../host/export/fhir-bundle.ts";
import type { SessionResult } from "../../host/sessions/session-result.ts";
import { capture, sessionFile, stretch, work } from "../host/sessions/story.ts";
import { exampleSession } from "../support/example-session.ts";

const RECORDED = "2026-03-05T08:00:00.000Z";
const judge = new Fhir();

function validate(bundle: unknown) {
  const { valid, messages } = judge.validate(bundle as object, { errorOnUnexpected: true });
  return { valid, faults: messages.filter(({ severity }) => severity === "error" || severity === "fatal") };
}

function observations(result: SessionResult): Observation[] {
  const { entry = [] } = fhirBundle(result, RECORDED) as unknown as Bundle;
  return entry.flatMap(({ resource }) => (resource?.resourceType === "Observation" ? [resource as Observation] : []));
}

const codeOf = ({ code }: Observation) => code.coding![0]!.code;

describe("a session as a FHIR bundle", () => {
  let example: SessionResult;
  beforeAll(async () => {
    example = await exampleSession();
  });

  it("is valid R4", () => {
    expect(validate(fhirBundle(example, RECORDED))).toEqual({ valid: true, faults: [] });
  });

  it("would be refused with a member that R4 does not know: the judge judges", () => {
    const bundle = fhirBundle(example, RECORDED) as unknown as { entry: { resource: Record<string, unknown> }[] };
    bundle.entry[1]!.resource.pressure = 40;
    expect(validate(bundle).valid).toBe(false);
    const without = fhirBundle(example, RECORDED) as unknown as { entry: { resource: Record<string, unknown> }[] };
    delete without.entry[1]!.resource.status;
    expect(validate(without).valid).toBe(false);
  });

  it("holds each posture's value in mm[Hg], with the temperature in Cel and what the number is traced by", () => {
    const [first] = observations(example);
    const site = example.sites[0]!;
    expect(first!.valueQuantity).toEqual({
      value: Number(site.postures[0]!.medianMmhg.toFixed(3)),
      unit: "mmHg",
      system: "http://unitsofmeasure.org",
      code: "mm[Hg]",
    });
    const part = (id: string) => first!.component!.find(({ code }) => code.coding![0]!.code === id);
    expect(part("cell-temperature")!.valueQuantity).toMatchObject({ code: "Cel", system: "http://unitsofmeasure.org" });
    expect(part("calibration-id")!.valueString).toBe("40001@2025-12-30");
    expect(part("layout-fingerprint")!.valueString).toBe(example.provenance.fingerprint);
    expect(part("ambient-source")!.valueString).toBe("kit barometer");
    expect(part("software")!.valueString).toBe("plyframe test");
    expect(first!.bodySite!.text).toBe("training leg, B1");
    expect(first!.subject!.identifier!.value).toBe("LEG-1");
    expect(first!.meta!.security![0]!.code).toBe("HTEST");
  });

  it("has one value a posture interval and one stiffness index a site, all referring to entries of the bundle", () => {
    const list = observations(example);
    expect(list.filter((one) => codeOf(one) === "interface-pressure")).toHaveLength(16);
    expect(list.filter((one) => codeOf(one) === "static-stiffness-index")).toHaveLength(4);
    const { entry = [] } = fhirBundle(example, RECORDED) as unknown as Bundle;
    const urls = entry.map(({ fullUrl }) => fullUrl);
    expect(new Set(urls).size).toBe(urls.length);
    for (const one of list) expect(urls).toContain(one.device!.reference);
  });

  it("gives the reason where a value is absent, and no value", async () => {
    const tags = [
      { epc: "30361f9404c0004000000007", site: "B1" },
      { epc: "30361f9404c0004000000009", site: "C" },
    ];
    const text = capture([{ samples: stretch(0, 60, () => 40), calibration: null }]);
    const silent = await work(sessionFile({ tags, posture: "standing" }), [text]);
    const absent = observations(silent).filter(({ dataAbsentReason }) => dataAbsentReason);
    expect(absent.map((one) => [one.bodySite!.text, one.dataAbsentReason!.coding![0]!.code])).toEqual([
      ["B1", "not-performed"],
      ["C", "error"],
    ]);
    for (const one of absent) expect(one.valueQuantity).toBeUndefined();
    expect(validate(fhirBundle(silent, RECORDED)).valid).toBe(true);
    const uncertain = observations(silent)[0]!.component!.find(
      ({ code }) => code.coding![0]!.code === "expanded-uncertainty",
    );
    expect(uncertain!.dataAbsentReason!.coding![0]!.code).toBe("unknown");
    const none = await work(sessionFile({ ambient: { source: "none" } }), [text]);
    expect(observations(none)[0]!.dataAbsentReason!.coding![0]!.code).toBe("unknown");
  });
});
