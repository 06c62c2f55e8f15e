/** Where the bench page is served, and by which names this machine may be called there. */
import { hostname, networkInterfaces } from "node:os";
import { CommandError, EXIT } from "../exit.ts";

export interface ServeAddress {
  /** Without brackets. */
  readonly host: string;
  readonly port: number;
}

/** `host:port` or `[IPv6 address]:port`. Throws a CommandError. */
export function serveAddress(text: string): ServeAddress {
  const [, host, digits] = /^(?:http:\/\/)?(\[[0-9a-f:.]+\]|[^:\s[\]/]+):(\d{1,5})$/i.exec(text) ?? [];
  if (host === undefined || Number(digits) > 65_535) {
    throw new CommandError(EXIT.usage, `--http ${text}: give an address and a port, such as 127.0.0.1:4890`);
  }
  return { host: host.replace(/^\[|\]$/g, ""), port: Number(digits) };
}

/** Whether an address reaches this machine only. */
export function isLoopback(host: string): boolean {
  return /^(localhost|::1|127(\.\d{1,3}){3})$/i.test(host);
}

/** Whether it stands for every address of the machine. */
function isAny(host: string): boolean {
  return /^(0\.0\.0\.0|::)$/.test(host);
}

/** Names by which a page may call the server, IPv6 in brackets; the first ones are those to be told to people. */
export function servedNames(host: string): string[] {
  const own = ["127.0.0.1", "localhost", "[::1]"];
  if (isLoopback(host)) return [...new Set([bracketed(host), ...own])];
  const outward = Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(({ internal, scopeid }) => !internal && !scopeid)
    .map(({ address }) => bracketed(address));
  const name = hostname().toLowerCase();
  const addresses = isAny(host) ? outward.sort((a, b) => Number(a.startsWith("[")) - Number(b.startsWith("["))) : [];
  return [...new Set([...(isAny(host) ? addresses : [bracketed(host)]), name, `${name}.local`, ...own])];
}

function bracketed(address: string): string {
  return address.includes(":") ? `[${address}]` : address;
}
