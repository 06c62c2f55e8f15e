/** Every view at the sizes and in the lights it is looked at: accessibility by axe, room, light, paper, frames. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { DESK, PHONE, servedPage, sharedBrowser, visit } from "../support/browser.ts";
import { legBench } from "../support/leg-bench.ts";
import { needs } from "../support/outside.ts";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** What axe finds by WCAG 2.2 A and AA and by its own best practice, without what it holds for minor or moderate. */
async function findings(page: Page): Promise<string[]> {
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: typeof import("axe-core") };
    const { violations } = await axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    });
    return violations
      .filter(({ impact }) => impact === "serious" || impact === "critical")
      .flatMap(({ id, nodes }) =>
        nodes.map(({ target, failureSummary }) => `${id} ${target.join(" ")} ${failureSummary}`),
      );
  });
}

/** Elements that stand out of the screen to the side, without being scrolled in a box of their own. */
function overflow(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

needs("chromium", () => {
  const browser = sharedBrowser();

  async function opened(size: typeof PHONE | typeof DESK, options = {}) {
    const bench = await legBench("look", 1e-6);
    await bench.until(70);
    const { url } = await servedPage(bench.feed);
    const visited = await visit(await browser(), { ...size, ...options });
    await visited.context.addInitScript(AXE);
    await visited.page.goto(url);
    await visited.page.locator('[data-shows="number"]').first().waitFor();
    return { bench, ...visited };
  }

  describe.each([
    ["a phone, light", PHONE, {}],
    ["a phone, dark", PHONE, { colorScheme: "dark" }],
    ["a desk, light", DESK, {}],
    ["a desk, dark", DESK, { colorScheme: "dark" }],
    ["a phone, in the other language", PHONE, { locale: "de-DE" }],
  ])("on %s", (_, size, options) => {
    it("axe finds nothing serious in any view, and nothing stands out to the side", async () => {
      const { page, complaints } = await opened(size, options);
      expect(await findings(page)).toEqual([]);
      await page.getByRole("button", { name: /Understood|Verstanden/ }).click();
      const links = page.getByRole("navigation").getByRole("link");
      for (let i = 0; i < (await links.count()); i++) {
        const link = links.nth(i);
        await link.click();
        await expect.poll(() => link.getAttribute("aria-current")).toBe("page");
        // Loaded: it holds more than one line.
        await expect
          .poll(() => page.locator("section.view").evaluate((view) => view.querySelectorAll("*").length))
          .toBeGreaterThan(5);
        const name = await link.textContent();
        expect([name, await findings(page)]).toEqual([name, []]);
        expect([name, await overflow(page)]).toEqual([name, 0]);
      }
      await page.getByRole("button", { name: /Settings|Einstellungen/ }).click();
      expect(await findings(page)).toEqual([]);
      expect(complaints).toEqual([]);
    });
  });

  it("a finger finds every button: 24 px or more each way, as WCAG 2.2 asks, and the marks 44 px", async () => {
    const { page } = await opened(PHONE);
    await page.getByRole("button", { name: "Understood" }).click();
    const sizes = await page.evaluate(() =>
      [...document.querySelectorAll("button, a[href], input, select")]
        .filter((element) => element.checkVisibility())
        .map((element) => {
          const { width, height } = element.getBoundingClientRect();
          return { name: element.textContent ?? "", mark: element.hasAttribute("data-mark"), width, height };
        }),
    );
    expect(sizes.filter(({ mark }) => mark)).toHaveLength(5);
    expect(sizes.filter(({ width, height, mark }) => Math.min(width, height) < (mark ? 44 : 24))).toEqual([]);
  });

  it("the number is large on a phone: a tenth of its width or more for each figure's height", async () => {
    const { page } = await opened(PHONE);
    const size = await page
      .locator(".slip-value")
      .first()
      .evaluate((value) => Number.parseFloat(getComputedStyle(value).fontSize));
    expect(size).toBeGreaterThan(39);
  });

  it("on paper there are the numbers and no buttons", async () => {
    const { page } = await opened(DESK);
    await page.emulateMedia({ media: "print" });
    expect(await page.locator(".slip-value").first().isVisible()).toBe(true);
    expect(await page.locator("button[data-mark]").first().isVisible()).toBe(false);
  });

  it("nobody can frame it", async () => {
    const { context, page } = await opened(DESK);
    // A page without a policy of its own.
    const other = await context.newPage();
    await other.setContent(`<iframe src="${page.url()}"></iframe>`);
    await expect.poll(() => other.frames()[1]?.url()).toContain("chrome-error:");
  });

  it("a screen reader is told of changes, not of numbers", async () => {
    const { bench, page } = await opened(DESK);
    await page.getByRole("button", { name: "Understood" }).click();
    const changes = await page.evaluateHandle(() => {
      const said: string[] = [];
      const observer = new MutationObserver((records) => {
        for (const { target } of records) {
          const region = (target instanceof Element ? target : target.parentElement)?.closest(
            "[role=status],[role=alert],[aria-live]",
          );
          if (region && region.getAttribute("aria-live") !== "off") said.push(region.textContent ?? "");
        }
      });
      observer.observe(document.body, { childList: true, characterData: true, subtree: true });
      return said;
    });
    for (let kitTimeS = 70; kitTimeS < 76; kitTimeS += 0.5) {
      await bench.until(kitTimeS);
      await page.evaluate(() => new Promise(requestAnimationFrame));
    }
    const said = await changes.jsonValue();
    expect(said.filter((sentence) => /\d/.test(sentence))).toEqual([]);
  });
});
