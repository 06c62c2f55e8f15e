/** The view of the bytes as a person uses it: mouse, keys, fingers, a pasted dump. */
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { DESK, PHONE, servedPage, sharedBrowser, visit } from "../support/browser.ts";
import { B1, legBench } from "../support/leg-bench.ts";
import { needs } from "../support/outside.ts";

/** The frame in README.md: 30.27 Cel in word 12, as worked by hand from protocol/MEMORY-MAP.md. */
const FRAME = "2101 0007 00c5 7a31 0bd3 a410 0258 a0cd";

needs("chromium", () => {
  const browser = sharedBrowser();

  async function opened(size: typeof PHONE | typeof DESK, options = {}) {
    const bench = await legBench("bytes", 1e-6);
    await bench.until(70);
    const { url } = await servedPage(bench.feed);
    const visited = await visit(await browser(), { ...size, ...options });
    await visited.page.goto(`${url}#bytes`);
    await visited.page.getByRole("button", { name: /Understood|Verstanden/ }).click();
    await visited.page.locator('[data-region="slot_a"]').first().waitFor();
    return { bench, ...visited };
  }

  const panel = (page: Page) => page.getByRole("region", { name: /The word looked at/ });
  const word = (page: Page, address: number) => page.locator(`[data-word="${address}"]`);

  it("shows the words that came, both slots in one table, and which frame counts", async () => {
    const { page, bench, complaints } = await opened(DESK);
    const words = bench.feed.greeting(0)[0]!;
    if (words.type !== "hello") throw new Error("no hello");
    const [first] = words.words.filter(({ epc, bank, word: at }) => epc === B1 && bank === "user" && at === 0);
    const hexes = first!.hex.match(/.{4}/g)!;
    for (const at of [0, 8, 15, 16, 23]) expect(await word(page, at).textContent()).toBe(hexes[at]);
    const table = page.getByRole("table", { name: "Sensor frames" });
    expect(await table.getByRole("columnheader").allTextContents()).toEqual([
      "fields",
      expect.stringContaining("slot A"),
      expect.stringContaining("slot B"),
    ]);
    const counts = bench.latest(first!.epc).slot.toUpperCase();
    expect(await page.getByText(`Newest whole frame: slot ${counts}`).count()).toBe(1);
    expect(complaints).toEqual([]);
  });

  it("a word is explained under the mouse, and stays explained when it is clicked", async () => {
    const { page } = await opened(DESK);
    await word(page, 12).hover();
    await expect.poll(() => panel(page).textContent()).toContain("temperature");
    await word(page, 9).click();
    await page.mouse.move(2, 2);
    await expect.poll(() => panel(page).textContent()).toContain("sequence");
    expect(await word(page, 9).getAttribute("aria-pressed")).toBe("true");
  });

  it("the same by keys alone: one stop for the tab key, arrows from word to word", async () => {
    const { page } = await opened(DESK);
    expect(await page.locator('[data-word][tabindex="0"]').count()).toBe(1);
    await page.locator('[data-word][tabindex="0"]').focus();
    await page.keyboard.press("ArrowDown");
    await expect.poll(() => panel(page).textContent()).toContain("Word 9, slot A");
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => panel(page).textContent()).toContain("Word 17, slot B");
    expect(await page.evaluate(() => document.activeElement?.getAttribute("aria-label"))).toMatch(
      /^word 17, [0-9a-f]{4}, sequence \d+$/,
    );
    expect(await page.locator('[data-word][tabindex="0"]').count()).toBe(1);
  });

  it("the same by a finger on a phone, in the other language, with the explanation in sight", async () => {
    const { page } = await opened(PHONE, { locale: "de-DE" });
    await word(page, 13).tap();
    const explained = page.getByRole("region", { name: "Das betrachtete Wort" });
    await expect.poll(() => explained.textContent()).toContain("supply");
    const box = (await explained.boundingBox())!;
    expect(box.y + box.height).toBeLessThanOrEqual(PHONE.viewport.height);
    expect(box.y).toBeGreaterThan(0);
  });

  it("words held still stay while the tag goes on, and run on when they are let go", async () => {
    const { page, bench } = await opened(DESK);
    const sequence = () =>
      word(page, 9)
        .textContent()
        .then(async (a) => `${a} ${await word(page, 17).textContent()}`);
    await page.getByRole("button", { name: "Hold still" }).click();
    const held = await sequence();
    await bench.until(80);
    // The page has heard of the later time: the words are as old as that.
    await expect.poll(() => page.getByText(/These words came 9 s ago|These words came 10 s ago|Stale/).count()).toBe(1);
    expect(await sequence()).toBe(held);
    await page.getByRole("button", { name: "Hold still" }).click();
    await expect.poll(sequence).not.toBe(held);
  });

  it("a pasted dump is explained, with its fault at the place", async () => {
    const { page, complaints } = await opened(DESK);
    await page.getByRole("button", { name: "Paste a dump…" }).click();
    const dump = page.getByLabel("Hex dump of the USER bank");
    await dump.fill(FRAME);
    await word(page, 12).click();
    await expect.poll(() => panel(page).textContent()).toContain("30.27");
    expect(await page.locator(".faulty").count()).toBe(0);
    await dump.fill(FRAME.replace("a0cd", "a0cc"));
    await expect.poll(() => page.locator(".faulty").getAttribute("data-word")).toBe("15");
    await word(page, 15).click();
    await expect.poll(() => panel(page).textContent()).toContain("[checksum-mismatch]");
    expect(await panel(page).textContent()).toContain("expected 0xa0cd, found 0xa0cc");
    await dump.fill(`${FRAME}\n2101 00z7`);
    await expect.poll(() => page.getByText("Line 2, character 8: z is no hex digit.").count()).toBe(1);
    await expect.poll(() => page.locator("[data-word]").count()).toBe(0);
    await page.getByRole("button", { name: "Show the place" }).click();
    const chosen = await dump.evaluate((area: HTMLTextAreaElement) =>
      area.value.slice(area.selectionStart, area.selectionEnd),
    );
    expect(chosen).toBe("z");
    await dump.fill("ffff 0000");
    await expect.poll(() => page.getByText(/Say at which word/).count()).toBe(1);
    await page.getByLabel("begins at word").selectOption("40");
    await expect.poll(() => word(page, 40).textContent()).toBe("ffff");
    expect(complaints).toEqual([]);
  });

  it("nothing in a dump is ever taken for markup", async () => {
    const { page } = await opened(DESK);
    await page.getByRole("button", { name: "Paste a dump…" }).click();
    await page.getByLabel("Hex dump of the USER bank").fill("<img src=x onerror=alert(1)>");
    await expect.poll(() => page.getByText("Line 1, character 1: < is no hex digit.").count()).toBe(1);
    expect(await page.locator("section.view img").count()).toBe(0);
  });
});
