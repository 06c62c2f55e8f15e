/** Whether a request was meant for this server and made by its own page: Host and Origin, against rebinding and foreign sites. */
import type { IncomingMessage } from "node:http";

export class RequestRules {
  readonly #hosts: ReadonlySet<string>;
  readonly #scheme: "http" | "https";

  /** `names`: every name and address the server goes by, IPv6 in brackets; `port`: where it listens. */
  constructor(names: readonly string[], port: number, scheme: "http" | "https") {
    const usual = scheme === "http" ? 80 : 443;
    const hosts = names.flatMap((name) => (port === usual ? [name, `${name}:${port}`] : [`${name}:${port}`]));
    this.#hosts = new Set(hosts.map((host) => host.toLowerCase()));
    this.#scheme = scheme;
  }

  isOurHost({ headers }: IncomingMessage): boolean {
    return headers.host !== undefined && this.#hosts.has(headers.host.toLowerCase());
  }

  /** What changes something and what reads the feed must come from our page; a browser always says where from. */
  isOurPage({ headers }: IncomingMessage): boolean {
    const { origin } = headers;
    return origin !== undefined && origin.toLowerCase() === `${this.#scheme}://${headers.host?.toLowerCase()}`;
  }
}

/** Value of a cookie; null when the request has none of that name, or more than one. */
export function cookieOf({ headers }: IncomingMessage, name: string): string | null {
  const values = (headers.cookie ?? "").split(";").flatMap((pair) => {
    const at = pair.indexOf("=");
    return at > 0 && pair.slice(0, at).trim() === name ? [pair.slice(at + 1).trim()] : [];
  });
  return values.length === 1 ? values[0]! : null;
}
