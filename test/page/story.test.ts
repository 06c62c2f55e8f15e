/** The bench page as a person uses it beside a leg: wrap, stand, walk; by hand and by keyboard alone. */
import type { Locator, Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { DESK, PHONE, servedPage, sharedBrowser, visit } from "../support/browser.ts";
import { B1, type LegBench, legBench } from "../support/leg-bench.ts";
import { needs } from "../support/outside.ts";

/** Pages let the session's time all but stand while nothing is told, so that a busy machine changes nothing. */
const HELD = 1e-6;

needs("chromium", () => {
  const browser = sharedBrowser();

  /** A page on a leg that has been read for a while, the cautions seen. */
  async function atTheBench(untilS: number, size: typeof PHONE | typeof DESK, options = {}, speed = HELD) {
    const bench = await legBench("story", speed);
    await bench.until(untilS);
    const { url } = await servedPage(bench.feed);
    const { page, complaints } = await visit(await browser(), { ...size, ...options });
    await page.goto(url);
    await page.getByRole("button", { name: /Understood|Verstanden/ }).click();
    return { bench, page, complaints };
  }

  const marks = (page: Page) => page.getByRole("button", { name: /^Remove / });

  const site = (page: Page, name: string) => page.getByRole("article", { name, exact: true });

  /** The number a site shows, once it is the one that was read last. */
  async function shown(bench: LegBench, slip: Locator): Promise<number> {
    const { gauge_mmhg } = bench.latest(B1);
    const value = slip.locator(".slip-value");
    await expect.poll(async () => Math.abs(Number(await value.textContent()) - gauge_mmhg!)).toBeLessThan(0.0501);
    return Number(await value.textContent());
  }

  describe.each([
    ["a phone", PHONE],
    ["a screen on a desk", DESK],
  ])("on %s", (_, size) => {
    it("the leg is wrapped, stands up and walks, and each is marked", async () => {
      const { bench, page, complaints } = await atTheBench(30, size);
      const slip = site(page, "B1");
      const resting = await shown(bench, slip);
      await page.getByRole("button", { name: "Wrapped" }).click();
      await page.getByText("Wrapped marked at 0:30").first().waitFor();

      await bench.until(50);
      await page.getByRole("button", { name: "Stood" }).click();
      await page.getByText("Stood marked at 0:50").first().waitFor();
      // 18 mmHg from resting to standing: the invented leg's story in sim/scenario/training-leg.ts.
      expect(await shown(bench, slip)).toBeCloseTo(resting + 18, 0);
      await expect.poll(() => slip.getAttribute("data-shows")).toBe("number");

      await bench.until(70);
      await page.getByRole("button", { name: "Walked" }).click();
      await page.getByRole("button", { name: "Note…" }).click();
      await page.getByRole("textbox", { name: /What happened/ }).fill("loose end at the heel");
      await page.getByRole("button", { name: "Mark it" }).click();
      await page.getByText("loose end at the heel marked").first().waitFor();

      await page.getByRole("link", { name: "Time" }).click();
      await expect.poll(() => marks(page).count()).toBe(4);
      const said = await page
        .getByRole("listitem")
        .filter({ has: marks(page) })
        .allTextContents();
      for (const [kind, time] of [
        ["Wrapped", /^0:(29|30)/],
        ["Stood", /^0:(49|50)/],
        ["Walked", /^1:(09|10)/],
        ["loose end at the heel", /^1:(09|10)/],
      ] as const) {
        expect(said.find((line) => line.includes(kind))).toMatch(time);
      }
      await page.getByRole("button", { name: /^Remove Walked/ }).click();
      await expect.poll(() => marks(page).count()).toBe(3);
      await page.getByRole("button", { name: "All", exact: true }).click();
      const row = page.getByRole("row", { name: /^B1 / });
      await expect.poll(async () => Number(await row.getByRole("cell").first().textContent())).toBeGreaterThan(35);
      expect(complaints).toEqual([]);
    });
  });

  it("a silent leg does not look like one that is read", async () => {
    const { bench, page } = await atTheBench(30, PHONE, {}, 1);
    const slip = site(page, "B1");
    await shown(bench, slip);
    await bench.until(35, false);
    await expect.poll(() => slip.getAttribute("data-shows")).toBe("stale");
    expect(await slip.locator(".slip-value").textContent()).toBe("stale");
    await slip.getByText(/last heard: /).waitFor();
    await bench.until(36);
    await expect.poll(() => slip.getAttribute("data-shows")).toBe("number");
  });

  it("a range chosen here is compared with in words", async () => {
    const { bench, page } = await atTheBench(30, PHONE);
    const slip = site(page, "B1");
    const resting = await shown(bench, slip);
    await slip.getByRole("button", { name: "Range…" }).click();
    await page.getByLabel("from (mmHg)").fill("35");
    await page.getByLabel("to (mmHg)").fill("50");
    await page.getByRole("button", { name: "For this site" }).click();
    expect(resting).toBeGreaterThan(40);
    await slip.getByText("inside 35–50").waitFor();
    await bench.until(50);
    await slip.getByText(/^1\d\.\d above 35–50$/).waitFor();
  });

  it("everything can be reached and done with the keyboard alone", async () => {
    const { bench, page } = await atTheBench(30, DESK);
    await page.reload();
    await site(page, "B1").waitFor();
    /** What has the focus: its role's tag, and what it is called. */
    const focused = () =>
      page.evaluate(() => {
        const { activeElement: element } = document;
        return element === document.body ? "" : (element?.textContent ?? "");
      });
    /** Presses Tab until something of that name has the focus, and says how far it was. */
    const tabTo = async (name: string) => {
      for (let steps = 1; steps < 60; steps++) {
        await page.keyboard.press("Tab");
        if ((await focused()) === name) return steps;
      }
      throw new Error(`no ${name} within sixty steps`);
    };
    expect(await tabTo("Skip to the view")).toBe(1);
    await tabTo("Stood");
    await page.keyboard.press("Enter");
    await page.getByText("Stood marked at 0:30").first().waitFor();
    await tabTo("Note…");
    await page.keyboard.press("Space");
    await page.keyboard.type("by keyboard");
    await page.keyboard.press("Enter");
    await page.getByText("by keyboard marked").first().waitFor();
    await tabTo("Time");
    await page.keyboard.press("Enter");
    await expect.poll(() => page.url()).toContain("#time");
    await expect.poll(() => marks(page).count()).toBe(2);
    const plot = page.getByRole("application");
    await plot.focus();
    const before = await plot.getAttribute("aria-label");
    await bench.until(60);
    await page.keyboard.press("+");
    await page.keyboard.press("ArrowLeft");
    await expect.poll(() => plot.getAttribute("aria-label")).not.toBe(before);
    await tabTo("Settings");
    await page.keyboard.press("Enter");
    await page.getByRole("dialog").waitFor();
    await page.keyboard.press("Escape");
    await expect.poll(() => page.getByRole("dialog").count()).toBe(0);
    expect(await focused()).toBe("Settings");
  });

  it("the other language is there whole, with its own numbers", async () => {
    const { bench, page } = await atTheBench(30, PHONE, { locale: "de-DE" });
    const { gauge_mmhg } = bench.latest(B1);
    await expect
      .poll(() => site(page, "B1").locator(".slip-value").textContent())
      .toBe(gauge_mmhg!.toFixed(1).replace(".", ","));
    expect(await page.evaluate(() => document.documentElement.lang)).toBe("de");
    const text = await page.locator("main").textContent();
    for (const english of ["age", "power", "temperature", "Figures", "Range", "strong", "moderate", "nothing"]) {
      expect(text).not.toMatch(new RegExp(`\\b${english}\\b`));
    }
  });
});
