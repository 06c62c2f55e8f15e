/** The pages on the socket: what they hear, what they may ask, and when they are turned away. */
import type { IncomingMessage } from "node:http";
import type { Duplex } from "node:stream";
import { type WebSocket, WebSocketServer } from "ws";
import type { BenchFeed } from "./bench-feed.ts";
import type { PresenceMessage, ServerMessage } from "./messages.ts";
import { fromPage, parsePageMessage } from "./requests.ts";
import { SendQueue } from "./send-queue.ts";
import { TokenBucket } from "./token-bucket.ts";

/** Pages at a time, in all and from one address. */
const PAGES = 16;
export const PAGES_AN_ADDRESS = 8;

/** A page that does not answer a ping until the next is gone. */
const PING_MS = 10_000;

/** Messages that cannot be understood, or come too fast, after which a page is turned away. */
const OFFENCES = 20;

/** Codes of the WebSocket standard (RFC 6455, 7.4.1) and of its registry. */
const CLOSE = { goingAway: 1001, unsupported: 1003, policy: 1008, tryLater: 1013 } as const;

/** How long a page that is told to go may take. */
const PARTING_MS = 500;

interface Page {
  readonly number: number;
  readonly address: string;
  readonly socket: WebSocket;
  readonly queue: SendQueue;
  readonly bucket: TokenBucket;
  offences: number;
  alive: boolean;
}

export class PageSockets {
  readonly #feed: BenchFeed;
  readonly #sockets = new WebSocketServer({
    noServer: true,
    maxPayload: fromPage.messageBytes,
    perMessageDeflate: false,
    clientTracking: false,
  });
  readonly #pages = new Set<Page>();
  readonly #pinging: NodeJS.Timeout;
  #count = 0;

  /** Messages of the feed go to these pages from now on. */
  constructor(feed: BenchFeed) {
    this.#feed = feed;
    this.#pinging = setInterval(() => this.#ping(), PING_MS);
    this.#pinging.unref();
    feed.to((message, passing) => this.#broadcast(message, passing));
  }

  hasRoomFor(address: string): boolean {
    const fromThere = [...this.#pages].filter((page) => page.address === address).length;
    return this.#pages.size < PAGES && fromThere < PAGES_AN_ADDRESS;
  }

  /** Opens the socket of a request that may have one. */
  upgrade(request: IncomingMessage, stream: Duplex, head: Buffer, address: string): void {
    this.#sockets.handleUpgrade(request, stream, head, (socket) => this.#open(socket, address));
  }

  /** Tells the pages that the server goes. */
  close(): void {
    clearInterval(this.#pinging);
    for (const { socket } of this.#pages) {
      socket.close(CLOSE.goingAway);
      // A page that is asleep does not answer.
      setTimeout(() => socket.terminate(), PARTING_MS).unref();
    }
  }

  #open(socket: WebSocket, address: string): void {
    const queue = new SendQueue(
      (text, done) => socket.send(text, () => done()),
      () => socket.close(CLOSE.tryLater),
    );
    const bucket = new TokenBucket(fromPage.perSecond, fromPage.burst, performance.now());
    const page: Page = { number: ++this.#count, address, socket, queue, bucket, offences: 0, alive: true };
    for (const message of this.#feed.greeting(page.number)) queue.push(JSON.stringify(message), false);
    this.#pages.add(page);
    socket.on("pong", () => {
      page.alive = true;
    });
    // A browser sends none by itself.
    socket.on("ping", () => {
      if (!bucket.take(performance.now())) socket.close(CLOSE.policy);
    });
    socket.on("message", (data, isBinary) => this.#heard(page, data.toString(), isBinary));
    // What is wrong with a socket ends in its close.
    socket.on("error", () => undefined);
    socket.on("close", () => {
      this.#pages.delete(page);
      this.#feed.left(page.number);
    });
  }

  #heard(page: Page, text: string, isBinary: boolean): void {
    if (isBinary) return void page.socket.close(CLOSE.unsupported);
    const inTime = page.bucket.take(performance.now());
    const message = inTime ? parsePageMessage(text) : "more messages than a person sends";
    if (typeof message !== "string") {
      const answer = this.#feed.request(page.number, message);
      if (answer) page.queue.push(JSON.stringify(answer), false);
      return;
    }
    page.offences++;
    if (page.offences > OFFENCES) return void page.socket.close(CLOSE.policy);
    const code = inTime ? "message_invalid" : "too_fast";
    page.queue.push(JSON.stringify({ type: "error", code, sentence: message } satisfies ServerMessage), false);
  }

  #broadcast(message: ServerMessage, passing: boolean): void {
    if (this.#pages.size === 0) return;
    if (message.type === "presence") {
      for (const { queue } of this.#pages) queue.push(presenceFor(message, queue.dropped), passing);
      return;
    }
    const text = JSON.stringify(message);
    for (const { queue } of this.#pages) queue.push(text, passing);
  }

  #ping(): void {
    for (const page of this.#pages) {
      if (!page.alive) page.socket.terminate();
      page.alive = false;
      page.socket.ping();
    }
  }
}

function presenceFor(message: PresenceMessage, dropped: number): string {
  return JSON.stringify({ ...message, dropped } satisfies PresenceMessage);
}
