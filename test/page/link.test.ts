/** What the page does when the reader, the server or somebody hostile does what they should not. */
import { once } from "node:events";
import { createServer } from "node:http";
import type { Page } from "playwright-core";
import { describe, expect, it, onTestFinished } from "vitest";
import { WebSocketServer } from "ws";
import { readPage } from "../../host/view/page-files.ts";
import { Pairing } from "../../host/view/pairing.ts";
import { securityHeaders } from "../../host/view/security-headers.ts";
import { PHONE, servedPage, sharedBrowser, visit } from "../support/browser.ts";
import { B1, legBench } from "../support/leg-bench.ts";
import { needs } from "../support/outside.ts";
import { start, tcpKit } from "../support/plyframe.ts";
import { Relay } from "../support/relay.ts";

const feedIs = (page: Page, ...states: string[]) =>
  expect.poll(() => page.locator("[data-feed]").getAttribute("data-feed")).toBeOneOf(states);

const marks = (page: Page) => page.getByRole("button", { name: /^Remove / });

const numbers = (page: Page) => page.locator('[data-shows="number"]');

needs("chromium", () => {
  const browser = sharedBrowser();

  it("the reader is pulled away and brought back, and the page says so throughout", async () => {
    const relay = await new Relay().listen();
    const first = await tcpKit("--speed", "4");
    relay.target = first.number;
    const running = start(["view", "--http", "127.0.0.1:0", "--port", relay.port]);
    const [, url] = await running.said(/The bench page: (\S+)/);
    const { page } = await visit(await browser(), PHONE);
    await page.goto(url!);
    await feedIs(page, "live");
    await numbers(page).first().waitFor();
    relay.target = null;
    first.kit.child.kill("SIGKILL");
    await feedIs(page, "reconnecting");
    await page.getByText(`lost ${relay.port}`).first().waitFor();
    await expect.poll(() => numbers(page).count()).toBe(0);
    relay.target = (await tcpKit("--speed", "4")).number;
    await feedIs(page, "live");
    await numbers(page).first().waitFor();
    running.stop("SIGINT");
    expect((await running.ended).status).toBe(0);
    await feedIs(page, "lost");
  });

  it("the server is stopped and started: the page finds it again, and knows a new session from the old", async () => {
    const bench = await legBench("first");
    await bench.until(30);
    const one = await servedPage(bench.feed);
    const { page } = await visit(await browser(), PHONE);
    await page.goto(one.url);
    await numbers(page).first().waitFor();
    await page.getByRole("button", { name: "Understood" }).click();
    await page.getByRole("button", { name: "Stood" }).click();
    await page
      .getByText(/^Stood marked/)
      .first()
      .waitFor();
    await one.close();
    await feedIs(page, "lost");
    await page.getByRole("button", { name: "Walked" }).click();
    await page.getByText("Not marked: there is no server.").first().waitFor();

    const two = await servedPage(bench.feed, null, one.port);
    await feedIs(page, "live");
    await bench.until(50);
    const { gauge_mmhg } = bench.latest(B1);
    const value = page.locator(`[data-site="${B1}"] .slip-value`);
    await expect.poll(() => value.textContent()).toBe(gauge_mmhg!.toFixed(1));
    await page.getByRole("link", { name: "Time" }).click();
    await expect.poll(() => marks(page).count()).toBe(1);
    await two.close();
    await feedIs(page, "lost");

    const other = await legBench("second");
    await other.until(5);
    await servedPage(other.feed, null, one.port);
    await feedIs(page, "live");
    await expect.poll(() => marks(page).count()).toBe(0);
  });

  describe("pairing", () => {
    it("a wrong code shows nothing, and the right one everything", async () => {
      const bench = await legBench("paired");
      await bench.until(30);
      const pairing = new Pairing();
      const { url } = await servedPage(bench.feed, pairing);
      const { page } = await visit(await browser(), PHONE);
      await page.goto(url);
      await feedIs(page, "unpaired");
      const code = page.getByLabel("Code");
      await code.fill("000-000");
      await page.getByRole("button", { name: "Pair", exact: true }).click();
      await page.getByText("That is not the code.").waitFor();
      expect(await numbers(page).count()).toBe(0);
      await code.fill(pairing.code.toLowerCase());
      // A wrong try costs a second; until then the page says how long. Once it is paired the button is gone.
      const go = page.getByRole("button", { name: "Pair", exact: true });
      await expect
        .poll(
          async () => {
            await go.click({ timeout: 5000 }).catch(() => undefined);
            return page.locator("[data-feed]").getAttribute("data-feed");
          },
          { interval: 500 },
        )
        .toBe("live");
      await numbers(page).first().waitFor();
      await page.reload();
      await numbers(page).first().waitFor();
    });
  });

  describe("hostile messages", () => {
    it("from a page are refused, and the others read on", async () => {
      const bench = await legBench("hostile");
      await bench.until(30);
      const { url } = await servedPage(bench.feed);
      const opened = await browser();
      const { page: other } = await visit(opened, PHONE);
      await other.goto(url);
      const { page } = await visit(opened, PHONE);
      await page.goto(url);
      await numbers(page).first().waitFor();
      const code = await page.evaluate(async () => {
        const socket = new WebSocket(new URL("./feed", location.href.replace("http", "ws")));
        await new Promise((done) => socket.addEventListener("open", done));
        const closed = new Promise<number>((done) => socket.addEventListener("close", (event) => done(event.code)));
        for (const text of ["", "{", "[]", '{"type":"mark","kind":"<img src=x onerror=alert(1)>"}', "\u0000"]) {
          socket.send(text);
        }
        socket.send("x".repeat(100_000));
        return closed;
      });
      expect(code).toBe(1009);
      await feedIs(page, "live");
      await feedIs(other, "live");
    });

    it("of a page of another site are not even heard", async () => {
      const bench = await legBench("another");
      await bench.until(30);
      const { port } = await servedPage(bench.feed);
      const other = await servedPage((await legBench("other site")).feed);
      const { page } = await visit(await browser(), PHONE);
      await page.goto(other.url);
      const policy = await page.evaluate(
        (at) =>
          new Promise<string>((done) => {
            document.addEventListener("securitypolicyviolation", ({ effectiveDirective }) => done(effectiveDirective));
            new WebSocket(at);
          }),
        `ws://127.0.0.1:${port}/feed`,
      );
      expect(policy).toBe("connect-src");
      // A site that has no such policy is refused by the server.
      const bare = createServer((_, response) => response.writeHead(200, { "content-type": "text/html" }).end("<p>"));
      bare.listen(0, "127.0.0.1");
      await once(bare, "listening");
      onTestFinished(() => {
        bare.closeAllConnections();
        bare.close();
      });
      const address = bare.address();
      await page.goto(`http://127.0.0.1:${typeof address === "object" ? address!.port : 0}/`);
      const heard = await page.evaluate(
        ([socketAt, pageAt]) =>
          new Promise<string[]>((done) => {
            const said: string[] = [];
            const socket = new WebSocket(socketAt!);
            socket.addEventListener("message", () => said.push("message"));
            socket.addEventListener("close", async () => {
              const read = await fetch(pageAt!).then(
                () => "page",
                () => "nothing",
              );
              done([...said, read]);
            });
          }),
        [`ws://127.0.0.1:${port}/feed`, `http://127.0.0.1:${port}/pairing`],
      );
      expect(heard).toEqual(["nothing"]);
    });

    it("of a note are shown as the text they are", async () => {
      const bench = await legBench("note", 1e-6);
      await bench.until(30);
      const { url } = await servedPage(bench.feed);
      const { page, complaints } = await visit(await browser(), PHONE);
      await page.goto(`${url}#time`);
      await feedIs(page, "live");
      const words = '<img src=x onerror="document.title=1"><script>document.title=2</script>';
      bench.feed.request(1, { type: "mark", kind: "note", text: words });
      await page.getByText(words).first().waitFor();
      expect(await page.title()).toContain("plyframe");
      expect(await page.locator("img, main script").count()).toBe(0);
      expect(complaints).toEqual([]);
    });

    it("of a server that is none do the page no harm", async () => {
      const bench = await legBench("false");
      await bench.until(30);
      const files = readPage("dist/page");
      const server = createServer((request, response) => {
        const file = files.get(request.url ?? "");
        if (file) response.writeHead(200, { ...securityHeaders, "content-type": file.type }).end(file.body);
        else response.writeHead(404).end();
      });
      const sockets = new WebSocketServer({ server });
      const [hello, past] = bench.feed.greeting(1);
      const nonsense = [
        "",
        "{",
        "null",
        "[]",
        '{"type":"nothing"}',
        '{"type":"constructor"}',
        '{"type":"readings"}',
        '{"type":"past","points":7}',
        '{"type":"presence","tags":null}',
        '{"type":"mark"}',
        '{"type":"words","words":[{"epc":1}]}',
        '{"type":"readings","now_s":"x","earlier":[],"readings":[{}],"waveforms":[],"unread":[]}',
      ];
      sockets.on("connection", (socket) => {
        for (const text of nonsense) socket.send(text);
        socket.send(Buffer.from([1, 2, 3]));
        socket.send(JSON.stringify(hello));
        for (const text of nonsense) socket.send(text);
        socket.send(JSON.stringify(past));
      });
      server.listen(0, "127.0.0.1");
      await once(server, "listening");
      const address = server.address();
      onTestFinished(() => {
        for (const socket of sockets.clients) socket.terminate();
        server.closeAllConnections();
        server.close();
      });
      const { page } = await visit(await browser(), PHONE);
      await page.goto(`http://127.0.0.1:${typeof address === "object" ? address!.port : 0}/`);
      const { gauge_mmhg } = bench.latest(B1);
      const value = page.locator(`[data-site="${B1}"]`);
      await value.getByText(gauge_mmhg!.toFixed(1)).first().waitFor();
    });
  });
});
