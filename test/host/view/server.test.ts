/** What the server answers to requests as they should be and as they should not. */
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { describe, expect, it, onTestFinished } from "vitest";
import type { Reading } from "../../../host/readings/reading.ts";
import { ReadingStream } from "../../../host/readings/reading-stream.ts";
import type { ReadingsMessage } from "../../../host/view/messages.ts";
import { readPage } from "../../../host/view/page-files.ts";
import { PAGES_AN_ADDRESS } from "../../../host/view/page-sockets.ts";
import { Pairing } from "../../../host/view/pairing.ts";
import { layout } from "../../../protocol/index.ts";
import { needs } from "../../support/outside.ts";
import { ask, askRaw, client, served } from "../../support/view.ts";
import { EPC, frame, service } from "../readings/tag-words.ts";

describe("headers", () => {
  /** From the OWASP Secure Headers Project's list and the Content Security Policy standard, both from memory. */
  const expected = {
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-embedder-policy": "require-corp",
  };

  it.each([
    ["a file", "/", "GET", 200],
    ["nothing there", "/nothing", "GET", 404],
    ["another method", "/", "DELETE", 405],
    ["the state of pairing", "/pairing", "GET", 200],
    ["a try to pair", "/pair", "POST", 403],
  ])("are on %s", async (_, path, method, status) => {
    const { port } = await served();
    const { headers, ...answer } = await ask(port, path, { method });
    expect(answer.status).toBe(status);
    expect(headers).toMatchObject(expected);
    const policy = String(headers["content-security-policy"]).split("; ");
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).toContain("style-src 'self'");
    expect(policy).toContain("connect-src 'self'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).toContain("base-uri 'none'");
    expect(headers["content-security-policy"]).not.toMatch(/unsafe|\*|https?:/);
    expect(headers["permissions-policy"]).toContain("camera=()");
    expect(headers["access-control-allow-origin"]).toBeUndefined();
  });

  it("are on a request for another host too", async () => {
    const { port } = await served();
    const { status, headers } = await ask(port, "/", { headers: { host: "rebound.example" } });
    expect(status).toBe(421);
    expect(headers).toMatchObject(expected);
  });
});

describe("files", () => {
  it("are those of the page, and kept by a browser only under a name that changes with them", async () => {
    const { port } = await served();
    const page = await ask(port, "/");
    expect([page.status, page.body, page.headers["cache-control"]]).toEqual([
      200,
      "<!doctype html><title>page</title>",
      "no-cache",
    ]);
    expect((await ask(port, "/index.html")).body).toBe(page.body);
    const script = await ask(port, "/assets/page-1.js");
    expect(script.headers["content-type"]).toBe("text/javascript; charset=utf-8");
    expect(script.headers["cache-control"]).toContain("immutable");
    const head = await ask(port, "/", { method: "HEAD" });
    expect([head.status, head.body, head.headers["content-length"]]).toEqual([200, "", "34"]);
  });

  it.each([
    "/../package.json",
    "/assets/../index.html",
    "/assets/../../package.json",
    "/..%2fpackage.json",
    "/%2e%2e/package.json",
    "/..\\package.json",
    "//etc/passwd",
    "/etc/passwd",
    "/index.html%00.js",
    "/index.html/",
    "/index.html?a=1",
    "/INDEX.HTML",
    "http://127.0.0.1/index.html",
    "file:///etc/passwd",
  ])("%s is none of them", async (path) => {
    const { port } = await served();
    const answer = await ask(port, path);
    expect([answer.status, answer.body]).toEqual([404, ""]);
  });

  it("are read once, without those a link points to, and packed where that saves something", () => {
    const folder = mkdtempSync(join(tmpdir(), "plyframe-page-"));
    onTestFinished(() => rmSync(folder, { recursive: true }));
    mkdirSync(join(folder, "assets"));
    writeFileSync(join(folder, "index.html"), "<p>".repeat(500));
    writeFileSync(join(folder, "assets", "a-1.js"), "1");
    writeFileSync(join(folder, "notes.unknown"), "not of the page");
    symlinkSync("/etc/hostname", join(folder, "link.txt"));
    const files = readPage(folder);
    expect([...files.keys()].sort()).toEqual(["/", "/assets/a-1.js", "/index.html"]);
    const index = files.get("/")!;
    expect(index.gzip!.length).toBeLessThan(index.body.length);
    expect(gunzipSync(index.gzip!)).toEqual(index.body);
    expect([files.get("/assets/a-1.js")!.gzip, files.get("/assets/a-1.js")!.lasting]).toEqual([null, true]);
  });

  it("without an index.html are no page", () => {
    const folder = mkdtempSync(join(tmpdir(), "plyframe-page-"));
    onTestFinished(() => rmSync(folder, { recursive: true }));
    expect(() => readPage(folder)).toThrow("no index.html");
  });
});

