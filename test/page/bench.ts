/**
 * The bench page under the most it is meant for: sixteen tags at twenty readings a second. Frames dropped, memory, size, and
 * the time to the first number. Run: npm run bench:page, with -- --seconds 60 for a shorter one than ten minutes.
 */
import { parseArgs } from "node:util";
import type { Browser, CDPSession, Page } from "playwright-core";
import { TRACE_LIMIT } from "../../host/page/store/trace.ts";
import { readPage } from "../../host/view/page-files.ts";
import { ViewServer } from "../../host/view/view-server.ts";
import { openBrowser } from "../support/browser.ts";
import { type FastBench, fastBench, READINGS_A_SECOND, TAGS } from "../support/fast-bench.ts";
import { pageSize } from "../support/page-size.ts";

const { values } = parseArgs({ options: { seconds: { type: "string", default: "600" } } });
const SECONDS = Number(values.seconds);
if (!(SECONDS >= 10)) throw new Error("--seconds: 10 or more");

/** Heap is looked at so often in a run. */
const LOOKS = 10;
const OPENINGS = 9;

const browser = await openBrowser();
try {
  sizes();
  await firstNumber(browser);
  for (const view of ["now", "time"]) await load(browser, view, SECONDS / 2);
} finally {
  await browser.close();
}

function sizes(): void {
  const { bytes, files } = pageSize();
  console.log(`page                ${(bytes / 1000).toFixed(1)} kB as sent, ${files.size} files`);
}

async function serve(bench: FastBench): Promise<ViewServer & { readonly url: string }> {
  const server = new ViewServer({
    feed: bench.feed,
    files: readPage("dist/page"),
    pairing: null,
    tls: null,
    names: ["127.0.0.1"],
    onPairing: () => undefined,
  });
  const port = await server.listen("127.0.0.1", 0);
  return Object.assign(server, { url: `http://127.0.0.1:${port}/` });
}

async function contextOf(browser: Browser) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  // What runs this file names its functions by a helper that the page does not have.
  await context.addInitScript("globalThis.__name = (named) => named");
  return context;
}

/** From the start of the navigation to the first number drawn, beside the load of the page's icon alone. */
async function firstNumber(browser: Browser): Promise<void> {
  const bench = fastBench("first");
  for (let i = 0; i < 1000; i++) bench.step();
  const server = await serve(bench);
  const timer = setInterval(() => bench.step(), 1000 / READINGS_A_SECOND);
  const [numbers, bare]: [number[], number[]] = [[], []];
  for (let i = 0; i < OPENINGS; i++) {
    // A context of its own: nothing is cached.
    const context = await contextOf(browser);
    const page = await context.newPage();
    await page.goto(`${server.url}icon.svg`);
    bare.push(await page.evaluate(() => performance.now()));
    await page.goto(server.url);
    const atMs = await page.evaluate(
      () =>
        new Promise<number>((done) => {
          const look = () => {
            if (document.querySelector('[data-shows="number"]')) done(performance.now());
            else requestAnimationFrame(look);
          };
          look();
        }),
    );
    numbers.push(atMs);
    await context.close();
  }
  clearInterval(timer);
  await server.close();
  const [number, icon] = [median(numbers), median(bare)];
  console.log(
    `first number        ${number.toFixed(0)} ms after the navigation began, ${(number / icon).toFixed(1)} times its icon alone (medians of ${OPENINGS})`,
  );
}

interface Frames {
  /** Refreshes that passed, and those in which something was drawn. */
  readonly passed: number;
  readonly drawn: number;
  readonly longestMs: number;
}

interface Counting {
  /** Leaves out what is drawn until the next call: collecting garbage is ours, not the page's. */
  pause(paused: boolean): Promise<void>;
  end(): Promise<Frames>;
}

