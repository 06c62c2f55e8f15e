/** Where an LLRP reader is reached, as it is typed after --llrp. */
import { CommandError, EXIT } from "./exit.ts";

/** The port that is kept for LLRP, without TLS. */
const LLRP_PORT = 5084;

/** `tcp:host:port` of `host`, `host:port`, `[IPv6 address]` or the same with `tcp:` before it. Throws a CommandError. */
export function llrpPort(text: string): string {
  const [, host, digits] = /^(?:tcp:)?(\[[^\]]+\]|[^:\s]+)(?::(\d+))?$/.exec(text) ?? [];
  const port = Number(digits ?? LLRP_PORT);
  if (host === undefined || !(port >= 0 && port <= 65_535)) {
    throw new CommandError(EXIT.usage, `--llrp ${text}: give a host, or host:port with a port of at most 65535`);
  }
  return `tcp:${host}:${port}`;
}
