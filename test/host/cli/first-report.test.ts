/** What the kit says before the session is set up belongs to it: the ambient pressure it tells on being greeted. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { execKit, linesOf, plyframe, testFolder } from "../../support/plyframe.ts";

it("the first ambient pressure is there before the first read, so that no reading has to do without", async () => {
  const capture = join(testFolder(), "leg.jsonl");
  const { stdout } = await plyframe([
    "read",
    "--json",
    "--port",
    execKit("--speed 4"),
    "--for",
    "5",
    "--capture",
    capture,
  ]);
  const [, first] = linesOf(readFileSync(capture, "utf8"));
  expect(JSON.parse(first!).record).toBe("ambient");
  const readings = linesOf(stdout).map((line) => JSON.parse(line));
  expect(readings.length).toBeGreaterThan(4);
  for (const { basis } of readings) expect(basis).toBe("gauge");
});
