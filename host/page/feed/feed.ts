/** The socket to the server: opened, watched, and opened again when it is lost. */
import { CONTRACT, type PairingState, type ServerMessage } from "../../view/messages.ts";
import type { PageMessage } from "../../view/requests.ts";
import { parseServerMessage } from "../../view/server-shapes.ts";
import type { Store } from "../store/store.ts";

/** Waits before the tries, in order; the last one again and again. */
const WAITS_MS = [500, 1000, 2000, 4000, 8000] as const;

/** The server speaks at least twice a second; after this long it is taken for lost. */
const SILENCE_MS = 3000;

/** What else wants to know; both are called after the store was told. */
export interface FeedListener {
  onMessage(message: ServerMessage): void;
  /** There is no server, and there was none since the page was opened. */
  onAbsent(): void;
}

export class Feed {
  readonly #store: Store;
  readonly #listener: FeedListener;
  #socket: WebSocket | null = null;
  #failures = 0;
  #everOpen = false;
  #heardMs = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(store: Store, listener: FeedListener) {
    this.#store = store;
    this.#listener = listener;
    setInterval(() => this.#watch(), 1000);
  }

  /** Opens the socket now, whatever is waited for. */
  open(): void {
    clearTimeout(this.#timer);
    const url = new URL("./feed", location.href);
    url.protocol = url.protocol === "https:" ? "wss:" : "ws:";
    const socket = new WebSocket(url);
    this.#socket = socket;
    this.#heardMs = performance.now();
    socket.addEventListener("message", ({ data }) => this.#take(data));
    socket.addEventListener("close", () => {
      if (this.#socket === socket) this.#lost();
    });
  }

  #take(data: unknown): void {
    this.#heardMs = performance.now();
    const message = parseServerMessage(data);
    if (message === null) return;
    if (message.type === "hello") {
      if (message.contract !== CONTRACT) {
        this.#giveUp();
        return;
      }
      this.#failures = 0;
      this.#everOpen = true;
      this.#store.sendBy((request) => this.#send(request));
      this.#store.setLink("open");
    }
    this.#store.take(message);
    this.#listener.onMessage(message);
  }

  /** What this server says would be misunderstood; the page it has for itself is one load away. */
  #giveUp(): void {
    const socket = this.#socket;
    this.#socket = null;
    socket?.close();
    this.#store.setLink("other");
  }

  #send(message: PageMessage): boolean {
    if (this.#socket?.readyState !== WebSocket.OPEN) return false;
    this.#socket.send(JSON.stringify(message));
    return true;
  }

  #watch(): void {
    if (this.#socket && performance.now() - this.#heardMs > SILENCE_MS) this.#lost();
  }

  #lost(): void {
    // Closing may take as long as the network likes; the page does not wait for it.
    const socket = this.#socket;
    this.#socket = null;
    socket?.close();
    this.#store.sendBy(null);
    if (this.#everOpen) this.#store.setLink("lost");
    else this.#listener.onAbsent();
    const waitMs = WAITS_MS[Math.min(this.#failures++, WAITS_MS.length - 1)];
    this.#timer = setTimeout(() => void this.#again(), waitMs);
  }

  async #again(): Promise<void> {
    if (await needsPairing()) this.#store.setLink("unpaired");
    else this.open();
  }
}

/** Whether the server is there and wants a code first. */
export async function needsPairing(): Promise<boolean> {
  try {
    const answer = await fetch("./pairing", { cache: "no-store" });
    if (!answer.ok) return false;
    const { needed, paired } = (await answer.json()) as PairingState;
    return needed && !paired;
  } catch {
    return false;
  }
}

/** What became of a code: paired, wrong, to be tried later, never again, or no server. */
export type Pairing =
  | { readonly result: "paired" | "wrong" | "over" | "unreachable" }
  | { readonly result: "wait"; readonly seconds: number };

export async function pair(code: string): Promise<Pairing> {
  let answer: Response;
  try {
    const headers = { "content-type": "application/json" };
    answer = await fetch("./pair", { method: "POST", headers, body: JSON.stringify({ code }) });
  } catch {
    return { result: "unreachable" };
  }
  if (answer.status === 204) return { result: "paired" };
  if (answer.status === 410) return { result: "over" };
  if (answer.status === 429) {
    return { result: "wait", seconds: Math.max(1, Number(answer.headers.get("retry-after")) || 1) };
  }
  return { result: "wrong" };
}
