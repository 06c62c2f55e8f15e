/** The server of the bench page: its files, pairing, and the socket on which pages hear the feed. */
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import { createServer as createTlsServer } from "node:https";
import type { AddressInfo } from "node:net";
import type { Duplex } from "node:stream";
import type { BenchFeed } from "./bench-feed.ts";
import type { PairingState } from "./messages.ts";
import type { PageFiles } from "./page-files.ts";
import { PageSockets } from "./page-sockets.ts";
import type { Pairing } from "./pairing.ts";
import { cookieOf, RequestRules } from "./request-rules.ts";
import { securityHeaders } from "./security-headers.ts";
import { TokenBucket } from "./token-bucket.ts";

/** Connections to the server at a time, and requests of one address: so many at once, so many a second. */
const CONNECTIONS = 128;
const REQUESTS_AT_ONCE = 200;
const REQUESTS_A_SECOND = 50;
const ADDRESSES_KEPT = 1000;

/** Bytes of a pairing request, and of a request's headers. */
const BODY_BYTES = 200;
const HEADER_BYTES = 8192;

export interface ViewServerOptions {
  readonly feed: BenchFeed;
  readonly files: PageFiles;
  /** Null: whoever reaches the server may see the page. */
  readonly pairing: Pairing | null;
  /** Certificate chain and key in PEM; null: plain HTTP. */
  readonly tls: { readonly cert: Buffer; readonly key: Buffer } | null;
  /** Names and addresses of this machine by which a page may call the server. */
  readonly names: readonly string[];
  /** Somebody tried a code from an address. */
  readonly onPairing: (address: string, result: "paired" | "wrong" | "closed") => void;
}

export class ViewServer {
  readonly #options: ViewServerOptions;
  readonly #http: ReturnType<typeof createServer>;
  readonly #pages: PageSockets;
  readonly #buckets = new Map<string, TokenBucket>();
  #rules: RequestRules | null = null;
  #port = 0;

  constructor(options: ViewServerOptions) {
    this.#options = options;
    const settings = {
      maxHeaderSize: HEADER_BYTES,
      headersTimeout: 10_000,
      requestTimeout: 10_000,
      keepAliveTimeout: 5_000,
    };
    const answer = (request: IncomingMessage, response: ServerResponse) => this.#answer(request, response);
    this.#http = options.tls
      ? createTlsServer({ ...settings, ...options.tls }, answer)
      : createServer(settings, answer);
    this.#http.maxConnections = CONNECTIONS;
    this.#http.on("upgrade", (request, socket, head) => this.#upgrade(request, socket, head));
    this.#http.on("clientError", (_error, socket) => socket.destroy());
    this.#pages = new PageSockets(options.feed);
  }

