/** Parsers of whole texts: Touchstone, turn-on tables, bench runs, session files, scenario files. */
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { CommandError } from "../../../host/cli/exit.ts";
import { readMatchScenario } from "../../../host/cli/radio/match-scenario.ts";
import { readScenario } from "../../../host/cli/scenario-file.ts";
import { parseSession, SessionFault } from "../../../host/sessions/session-file.ts";
import { type BudgetContent, parseTouchstone, parseTurnOnTable, scenarioOf } from "../../../sim/index.ts";
import { type FuzzParser, textOf, unequal } from "../fuzz-parser.ts";

const example = (name: string) =>
  new Uint8Array(readFileSync(new URL(`../../../vectors/examples/${name}`, import.meta.url)));

/** Places of faults lie within the text. */
function placed(found: object, text: string): string[] {
  const most = text.split(/\r\n|\r|\n/).length;
  const faults = "says" in found ? [found] : "faults" in found ? (found.faults as object[]) : [];
  const rows = "rows" in found ? (found.rows as object[]) : [];
  const beyond = [...faults, ...rows].filter((one) => {
    const { line } = one as { readonly line: number };
    return line < 1 || line > most;
  });
  return unequal(["faults and rows beyond the text", beyond.length, 0]);
}

function document(name: string, seeds: () => readonly Uint8Array[], parse: (text: string) => object): FuzzParser {
  return {
    name,
    seeds,
    run: async (pieces) => {
      const text = Buffer.concat(pieces).toString("utf8");
      const found = parse(text);
      return { said: textOf(found), broken: placed(found, text) };
    },
  };
}

export const touchstone = document(
  "touchstone",
  () => [
    example("tag-antenna.s1p"),
    new Uint8Array(Buffer.from("! text\n# GHz S MA R 50\n0.8 0.5 -30\n0.9 .4 1e1 ! x\n")),
  ],
  parseTouchstone,
);

export const turnOn = document("turn-on", () => [example("turn-on.csv")], parseTurnOnTable);

export const session = document(
  "session",
  () => [example("training-leg.session.json")],
  (text) => {
    try {
      return parseSession(text, "walk");
    } catch (error) {
      if (!(error instanceof SessionFault)) throw error;
      return error.sentences;
    }
  },
);

/** Scenario files are read from a disk: one file, written anew for each input. */
function scenario(name: string, seeds: readonly object[], read: (file: string) => object): FuzzParser {
  return document(
    name,
    () => seeds.map((seed) => new Uint8Array(Buffer.from(JSON.stringify(seed, null, 1)))),
    (text) => {
      const file = join(tmpdir(), `plyframe-fuzz-${process.pid}-${name}.json`);
      writeFileSync(file, text);
      try {
        return [textOf(read(file)).replaceAll(file, name)];
      } catch (error) {
        if (!(error instanceof CommandError)) throw error;
        return [error.message.replaceAll(file, name)];
      } finally {
        rmSync(file);
      }
    },
  );
}

/** What the scenario stands on; its members are those of vectors/schema/budget.schema.json. */
const BUDGET = { title: "walk", reader: { power_dbm: 30 }, store: { capacitance_uf: 47 } };
const MATCH = { title: "walk", band: { low_mhz: 865, high_mhz: 868 }, link: { region: "eu_lower", conducted_dbm: 30 } };

export const budget = scenario("budget", [{}, BUDGET], (file) => {
  const { content } = readScenario<BudgetContent>(file, "budget.schema.json");
  return scenarioOf(content);
});

export const match = scenario("match", [{}, MATCH], readMatchScenario);
