/** Every planted fault is caught, and its field is among the first three that the report names. */
import { resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { readVectorSet, type VectorSet } from "../../host/replay/vector-set.ts";
import { needs } from "../support/outside.ts";
import { type Fault, plantedFaults } from "./faults.ts";
import { replayKit } from "./wrong-kit.ts";

const all = readVectorSet(resolve(import.meta.dirname, "../../vectors"));

/** Groups in which a fault of a file shows; the command asks all of them. */
const GROUPS: { readonly [file: string]: readonly string[] } = {
  "records.py": ["frames", "header", "counters", "slots"],
  "reading.py": ["readings", "fingerprint"],
  "link.py": ["link-frames", "link-messages"],
  "epc.py": ["epc-identity"],
  "plyframe.c": ["frames", "calibration", "slots"],
  "reading.c": ["readings"],
};

function vectorsFor({ file }: Fault): VectorSet {
  return { ...all, files: all.files.filter(({ name }) => GROUPS[file]!.includes(name)) };
}

describe("planted faults", () => {
  it("are at least sixteen, each with an id of its own", () => {
    const ids = new Set(plantedFaults.map(({ id }) => id));
    expect(ids.size).toBe(plantedFaults.length);
    expect(ids.size).toBeGreaterThanOrEqual(16);
  });

  for (const [kit, program] of [
    ["python", "python3"],
    ["c", "cc"],
  ] as const) {
    needs(program, () => {
      it.each(plantedFaults.filter((fault) => fault.kit === kit))(
        `${kit}: $id ($does) is caught at $field`,
        async (fault) => {
          const { failures, fields } = await replayKit(kit, fault, vectorsFor(fault));
          expect(failures).toBeGreaterThan(0);
          expect(fields.slice(0, 3)).toContain(fault.field);
        },
      );
    });
  }
});
