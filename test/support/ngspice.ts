/** Transients of a circuit by ngspice, as points of one node. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/**
 * Runs a transient of `untilS` seconds with steps of at most `stepS` on these element lines, and returns time and voltage
 * of `node` at every step. The capacitors' IC= are where it begins.
 */
export function transient(lines: readonly string[], node: string, stepS: number, untilS: number): [number, number][] {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-ngspice-"));
  try {
    const data = join(folder, "out.txt");
    const control = [`tran ${stepS} ${untilS} 0 ${stepS} uic`, `wrdata ${data} v(${node})`, "quit"];
    const text = ["* plyframe", ".options reltol=1e-5", ...lines, ".control", ...control, ".endc", ".end", ""].join(
      "\n",
    );
    writeFileSync(join(folder, "in.cir"), text);
    const run = spawnSync("ngspice", ["-b", join(folder, "in.cir")], { encoding: "utf8" });
    if (run.status !== 0) throw new Error(`ngspice: ${run.stderr}${run.stdout}`);
    const points = readFileSync(data, "utf8")
      .trim()
      .split("\n")
      .map((line) => line.trim().split(/\s+/).map(Number) as [number, number]);
    // It ends with status 0 where its steps have become too small for it.
    if (points.at(-1)![0] < 0.999 * untilS) throw new Error(`ngspice stopped early: ${run.stderr}`);
    return points;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Voltage between two steps, in a straight line. */
export function voltageAt(points: readonly (readonly [number, number])[], timeS: number): number {
  const after = points.findIndex(([t]) => t >= timeS);
  if (after <= 0) return points[Math.max(0, after)]![1];
  const [[t0, v0], [t1, v1]] = [points[after - 1]!, points[after]!];
  return v0 + ((v1 - v0) * (timeS - t0)) / (t1 - t0);
}
