/** The result page in a browser: nothing asked for, nothing wrong for a reader with other eyes, no scrolling sideways. */
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, it } from "vitest";
import { resultHtml } from "../../../host/replay/result-html.ts";
import { DESK, PHONE, sharedBrowser, visit } from "../../support/browser.ts";
import { needs } from "../../support/outside.ts";
import { testFolder } from "../../support/plyframe.ts";
import { result } from "./result.ts";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

needs("chromium", () => {
  const browser = sharedBrowser();

  it.each([
    ["on a desk, in the light", { ...DESK, colorScheme: "light" }],
    ["on a desk, in the dark", { ...DESK, colorScheme: "dark" }],
    ["on a phone, in the dark", { ...PHONE, colorScheme: "dark" }],
  ] as const)("%s", async (_, options) => {
    const file = join(testFolder(), "result.html");
    writeFileSync(file, resultHtml(result, "MEMORY-MAP.md"));
    const { page, asked, complaints } = await visit(await browser(), options);
    await page.goto(pathToFileURL(file).href);
    await page.evaluate(AXE);
    const found = await page.evaluate(async () => {
      const { axe } = globalThis as unknown as { axe: typeof import("axe-core") };
      return (await axe.run()).violations.map(({ id, nodes }) => `${id}: ${nodes[0]!.html}`);
    });
    expect(found).toEqual([]);
    expect(await page.evaluate("document.documentElement.scrollWidth - innerWidth")).toBeLessThanOrEqual(0);
    expect(asked).toEqual([pathToFileURL(file).href]);
    expect(complaints).toEqual([]);
  });
});
