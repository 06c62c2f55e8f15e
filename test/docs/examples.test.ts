/** Every example in the documents is run as it stands, and prints what the document says. */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { needs } from "../support/outside.ts";
import { makeDesk } from "./desk.ts";
import { documents } from "./documents.ts";
import { type Example, examplesOf, fits, shapeOf } from "./examples.ts";

const root = resolve(import.meta.dirname, "../..");
const examples = documents.flatMap((file) => examplesOf(file, readFileSync(join(root, file), "utf8")));
const desk = makeDesk();

/** Programs of examples that are not part of the package. */
const OUTSIDE = ["tshark", "gcc"];
const outsideOf = ({ command }: Example) => OUTSIDE.find((program) => command.split(/[ |]+/).includes(program));

afterAll(() => desk.clear());

function check({ command, expected, shape }: Example): void {
  const printed = desk.run(command);
  if (shape) {
    const shapes = new Set(printed.map(shapeOf));
    for (const line of expected) if (line !== "...") expect(shapes).toContain(shapeOf(line));
  } else if (!fits(expected, printed)) expect(printed.join("\n")).toBe(expected.join("\n"));
}

describe("examples in the documents", () => {
  it("are there", () => expect(examples.filter(({ file }) => file === "README.md").length).toBeGreaterThan(5));

  const promise = (example: Example) => {
    // An example that promises nothing could not fail.
    expect(example.expected.some((line) => line !== "...")).toBe(true);
    check(example);
  };
  it.each(examples.filter((example) => !outsideOf(example)))("$file:$line $command", promise);
  for (const program of OUTSIDE) {
    const its = examples.filter((example) => outsideOf(example) === program);
    needs(program, () => it.each(its)("$file:$line $command", promise));
  }
});
