/** A session as a FHIR R4 (4.0.1) bundle: an observation for each site and posture, the devices, and the provenance. */
import { createHash } from "node:crypto";
import { WINDOW_TEXT } from "../sessions/posture-value.ts";
import { median } from "../sessions/robust.ts";
import type { SessionResult } from "../sessions/session-result.ts";
import type { SiteSummary } from "../sessions/site-summary.ts";
import { absent, type CodeId, celsius, concept, mmhg, postureTexts } from "./fhir-codes.ts";
import { sessionName } from "./reading-rows.ts";

/** Resources as plain JSON; a validator judges them, not the compiler. */
type Resource = { readonly resourceType: string; readonly [member: string]: unknown };

const NOTE =
  "Research and engineering tool, not a medical device; not a basis for starting, changing or stopping compression.";

/** `recorded`: ISO 8601, when the bundle was made. */
export function fhirBundle(result: SessionResult, recorded: string): Resource {
  const maker = new BundleMaker(result);
  const entries: { fullUrl: string; resource: Resource }[] = [];
  const targets: { reference: string }[] = [];
  result.sites.forEach((site, index) => {
    entries.push({ fullUrl: maker.deviceUrl(site), resource: maker.device(site, index) });
    maker.observations(site, index).forEach((resource, number) => {
      const fullUrl = maker.url(`observation ${site.tag.epc} ${number}`);
      targets.push({ reference: fullUrl });
      entries.push({ fullUrl, resource });
    });
  });
  entries.push({ fullUrl: maker.url("provenance"), resource: maker.provenance(targets, recorded) });
  return { resourceType: "Bundle", type: "collection", timestamp: recorded, ...maker.meta(), entry: entries };
}

class BundleMaker {
  readonly #result: SessionResult;

  constructor(result: SessionResult) {
    this.#result = result;
  }