/** Starts to count frames. */
async function frames(page: Page): Promise<Counting> {
  const counting = await page.evaluateHandle(() => {
    const count = { tookMs: [] as number[], last: 0, paused: false, going: true };
    const look = (now: number) => {
      if (count.last > 0 && !count.paused) count.tookMs.push(now - count.last);
      count.last = count.paused ? 0 : now;
      if (count.going) requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
    return count;
  });
  return {
    pause: async (paused) =>
      counting.evaluate((count, now) => {
        count.paused = now;
      }, paused),
    end: () =>
      counting.evaluate(({ tookMs }) => {
        const refreshMs = [...tookMs].sort((a, b) => a - b)[tookMs.length >> 1]!;
        const passed = tookMs.reduce((sum, ms) => sum + Math.max(1, Math.round(ms / refreshMs)), 0);
        return { passed, drawn: tookMs.length, longestMs: Math.max(...tookMs) };
      }),
  };
}

async function load(browser: Browser, view: string, seconds: number): Promise<void> {
  const bench = fastBench(view);
  const server = await serve(bench);
  const context = await contextOf(browser);
  const page = await context.newPage();

  // What this machine drops with nothing to draw.
  const idlePage = await context.newPage();
  await idlePage.goto("about:blank");
  const idleFrames = await frames(idlePage);
  await new Promise((done) => setTimeout(done, 5000));
  const idle = await idleFrames.end();
  await idlePage.close();

  await page.goto(`${server.url}#${view}`);
  const session = await context.newCDPSession(page);
  const beginMs = performance.now();
  const timer = setInterval(() => {
    const due = Math.floor(((performance.now() - beginMs) / 1000) * READINGS_A_SECOND);
    while (bench.steps < due) bench.step();
  }, 10);
  await page.locator("section.view *").nth(20).waitFor({ state: "attached" });
  const counting = await frames(page);
  const heaps: Heap[] = [];
  for (let i = 0; i <= LOOKS; i++) {
    await counting.pause(true);
    heaps.push(await heap(session));
    await counting.pause(false);
    if (i < LOOKS) await new Promise((done) => setTimeout(done, (seconds * 1000) / LOOKS));
  }
  const drawn = await counting.end();
  const busy = await busyShare(session, 5000);
  clearInterval(timer);
  const lost = await page.getByText(/did not keep up/).count();
  const share = ({ passed, drawn }: Frames) => `${((100 * (passed - drawn)) / passed).toFixed(2)} %`;
  const rates = `${TAGS} tags, ${READINGS_A_SECOND} readings a second each, ${seconds} s`;
  console.log(`${view.padEnd(6)} ${rates}`);
  console.log(
    `  frames dropped    ${share(drawn)} of ${drawn.passed}, longest ${drawn.longestMs.toFixed(0)} ms; with nothing to draw ${share(idle)} of ${idle.passed}`,
  );
  console.log(`  main thread       busy ${(100 * busy).toFixed(0)} % of the time`);
  console.log(
    `  messages lost     ${lost === 0 ? "none" : "some, the page says so"}; ${bench.steps * TAGS} readings sent`,
  );
  console.log(
    `  objects in MB     ${megabytes(heaps.map(({ objects }) => objects))} (after collecting garbage, evenly over the time)`,
  );
  console.log(
    `  typed arrays      ${megabytes(heaps.map(({ arrays }) => arrays))} (the traces; each is bounded at ${TRACE_LIMIT} samples)`,
  );
  await context.close();
  await server.close();
}

/** Share of some time in which the page's main thread had something to do. */
async function busyShare(session: CDPSession, forMs: number): Promise<number> {
  await session.send("Performance.enable");
  const taskS = async () => {
    const { metrics } = await session.send("Performance.getMetrics");
    return metrics.find(({ name }) => name === "TaskDuration")!.value;
  };
  const [from, fromMs] = [await taskS(), performance.now()];
  await new Promise((done) => setTimeout(done, forMs));
  return ((await taskS()) - from) / ((performance.now() - fromMs) / 1000);
}

interface Heap {
  /** Bytes. */
  readonly objects: number;
  readonly arrays: number;
}

/** Of the page, after garbage was collected. */
async function heap(session: CDPSession): Promise<Heap> {
  await session.send("HeapProfiler.collectGarbage");
  const { usedSize, backingStorageSize } = await session.send("Runtime.getHeapUsage");
  return { objects: usedSize, arrays: backingStorageSize };
}

function megabytes(values: readonly number[]): string {
  return values.map((bytes) => (bytes / 1e6).toFixed(1)).join(" ");
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1]!;
}
