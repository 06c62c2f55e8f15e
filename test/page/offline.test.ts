/** The page without its server, and what it keeps and asks for. */
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import type { Mark } from "../../host/view/messages.ts";
import { PHONE, servedPage, sharedBrowser, visit } from "../support/browser.ts";
import { B1, legBench } from "../support/leg-bench.ts";
import { needs } from "../support/outside.ts";

/** Kinds of the marks in the page's own store, in which marks and readings are written together. */
const keptMarks = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<string[]>((done, fail) => {
        const opening = indexedDB.open("plyframe-bench");
        opening.onerror = () => fail(opening.error);
        opening.onsuccess = () => {
          const asked = opening.result.transaction("head").objectStore("head").get("session");
          asked.onerror = () => fail(asked.error);
          asked.onsuccess = () => {
            opening.result.close();
            done(asked.result.marks.map(({ kind }: Mark) => kind));
          };
        };
      }),
  );

needs("chromium", () => {
  const browser = sharedBrowser();

  it("opens to the last session when the server is gone, says so, and forgets it when asked to", async () => {
    const bench = await legBench("kept", 1e-6);
    await bench.until(60);
    const { url, close } = await servedPage(bench.feed);
    const { context, page } = await visit(await browser(), PHONE);
    await page.goto(url);
    await page.getByRole("button", { name: "Understood" }).click();
    await page.locator('[data-shows="number"]').first().waitFor();
    await page.getByRole("button", { name: "Stood" }).click();
    await page
      .getByText(/^Stood marked/)
      .first()
      .waitFor();
    bench.feed.request(1, { type: "mark", kind: "note", text: "somebody's name" });
    // The worker has the files, and the page's own store the readings.
    await page.evaluate(async () => {
      await navigator.serviceWorker.ready;
    });
    await expect
      .poll(() =>
        page.evaluate(async () =>
          Promise.all((await caches.keys()).map(async (name) => (await (await caches.open(name)).keys()).length)),
        ),
      )
      .toEqual([expect.any(Number)]);
    await expect.poll(() => keptMarks(page)).toEqual(["stood", "note"]);
    await page.close();
    await close();

    const later = await context.newPage();
    await later.goto(url);
    await expect.poll(() => later.locator("[data-feed]").getAttribute("data-feed")).toBe("kept");
    await later.getByText(/Nothing here is live/).waitFor();
    // What is past is no number, however fresh it was.
    const slip = later.locator(`[data-site="${B1}"]`);
    await expect.poll(() => slip.getAttribute("data-shows")).toBe("stale");
    const { gauge_mmhg } = bench.latest(B1);
    await slip.getByText(`last heard: ${gauge_mmhg!.toFixed(1)}`).waitFor();
    await later.getByRole("link", { name: "Time" }).click();
    await later.getByRole("button", { name: "All", exact: true }).click();
    await later.getByRole("row", { name: /^B1 / }).waitFor();
    const marks = await later.getByRole("listitem").allTextContents();
    expect(marks.some((line) => line.includes("Stood"))).toBe(true);
    // Words somebody wrote are not kept.
    expect(marks.join()).not.toContain("somebody");

    await later.getByRole("button", { name: "Settings" }).click();
    await later.getByRole("button", { name: "Forget all of it" }).click();
    await later.getByText("Forgotten.").waitFor();
    const left = await later.evaluate(async () => ({
      caches: (await caches.keys()).length,
      workers: (await navigator.serviceWorker.getRegistrations()).length,
      local: localStorage.length,
    }));
    expect(left).toEqual({ caches: 0, workers: 0, local: 0 });
    await later.close();
    const gone = await context.newPage();
    await expect.poll(() => gone.goto(url).catch(String)).toContain("ERR_CONNECTION_REFUSED");
  });

  it("can be installed", async () => {
    const bench = await legBench("installed");
    const { url } = await servedPage(bench.feed);
    const { context, page } = await visit(await browser(), PHONE);
    await page.goto(url);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    const session = await context.newCDPSession(page);
    const errors = async () => {
      const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
      // A context for a test is none of a person's own, which the browser says of it.
      return installabilityErrors.map(({ errorId }) => errorId).filter((id) => id !== "in-incognito");
    };
    await expect.poll(errors).toEqual([]);
    const { data } = await session.send("Page.getAppManifest");
    expect(JSON.parse(data!)).toMatchObject({ display: expect.any(String), start_url: expect.any(String) });
  });

  it("asks for nothing but what its own server has, in every view", async () => {
    const bench = await legBench("asked");
    await bench.until(60);
    const { url, port } = await servedPage(bench.feed);
    const { page, asked, complaints } = await visit(await browser(), PHONE);
    await page.goto(url);
    await page.getByRole("button", { name: "Understood" }).click();
    const views = await page.getByRole("navigation").getByRole("link").all();
    expect(views.length).toBeGreaterThanOrEqual(2);
    for (const view of views) {
      await view.click();
      await bench.until(65);
      await expect.poll(() => view.getAttribute("aria-current")).toBe("page");
      await expect.poll(() => page.locator("section.view *").count()).toBeGreaterThan(5);
    }
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    const own = new RegExp(`^(http|ws)://127\\.0\\.0\\.1:${port}/|^blob:http://127\\.0\\.0\\.1:${port}/`);
    expect(asked.filter((address) => !own.test(address))).toEqual([]);
    expect(asked).toContain(`ws://127.0.0.1:${port}/feed`);
    expect(complaints).toEqual([]);
    // Had it asked for anything else, the policy would have forbidden it.
    const refused = await page.evaluate(async () => {
      const violation = new Promise<string>((done) =>
        document.addEventListener("securitypolicyviolation", (event) => done(event.effectiveDirective)),
      );
      await fetch("https://example.invalid/").catch(() => undefined);
      return violation;
    });
    expect(refused).toBe("connect-src");
    const inline = await page.evaluate(() => {
      const script = document.createElement("script");
      script.textContent = "document.title = 'inline'";
      document.body.append(script);
      return document.title;
    });
    expect(inline).not.toBe("inline");
  });
});