  /** Listens; port 0 takes a free one. Resolves to the port; rejects with the system's error. */
  async listen(host: string, port: number): Promise<number> {
    await new Promise<void>((done, fail) => {
      this.#http.once("error", fail);
      this.#http.listen(port, host, () => {
        this.#http.removeListener("error", fail);
        done();
      });
    });
    this.#port = (this.#http.address() as AddressInfo).port;
    this.#rules = new RequestRules(this.#options.names, this.#port, this.#scheme);
    return this.#port;
  }

  /** Tells the pages that it goes, and resolves when every connection is closed. */
  async close(): Promise<void> {
    const closed = new Promise<void>((done) => this.#http.close(() => done()));
    this.#pages.close();
    this.#http.closeAllConnections();
    await closed;
  }

  get #scheme(): "http" | "https" {
    return this.#options.tls ? "https" : "http";
  }

  get #cookie(): string {
    return `plyframe-${this.#port}`;
  }

  #isPaired(request: IncomingMessage): boolean {
    const { pairing } = this.#options;
    return pairing === null || pairing.isPaired(cookieOf(request, this.#cookie));
  }

  #answer(request: IncomingMessage, response: ServerResponse): void {
    for (const [name, value] of Object.entries(securityHeaders)) response.setHeader(name, value);
    const refused = this.#refusal(request);
    if (refused) return void end(response, refused);
    const { method, url } = request;
    const reading = method === "GET" || method === "HEAD";
    if (url === "/pair" && method === "POST") return void this.#pair(request, response);
    if (!reading) return void end(response, 405, { allow: url === "/pair" ? "POST" : "GET, HEAD" });
    if (url === "/pairing") {
      const state: PairingState = { needed: this.#options.pairing !== null, paired: this.#isPaired(request) };
      return void endJson(response, state);
    }
    this.#file(request, response);
  }

  /** Status of a request that is not looked at further; null when it may be. */
  #refusal(request: IncomingMessage): number | null {
    if (!this.#rules?.isOurHost(request)) return 421;
    return this.#bucketOf(addressOf(request)).take(performance.now()) ? null : 429;
  }

  #bucketOf(address: string): TokenBucket {
    const known = this.#buckets.get(address);
    if (known) return known;
    if (this.#buckets.size >= ADDRESSES_KEPT) this.#buckets.delete(this.#buckets.keys().next().value!);
    const bucket = new TokenBucket(REQUESTS_A_SECOND, REQUESTS_AT_ONCE, performance.now());
    this.#buckets.set(address, bucket);
    return bucket;
  }

  #file({ url, method, headers }: IncomingMessage, response: ServerResponse): void {
    const file = this.#options.files.get(url ?? "");
    if (!file) return void end(response, 404);
    const packed = file.gzip !== null && /\bgzip\b/.test(String(headers["accept-encoding"] ?? ""));
    const body = packed ? file.gzip! : file.body;
    response.writeHead(200, {
      "content-type": file.type,
      "content-length": body.length,
      "cache-control": file.lasting ? "public, max-age=31536000, immutable" : "no-cache",
      ...(file.gzip !== null && { vary: "accept-encoding" }),
      ...(packed && { "content-encoding": "gzip" }),
    });
    response.end(method === "HEAD" ? undefined : body);
  }

  async #pair(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { pairing, onPairing } = this.#options;
    if (!this.#rules!.isOurPage(request)) return end(response, 403);
    if (!/^application\/json\b/.test(request.headers["content-type"] ?? "")) return end(response, 415);
    const code = codeOf(await bodyOf(request));
    if (code === null) return end(response, 400);
    if (pairing === null) return end(response, 204);
    const address = addressOf(request);
    const answer = pairing.pair(code, address, performance.now());
    if (answer.kind === "wait") return end(response, 429, { "retry-after": String(answer.seconds) });
    onPairing(address, answer.kind);
    if (answer.kind === "wrong") return end(response, 403);
    if (answer.kind === "closed") return end(response, 410);
    const secure = this.#options.tls ? "; Secure" : "";
    const cookie = `${this.#cookie}=${answer.token}; Path=/; HttpOnly; SameSite=Strict${secure}`;
    end(response, 204, { "set-cookie": cookie });
  }

  #upgrade(request: IncomingMessage, socket: Duplex, head: Buffer): void {
    socket.on("error", () => socket.destroy());
    const status = this.#upgradeStatus(request);
    if (status !== null) refuse(socket, status);
    else this.#pages.upgrade(request, socket, head, addressOf(request));
  }

  #upgradeStatus(request: IncomingMessage): number | null {
    const refused = this.#refusal(request);
    if (refused) return refused;
    if (request.url !== "/feed") return 404;
    if (!this.#rules!.isOurPage(request)) return 403;
    if (!this.#isPaired(request)) return 401;
    return this.#pages.hasRoomFor(addressOf(request)) ? null : 503;
  }
}

function addressOf(request: IncomingMessage): string {
  return request.socket.remoteAddress ?? "";
}

function end(response: ServerResponse, status: number, headers: Readonly<Record<string, string>> = {}): void {
  response.writeHead(status, { ...headers, "cache-control": "no-store", "content-length": 0 });
  response.end();
}

function endJson(response: ServerResponse, value: unknown): void {
  const body = JSON.stringify(value);
  response.writeHead(200, {
    "content-type": "application/json",
    "cache-control": "no-store",
    "content-length": Buffer.byteLength(body),
  });
  response.end(body);
}

/** Turns an upgrade away in words a browser understands. */
function refuse(socket: Duplex, status: number): void {
  socket.end(`HTTP/1.1 ${status} Refused\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`);
}

/** The body as text; null when it is too long or breaks off. */
async function bodyOf(request: IncomingMessage): Promise<string | null> {
  const pieces: Buffer[] = [];
  let length = 0;
  try {
    for await (const piece of request as AsyncIterable<Buffer>) {
      length += piece.length;
      if (length > BODY_BYTES) return null;
      pieces.push(piece);
    }
  } catch {
    return null;
  }
  return Buffer.concat(pieces).toString("utf8");
}

/** The code of a pairing request; null when it is none. */
function codeOf(body: string | null): string | null {
  if (body === null) return null;
  try {
    const value: unknown = JSON.parse(body);
    const code = typeof value === "object" && value !== null ? (value as { code?: unknown }).code : undefined;
    return typeof code === "string" && code.length <= 40 ? code : null;
  } catch {
    return null;
  }
}