describe("requests", () => {
  it.each(["POST", "PUT", "DELETE", "OPTIONS", "TRACE", "PATCH"])("%s reads nothing", async (method) => {
    const { port } = await served();
    const { status, headers } = await ask(port, "/", { method });
    expect([status, headers.allow]).toEqual([405, "GET, HEAD"]);
  });

  it.each([
    ["another name", "rebound.example"],
    ["another name with our port", "rebound.example:PORT"],
    ["another port", "127.0.0.1:1"],
    ["an address of this machine that is not served", "127.0.0.2:PORT"],
  ])("for %s are for somebody else", async (_, host) => {
    const { port } = await served();
    const headers = { host: host.replace("PORT", String(port)) };
    expect((await ask(port, "/", { headers })).status).toBe(421);
    expect(await client(port, { ...headers, origin: `http://${headers.host}` }).closed).toBe(421);
  });

  it("without a host, or with too much above them, are refused", async () => {
    const { port } = await served();
    expect(await askRaw(port, "GET / HTTP/1.0\r\n\r\n")).toMatch(/^HTTP\/1\.1 421 /);
    const long = `GET / HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nX-Long: ${"a".repeat(20_000)}\r\n\r\n`;
    expect(await askRaw(port, long)).not.toContain("page");
  });

  it("too many of one address wait", async () => {
    const { port } = await served();
    const one = `HEAD / HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n\r\n`;
    const last = one.replace("\r\n\r\n", "\r\nConnection: close\r\n\r\n");
    const answers = await askRaw(port, one.repeat(800) + last);
    expect(answers.match(/^HTTP\/1\.1 200 /gm)!.length).toBeGreaterThanOrEqual(200);
    expect(answers.match(/^HTTP\/1\.1 429 /gm)!.length).toBeGreaterThan(0);
  });
});

describe("the socket", () => {
  it("opens for the page of this server, which hears hello first", async () => {
    const { port } = await served();
    const page = client(port);
    const hello = await page.hears("hello");
    expect(page.heard[0]).toBe(hello);
    expect(hello).toMatchObject({ page: 1, source: "simulated", sites: [{ epc: "30340123", site: "B1" }], marks: [] });
    expect(hello.cautions).toHaveLength(4);
    expect((await client(port).hears("hello")).page).toBe(2);
  });

  it.each([
    ["a foreign site", { origin: "http://foreign.example" }],
    ["a foreign site that is called almost the same", { origin: "http://127.0.0.1.foreign.example" }],
    ["a file", { origin: "null" }],
    ["another server on this machine", { origin: "http://127.0.0.1:1" }],
    ["the same host by another scheme", { origin: "https://127.0.0.1:PORT" }],
  ])("does not open for %s", async (_, { origin }) => {
    const { port } = await served();
    expect(await client(port, { origin: origin.replace("PORT", String(port)) }).closed).toBe(403);
  });

  it("does not open for what is no browser and says no origin", async () => {
    const { port } = await served();
    const upgrade = "Upgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\n";
    const key = "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n";
    const answer = await askRaw(port, `GET /feed HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n${upgrade}${key}\r\n`);
    expect(answer).toMatch(/^HTTP\/1\.1 403 /);
  });

  it.each(["/", "/feed/", "/feed?x=1", "/pair"])("is not at %s", async (path) => {
    const { port } = await served();
    expect(await client(port, {}, path).closed).toBe(404);
  });

  it("opens so often for one address, and again when a page has gone", async () => {
    const { port } = await served();
    const pages = Array.from({ length: PAGES_AN_ADDRESS }, () => client(port));
    for (const page of pages) await page.hears("hello");
    expect(await client(port).closed).toBe(503);
    pages[0]!.socket.terminate();
    // The server hears of it when it gets to it.
    const comesIn = () =>
      client(port)
        .hears("hello")
        .catch(() => null);
    while ((await comesIn()) === null);
  });
});

