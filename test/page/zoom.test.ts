/** The plot over time under fingers, keys and mouse: what is shown moves, and values are read where one points. */
import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { DESK, PHONE, servedPage, sharedBrowser, visit } from "../support/browser.ts";
import { legBench } from "../support/leg-bench.ts";
import { needs } from "../support/outside.ts";

/** The session's time all but stands while nothing is told. */
const HELD = 1e-6;

needs("chromium", () => {
  const browser = sharedBrowser();

  async function atThePlot(size: typeof PHONE | typeof DESK) {
    const bench = await legBench("zoom", HELD);
    await bench.until(100);
    const { url } = await servedPage(bench.feed);
    const { page, context, complaints } = await visit(await browser(), size);
    await page.goto(`${url}#time`);
    await page.getByRole("button", { name: "Understood" }).click();
    await page.getByRole("button", { name: "All", exact: true }).click();
    const plot = page.getByRole("application");
    await expect.poll(() => shown(page)).toEqual([0, 100]);
    return { bench, page, context, plot, complaints };
  }

  /** From and to of the plot in whole seconds, as it tells a screen reader. */
  async function shown(page: Page): Promise<[number, number] | null> {
    const label = await page.getByRole("application").getAttribute("aria-label");
    const found = /, (\d+):(\d+) to (\d+):(\d+)\./.exec(label ?? "");
    if (!found) return null;
    const [fromMin, fromS, toMin, toS] = found.slice(1).map(Number) as [number, number, number, number];
    return [fromMin * 60 + fromS, toMin * 60 + toS];
  }

  const span = async (page: Page) => {
    const [fromS, toS] = (await shown(page)) ?? [0, 0];
    return toS - fromS;
  };

  const reading = (page: Page) => page.locator("p.reading");

  /** Pixels of the plot that have a colour of the palette. */
  const pixels = (page: Page, name: string) =>
    page.evaluate((wanted) => {
      const value = getComputedStyle(document.documentElement).getPropertyValue(wanted).trim();
      const [red, green, blue] = [1, 3, 5].map((at) => Number.parseInt(value.slice(at, at + 2), 16));
      const canvas = document.querySelector<HTMLCanvasElement>(".plot canvas")!;
      const { data } = canvas.getContext("2d")!.getImageData(0, 0, canvas.width, canvas.height);
      let count = 0;
      for (let i = 0; i < data.length; i += 4) {
        if (data[i] === red && data[i + 1] === green && data[i + 2] === blue && data[i + 3] === 255) count++;
      }
      return count;
    }, name);

  it("two fingers zoom, one moves, a tap reads the values there", async () => {
    const { page, context, plot, complaints } = await atThePlot(PHONE);
    await plot.scrollIntoViewIfNeeded();
    const box = (await plot.boundingBox())!;
    const [y, middle] = [box.y + box.height / 2, box.x + box.width / 2];
    const touch = await context.newCDPSession(page);
    const fingers = (type: "touchStart" | "touchMove" | "touchEnd", ...xs: number[]) =>
      touch.send("Input.dispatchTouchEvent", { type, touchPoints: xs.map((x, id) => ({ x, y, id })) });

    await fingers("touchStart", middle - 30, middle + 30);
    for (let apart = 40; apart <= 90; apart += 10) await fingers("touchMove", middle - apart, middle + apart);
    await fingers("touchEnd");
    // The fingers end three times as far apart as they began.
    await expect.poll(async () => Math.abs((await span(page)) - 100 / 3)).toBeLessThan(8);

    const before = (await shown(page))!;
    await fingers("touchStart", middle - 60);
    for (let x = -50; x <= 60; x += 10) await fingers("touchMove", middle + x);
    await fingers("touchEnd");
    await expect.poll(async () => (await shown(page))![1]).toBeLessThan(before[1]);
    await expect.poll(() => page.getByRole("button", { name: "Follow" }).getAttribute("aria-pressed")).toBe("false");

    expect(await reading(page).textContent()).toBe("Tap the plot to read values there.");
    await page.touchscreen.tap(middle, y);
    await expect.poll(() => reading(page).textContent()).toMatch(/^At \d:\d\d\.\d: B1 \d\d\.\d ± 0\.\d mmHg; /);
    expect(complaints).toEqual([]);
  });

  it("every act has a key: earlier, later, closer, wider, everything, now, from sample to sample", async () => {
    const { page, plot } = await atThePlot(DESK);
    await plot.focus();
    await page.keyboard.press("+");
    await expect.poll(() => shown(page)).toEqual([30, 100]);
    await page.keyboard.press("ArrowLeft");
    await expect.poll(() => shown(page)).toEqual([16, 86]);
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => shown(page)).toEqual([30, 100]);
    await page.keyboard.press("-");
    await expect.poll(() => shown(page)).toEqual([0, 100]);
    await page.keyboard.press("+");
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("End");
    await expect.poll(() => shown(page)).toEqual([30, 100]);
    await page.keyboard.press("Home");
    await expect.poll(() => shown(page)).toEqual([0, 100]);

    const at = async () => {
      const [, minutes, seconds] = /^At (\d+):(\d+\.\d):/.exec((await reading(page).textContent()) ?? "") ?? [];
      return Number(minutes) * 60 + Number(seconds);
    };
    await page.keyboard.press(",");
    await expect.poll(at).toBeGreaterThan(95);
    const last = await at();
    for (let i = 0; i < 12; i++) await page.keyboard.press(",");
    await expect.poll(at).toBeLessThan(last - 0.5);
    for (let i = 0; i < 12; i++) await page.keyboard.press(".");
    await expect.poll(at).toBe(last);
  });

  it("every act has a button too", async () => {
    const { page } = await atThePlot(DESK);
    const press = (name: string) => page.getByRole("button", { name, exact: true }).click();
    await press("Closer");
    await expect.poll(() => shown(page)).toEqual([50, 100]);
    await press("Earlier");
    await expect.poll(() => shown(page)).toEqual([25, 75]);
    await press("Wider");
    await expect.poll(() => shown(page)).toEqual([0, 100]);
    await press("30 s");
    await expect.poll(() => shown(page)).toEqual([70, 100]);
    await press("Earlier");
    await press("Later");
    await expect.poll(() => shown(page)).toEqual([70, 100]);
    await expect.poll(() => page.getByRole("button", { name: "Follow" }).getAttribute("aria-pressed")).toBe("true");
  });

  describe("sites", () => {
    it("are drawn, and are not when they are left out", async () => {
      const { page } = await atThePlot(DESK);
      const chip = page.getByRole("group", { name: "Sites" }).getByRole("button", { name: "B1", exact: true });
      await expect.poll(() => pixels(page, "--site-0")).toBeGreaterThan(200);
      await chip.click();
      await expect.poll(() => pixels(page, "--site-0")).toBe(0);
      expect(await chip.getAttribute("aria-pressed")).toBe("false");
      await expect.poll(() => page.getByRole("row", { name: /^B1/ }).count()).toBe(0);
      await chip.click();
      await expect.poll(() => pixels(page, "--site-0")).toBeGreaterThan(200);
    });

    it("have the colours of the light they are looked at in", async () => {
      const { page } = await atThePlot(DESK);
      await page.emulateMedia({ colorScheme: "dark" });
      const dark = await page.evaluate(() =>
        getComputedStyle(document.documentElement).getPropertyValue("--site-0").trim(),
      );
      expect(dark).not.toBe("#6a2c5b");
      await expect.poll(() => pixels(page, "--site-0")).toBeGreaterThan(200);
    });
  });
});
