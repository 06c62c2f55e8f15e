/** `plyframe view` as a person starts it: what it says, what it serves, how it ends. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { PastPoint, TimedReading } from "../../../host/view/messages.ts";
import { complaints, LEG, linesOf, plyframe, type Running, start, tcpKit, testFolder } from "../../support/plyframe.ts";
import { Relay } from "../../support/relay.ts";
import { ask, type Client, client } from "../../support/view.ts";

/** The page's port, once it is served. */
async function portOf(running: Running): Promise<number> {
  const [, port] = await running.said(/The bench page: https?:\/\/[^:]+:(\d+)\//);
  return Number(port);
}

const view = (...words: string[]) => start(["view", "--http", "127.0.0.1:0", ...words]);

type Point = Pick<PastPoint, "epc" | "sequence" | "gauge_mmhg">;

function readingsOf({ heard }: Client): TimedReading[] {
  return heard.flatMap((message) => (message.type === "readings" ? message.readings : []));
}

describe("wrong use", () => {
  it.each([
    [["--http", "4890"], "plyframe: --http 4890: give an address and a port, such as 127.0.0.1:4890"],
    [["--http", "127.0.0.1:99999"], "plyframe: --http 127.0.0.1:99999: give an address and a port"],
    [["--http", "0.0.0.0:0"], "plyframe: --http 0.0.0.0:0: reaches other machines; that needs --lan"],
    [["--http", "[::]:0"], "plyframe: --http [::]:0: reaches other machines; that needs --lan"],
    [["--http", "127.0.0.1:0", "--lan"], "plyframe: --http 127.0.0.1:0: reaches this machine only"],
    [["--port", "tcp:a:1", "--llrp", "b"], "plyframe: --port, --llrp and --replay: give one of them, or none"],
    [["--replay", LEG, "--capture", "x"], "plyframe: --capture: a replay is a capture already"],
    [["--tls-cert", "x.pem"], "plyframe: --tls-cert and --tls-key: give both, or none"],
    [["--speed", "0"], "plyframe: --speed 0: give a number from 0.1 to 100"],
    [["--site", "B1"], "plyframe: --site B1: give EPC=name with the EPC in hex"],
  ])("%j", async (words, sentence) => {
    const ended = await plyframe(["view", ...words]);
    expect(complaints(ended)).toEqual([expect.stringContaining(sentence)]);
    expect([ended.status, ended.stdout]).toEqual([2, ""]);
  });
});

describe("what is not there", () => {
  it("a port, a file, a key: status 3 and one sentence", async () => {
    const folder = testFolder();
    writeFileSync(join(folder, "no.pem"), "no certificate");
    for (const [words, sentence] of [
      [["--port", "tcp:127.0.0.1:1"], "plyframe: cannot open tcp:127.0.0.1:1: nothing listens there"],
      [["--replay", "no-such-file"], "plyframe: no-such-file: does not exist"],
      [["--tls-cert", "no-such-file", "--tls-key", "x"], "plyframe: no-such-file: does not exist"],
      [
        ["--tls-cert", join(folder, "no.pem"), "--tls-key", join(folder, "no.pem")],
        "plyframe: --tls-cert, --tls-key: ",
      ],
    ] as const) {
      const ended = await plyframe(["view", "--http", "127.0.0.1:0", ...words]);
      expect(complaints(ended)).toEqual([expect.stringContaining(sentence)]);
      expect(ended.status).toBe(3);
    }
  });

  it("a place that another program has", async () => {
    const first = view();
    const port = await portOf(first);
    const ended = await plyframe(["view", "--http", `127.0.0.1:${port}`]);
    expect(complaints(ended)).toEqual([`plyframe: 127.0.0.1:${port}: another program listens there`]);
    expect(ended.status).toBe(3);
  });
});

describe("a replay", () => {
  it("shows the readings that decode prints of the same file, to the last digit, and stays when it is over", async () => {
    const running = view("--replay", LEG, "--speed", "20");
    const port = await portOf(running);
    const page = client(port);
    const hello = await page.hears("hello");
    expect(hello).toMatchObject({ source: "replay", source_name: LEG, speed: 20, scene: null });
    await running.said(/The page stays until Ctrl-C/);
    const late = client(port);
    const past = await late.hears("past");
    const shown = [...readingsOf(page), ...past.latest].map(({ reading }) => JSON.stringify(reading));
    const decoded = linesOf((await plyframe(["decode", "--json", LEG])).stdout);
    expect(past.latest).toHaveLength(4);
    expect(shown.filter((line) => !decoded.includes(line))).toEqual([]);
    // Of the frames each is there once, and nothing else.
    const frames = decoded.map((line) => JSON.parse(line)).filter(({ record }) => record === "reading");
    const first = frames.filter(({ quality }) => !quality.includes("repeated"));
    const point = (of: Point) => `${of.epc} ${of.sequence} ${of.gauge_mmhg}`;
    expect(past.points.map(point)).toEqual(first.map(point));
    expect((await late.hears("hello")).state.state).toBe("ended");
    // What the page heard from when it came is not less: frames that came too fast for a batch are in it as points.
    const heard = page.heard.flatMap((message): readonly Point[] => {
      if (message.type === "past") return message.points;
      if (message.type !== "readings") return [];
      const shownNow = message.readings.map(({ reading }) => reading);
      return [...message.earlier, ...shownNow.filter(({ quality }) => !quality.includes("repeated"))];
    });
    expect(heard.map(point).sort()).toEqual(first.map(point).sort());
    running.stop("SIGINT");
    const ended = await running.ended;
    expect([ended.status, complaints(ended)]).toEqual([0, []]);
    expect(await page.closed).toBe(1001);
  });

  it("with damaged lines names them and ends with status 1", async () => {
    const file = join(testFolder(), "leg.jsonl");
    writeFileSync(file, `{"record":"read"}\n{nonsense\n`);
    const running = view("--replay", file, "--speed", "100");
    await running.said(/The page stays until Ctrl-C/);
    running.stop("SIGTERM");
    const ended = await running.ended;
    expect(complaints(ended)).toHaveLength(2);
    expect(complaints(ended)[1]).toContain(`${file}:2: `);
    expect(ended.status).toBe(1);
  });
});

describe("a live session", () => {
  it("shows what the capture kept beside it decodes to", async () => {
    const { port: kitPort } = await tcpKit("--speed", "4");
    const capture = join(testFolder(), "leg.jsonl");
    const running = view("--port", kitPort, "--capture", capture, "--site", "3066c4409047e14000004b01=heel");
    const page = client(await portOf(running));
    expect(await page.hears("hello")).toMatchObject({
      source: "reader",
      source_name: kitPort,
      sites: [{ epc: "3066c4409047e14000004b01", site: "heel" }],
    });
    await page.hears("readings", ({ readings }) => readings.some(({ reading }) => reading.sequence > 8));
    await page.hears("presence", ({ tags }) => tags.length === 4);
    await page.hears("words");
    running.stop("SIGINT");
    expect((await running.ended).status).toBe(0);
    expect(await page.closed).toBe(1001);
    const decoded = linesOf((await plyframe(["decode", "--json", capture])).stdout);
    const shown = readingsOf(page).map(({ reading }) => JSON.stringify(reading));
    expect(shown.length).toBeGreaterThan(10);
    expect(shown.filter((line) => !decoded.includes(line))).toEqual([]);
  });

  it("over LLRP shows what its capture decodes to", async () => {
    const kit = start(["kit", "--llrp", "tcp:127.0.0.1:0", "--speed", "4"]);
    const [, address] = await kit.said(/tcp:(127\.0\.0\.1:\d+)/);
    const capture = join(testFolder(), "leg.jsonl");
    const ambient = ["--ambient", "1008.2+-0.5hPa"];
    const running = view("--llrp", address!, "--capture", capture, ...ambient);
    const page = client(await portOf(running));
    expect(await page.hears("hello")).toMatchObject({ source: "reader", source_name: `tcp:${address}` });
    await page.hears("readings", ({ readings }) => readings.some(({ reading }) => reading.sequence > 8));
    running.stop("SIGINT");
    expect((await running.ended).status).toBe(0);
    const decoded = linesOf((await plyframe(["decode", "--json", capture, ...ambient])).stdout);
    const shown = readingsOf(page).map(({ reading }) => JSON.stringify(reading));
    expect(shown.length).toBeGreaterThan(10);
    expect(readingsOf(page).some(({ reading }) => reading.expanded_uncertainty_mmhg !== null)).toBe(true);
    expect(shown.filter((line) => !decoded.includes(line))).toEqual([]);
  });

  it("simulated, says so, and names its sites", async () => {
    const running = view("--speed", "8");
    const page = client(await portOf(running));
    const hello = await page.hears("hello");
    expect(hello.scene).toContain("(invented)");
    expect(hello.sites.map(({ site }) => site)).toEqual(["B1", "B", "C", "below the knee"]);
    await page.hears("readings");
    page.send({ type: "mark", kind: "wrapped" });
    expect((await page.hears("mark")).mark).toMatchObject({ id: 1, kind: "wrapped" });
  });

  it("goes on when the reader was away, with its clock begun anew", async () => {
    const relay = await new Relay().listen();
    const first = await tcpKit("--speed", "4");
    relay.target = first.number;
    const running = view("--port", relay.port);
    const page = client(await portOf(running));
    await page.hears("readings", ({ readings }) => readings.some(({ reading }) => reading.sequence > 4));
    relay.target = null;
    first.kit.child.kill("SIGKILL");
    const lost = await page.hears("state", ({ state }) => state === "reconnecting");
    expect(lost.sentence).toContain(`lost ${relay.port}`);
    await page.hears("state", ({ state, attempt }) => state === "reconnecting" && attempt !== null);
    const before = readingsOf(page).length;
    relay.target = (await tcpKit("--speed", "4")).number;
    await page.hears("state", ({ state }) => state === "live");
    await page.hears("readings", ({ readings }) => readings.some((timed) => readingsOf(page).indexOf(timed) >= before));
    const times = readingsOf(page).map(({ time_s }) => time_s);
    expect(Math.min(...times.slice(before))).toBeGreaterThan(Math.max(...times.slice(0, before)) - 1);
    running.stop("SIGINT");
    expect((await running.ended).status).toBe(0);
  });

  it("ends with status 3 when the reader does not come back, and the page stays until then", async () => {
    const { port: kitPort, kit } = await tcpKit("--speed", "4");
    const running = view("--port", kitPort, "--retry", "0.2");
    const port = await portOf(running);
    const page = client(port);
    await page.hears("readings");
    kit.child.kill("SIGKILL");
    const ended = await page.hears("state", ({ state }) => state === "ended");
    expect(ended.sentence).toContain(`lost ${kitPort}`);
    expect((await ask(port, "/")).status).toBe(200);
    running.stop("SIGINT");
    expect((await running.ended).status).toBe(3);
  });
});

describe("for other machines", () => {
  it("a code is printed, and asked for on this machine too", async () => {
    const running = start(["view", "--lan", "--http", "0.0.0.0:0", "--speed", "8"]);
    const [, code] = await running.said(/Pairing code, for this run only: ([0-9A-Z]{3}-[0-9A-Z]{3})/);
    const [, listed] = await running.said(/The bench page: http:\/\/[^\n]*:(\d+)\//);
    const port = Number(listed);
    expect(await client(port).closed).toBe(401);
    const headers = { "content-type": "application/json", origin: `http://127.0.0.1:${port}` };
    const answer = await ask(port, "/pair", { method: "POST", headers, body: JSON.stringify({ code }) });
    expect(answer.status).toBe(204);
    const cookie = answer.headers["set-cookie"]![0]!.split(";")[0]!;
    await client(port, { cookie }).hears("readings");
    await running.said(/127\.0\.0\.1 paired/);
  });
});
