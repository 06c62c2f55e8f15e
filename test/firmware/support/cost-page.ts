/** The two files that keep what was counted. */
import type { FirmwareCost, PortTraffic } from "../../../protocol/firmware/cost.ts";
import { costPhases } from "./costs.ts";
import { sealNames, targetOf } from "./targets.ts";

export const COST_FILE = "protocol/firmware/cost.ts";
export const COST_PAGE = "protocol/firmware/COST.md";

const mark = "Written by `npm run firmware-cost -- --write`; a test holds it against the emulators.";

/** The data file that a power budget imports. */
export function costFile(costs: readonly FirmwareCost[], traffic: readonly PortTraffic[]): string {
  const phases = costPhases.map((phase) => `\n  | "${phase}"`).join("");
  return `/** What the firmware costs, counted on emulated cores. ${mark} */

/** The frame's encoder and decoder alone, then the phases of the duty cycle as ply_step takes them. */
export type CostPhase =${phases};

export interface FirmwareCost {
  readonly target: "cortex-m0" | "cortex-m3" | "avr" | "msp430" | "rv32";
  /** What is counted: executed instructions, or cycles of the core's clock. */
  readonly unit: "instruction" | "cycle";
  /** What gave the figures. */
  readonly tool: string;
  /** Entries of the seal's table; 0: bit by bit. */
  readonly sealTable: 0 | 16 | 256;
  /** The largest count seen, with a port that only moves words in memory: the board's own comes on top. */
  readonly counts: Readonly<Record<CostPhase, number>>;
}

export const firmwareCosts: readonly FirmwareCost[] = [
${costs.map(costEntry).join("\n")}
];

/** What a phase asks of the port at most, the same on every target. */
export interface PortTraffic {
  readonly phase: CostPhase;
  readonly wordsRead: number;
  readonly wordsWritten: number;
  readonly settles: number;
}

export const portTraffic: readonly PortTraffic[] = [
${traffic
  .map(
    ({ phase, wordsRead, wordsWritten, settles }) =>
      `  { phase: "${phase}", wordsRead: ${wordsRead}, wordsWritten: ${wordsWritten}, settles: ${settles} },`,
  )
  .join("\n")}
];
`;
}

function costEntry({ target, unit, tool, sealTable, counts }: FirmwareCost): string {
  const lines = costPhases.map((phase) => `      ${phase}: ${counts[phase]},`);
  return `  {
    target: "${target}",
    unit: "${unit}",
    tool: "${tool}",
    sealTable: ${sealTable},
    counts: {
${lines.join("\n")}
    },
  },`;
}

/** The page for people. */
export function costPage(costs: readonly FirmwareCost[], traffic: readonly PortTraffic[]): string {
  const head = ["Target", "Unit", "Seal", ...costPhases.map((phase) => `\`${phase}\``)];
  const rows = costs.map(({ target, unit, sealTable, counts }) => [
    targetOf(target).title,
    `${unit}s`,
    sealNames[sealTable],
    ...costPhases.map((phase) => counts[phase]),
  ]);
  const tools = new Map(costs.map(({ target, tool }) => [targetOf(target).title, tool]));
  const asked = traffic.filter(({ wordsRead, wordsWritten }) => wordsRead + wordsWritten > 0);
  return `# Cost of the firmware

${mark}
The same figures as data: [cost.ts](cost.ts).

The largest count of each part over a run of the duty cycle that holds a cold start, frames, counters and a burst.
\`frame_encode\` seals a frame, checksum included; \`frame_decode\` judges one; the others are the phases of \`ply_step\`. The port
of the run only moves words in memory: what a board's bridge, sensor and sleep take comes on top. QEMU has no Cortex-M0+;
code for it runs on the Cortex-M0, which has the same instructions. Instructions are not cycles: a Cortex-M0+ takes two
for a load, a store or a taken branch (from memory).

${table(head, rows)}

What each phase asks of the port at most:

${table(
  ["Phase", "Words read", "Words written", "Settles"],
  asked.map(({ phase, wordsRead, wordsWritten, settles }) => [`\`${phase}\``, wordsRead, wordsWritten, settles]),
)}

What gave the figures:

${table(["Target", "Tool"], [...tools])}
`;
}

function table(head: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  const rule = rows[0]!.map((cell) => (typeof cell === "number" ? "--:" : "---"));
  return [head, rule, ...rows].map((cells) => `| ${cells.join(" | ")} |`).join("\n");
}
