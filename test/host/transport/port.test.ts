import { once } from "node:events";
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { type AddressInfo, createServer, type Socket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Duplex } from "node:stream";
import { afterEach, describe, expect, it } from "vitest";
import { openPort, type Port } from "../../../host/transport/port.ts";
import { PortError, portError } from "../../../host/transport/port-error.ts";
import { needs } from "../../support/outside.ts";
import { openPtyPair } from "../../support/pty-pair.ts";

const folder = mkdtempSync(join(tmpdir(), "plyframe-port-"));
const opened: Port[] = [];

async function open(name: string): Promise<Port> {
  const port = await openPort(name);
  opened.push(port);
  return port;
}

afterEach(() => {
  for (const port of opened.splice(0)) port.stream.destroy();
});

/** The next `length` bytes of a stream. */
async function take(stream: Duplex, length: number): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of stream.iterator({ destroyOnReturn: false })) {
    chunks.push(chunk);
    size += chunk.length;
    if (size >= length) break;
  }
  return Buffer.concat(chunks);
}

async function failure(name: string): Promise<PortError> {
  const error = await openPort(name).then(
    () => new Error("it opened"),
    (thrown) => thrown,
  );
  expect(error).toBeInstanceOf(PortError);
  return error;
}

/** Every byte value, and runs that a terminal would change. */
const everyByte = Buffer.from([...Array(256).keys(), 0x0d, 0x0a, 0x0d, 0x00, 0x00, 0x03, 0x04, 0x11, 0x13]);

describe("a port that cannot be opened", () => {
  it.each([
    ["/dev/no-such-device", "cannot open /dev/no-such-device: there is no such device or file"],
    ["COM250", "cannot open COM250: there is no such device or file"],
    [`file:${folder}/nothing`, `cannot open file:${folder}/nothing: there is no such device or file`],
    [`file:${folder}`, `cannot open file:${folder}: it is a directory`],
    ["exec:no-such-program --now", "cannot open exec:no-such-program --now: there is no program no-such-program"],
    ["exec:", "cannot open exec:: a program is written exec:command arguments"],
    ["exec:a 'b", "cannot open exec:a 'b: a quote is not closed"],
    ["tcp:localhost", "cannot open tcp:localhost: a TCP port is written tcp:host:port, the port from 1 to 65535"],
    ["tcp:localhost:0", "cannot open tcp:localhost:0: a TCP port is written tcp:host:port, the port from 1 to 65535"],
    ["udp:a:1", "cannot open udp:a:1: a port is a serial device, tcp:host:port, exec:command or file:path"],
    [" ", "cannot open a port without a name"],
  ])("%s", async (name, says) => {
    expect((await failure(name)).message).toBe(says);
  });

  it("a TCP port nobody listens on", async () => {
    const server = createServer().listen(0, "127.0.0.1");
    await once(server, "listening");
    const { port } = server.address() as AddressInfo;
    server.close();
    await once(server, "close");
    expect((await failure(`tcp:127.0.0.1:${port}`)).message).toBe(
      `cannot open tcp:127.0.0.1:${port}: nothing listens there`,
    );
  });

  it("a file that is no serial device", async () => {
    const path = join(folder, "plain");
    writeFileSync(path, "text");
    expect((await failure(path)).message).toBe(`cannot open ${path}: it is not a serial device`);
  });

  it.each([
    [
      "Error: Permission denied, cannot open /dev/ttyX",
      "permission denied; serial devices often belong to a group of their own",
    ],
    ["Error Resource temporarily unavailable Cannot lock port", "another program is using it"],
    ["getaddrinfo ENOTFOUND nowhere.invalid", "there is no such host"],
    ["something new\n    at a stack", "something new"],
  ])("says what '%s' means", (message, says) => {
    expect(portError("cannot open", "X", new Error(message)).message).toBe(`cannot open X: ${says}`);
  });
});

describe("tcp:", () => {
  it("carries every byte both ways, and says when the other end goes away", async () => {
    const sockets: Socket[] = [];
    const server = createServer((socket) => {
      sockets.push(socket);
      socket.pipe(socket);
    }).listen(0, "127.0.0.1");
    await once(server, "listening");
    const { stream, listenOnly } = await open(`tcp:127.0.0.1:${(server.address() as AddressInfo).port}`);
    expect(listenOnly).toBe(false);
    stream.write(everyByte);
    expect(await take(stream, everyByte.length)).toEqual(everyByte);
    const lost = once(stream, "error");
    sockets[0]!.resetAndDestroy();
    const [error] = await lost;
    expect(portError("lost", "tcp:X", error).message).toBe("lost tcp:X: the other end closed the connection");
    server.close();
  });
});

