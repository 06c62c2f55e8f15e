/** `npm run seal-report`: the figures protocol/SEAL.md rests on, computed. */
import { fileURLToPath } from "node:url";
import { checksums } from "../../protocol/model/checksums.ts";
import { choose, ones, order, undetected, unseenBursts } from "./crc-weights.ts";

const POLYNOMIALS = [0x1021, 0x3d65] as const;
const BLOCKS = [
  [128, "frame, header, counters"],
  [256, "calibration block"],
  [512, "burst block"],
] as const;
const MOST = 6;

const hex = (value: number) => `${value.toString(16).toUpperCase().padStart(4, "0")}h`;

function distance(counts: readonly bigint[]): string {
  const first = counts.findIndex((count, weight) => weight > 0 && count > 0n);
  return first < 0 ? `more than ${MOST}` : `${first}`;
}

/** The whole report, one line a figure. */
export function sealReport(): string {
  const lines: string[] = [];
  for (const poly of POLYNOMIALS) {
    lines.push(`polynomial ${hex(poly)}`);
    const longest = order(poly);
    lines.push(`  double errors are all seen up to ${longest} bits, ${longest - 16} of them data`);
    lines.push(
      `  ${ones(poly) % 2 ? "divisible by x + 1: every odd number of errors is seen" : "not divisible by x + 1"}`,
    );
    for (const [bits, what] of BLOCKS) {
      const counts = undetected(poly, bits, MOST);
      lines.push(`  ${bits} bits (${what}): Hamming distance ${distance(counts)}`);
      for (let weight = 2; weight <= MOST; weight++) {
        lines.push(`    ${weight} errors: ${counts[weight]} of ${choose(bits, weight)} patterns pass`);
      }
    }
  }
  const { seal, air } = checksums;
  for (const width of [15, 16, 17]) {
    lines.push(`bursts of ${width} bits: ${unseenBursts(seal.poly, width)} of ${2 ** (width - 2)} pass`);
  }
  lines.push(`ones in the air CRC's preset and final XOR: ${ones(air.init)} and ${ones(air.xorout)}`);
  lines.push(`ones in the seal's preset and final XOR: ${ones(seal.init)} and ${ones(seal.xorout)}`);
  return lines.join("\n");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) console.log(sealReport());
