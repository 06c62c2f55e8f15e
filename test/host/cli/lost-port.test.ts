/** Ports that are not there, go away or never answer: status 3, one sentence, what was read is kept. */
import { readFileSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { needs } from "../../support/outside.ts";
import { complaints, execKit, plyframe, start, tcpKit, testFolder } from "../../support/plyframe.ts";
import { openPtyPair } from "../../support/pty-pair.ts";

/** A capture that was cut off by the loss is whole all the same: decode reads every line of it. */
async function expectWhole(capture: string, shown: string) {
  const again = await plyframe(["decode", "--json", capture]);
  expect(complaints(again)).toEqual([]);
  expect(again.status).toBe(0);
  expect(again.stdout).toBe(shown);
}

describe("a port that is not there", () => {
  it.each([
    ["/dev/no-such-device", "plyframe: cannot open /dev/no-such-device: there is no such device or file"],
    ["tcp:127.0.0.1:1", "plyframe: cannot open tcp:127.0.0.1:1: nothing listens there"],
    ["exec:no-such-program", "plyframe: cannot open exec:no-such-program: there is no program no-such-program"],
    ["file:no-such-file", "plyframe: cannot open file:no-such-file: there is no such device or file"],
    ["radio:1", expect.stringMatching(/^plyframe: cannot open radio:1: a port is/)],
  ])("%s", async (port, says) => {
    const ended = await plyframe(["read", "--port", port]);
    expect(complaints(ended)).toEqual([says]);
    expect([ended.status, ended.stdout]).toEqual([3, ""]);
    // Cautions belong to pressures, and there are none.
    expect(ended.stderr).not.toContain("medical device");
  });

  it("is told by the kit too", async () => {
    const ended = await plyframe(["kit", "--port", "/dev/no-such-device"]);
    expect(complaints(ended)).toEqual([expect.stringContaining("there is no such device or file")]);
    expect(ended.status).toBe(3);
  });

  it("because another kit listens there already", async () => {
    const { port } = await tcpKit();
    const ended = await plyframe(["kit", "--listen", port]);
    expect(complaints(ended)).toEqual([expect.stringContaining(port)]);
    expect(ended.status).toBe(3);
  });
});

describe("a kit that never answers", () => {
  it("is given up, and an earlier capture of that name is left alone", async () => {
    const server = createServer();
    onTestFinished(() => void server.close());
    await new Promise<void>((done) => server.listen(0, "127.0.0.1", done));
    const address = server.address();
    const port = `tcp:127.0.0.1:${typeof address === "object" ? address!.port : 0}`;
    const folder = testFolder();
    const ended = await plyframe(["read", "--port", port, "--capture", join(folder, "leg.jsonl")]);
    expect(complaints(ended)).toEqual([expect.stringContaining(`${port}: no answer to hello`)]);
    expect([ended.status, ended.stdout]).toEqual([3, ""]);
    expect(() => readFileSync(join(folder, "leg.jsonl"))).toThrow("ENOENT");
  });
});

describe("a kit that refuses", () => {
  it("a power it cannot transmit is wrong use", async () => {
    const ended = await plyframe(["read", "--port", execKit(), "--power", "39"]);
    expect(complaints(ended)).toEqual([expect.stringMatching(/^plyframe: --power 39: this kit transmits at .* dBm$/)]);
    expect([ended.status, ended.stdout]).toEqual([2, ""]);
  });
});

describe("a port that goes away in the middle", () => {
  it("because the kit was killed", async () => {
    const { port, kit } = await tcpKit("--speed", "4");
    const capture = join(testFolder(), "leg.jsonl");
    const reading = start(["read", "--json", "--port", port, "--capture", capture]);
    await reading.said(/"sequence":3/);
    kit.child.kill("SIGKILL");
    const ended = await reading.ended;
    expect(complaints(ended)).toEqual([expect.stringMatching(`^plyframe: lost ${port}: `)]);
    expect(ended.status).toBe(3);
    await expectWhole(capture, ended.stdout);
  });

  it("because an exec: program ended", async () => {
    const ended = await plyframe(["read", "--json", "--port", "exec:sh -c 'exit 7'"]);
    expect(complaints(ended)).toEqual([expect.stringContaining("the program ended with status 7")]);
    expect(ended.status).toBe(3);
  });

  needs("socat", () => {
    it("because a serial device was unplugged", async () => {
      const cable = await openPtyPair();
      onTestFinished(() => cable.pull());
      const capture = join(testFolder(), "leg.jsonl");
      const kit = start(["kit", "--port", cable.far, "--speed", "4"]);
      await kit.said(/on /);
      const reading = start(["read", "--json", "--port", cable.near, "--capture", capture]);
      await reading.said(/"sequence":3/);
      await cable.pull();
      const ended = await reading.ended;
      expect(complaints(ended)).toEqual([`plyframe: lost ${cable.near}: the device vanished`]);
      expect(ended.status).toBe(3);
      await expectWhole(capture, ended.stdout);
      expect((await kit.ended).status).toBe(3);
    });
  });
});
