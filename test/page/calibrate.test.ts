/** A calibration guided from the page, on an invented tag that gives 0.9 of the load (test/support/calibration-bench.ts). */
import { readFileSync } from "node:fs";
import { setImmediate } from "node:timers/promises";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { DESK, PHONE, servedPage, sharedBrowser, visit } from "../support/browser.ts";
import { calibrationBench } from "../support/calibration-bench.ts";
import { needs } from "../support/outside.ts";

needs("chromium", () => {
  const browser = sharedBrowser();

  async function opened(size: typeof PHONE | typeof DESK, options = {}) {
    const bench = calibrationBench("calibrate");
    const served = await servedPage(bench.feed);
    await bench.hold(0, 4);
    const enter = async () => {
      const visited = await visit(await browser(), { ...size, ...options });
      await visited.page.goto(`${served.url}#calibrate`);
      await visited.page.getByRole("button", { name: /Understood|Verstanden/ }).click();
      return visited;
    };
    return { bench, served, enter, ...(await enter()) };
  }

  const says = (page: Page, sentence: string | RegExp) =>
    expect.poll(() => page.getByText(sentence).filter({ visible: true }).count()).toBeGreaterThan(0);
  const begin = async (page: Page, loads: string) => {
    await page.getByLabel("Loads going up (mmHg)").fill(loads);
    await page.getByLabel("Cycles, up and down").fill("1");
    await page.getByLabel("U of the reference (Pa, k = 2)").fill("8");
    await page.getByRole("button", { name: "Begin" }).click();
  };
  const light = (page: Page) => page.locator("[data-light]");

  it("leads from the first load to the certificate's command, step by step", async () => {
    const { page, bench, complaints } = await opened(DESK);
    await begin(page, "0 30 60");
    for (const [number, load] of [0, 30, 60, 30, 0].entries()) {
      await says(page, `Apply ${load} mmHg, then say so.`);
      await says(page, `Step ${number + 1} of 5, cycle 1, ${number < 3 ? "going up" : "going down"}`);
      await page.getByRole("button", { name: "It is applied" }).click();
      await says(page, `Leave ${load} mmHg alone`);
      await bench.hold(load, 3);
      await expect.poll(() => light(page).getAttribute("data-light")).toBe("few");
      await bench.hold(load, 5);
      // The point shows up in the table as soon as it was taken.
      await expect.poll(() => page.locator(".fit tbody tr").count()).toBe(number + 1);
    }
    await says(page, "The run is over");
    const { fit, csv, points } = bench.state();
    // Worked by hand from the bench: 0.9 of 60 mmHg, less the bend of 6e-7 per Pa of 7999 Pa squared, 0.29 mmHg.
    expect(points[2]!.sensor_gauge_mmhg).toBeGreaterThan(53.5);
    expect(points[2]!.sensor_gauge_mmhg).toBeLessThan(54);
    const cells = await page.locator(".fit tbody tr").nth(2).locator("td").allTextContents();
    expect(cells[1]).toBe("60.00");
    expect(Number(cells[2])).toBeCloseTo(points[2]!.sensor_gauge_mmhg, 2);
    expect(await page.locator(".outcome .hex").last().textContent()).toBe(fit!.block!.words);
    await says(page, "plyframe calibrate fit run.csv --out certificate.json");
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("link", { name: "Save run.csv" }).click(),
    ]);
    expect(download.suggestedFilename()).toBe("run.csv");
    expect(readFileSync((await download.path())!, "utf8")).toBe(csv);
    await page.getByRole("button", { name: "Clear, and begin anew" }).click();
    await page.getByRole("button", { name: "Begin" }).waitFor();
    expect(complaints).toEqual([]);
  });

  it("the light moves while the load does, by word and shape; what does not settle can be waited for or taken", async () => {
    const { page, bench } = await opened(PHONE);
    await begin(page, "20 40");
    await page.getByRole("button", { name: "It is applied" }).click();
    await says(page, /Leave 20 mmHg alone/);
    await bench.hold(20, 10, 40);
    await says(page, "still moving");
    const moving = await light(page).locator("path").getAttribute("d");
    // A minute of session time without settling: two frames a second.
    await bench.hold(20, 115, 40);
    await says(page, /did not settle in time/);
    await page.getByRole("button", { name: "Wait on" }).click();
    await says(page, /Leave 20 mmHg alone/);
    await bench.hold(20, 125, 40);
    await says(page, /did not settle in time/);
    await page.getByRole("button", { name: "Take it as it is" }).click();
    await says(page, "Apply 40 mmHg, then say so.");
    await page.getByRole("button", { name: "It is applied" }).click();
    await says(page, /Leave 40 mmHg alone/);
    await bench.hold(40, 6);
    await expect.poll(() => light(page).getAttribute("data-light")).toBe("few");
    expect(await light(page).locator("path").getAttribute("d")).not.toBe(moving);
    await bench.hold(40, 2);
    await says(page, "not settled");
  });

  it("a load can be told as the reference shows it, skipped, and the run ended early", async () => {
    const { page, bench } = await opened(DESK);
    await begin(page, "0 30 60");
    await page.getByLabel("Load as the reference shows it (mmHg)").fill("999");
    await page.getByRole("button", { name: "It is applied" }).click();
    await says(page, "A number from 0 to 300.");
    await page.getByLabel("Load as the reference shows it (mmHg)").fill("0,4");
    await page.getByRole("button", { name: "It is applied" }).click();
    await says(page, /Leave/);
    await bench.hold(0, 8);
    await says(page, "Apply 30 mmHg, then say so.");
    expect(await page.getByLabel("Load as the reference shows it (mmHg)").inputValue()).toBe("30");
    await page.getByRole("button", { name: "Skip this load" }).click();
    await says(page, "Apply 60 mmHg, then say so.");
    await page.getByRole("button", { name: "End the run" }).click();
    await says(page, "The run is over");
    expect(bench.state().csv).toMatch(/^1,up,0\.4,|,0\.4,/m);
    expect(await page.locator(".fit tbody tr").count()).toBe(1);
  });

  it("a run that is ended before its first point certifies nothing", async () => {
    const { page } = await opened(DESK);
    await begin(page, "0 30 60");
    await page.getByRole("button", { name: "End the run" }).click();
    await says(page, "The points are too few for a fit");
  });

  it("wrong loads are refused before anything is asked of the server", async () => {
    const { page, bench } = await opened(DESK);
    await begin(page, "60 30");
    await says(page, /^Loads: up to 20 rising numbers/);
    expect(bench.state().phase).toBe("idle");
  });

  it("a second page looks on without buttons, and may go on once the first has gone", async () => {
    const { page, context, bench, enter } = await opened(DESK);
    await begin(page, "0 30");
    await says(page, "Apply 0 mmHg, then say so.");
    const other = (await enter()).page;
    await says(other, "Another page guides this calibration; this one looks on.");
    expect(await other.getByRole("button", { name: "It is applied" }).isVisible()).toBe(false);
    await context.close();
    await says(other, "Apply 0 mmHg, then say so.");
    await other.getByRole("button", { name: "It is applied" }).click();
    await expect.poll(() => bench.state().phase).toBe("settling");
    await setImmediate();
  });

  it("without a server it says that there is none, and keeps its hands off", async () => {
    const { page, served } = await opened(DESK);
    await begin(page, "0 30");
    await says(page, "Apply 0 mmHg, then say so.");
    await served.close();
    await says(page, "There is no server: a calibration needs one.");
    expect(await page.getByRole("button", { name: "It is applied" }).isVisible()).toBe(false);
  });

  it("speaks the other language", async () => {
    const { page, bench } = await opened(PHONE, { locale: "de-DE" });
    await page.getByRole("button", { name: "Beginnen" }).click();
    await says(page, "Legen Sie 0 mmHg an, und melden Sie es dann.");
    await page.getByRole("button", { name: "Sie liegt an" }).click();
    await says(page, /^Lassen Sie 0 mmHg/);
    await bench.hold(0, 8);
    await expect.poll(() => page.locator(".fit tbody tr").count()).toBe(1);
    await page.getByRole("button", { name: "Reihe beenden" }).click();
    await says(page, "Die Reihe ist zu Ende");
    await says(page, "nur ein Druck: der Nullpunkt wurde angepasst, die Steigung ist die des Entwurfs");
  });
});
