/** What an LLRP reader is told to do: its one ROSpec run or rest, and an AccessSpec for every tag behind those for one. */
import { element, type LlrpElement } from "../../protocol/llrp/vocabulary.ts";
import type { Clock } from "./clock.ts";
import { LlrpAccesses } from "./llrp-accesses.ts";
import type { LlrpRequests } from "./llrp-requests.ts";
import type { OpResult } from "./llrp-results.ts";
import { accessSpec, ROSPEC_ID } from "./llrp-specs.ts";
import type { AccessResult } from "./reader.ts";

/** AccessSpecs of whole inventories take turns, so that the new one stands before the old one goes. */
const SERVICE_IDS = [0x1_0000, 0x1_0001];

/** The carrier stays on this long after the last access, so that the next one finds the tags awake. */
const LINGER_MS = 1000;

export class LlrpOrders {
  readonly #requests: LlrpRequests;
  readonly #clock: Clock;
  readonly #accesses: LlrpAccesses;
  #inventory = false;
  /** The Read on every tag, and the number of its AccessSpec. */
  #service: { readonly id: number; readonly operation: LlrpElement } | null = null;
  #running = false;
  /** Changes of specs, one after the other. */
  #changes: Promise<unknown> = Promise.resolve();
  #cancelLinger: () => void = () => undefined;

  /** `accessTimeoutMs`: how long an access waits for its tag. `nowUs`: time of the newest report. */
  constructor(requests: LlrpRequests, clock: Clock, accessTimeoutMs: number, nowUs: () => number) {
    this.#requests = requests;
    this.#clock = clock;
    this.#accesses = new LlrpAccesses({ giveUp: (id) => this.#giveUp(id), nowUs }, clock, accessTimeoutMs);
  }

  get inventory(): boolean {
    return this.#inventory;
  }

  /** AccessSpecs the reader holds at most. */
  limit(most: number): void {
    this.#accesses.limit = Math.max(1, Math.min(this.#accesses.limit, most - SERVICE_IDS.length));
  }

  /** Rounds without an end, with `operation` on every tag that no access of its own is meant for. */
  async start(operation: LlrpElement | null): Promise<void> {
    this.#inventory = true;
    await this.#change(async () => {
      await this.#setService(operation);
      await this.#run();
    });
  }

  async stop(): Promise<void> {
    this.#inventory = false;
    await this.#change(async () => {
      await this.#setService(null);
      await this.#rest();
    });
  }

  /** One operation on one tag; its password is its own, for it stands in an AccessSpec of its own. */
  access(epc: string, operation: LlrpElement): Promise<AccessResult> {
    return this.#accesses.run((id) => {
      this.#cancelLinger();
      return this.#change(async () => {
        await this.#addAccess(id, epc, operation);
        // A tag gets the first AccessSpec that is meant for it, so the one for every tag goes behind.
        if (this.#service) await this.#setService(this.#service.operation);
        await this.#run();
      });
    });
  }

  /** Gives a result to the access it belongs to; false when none waits for it. */
  settle(accessSpecId: number, result: OpResult, kitTimeUs: number): boolean {
    const settled = this.#accesses.settle(accessSpecId, result, kitTimeUs);
    if (settled) this.#linger();
    return settled;
  }

  /** Rejects every access, now and later. */
  close(error: Error): void {
    this.#cancelLinger();
    this.#accesses.close(error);
  }

  #giveUp(id: number): void {
    const gone = () => this.#requests.ask(element("DELETE_ACCESSSPEC", { AccessSpecID: id }));
    this.#change(gone).catch(() => undefined);
    this.#linger();
  }

  async #addAccess(id: number, epc: string | null, operation: LlrpElement): Promise<void> {
    await this.#requests.ask(element("ADD_ACCESSSPEC", {}, [accessSpec(id, epc, operation)]));
    await this.#requests.ask(element("ENABLE_ACCESSSPEC", { AccessSpecID: id }));
  }

  /** Puts a Read on every tag behind all other AccessSpecs, or takes the one there is away. */
  async #setService(operation: LlrpElement | null): Promise<void> {
    const old = this.#service;
    if (operation) {
      const id = SERVICE_IDS.find((candidate) => candidate !== old?.id)!;
      await this.#addAccess(id, null, operation);
      this.#service = { id, operation };
    } else this.#service = null;
    if (old) await this.#requests.ask(element("DELETE_ACCESSSPEC", { AccessSpecID: old.id }));
  }

  async #run(): Promise<void> {
    if (this.#running) return;
    await this.#requests.ask(element("START_ROSPEC", { ROSpecID: ROSPEC_ID }));
    this.#running = true;
  }

  async #rest(): Promise<void> {
    if (!this.#running || this.#inventory || !this.#accesses.idle) return;
    this.#running = false;
    await this.#requests.ask(element("STOP_ROSPEC", { ROSpecID: ROSPEC_ID }));
  }

  #linger(): void {
    this.#cancelLinger();
    if (this.#inventory || !this.#accesses.idle) return;
    this.#cancelLinger = this.#clock.after(LINGER_MS, () => {
      this.#change(() => this.#rest()).catch(() => undefined);
    });
  }

  #change<T>(act: () => Promise<T>): Promise<T> {
    const done = this.#changes.then(act);
    this.#changes = done.catch(() => undefined);
    return done;
  }
}
