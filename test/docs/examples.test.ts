/** Every example in the documents is run as it stands, and prints what the document says. */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { makeDesk } from "./desk.ts";
import { documents } from "./documents.ts";
import { type Example, examplesOf, fits, shapeOf } from "./examples.ts";

const root = resolve(import.meta.dirname, "../..");
const examples = documents.flatMap((file) => examplesOf(file, readFileSync(join(root, file), "utf8")));
const desk = makeDesk();

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

  it.each(examples)("$file:$line $command", (example) => {
    // An example that promises nothing could not fail.
    expect(example.expected.some((line) => line !== "...")).toBe(true);
    check(example);
  });
});
