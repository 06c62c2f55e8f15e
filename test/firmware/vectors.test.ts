/** Every published vector through the C firmware, on the host under sanitizers and on emulated cores. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  buildImage,
  CONSOLE_WORDS,
  dumpCommands,
  firmwareSource,
  harness,
  includes,
  runImage,
} from "./support/image.ts";
import { needsAll } from "./support/needs-all.ts";
import { run, workFolder } from "./support/program.ts";
import { type Question, questionLines, questions, questionTable, withinWord } from "./support/questions.ts";
import { QUESTIONS, sealNames, sealTables, type Target, targets } from "./support/targets.ts";

function expectAnswers(lines: readonly string[], asked: readonly Question[]): void {
  const told = asked.map(({ id }, i) => `${id}: ${lines[i]}`);
  expect(told).toEqual(asked.map(({ id, answer }) => `${id}: ${answer}`));
  expect(lines.length).toBe(asked.length);
}

/** The questions in runs of one image each: the MSP430's memory does not hold the answers to all of them at once. */
function batchesFor({ emulator }: Target): (readonly Question[])[] {
  const size = emulator === "mspdebug" ? 400 : questions.length;
  return Array.from({ length: Math.ceil(questions.length / size) }, (_, i) =>
    questions.slice(i * size, (i + 1) * size),
  );
}

const given = `${questions.length} vectors (${withinWord.length} more end within a word)`;

describe.each(["gcc", "clang"])("host, %s with sanitizers", (compiler) => {
  needsAll([compiler], () => {
    it.each(sealTables.map((table) => [sealNames[table], table] as const))(`%s: ${given}`, (_, table) => {
      const folder = workFolder();
      writeFileSync(join(folder, QUESTIONS), questionLines(questions));
      const sanitize = ["-fsanitize=address,undefined", "-fno-sanitize-recover=all", "-g", "-O1"];
      const sources = [firmwareSource, ...["questions.c", "from-file.c", "board.c"].map(harness)];
      const options = ["-std=c99", ...sanitize, ...includes, `-DPLY_SEAL_TABLE=${table}`];
      run(compiler, [...options, ...sources, "-o", "image"], folder);
      expectAnswers(run(join(folder, "image"), [QUESTIONS], folder).stdout.trim().split("\n"), questions);
    });
  });
});

describe.each(targets.map((target) => [target.title, target] as const))("%s", (_, target) => {
  needsAll(target.programs, () => {
    it.each(sealTables.map((table) => [sealNames[table], table] as const))(`%s: ${given}`, (_, table) => {
      const main = target.emulator === "qemu" ? "from-file.c" : "built-in.c";
      for (const asked of batchesFor(target)) {
        const files = {
          [QUESTIONS]: questionLines(asked),
          "questions_data.h": questionTable(asked),
          "commands.txt": dumpCommands(CONSOLE_WORDS),
        };
        const folder = buildImage(target, ["questions.c", main, "board.c"].map(harness), table, files);
        expectAnswers(runImage(target, folder), asked);
      }
    });
  });
});
