/** Chromium as people have it, driven by playwright-core; everything a page asks for is written down. */
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { afterAll, onTestFinished } from "vitest";
import type { BenchFeed } from "../../host/view/bench-feed.ts";
import { TICK_MS } from "../../host/view/messages.ts";
import { readPage } from "../../host/view/page-files.ts";
import type { Pairing } from "../../host/view/pairing.ts";
import { ViewServer } from "../../host/view/view-server.ts";

/** A phone held upright, and a screen on a desk. */
export const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true } as const;
export const DESK = { viewport: { width: 1280, height: 800 } } as const;

/** Only ends what would never come, on however busy a machine. */
const PATIENT_MS = 120_000;

/** As a root user without a display can start it; nothing of its own is fetched. */
export async function openBrowser(...more: readonly string[]): Promise<Browser> {
  return chromium.launch({
    executablePath: "/usr/bin/chromium",
    timeout: PATIENT_MS,
    args: ["--no-sandbox", "--disable-background-networking", "--disable-gpu", "--no-proxy-server", ...more],
  });
}

/** One browser for the tests of a file, started when the first asks for it. */
export function sharedBrowser(): () => Promise<Browser> {
  let browser: Promise<Browser> | null = null;
  afterAll(async () => (await browser)?.close());
  return () => (browser ??= openBrowser());
}

export interface Visit {
  readonly context: BrowserContext;
  readonly page: Page;
  /** Addresses of all requests and sockets, of the service worker too. */
  readonly asked: string[];
  /** What the console called an error, and what the page threw. */
  readonly complaints: string[];
}

/** A visit with a clean slate: nothing kept, English, in Greenwich's time. */
export async function visit(browser: Browser, options: BrowserContextOptions = DESK): Promise<Visit> {
  const context = await browser.newContext({ locale: "en-GB", timezoneId: "UTC", ...options });
  onTestFinished(() => context.close());
  context.setDefaultTimeout(PATIENT_MS);
  const asked: string[] = [];
  const complaints: string[] = [];
  context.on("request", (request) => asked.push(request.url()));
  context.on("weberror", (error) => complaints.push(String(error.error())));
  context.on("console", (message) => message.type() === "error" && complaints.push(message.text()));
  const page = await context.newPage();
  page.on("websocket", (socket) => asked.push(socket.url()));
  return { context, page, asked, complaints };
}

/**
 * The built page with a feed, on a port of its own, until the test is over or it is closed. Like the command it tells the
 * pages that it is there, also while the feed has no news: a page takes a silent server for lost.
 */
export async function servedPage(feed: BenchFeed, pairing: Pairing | null = null, port = 0) {
  const server = new ViewServer({
    feed,
    files: readPage("dist/page"),
    pairing,
    tls: null,
    names: ["127.0.0.1", "localhost"],
    onPairing: () => undefined,
  });
  const bound = await server.listen("127.0.0.1", port);
  const ticking = setInterval(() => feed.tick(), TICK_MS);
  let closed = false;
  const close = async () => {
    if (closed) return;
    closed = true;
    clearInterval(ticking);
    await server.close();
  };
  onTestFinished(close);
  return { server, port: bound, url: `http://127.0.0.1:${bound}/`, close };
}
