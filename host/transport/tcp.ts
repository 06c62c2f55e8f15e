import { connect } from "node:net";
import type { Duplex } from "node:stream";
import { PortError, portError } from "./port-error.ts";

const CONNECT_TIMEOUT_MS = 5000;

/** Connects to `host:port` or `[IPv6 address]:port`. `name` is what the person typed. */
export async function openTcp(name: string, address: string): Promise<Duplex> {
  const [, bracketed, plain, digits] = /^(?:\[([^\]]+)\]|([^:]+)):(\d+)$/.exec(address) ?? [];
  const host = bracketed ?? plain;
  const port = Number(digits);
  if (!host || !(port >= 1 && port <= 65_535)) {
    throw new PortError(`cannot open ${name}: a TCP port is written tcp:host:port, the port from 1 to 65535`);
  }
  const socket = connect({ host, port, noDelay: true, timeout: CONNECT_TIMEOUT_MS });
  await new Promise<void>((resolve, reject) => {
    const fail = (error: unknown) => reject(portError("cannot open", name, error));
    socket.once("error", fail);
    socket.once("timeout", () => socket.destroy(Object.assign(new Error("no answer"), { code: "ETIMEDOUT" })));
    socket.once("connect", () => {
      socket.removeListener("error", fail);
      socket.setTimeout(0);
      resolve();
    });
  });
  return socket;
}