  /** The same resource of the same session has the same URL in every bundle. */
  url(what: string): string {
    const digest = createHash("sha256")
      .update(`${sessionName(this.#result)}\n${this.#result.fromMs}\n${what}`)
      .digest();
    digest[6] = (digest[6]! & 0x0f) | 0x80;
    digest[8] = (digest[8]! & 0x3f) | 0x80;
    const hex = digest.toString("hex");
    const parts = [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20, 32)];
    return `urn:uuid:${parts.join("-")}`;
  }

  deviceUrl(site: SiteSummary): string {
    return this.url(`device ${site.tag.epc}`);
  }

  /** Invented data carries HL7's label for test data. */
  meta() {
    if (!this.#result.provenance.invented) return {};
    const system = "http://terminology.hl7.org/CodeSystem/v3-ActReason";
    return { meta: { security: [{ system, code: "HTEST", display: "test health data" }] } };
  }

  device({ tag, label }: SiteSummary, index: number): Resource {
    const serial = this.#result.series[index]!.header?.sensorSerial;
    return {
      resourceType: "Device",
      ...this.meta(),
      identifier: [{ system: "urn:plyframe:epc", value: tag.epc }],
      ...(serial !== undefined && { serialNumber: `${serial}` }),
      type: { text: "Battery-less pressure tag" },
      note: [{ text: `Lay at ${label}.` }],
    };
  }

  observations(site: SiteSummary, index: number): Resource[] {
    const list = site.postures.map((value) => {
      const { samples } = this.#result.series[index]!;
      const inside = samples.filter(({ timeMs }) => timeMs >= value.fromMs && timeMs <= value.toMs);
      const temperatures = inside.flatMap(({ temperatureC }) => (temperatureC === null ? [] : [temperatureC]));
      return this.#observation(site, "interface-pressure", {
        effectivePeriod: { start: iso(value.fromMs), end: iso(value.toMs) },
        valueQuantity: mmhg(value.medianMmhg),
        method: { text: WINDOW_TEXT },
        component: [
          text("posture", postureTexts[value.posture]),
          {
            code: concept("cell-temperature"),
            ...orAbsent(temperatures.length ? celsius(median(temperatures)) : null, "no temperature in the frames"),
          },
          {
            code: concept("expanded-uncertainty"),
            ...orAbsent(
              value.uncertaintyMmhg === null ? null : mmhg(value.uncertaintyMmhg),
              "a contribution is not known",
            ),
          },
          ...this.#common(site),
        ],
      });
    });
    if (!site.postures.some(({ posture }) => posture === "resting")) list.push(this.#missing(site));
    for (const { indexMmhg, uncertaintyMmhg, standing } of site.stiffness) {
      list.push(
        this.#observation(site, "static-stiffness-index", {
          effectivePeriod: { start: iso(standing.fromMs), end: iso(standing.toMs) },
          valueQuantity: mmhg(indexMmhg),
          component: [
            {
              code: concept("expanded-uncertainty"),
              ...orAbsent(uncertaintyMmhg === null ? null : mmhg(uncertaintyMmhg), "a contribution is not known"),
            },
            ...this.#common(site),
          ],
        }),
      );
    }
    if (site.walking) {
      list.push(
        this.#observation(site, "walking-swing", {
          effectivePeriod: this.#wholeSession(),
          valueQuantity: mmhg(site.walking.medianMmhg),
          component: this.#common(site),
        }),
      );
    }
    return list;
  }

  /** A site without a resting value: why. */
  #missing(site: SiteSummary): Resource {
    const sawGauge = site.peak !== null;
    const reason =
      site.frames === 0
        ? absent("error", "the tag gave no frame")
        : sawGauge
          ? absent("not-performed", "too few readings lying down")
          : absent("unknown", "no gauge pressure: the ambient pressure or a valid sample is missing");
    return this.#observation(site, "interface-pressure", {
      effectivePeriod: this.#wholeSession(),
      dataAbsentReason: reason,
      component: [text("posture", postureTexts.resting), ...this.#common(site)],
    });
  }

  #wholeSession() {
    return { start: iso(this.#result.fromMs), end: iso(this.#result.toMs) };
  }

  #observation(site: SiteSummary, code: CodeId, members: object): Resource {
    const { session } = this.#result;
    return {
      resourceType: "Observation",
      ...this.meta(),
      status: "final",
      code: concept(code),
      subject: { type: "Patient", identifier: { system: "urn:plyframe:subject", value: session.subject.id } },
      bodySite: { text: session.limb === undefined ? site.label : `${session.limb}, ${site.label}` },
      device: { reference: this.deviceUrl(site) },
      note: [{ text: NOTE }],
      ...members,
    };
  }

  /** What every number is traced by. */
  #common({ tag, calibration }: SiteSummary) {
    const { provenance } = this.#result;
    return [
      ...(tag.layer == null ? [] : [{ code: concept("layer"), valueInteger: tag.layer }]),
      calibration.id === null
        ? { code: concept("calibration-id"), dataAbsentReason: absent("unknown", "no usable calibration") }
        : text("calibration-id", calibration.id),
      text("ambient-source", provenance.ambientSource),
      text("layout-fingerprint", provenance.fingerprint),
      text("software", provenance.software),
    ];
  }

  provenance(target: readonly { reference: string }[], recorded: string): Resource {
    const { software, captures, layout, fingerprint } = this.#result.provenance;
    return {
      resourceType: "Provenance",
      target,
      recorded,
      agent: [{ who: { display: software } }],
      entity: captures.map((file) => ({
        role: "source",
        what: { display: `capture ${file}, layout ${layout}, fingerprint ${fingerprint}` },
      })),
    };
  }
}

function text(id: CodeId, valueString: string) {
  return { code: concept(id), valueString };
}

function orAbsent(valueQuantity: object | null, why: string): object {
  return valueQuantity === null ? { dataAbsentReason: absent("unknown", why) } : { valueQuantity };
}

function iso(timeMs: number): string {
  return new Date(timeMs).toISOString();
}
