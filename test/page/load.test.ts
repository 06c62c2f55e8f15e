/** The most the page is meant for, in small: sixteen tags, every reading arrives and is kept; the page stays small. */
import { expect, it } from "vitest";
import { DESK, servedPage, sharedBrowser, visit } from "../support/browser.ts";
import { fastBench, READINGS_A_SECOND, TAGS } from "../support/fast-bench.ts";
import { needs } from "../support/outside.ts";
import { pageSize } from "../support/page-size.ts";

it("the whole page is smaller than 150 kB as it is sent", () => {
  const { bytes, files } = pageSize();
  expect([...files.keys()]).toContain("/index.html");
  expect(bytes).toBeGreaterThan(10_000);
  expect(bytes).toBeLessThan(150_000);
});

needs("chromium", () => {
  const browser = sharedBrowser();

  it("sixteen tags at twenty readings a second: none is lost on the way, whichever view is open", async () => {
    const bench = fastBench("fast");
    bench.step();
    const { url } = await servedPage(bench.feed);
    const { page, asked, complaints } = await visit(await browser(), DESK);
    await page.goto(url);
    await page.getByRole("button", { name: "Understood" }).click();
    await expect.poll(() => page.locator('[data-shows="number"]').count()).toBe(TAGS);
    /** Three seconds' worth, as fast as the page draws. */
    const run = async () => {
      for (let i = 0; i < 3 * READINGS_A_SECOND; i++) {
        bench.step();
        await page.evaluate(() => new Promise(requestAnimationFrame));
      }
    };
    await run();
    await page.getByRole("link", { name: "Time" }).click();
    await page.getByRole("button", { name: "All", exact: true }).click();
    await run();
    const samples = () =>
      page
        .getByRole("row", { name: /^S\d/ })
        .evaluateAll((rows) => rows.map((row) => Number(row.children[4]!.textContent)));
    await expect.poll(samples).toEqual(new Array(TAGS).fill(bench.steps));
    // Nor was anything made good by coming back.
    expect(asked.filter((address) => address.startsWith("ws:"))).toHaveLength(1);
    expect(await page.getByText(/did not keep up/).count()).toBe(0);
    expect(complaints).toEqual([]);
  });
});
