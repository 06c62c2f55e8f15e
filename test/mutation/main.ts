/**
 * `npm run mutation [-- ROOM…]`: Stryker over the rooms of `protocol/`, or those named, one after the other, and a table.
 * Status 1 when a room's score is below 90 %. Every survivor is listed with its place, for test/MUTATION.md.
 */
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { testsOf } from "./rooms.ts";

const LEAST_PERCENT = 90;
const REPORT = "coverage/mutation.json";

interface Mutant {
  readonly status: string;
  readonly mutatorName: string;
  readonly replacement?: string;
  readonly location: { readonly start: { readonly line: number; readonly column: number } };
}

interface Report {
  readonly files: { readonly [file: string]: { readonly mutants: readonly Mutant[] } };
}

const rooms = process.argv.length > 2 ? process.argv.slice(2) : Object.keys(testsOf);
const unknown = rooms.filter((room) => !testsOf[room]);
if (unknown.length > 0) {
  console.error(`${unknown.join(", ")}: there are ${Object.keys(testsOf).join(", ")}`);
  process.exit(2);
}

const rows: string[] = [];
for (const room of rooms) {
  const words = ["stryker", "run", "test/mutation/stryker.config.json", "--mutate", `protocol/${room}/**/*.ts`];
  const env = { ...process.env, PLYFRAME_ROOM: room };
  const { status } = spawnSync("npx", words, { env, stdio: ["ignore", 2, "inherit"] });
  if (status !== 0) throw new Error(`${room}: Stryker ended with status ${status}`);
  const { files } = JSON.parse(readFileSync(REPORT, "utf8")) as Report;
  const all = Object.entries(files).flatMap(([file, { mutants }]) => mutants.map((mutant) => ({ file, ...mutant })));
  const count = (...statuses: string[]) => all.filter((mutant) => statuses.includes(mutant.status)).length;
  const [noticed, missed] = [count("Killed", "Timeout"), count("Survived", "NoCoverage")];
  const percent = (100 * noticed) / (noticed + missed);
  const cells = [noticed + missed, count("Killed"), count("Timeout"), missed, count("Ignored")];
  rows.push(`| ${[room, ...cells, `${percent.toFixed(1)} %`].join(" | ")} |`);
  if (percent < LEAST_PERCENT) process.exitCode = 1;
  for (const { file, status: what, mutatorName, replacement, location } of all) {
    if (what !== "Survived" && what !== "NoCoverage") continue;
    const { line, column } = location.start;
    console.log(
      `${file}:${line}:${column} ${what} ${mutatorName}: ${(replacement ?? "").replace(/\s+/g, " ").slice(0, 80)}`,
    );
  }
}
console.log("| room | mutants | killed | by time-out | not noticed | static, left out | score |");
console.log("|---|---|---|---|---|---|---|");
for (const row of rows) console.log(row);
