/** The view of the power as a person uses it. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { budgetContentOf, matchContentOf, usualInputs } from "../../host/page/power/inputs.ts";
import { DESK, PHONE, servedPage, sharedBrowser, visit } from "../support/browser.ts";
import { legBench } from "../support/leg-bench.ts";
import { needs } from "../support/outside.ts";
import { plyframe, testFolder } from "../support/plyframe.ts";

/** Three significant digits, as the command prints. */
const three = (value: number) => String(Number(value.toPrecision(3)));

needs("chromium", () => {
  const browser = sharedBrowser();

  async function opened(size: typeof PHONE | typeof DESK) {
    const bench = await legBench("power", 1e-6);
    await bench.until(2);
    const { url } = await servedPage(bench.feed);
    const visited = await visit(await browser(), size);
    await visited.page.goto(`${url}#power`);
    await visited.page.getByRole("button", { name: "Understood" }).click();
    await visited.page.locator("[data-run]").waitFor();
    return visited;
  }

  /** The figure beside a name, once it has been worked out. */
  const figure = async (page: Page, name: string) => {
    await expect.poll(() => page.locator(".power-card").getAttribute("aria-busy")).toBeNull();
    return page.locator(`dt:text-is("${name}") + dd`).textContent();
  };
  const type = async (page: Page, label: string, value: string) => {
    await page.getByLabel(label, { exact: true }).fill(value);
    await page.getByLabel(label, { exact: true }).press("Tab");
  };

  it("typed numbers give the command's figures", async () => {
    const { page, complaints } = await opened(DESK);
    await type(page, "Distance", "0,33");
    await type(page, "Storage capacitor", "47");
    await type(page, "Sampling period", "250");
    const inputs = { ...usualInputs, distanceM: 0.33, capacitanceUf: 47, periodMs: 250 };
    const folder = testFolder();
    const [match, budget] = [join(folder, "match.json"), join(folder, "budget.json")];
    writeFileSync(match, JSON.stringify(matchContentOf(inputs)));
    writeFileSync(budget, JSON.stringify(budgetContentOf(inputs)));
    const { stdout } = await plyframe(["budget", "--json", "--match", match, budget]);
    const { answers, life } = JSON.parse(stdout);
    const answerOf = (id: string) => answers.find((one: { id: string }) => one.id === id).value as number;
    expect(await figure(page, "time to first frame")).toBe(`${three(answerOf("first_frame_s"))} s`);
    expect(await figure(page, "sustainable sampling rate")).toBe(`${three(answerOf("rate_per_s"))} per second`);
    expect(await figure(page, "samples given up")).toBe(
      `${life.samples_given_up}, beside ${life.frames} frames in 60 s`,
    );
    const shown = await page.locator("pre").first().textContent();
    expect(shown).toContain(JSON.stringify(matchContentOf(inputs)));
    expect(shown).toContain("plyframe budget --match match.json --dressing dry budget.json");
    expect(complaints).toEqual([]);
  }, 240_000);

  it("what is half typed outlives another change and its answer", async () => {
    const { page } = await opened(DESK);
    const period = page.getByLabel("Sampling period", { exact: true });
    const before = await figure(page, "time to first frame");
    await period.fill("250");
    await page.getByRole("slider", { name: "Storage capacitor, slider" }).evaluate((slider: HTMLInputElement) => {
      slider.value = slider.max;
      slider.dispatchEvent(new Event("input"));
    });
    await expect.poll(() => figure(page, "time to first frame")).not.toBe(before);
    expect(await period.inputValue()).toBe("250");
    await period.press("Tab");
    await expect.poll(() => page.locator("pre").first().textContent()).toContain('"period_ms":250');
  }, 240_000);

  it("says plainly when the tag does not run, and that it runs when it is brought near", async () => {
    const { page } = await opened(DESK);
    await type(page, "Distance", "3");
    await expect.poll(() => page.locator("[data-run]").getAttribute("data-run")).toBe("never");
    expect(await page.locator("[data-run]").textContent()).toBe("It does not run: no frame ever comes");
    expect(await page.getByText(/never comes to the 2.4 V at which the supervisor switches on/).count()).toBe(1);
    expect(await figure(page, "time to first frame")).toBe("none");
    await type(page, "Distance", "0.2");
    await expect.poll(() => page.locator("[data-run]").getAttribute("data-run")).toBe("runs");
    await page.getByRole("button", { name: "wet" }).click();
    await type(page, "Distance", "0.5");
    await expect.poll(() => page.locator("[data-run]").getAttribute("data-run")).not.toBe("runs");
  });

  it("a slider goes by keys, and the typed field follows", async () => {
    const { page } = await opened(DESK);
    const slider = page.getByRole("slider", { name: "Storage capacitor, slider" });
    await slider.focus();
    await page.keyboard.press("End");
    await expect.poll(() => page.getByLabel("Storage capacitor", { exact: true }).inputValue()).toBe("10000");
    expect(await slider.getAttribute("aria-valuetext")).toBe("10000 µF");
    await page.keyboard.press("Home");
    await expect.poll(() => page.getByLabel("Storage capacitor", { exact: true }).inputValue()).toBe("10");
    await expect.poll(() => page.locator("[data-run]").getAttribute("data-run")).toBe("never");
  });

  it("a number out of its limits is refused at its place, and the figures stay", async () => {
    const { page } = await opened(DESK);
    const before = await figure(page, "time to first frame");
    await type(page, "Distance", "0");
    await expect.poll(() => page.getByText("A number from 0.05 to 5 m.").count()).toBe(1);
    expect(await page.getByLabel("Distance", { exact: true }).getAttribute("aria-invalid")).toBe("true");
    expect(await figure(page, "time to first frame")).toBe(before);
    await type(page, "Distance", "0.4");
    expect(await page.getByLabel("Distance", { exact: true }).getAttribute("aria-invalid")).toBeNull();
  });

  it("draws the voltage with every state by name and pattern, and says the same in a table", async () => {
    const { page } = await opened(PHONE);
    const plot = page.getByRole("img", { name: /Voltage of the store from/ });
    await plot.waitFor();
    const names = ["off", "start", "check", "convert", "frame", "counters", "burst", "sleep"];
    expect(await plot.locator(".state-name").allTextContents()).toEqual(names);
    const patterns = await plot
      .locator("pattern path")
      .evaluateAll((paths) => paths.map((path) => path.getAttribute("d")));
    expect(new Set(patterns).size).toBe(names.length);
    await page.getByText("The states as a table").click();
    const rows = page.locator("details tbody tr");
    expect(await rows.locator("th").allTextContents()).toEqual(names);
    const frames = Number(await rows.nth(4).locator("td").first().textContent());
    expect(frames).toBeGreaterThan(1);
    await page.getByRole("button", { name: "from the field's coming" }).click();
    await page.getByRole("img", { name: /Voltage of the store from 0.00 to/ }).waitFor();
  });

  it("the verdict stays in sight on a phone while the last slider is moved", async () => {
    const { page } = await opened(PHONE);
    await page.getByRole("slider", { name: "Sampling period, slider" }).scrollIntoViewIfNeeded();
    await page.getByRole("button", { name: "wet" }).scrollIntoViewIfNeeded();
    const box = (await page.locator("[data-run]").boundingBox())!;
    expect(box.y).toBeGreaterThanOrEqual(0);
    expect(box.y + box.height).toBeLessThan(PHONE.viewport.height);
  });

  it("what was set is still there after another view was looked at", async () => {
    const { page } = await opened(DESK);
    await type(page, "Sampling period", "1000");
    await page.getByRole("link", { name: "Now" }).click();
    await page.locator("[data-site]").first().waitFor();
    await page.getByRole("link", { name: "Power" }).click();
    await expect.poll(() => page.getByLabel("Sampling period", { exact: true }).inputValue()).toBe("1000");
  });
});
