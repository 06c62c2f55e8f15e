/**
 * `npm run power-cut`: cuts the supply of the firmware at every word write, and again at every word write of the start
 * after it. `-- --help` lists the options.
 */
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { shippedModule } from "../../sim/firmware/program.ts";
import { explore, newTally } from "./explore.ts";
import { replay } from "./replay.ts";
import { PATH, powerCutPage } from "./table.ts";
import { matchingWorkloads, plainWorkloads } from "./workloads.ts";
import { buildWrong, harmlessFirmware, wrongFirmware } from "./wrong-firmware.ts";

const HELP = `usage: npm run power-cut [-- options]
  --workload NAME  only this one
  --singles        no pairs of cuts
  --wrong NAME     firmware that is wrong on purpose (needs clang-14 and lld-14)
  --replay ID      one cut, with the words shown
  --table          write ${PATH}`;

const ENOUGH = 20;

function run(): number {
  const { values } = parseArgs({
    options: {
      workload: { type: "string" },
      singles: { type: "boolean" },
      wrong: { type: "string" },
      replay: { type: "string" },
      table: { type: "boolean" },
      help: { type: "boolean" },
    },
  });
  if (values.help) {
    console.log(HELP);
    return 0;
  }
  if (values.table) {
    const file = fileURLToPath(new URL(`../../${PATH}`, import.meta.url));
    writeFileSync(file, powerCutPage(shippedModule()).text);
    console.log(`wrote ${PATH}`);
    return 0;
  }
  const module = values.wrong === undefined ? shippedModule() : wrong(values.wrong);
  const workloads = [...plainWorkloads, ...matchingWorkloads(shippedModule())];
  if (values.replay !== undefined) {
    let found = 0;
    for (const line of replay(module, workloads, values.replay)) {
      console.log(line);
      if (line.startsWith("WRONG")) found = 1;
    }
    return found;
  }
  const chosen = workloads.filter(({ name }) => values.workload === undefined || name === values.workload);
  if (chosen.length === 0)
    throw new Error(`no workload ${values.workload}: ${workloads.map(({ name }) => name).join(", ")}`);
  const total = { cuts: 0, states: 0, lives: 0, findings: 0 };
  for (const workload of chosen) {
    const tally = newTally();
    explore(module, workload, { pair: values.singles ? null : () => true, enough: ENOUGH }, tally);
    const { cuts, states, lives, findings } = tally;
    console.log(`${workload.name}: ${cuts} cuts, ${states} states, ${lives} starts, ${findings.length} wrong`);
    for (const { id, says } of findings) console.log(`  ${id}: ${says}`);
    total.cuts += cuts;
    total.states += states;
    total.lives += lives;
    total.findings += findings.length;
  }
  console.log(`all: ${total.cuts} cuts, ${total.states} states, ${total.lives} starts, ${total.findings} wrong`);
  return total.findings > 0 ? 1 : 0;
}

function wrong(name: string): WebAssembly.Module {
  const all = [...wrongFirmware, ...harmlessFirmware];
  const found = all.find((candidate) => candidate.name === name);
  if (!found) throw new Error(`no wrong firmware ${name}: ${all.map((candidate) => candidate.name).join(", ")}`);
  return buildWrong(found);
}

try {
  process.exitCode = run();
} catch (error) {
  console.error((error as Error).message);
  process.exitCode = 2;
}
