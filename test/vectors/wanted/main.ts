/**
 * `npm run vectors-coverage`: what the specification, the reasons and the branches ask of the vectors, and what no vector
 * shows. `-- FOLDER` looks at a copy of vectors/. Exit status 0 when nothing is missing, 1 when something is, 2 for wrong use,
 * 3 when the folder cannot be read.
 */
import { reasons } from "../../../protocol/model/reasons.ts";
import { cover } from "./cover.ts";
import { type Elsewhere, reasonsElsewhere } from "./reasons-elsewhere.ts";
import { type AnyVectorFile, readVectorSet, VECTORS_FOLDER } from "./vector-set.ts";

const [folder = VECTORS_FOLDER, ...rest] = process.argv.slice(2);
if (rest.length > 0 || folder.startsWith("-")) {
  console.error("usage: vectors-coverage [FOLDER]");
  process.exit(2);
}

const files = open(folder);
const all = cover(files);
const count = (numbers: readonly number[]) => numbers.reduce((sum, number) => sum + number, 0);
const row = (name: string, wanted: number, missing: number) =>
  `${name.padEnd(52)}${String(wanted).padStart(7)}${String(wanted - missing).padStart(7)}${String(missing).padStart(9)}`;

const missing = all.flatMap((group) => group.missing.map((what) => `${group.name}: ${what}`));
const elsewhere = Object.entries(reasonsElsewhere) as [keyof typeof reasons, Elsewhere][];
const lines = [
  `${"group".padEnd(52)}${"wanted".padStart(7)}${"shown".padStart(7)}${"missing".padStart(9)}`,
  ...all.map((group) => row(group.name, group.wanted, group.missing.length)),
  row("altogether", count(all.map(({ wanted }) => wanted)), missing.length),
  `${count(files.map(({ vectors }) => vectors.length))} vectors in ${files.length} files.`,
  "",
  `${elsewhere.length} of ${Object.keys(reasons).length} reasons are no vector's verdict:`,
  ...elsewhere.map(([code, { why, test }]) => `  ${code.padEnd(24)}${why} (${test})`),
];
if (missing.length > 0) {
  lines.push("", `${missing.length} without a vector:`, ...missing.map((one) => `  ${one}`));
  process.exitCode = 1;
}
console.log(lines.join("\n"));

function open(name: string): AnyVectorFile[] {
  try {
    return readVectorSet(name);
  } catch (error) {
    console.error(`vectors-coverage: ${name}: ${(error as Error).message}`);
    process.exit(3);
  }
}
