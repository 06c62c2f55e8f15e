/** Codes of the FHIR bundle: a local code system, for there is no universal code of sub-bandage pressure known here. */
import type { PostureValue } from "../sessions/posture-value.ts";

const SYSTEM = "https://plyframe.invalid/fhir/codes";

const codes = {
  "interface-pressure": "Interface pressure under compression",
  "static-stiffness-index": "Static stiffness index: pressure standing minus pressure lying at the same site",
  "walking-swing": "Swing of the interface pressure while walking: highest less lowest sample of a burst",
  "cell-temperature": "Temperature of the sensor's air cell",
  "expanded-uncertainty": "Expanded uncertainty of the pressure, coverage factor 2",
  posture: "Posture",
  layer: "Layer of the bandage the sensor lies under, 1 innermost",
  "calibration-id": "Calibration: sensor serial and date",
  "ambient-source": "Source of the ambient pressure",
  "layout-fingerprint": "Fingerprint of the tag memory's specification",
  software: "Software and version",
} as const;

export type CodeId = keyof typeof codes;

export function concept(id: CodeId) {
  return { coding: [{ system: SYSTEM, code: id, display: codes[id] }], text: codes[id] };
}

const UCUM = "http://unitsofmeasure.org";

export function mmhg(value: number) {
  return { value: Number(value.toFixed(3)), unit: "mmHg", system: UCUM, code: "mm[Hg]" };
}

export function celsius(value: number) {
  return { value: Number(value.toFixed(2)), unit: "°C", system: UCUM, code: "Cel" };
}

/** Codes of HL7's data-absent-reason code system. */
export function absent(code: "unknown" | "not-performed" | "error", text: string) {
  const display = { unknown: "Unknown", "not-performed": "Not Performed", error: "Error" }[code];
  return { coding: [{ system: "http://terminology.hl7.org/CodeSystem/data-absent-reason", code, display }], text };
}

export const postureTexts: { readonly [posture in PostureValue["posture"]]: string } = {
  resting: "lying",
  sitting: "sitting",
  standing: "standing",
  walking: "walking",
};
