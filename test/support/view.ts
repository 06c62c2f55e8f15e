/** A server of the bench page with a feed moved by hand and a page of a few files; and clients that say what they like. */
import { type IncomingHttpHeaders, request } from "node:http";
import { request as tlsRequest } from "node:https";
import { connect } from "node:net";
import { onTestFinished } from "vitest";
import { WebSocket } from "ws";
import { BenchFeed, type FeedFacts } from "../../host/view/bench-feed.ts";
import { Guide } from "../../host/view/guide.ts";
import type { ServerMessage } from "../../host/view/messages.ts";
import type { PageFile, PageFiles } from "../../host/view/page-files.ts";
import type { Pairing } from "../../host/view/pairing.ts";
import { ViewServer, type ViewServerOptions } from "../../host/view/view-server.ts";

export const facts: FeedFacts = {
  program: "0.0.0",
  session: "s1",
  source: "simulated",
  source_name: "invented",
  scene: "an invented scene",
  speed: 1,
  layout: 1,
  fingerprint: "none",
  sites: [{ epc: "30340123", site: "B1" }],
  roundsPerSecond: 10,
};

const file = (body: string, type: string, lasting = false): PageFile => ({
  body: Buffer.from(body),
  gzip: null,
  type,
  lasting,
});

const index = file("<!doctype html><title>page</title>", "text/html; charset=utf-8");

export const files: PageFiles = new Map([
  ["/", index],
  ["/index.html", index],
  ["/assets/page-1.js", file("1;", "text/javascript; charset=utf-8", true)],
]);

export interface Served {
  readonly server: ViewServer;
  readonly feed: BenchFeed;
  readonly port: number;
  /** Who tried a code, and with what result. */
  readonly pairings: string[];
}

/** Serves on a free port of the loopback address until the test is over. */
export async function served(
  pairing: Pairing | null = null,
  { tls = null }: Partial<Pick<ViewServerOptions, "tls">> = {},
): Promise<Served> {
  const feed = new BenchFeed(facts, new Guide("plyframe 0.0.0"), () => performance.now());
  const pairings: string[] = [];
  const server = new ViewServer({
    feed,
    files,
    pairing,
    tls,
    names: ["127.0.0.1", "localhost"],
    onPairing: (_, result) => pairings.push(result),
  });
  const port = await server.listen("127.0.0.1", 0);
  onTestFinished(() => server.close());
  return { server, feed, port, pairings };
}

export interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

export interface Asked {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
  /** Over https, whoever made the certificate. */
  readonly tls?: boolean;
}

/** One request, its target sent exactly as written. */
export function ask(
  port: number,
  path: string,
  { method = "GET", headers = {}, body, tls = false }: Asked = {},
): Promise<Answer> {
  return new Promise((done, fail) => {
    const where = { host: "127.0.0.1", port, path, method, headers, agent: false, rejectUnauthorized: false };
    const sent = (tls ? tlsRequest : request)(where, (response) => {
      let text = "";
      response.setEncoding("utf8").on("data", (piece: string) => (text += piece));
      response.on("end", () => done({ status: response.statusCode!, headers: response.headers, body: text }));
    });
    sent.on("error", fail);
    sent.end(body);
  });
}

/** What the server answers to bytes as they are, until it closes the connection. */
export function askRaw(port: number, bytes: string): Promise<string> {
  return new Promise((done) => {
    let text = "";
    const socket = connect(port, "127.0.0.1", () => socket.write(bytes));
    socket.setEncoding("latin1").on("data", (piece: string) => (text += piece));
    socket.on("error", () => undefined);
    socket.on("close", () => done(text));
  });
}

export interface Client {
  readonly socket: WebSocket;
  /** Everything heard so far. */
  readonly heard: ServerMessage[];
  send(message: unknown): void;
  /** Resolves to the first message of that type for which it holds, heard already or yet to come. */
  hears<Type extends ServerMessage["type"]>(
    type: Type,
    holds?: (message: Extract<ServerMessage, { type: Type }>) => boolean,
  ): Promise<Extract<ServerMessage, { type: Type }>>;
  /** Code with which the server closed, or the status with which it refused. */
  readonly closed: Promise<number>;
}

/** A page on the socket; `headers` replace those a page of this server sends. */
export function client(port: number, headers: Readonly<Record<string, string>> = {}, path = "/feed"): Client {
  const socket = new WebSocket(`ws://127.0.0.1:${port}${path}`, {
    headers: { origin: `http://127.0.0.1:${port}`, ...headers },
  });
  const heard: ServerMessage[] = [];
  const looking = new Set<() => void>();
  socket.on("message", (data) => {
    heard.push(JSON.parse(String(data)));
    for (const look of looking) look();
  });
  socket.on("error", () => undefined);
  const closed = new Promise<number>((done) => {
    socket.on("unexpected-response", (sent, { statusCode }) => {
      done(statusCode!);
      sent.destroy();
    });
    socket.on("close", (code) => done(code));
  });
  onTestFinished(async () => {
    if (socket.readyState === WebSocket.OPEN) socket.terminate();
    await closed;
  });
  const hears: Client["hears"] = (type, holds = () => true) =>
    new Promise((done, fail) => {
      const look = () => {
        const found = heard.find((message) => message.type === type && holds(message as never));
        if (!found) return;
        looking.delete(look);
        done(found as never);
      };
      looking.add(look);
      void closed.then((code) => fail(new Error(`closed with ${code} before ${type}`)));
      look();
    });
  return { socket, heard, send: (message) => socket.send(JSON.stringify(message)), hears, closed };
}