describe("a page that guides a calibration", () => {
  it("and goes leaves it to the others", async () => {
    const { port, feed } = await served();
    const stream = new ReadingStream(layout, { started: null, barometerUncertaintyPa: 12 }, { kind: "kit_barometer" });
    stream.push({ kind: "ambient", kitTimeUs: 0, pressureRaw: 101_000 * 128, temperatureC: null });
    for (const outcome of stream.push(service())) feed.outcome(outcome);
    const [guide, other] = [client(port), client(port)];
    const { page } = await guide.hears("hello");
    await other.hears("hello");
    guide.send({ type: "calibrate", action: "start", epc: EPC, loads_mmhg: [0, 40], cycles: 1 });
    await other.hears("calibration", (state) => state.phase === "apply" && state.page === page);
    guide.socket.close();
    await other.hears("calibration", (state) => state.phase === "apply" && state.page === null);
  });
});

describe("a page that does not keep up", () => {
  it("loses what is old, is told how much, and costs the others nothing", async () => {
    const { port, feed } = await served();
    const [slow, quick] = [client(port), client(port)];
    await slow.hears("hello");
    await quick.hears("hello");
    slow.socket.pause();
    const stream = new ReadingStream(layout, { started: null, barometerUncertaintyPa: null }, { kind: "none" });
    const [outcome] = stream.push(service({ a: frame({ sequence: 1 }) })) as [Reading];
    const epcs = Array.from({ length: 16 }, (_, i) => `3034${i.toString(16).padStart(4, "0")}`);
    const BATCHES = 1000;
    const isOf = (sequence: number) => (message: ReadingsMessage) =>
      message.readings.some(({ reading }) => reading.sequence === sequence);
    for (let sequence = 1; sequence <= BATCHES; sequence++) {
      for (const epc of epcs) feed.outcome({ ...outcome, epc, sequence });
      feed.tick();
      while (!quick.heard.slice(-3).some((message) => message.type === "readings" && isOf(sequence)(message))) {
        await new Promise(setImmediate);
      }
    }
    expect(quick.heard.filter(({ type }) => type === "readings")).toHaveLength(BATCHES);
    slow.socket.resume();
    await slow.hears("readings", isOf(BATCHES));
    const got = slow.heard.filter(({ type }) => type === "readings").length;
    expect(got).toBeLessThan(BATCHES);
    for (let i = 0; i < 10; i++) feed.tick();
    expect((await slow.hears("presence", ({ dropped }) => dropped > 0)).dropped).toBeGreaterThanOrEqual(BATCHES - got);
    expect(quick.heard.every((message) => message.type !== "presence" || message.dropped === 0)).toBe(true);
  });
});

needs("openssl", () => {
  it("with a certificate speaks https only, and its cookie too", async () => {
    const folder = mkdtempSync(join(tmpdir(), "plyframe-tls-"));
    onTestFinished(() => rmSync(folder, { recursive: true }));
    const [keyFile, certFile] = [join(folder, "key.pem"), join(folder, "cert.pem")];
    const made = spawnSync("openssl", [
      ...["req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "1"],
      ...["-subj", "/CN=127.0.0.1", "-keyout", keyFile, "-out", certFile],
    ]);
    expect(made.status).toBe(0);
    const pairing = new Pairing();
    const tls = { cert: readFileSync(certFile), key: readFileSync(keyFile) };
    const { port } = await served(pairing, { tls });
    const body = JSON.stringify({ code: pairing.code });
    const headers = { "content-type": "application/json", origin: `https://127.0.0.1:${port}` };
    const answer = await ask(port, "/pair", { method: "POST", headers, body, tls: true });
    expect(answer.status).toBe(204);
    expect(answer.headers["set-cookie"]![0]).toMatch(/; HttpOnly; SameSite=Strict; Secure$/);
    const plain = { ...headers, origin: `http://127.0.0.1:${port}` };
    expect((await ask(port, "/pair", { method: "POST", headers: plain, body, tls: true })).status).toBe(403);
    await expect(ask(port, "/")).rejects.toThrow();
  });
});

describe("going away", () => {
  it("is told to the pages, and a new server can take the same port at once", async () => {
    const { port, server } = await served();
    const page = client(port);
    await page.hears("hello");
    await server.close();
    expect(await page.closed).toBe(1001);
    await expect(ask(port, "/")).rejects.toThrow("ECONNREFUSED");
  });
});
