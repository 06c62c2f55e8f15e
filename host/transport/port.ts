/** Ports are strings: what a person types after --port, and the byte stream behind it. */
import type { Duplex } from "node:stream";
import { PortError } from "./port-error.ts";
import { openProgram } from "./program.ts";
import { openReplay } from "./replay-file.ts";
import { openSerial } from "./serial.ts";
import { openTcp } from "./tcp.ts";

/** An open port. Destroying the stream closes it; a port that is lost ends in an `error` event with a PortError. */
export interface Port {
  /** As it was asked for. */
  readonly name: string;
  readonly stream: Duplex;
  /** A recording: bytes come, none can be sent. */
  readonly listenOnly: boolean;
}

/**
 * Opens `tcp:host:port`, `exec:command arguments`, `file:path` or, without a scheme, a serial device by path or COM name.
 * Throws PortError when that fails.
 */
export async function openPort(name: string): Promise<Port> {
  const [, scheme, rest] = /^([a-z][a-z0-9+.-]+):(.*)$/is.exec(name) ?? [];
  switch (scheme) {
    case "tcp":
      return { name, stream: await openTcp(name, rest!), listenOnly: false };
    case "exec":
      return { name, stream: await openProgram(name, rest!), listenOnly: false };
    case "file":
      return { name, stream: await openReplay(name, rest!), listenOnly: true };
    case undefined:
      if (name.trim() === "") throw new PortError("cannot open a port without a name");
      return { name, stream: await openSerial(name), listenOnly: false };
    default:
      throw new PortError(`cannot open ${name}: a port is a serial device, tcp:host:port, exec:command or file:path`);
  }
}