describe("exec:", () => {
  const node = (script: string) => `exec:"${process.execPath}" -e "${script}"`;

  it("carries every byte both ways", async () => {
    const { stream, listenOnly } = await open(node("process.stdin.pipe(process.stdout)"));
    expect(listenOnly).toBe(false);
    stream.write(everyByte);
    expect(await take(stream, everyByte.length)).toEqual(everyByte);
  });

  it("gives all that the program said before its end", async () => {
    const { stream } = await open(node("process.stdout.write(Buffer.alloc(300000, 7))"));
    let size = 0;
    for await (const chunk of stream) size += chunk.length;
    expect(size).toBe(300_000);
  });

  it.each([
    { script: "process.exit(3)", says: "the program ended with status 3" },
    { script: "process.kill(process.pid, 'SIGKILL')", says: "the program ended by SIGKILL" },
  ])("reports how it ended: $says", async ({ script, says }) => {
    const port = await open(node(script));
    port.stream.resume();
    const [error] = await once(port.stream, "error");
    expect(error).toBeInstanceOf(PortError);
    expect(error.message).toBe(`lost ${port.name}: ${says}`);
  });

  it("does not fail on a write to a program that has ended", async () => {
    const { stream } = await open(node("process.exit(4)"));
    const lost = once(stream, "error");
    const timer = setInterval(() => stream.write(Buffer.alloc(70_000)), 1);
    const [error] = await lost;
    clearInterval(timer);
    expect(error.message).toContain("the program ended with status 4");
  });

  it("asks the program to end when it is closed", async () => {
    const path = join(folder, "farewell");
    const farewell = `process.on('SIGTERM', () => { fs.writeFileSync('${path}', 'asked'); process.exit() })`;
    const { stream } = await open(node(`${farewell}; console.log('ready'); setInterval(() => {}, 1000)`));
    await take(stream, 6);
    stream.destroy();
    await expect.poll(() => existsSync(path) && readFileSync(path, "utf8")).toBe("asked");
  });

  it("kills a program that will not end", async () => {
    const { stream } = await open(
      node("process.on('SIGTERM', () => {}); console.log(process.pid); setInterval(() => {}, 1000)"),
    );
    const pid = Number(await take(stream, 2));
    expect(isAlive(pid)).toBe(true);
    stream.destroy();
    await expect.poll(() => isAlive(pid)).toBe(false);
  });
});

function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch {
    return false;
  }
}

describe("file:", () => {
  it("gives the bytes of the file and takes none", async () => {
    const path = join(folder, "recording");
    writeFileSync(path, everyByte);
    const { stream, listenOnly } = await open(`file:${path}`);
    expect(listenOnly).toBe(true);
    expect(stream.writable).toBe(false);
    const chunks: Buffer[] = [];
    for await (const chunk of stream) chunks.push(chunk);
    expect(Buffer.concat(chunks)).toEqual(everyByte);
  });
});

needs("socat", () => {
  describe("a serial device", () => {
    it("carries every byte both ways, and says when it vanishes", async () => {
      const pair = await openPtyPair();
      const near = await open(pair.near);
      const far = await open(pair.far);
      near.stream.write(everyByte);
      expect(await take(far.stream, everyByte.length)).toEqual(everyByte);
      far.stream.write(everyByte);
      expect(await take(near.stream, everyByte.length)).toEqual(everyByte);
      const lost = once(near.stream, "error");
      far.stream.on("error", () => undefined);
      near.stream.resume();
      await pair.pull();
      const [error] = await lost;
      expect(error).toBeInstanceOf(PortError);
      expect(error.message).toBe(`lost ${pair.near}: the device vanished`);
    });

    it("is held by one program at a time, and free again once closed", async () => {
      const pair = await openPtyPair();
      const port = await open(pair.near);
      expect((await failure(pair.near)).message).toBe(`cannot open ${pair.near}: another program is using it`);
      port.stream.destroy();
      await once(port.stream, "close");
      const again = await open(pair.near);
      again.stream.destroy();
      await once(again.stream, "close");
      await pair.pull();
    });
  });
});
