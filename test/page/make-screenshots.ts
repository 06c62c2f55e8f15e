/** Pictures of every view for the documents: npm run screenshots. Every number in them is invented. */
import { mkdirSync, statSync } from "node:fs";
import { parseArgs } from "node:util";
import type { Browser, BrowserContextOptions, Page } from "playwright-core";
import type { BenchFeed } from "../../host/view/bench-feed.ts";
import { TICK_MS } from "../../host/view/messages.ts";
import { readPage } from "../../host/view/page-files.ts";
import { ViewServer } from "../../host/view/view-server.ts";
import { openBrowser, PHONE } from "../support/browser.ts";
import { calibrationBench, guidedTo } from "../support/calibration-bench.ts";
import { B1, legBench } from "../support/leg-bench.ts";

const { values } = parseArgs({ options: { out: { type: "string", default: "host/page/screenshots" } } });

/** A screen on a desk, high enough for a view as a whole. */
const DESK = { viewport: { width: 1280, height: 960 } } as const;

/** A picture in the documents is no larger. */
const LARGEST_BYTES = 200_000;

mkdirSync(values.out, { recursive: true });
const browser = await openBrowser();
try {
  await leg(browser);
  await calibration(browser);
} finally {
  await browser.close();
}

async function serve(feed: BenchFeed) {
  const names = ["127.0.0.1"];
  const server = new ViewServer({
    feed,
    files: readPage("dist/page"),
    pairing: null,
    tls: null,
    names,
    onPairing: () => undefined,
  });
  const port = await server.listen("127.0.0.1", 0);
  // A page takes three seconds of silence for a lost server.
  setInterval(() => feed.tick(), TICK_MS).unref();
  return { server, url: `http://127.0.0.1:${port}/` };
}

async function opened(browser: Browser, url: string, size: BrowserContextOptions): Promise<Page> {
  const context = await browser.newContext({ locale: "en-GB", timezoneId: "UTC", ...size });
  const page = await context.newPage();
  await page.goto(url);
  await page.getByRole("button", { name: "Understood" }).click();
  return page;
}

async function picture(page: Page, name: string): Promise<void> {
  const file = `${values.out}/${name}.png`;
  // What was said of the marks goes by itself; what was just drawn is there.
  await page.waitForFunction(() => document.querySelector(".said")?.textContent === "");
  await page.waitForTimeout(700);
  await page.screenshot({ path: file });
  const { size } = statSync(file);
  console.log(`${file}  ${(size / 1000).toFixed(0)} kB`);
  if (size > LARGEST_BYTES) throw new Error(`${file} is larger than ${LARGEST_BYTES} bytes`);
}

/** The training leg: wrapped, stood, walked. */
async function leg(browser: Browser): Promise<void> {
  const bench = await legBench("pictures");
  const { server, url } = await serve(bench.feed);
  await bench.until(20);
  const phone = await opened(browser, url, PHONE);
  const dark = await opened(browser, url, { ...PHONE, colorScheme: "dark" });
  const desk = await opened(browser, url, DESK);
  for (const [atS, kind] of [
    [20.5, "wrapped"],
    [42, "stood"],
    [66, "walked"],
  ] as const) {
    await bench.until(atS);
    bench.feed.request(1, { type: "mark", kind, text: "" });
  }
  // From here on in its own time, so that nothing is stale.
  const fromMs = performance.now();
  const playing = setInterval(() => void bench.until(88 + (performance.now() - fromMs) / 1000), 50);
  for (const page of [phone, dark]) {
    const slip = page.locator(`[data-site="${B1}"]`);
    await slip.getByRole("button", { name: "Range…" }).click();
    await page.getByLabel("from (mmHg)").fill("35");
    await page.getByLabel("to (mmHg)").fill("60");
    await page.getByRole("button", { name: "For this site" }).click();
  }
  await picture(phone, "now-phone");
  await picture(dark, "now-phone-dark");
  await picture(desk, "now");
  for (const view of ["time", "bytes", "power"]) {
    const link = desk.locator(`a[href="#${view}"]`);
    await link.click();
    if (view === "time") await desk.getByRole("button", { name: "2 min" }).click();
    if (view === "bytes") {
      await desk.getByRole("button", { name: "Hold still" }).click();
      await desk
        .getByRole("row", { name: /^pressure/ })
        .getByRole("button")
        .first()
        .click();
    }
    await picture(desk, view);
  }
  clearInterval(playing);
  for (const page of [phone, dark, desk]) await page.context().close();
  await server.close();
}

/** A bench tag half way through its run. */
async function calibration(browser: Browser): Promise<void> {
  const bench = calibrationBench("calibration");
  const { server, url } = await serve(bench.feed);
  await bench.hold(0, 4);
  const desk = await opened(browser, `${url}#calibrate`, DESK);
  await guidedTo(6, bench, 1);
  await picture(desk, "calibrate");
  await desk.context().close();
  await server.close();
}
