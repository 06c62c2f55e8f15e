/** A reader that speaks LLRP, GS1's open Low Level Reader Protocol, on the other end of a port. */
import { EventEmitter } from "node:events";
import { LlrpStream } from "../../protocol/llrp/stream.ts";
import { element, type LlrpElement, type LlrpMessage } from "../../protocol/llrp/vocabulary.ts";
import type { Fault } from "../../protocol/model/reasons.ts";
import type { Port } from "../transport/port.ts";
import { portError } from "../transport/port-error.ts";
import { type Clock, systemClock } from "./clock.ts";
import { LlrpAccesses } from "./llrp-accesses.ts";
import type { LlrpAbilities } from "./llrp-info.ts";
import { checkedEpc, lockOperation, readOperation, writeOperation } from "./llrp-operations.ts";
import { LlrpReports, type TagSeen } from "./llrp-reports.ts";
import { LlrpRequests } from "./llrp-requests.ts";
import { setPowerIndex, setUp, takeDown } from "./llrp-setup.ts";
import { accessSpec, ROSPEC_ID } from "./llrp-specs.ts";
import type * as contract from "./reader.ts";
import { ReaderError } from "./reader-error.ts";

export interface LlrpReaderOptions {
  readonly clock?: Clock;
  /** How long an answer may take. */
  readonly timeoutMs?: number;
  /** How often the reader shows that it is there; after two and a half times this of silence it is lost. */
  readonly keepAliveMs?: number;
  /** How long an access waits for its tag. */
  readonly accessTimeoutMs?: number;
}

/** AccessSpecs of whole inventories take turns, so that the new one stands before the old one goes. */
const SERVICE_IDS = [0x1_0000, 0x1_0001];

/** The carrier stays on this long after the last access, so that the next one finds the tags awake. */
const LINGER_MS = 1000;

const CONNECTION = [
  "accepted",
  "the reader already has a connection it made itself",
  "another client has the reader",
  "the reader says no",
  "another client is trying",
];

export class LlrpReader extends EventEmitter<contract.ReaderEvents> implements contract.Reader {
  info: contract.ReaderInfo | null = null;
  readonly #port: Port;
  readonly #clock: Clock;
  readonly #timeoutMs: number;
  readonly #keepAliveMs: number;
  readonly #requests: LlrpRequests;
  readonly #accesses: LlrpAccesses;
  readonly #stream: LlrpStream;
  readonly #reports: LlrpReports;
  readonly #greeting: Promise<number>;
  #greeted: (status: number) => void = () => undefined;
  #refused: (error: Error) => void = () => undefined;
  #abilities: LlrpAbilities | null = null;
  #queue: TagSeen[] = [];
  #paused = false;
  #reported = 0;
  #misunderstood = 0;
  #lastUs = 0;
  #inventory = false;
  /** The Read on every tag, and the number of its AccessSpec. */
  #service: { readonly id: number; readonly operation: LlrpElement } | null = null;
  #running = false;
  /** Changes of specs, one after the other. */
  #changes: Promise<unknown> = Promise.resolve();
  #closed = false;
  #cancelWatch: () => void = () => undefined;
  #cancelLinger: () => void = () => undefined;

  /** Takes over the port; its stream must not be read elsewhere. */
  constructor(port: Port, options: LlrpReaderOptions = {}) {
    super();
    this.#port = port;
    this.#clock = options.clock ?? systemClock;
    this.#timeoutMs = options.timeoutMs ?? 5000;
    this.#keepAliveMs = options.keepAliveMs ?? 10_000;
    this.#requests = new LlrpRequests(this.#clock, this.#timeoutMs, (bytes) => void port.stream.write(bytes));
    this.#reports = new LlrpReports((fault) => this.#misunderstand(fault));
    this.#stream = new LlrpStream({
      onMessage: (message) => this.#take(message),
      onFault: (fault) => this.#damage(fault),
    });
    const bench = {
      giveUp: (id: number) => this.#giveUp(id),
      nowUs: () => this.#lastUs,
    };
    this.#accesses = new LlrpAccesses(bench, this.#clock, options.accessTimeoutMs ?? 2000);
    this.#greeting = new Promise((resolve, reject) => {
      this.#greeted = resolve;
      this.#refused = reject;
    });
    this.#greeting.catch(() => undefined);
    port.stream.on("error", (error) => this.#end(portError("lost", port.name, error).message));
    port.stream.on("end", () => this.#end(`lost ${port.name}: the other end closed the connection`));
    port.stream.on("close", () => this.#end(`lost ${port.name}: the port was closed`));
  }

  get counts(): contract.ReaderCounts {
    const { faults, discarded, refused } = this.#stream.counts;
    return {
      reports: this.#reported,
      faults: faults + this.#misunderstood,
      discardedBytes: discarded + refused,
      lateAnswers: this.#requests.late,
    };
  }

  /** Waits for the reader's greeting, agrees on a version, and puts it into a known state: nothing of others stays. */
  async open(): Promise<contract.ReaderInfo> {
    this.#port.stream.on("data", (chunk: Uint8Array) => this.#receive(chunk));
    const cancel = this.#clock.after(this.#timeoutMs, () =>
      this.#refused(this.#error("request-timed-out", "READER_EVENT_NOTIFICATION", "no greeting: is it a LLRP reader?")),
    );
    const status = await this.#greeting.finally(cancel);
    if (status !== 0)
      throw this.#error("request-refused", "ConnectionAttemptEvent", CONNECTION[status] ?? `status ${status}`);
    this.#abilities = await setUp(this.#requests, this.#port.name, this.#keepAliveMs);
    const most = this.#abilities.maxAccessSpecs;
    if (most !== null) this.#accesses.limit = Math.max(1, Math.min(this.#accesses.limit, most - SERVICE_IDS.length));
    return (this.info = this.#abilities.info);
  }

  async setPower(powerDbm: number): Promise<void> {
    const powers = this.#abilities?.powers ?? [];
    const step = powers.filter(({ dbm }) => dbm <= powerDbm).sort((a, b) => b.dbm - a.dbm)[0];
    if (!step)
      throw this.#error("request-refused", "SET_READER_CONFIG", `has no power of ${powerDbm} dBm or less in its table`);
    if (await setPowerIndex(this.#requests, step.index)) return;
    throw this.#error("request-refused", "SET_READER_CONFIG", "does not say how its antennas transmit");
  }

  /** A LLRP reader keeps to the channels of its region by itself; only the plan it has can be asked for. */
  async setChannelPlan(plan: contract.ChannelPlan): Promise<void> {
    const plans = this.info?.channelPlans ?? [];
    if (plans.includes(plan)) return;
    const has =
      plans.length > 0 ? `transmits by ${plans.join(", ")} only` : "does not say on which channels it transmits";
    throw this.#error("request-refused", "SET_READER_CONFIG", `${has}: LLRP cannot set a channel plan`);
  }

  /** The period is the reader's own: LLRP has no word for it. */
  async startInventory({ read }: contract.InventoryRequest): Promise<void> {
    const operation = read ? readOperation(read, 0) : null;
    this.#inventory = true;
    await this.#change(async () => {
      await this.#setService(operation);
      await this.#run();
    });
  }

  async stopInventory(): Promise<void> {
    this.#inventory = false;
    await this.#change(async () => {
      await this.#setService(null);
      await this.#rest();
    });
  }

  read(request: contract.ReadRequest): Promise<contract.AccessResult> {
    return this.#access(request.epc, () => readOperation(request, request.password ?? 0));
  }

  write(request: contract.WriteRequest): Promise<contract.AccessResult> {
    return this.#access(request.epc, () => writeOperation("C1G2Write", request));
  }

  blockWrite(request: contract.WriteRequest): Promise<contract.AccessResult> {
    return this.#access(request.epc, () => {
      if (this.info?.blockWrite === false)
        throw this.#error("request-refused", "C1G2BlockWrite", "cannot write blocks");
      return writeOperation("C1G2BlockWrite", request);
    });
  }

  lock({ epc, ...lock }: contract.LockRequest): Promise<contract.AccessResult> {
    return this.#access(epc, () => {
      const operation = lockOperation(lock);
      if (operation) return operation;
      const says = "takes lock and permalock of an area together: LLRP cannot set one of the two bits";
      throw this.#error("request-refused", "C1G2Lock", says);
    });
  }

  async close(): Promise<void> {
    if (this.#closed) return;
    if (this.info) {
      await this.stopInventory().catch(() => undefined);
      await takeDown(this.#requests);
    }
    this.#lose(null);
  }

  async #access(epc: string, make: () => LlrpElement): Promise<contract.AccessResult> {
    const [tag, operation] = [checkedEpc(epc), make()];
    return this.#accesses.run((id) => {
      this.#cancelLinger();
      return this.#change(async () => {
        await this.#addAccess(id, tag, operation);
        // A tag gets the first AccessSpec that is meant for it, so the one for every tag goes behind.
        if (this.#service) await this.#setService(this.#service.operation);
        await this.#run();
      });
    });
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

  #receive(chunk: Uint8Array): void {
    if (this.#closed) return;
    this.#watch();
    this.#stream.push(chunk);
    if (this.#stream.lost) this.#lose(`lost ${this.#port.name}: what it says is no LLRP any more`);
  }

  /** Silence is the loss of the line only once keep-alives were asked for, which the answers to requests cover before. */
  #watch(): void {
    this.#cancelWatch();
    this.#cancelWatch = this.#clock.after(2.5 * this.#keepAliveMs, () =>
      this.#lose(`lost ${this.#port.name}: the reader no longer answers`),
    );
  }

  #take(message: LlrpMessage): void {
    if (this.#closed) return;
    const seen = this.#reports.take(message);
    switch (message.name) {
      case "KEEPALIVE":
        this.#requests.say(element("KEEPALIVE_ACK"), message.id);
        return;
      case "READER_EVENT_NOTIFICATION":
        this.#event(message.parameters[0]!);
        return;
      case "RO_ACCESS_REPORT":
        this.#queue.push(...seen);
        this.#drain();
        return;
      default:
        if (this.#requests.answer(message) || message.name !== "ERROR_MESSAGE") return;
        this.#misunderstand(this.#error("llrp-status", "ERROR_MESSAGE", "complains of what was not asked").fault);
    }
  }

  #event(data: LlrpElement): void {
    for (const { name, values } of data.parameters) {
      if (name === "ConnectionAttemptEvent") this.#greeted(values.Status as number);
      else if (name === "ConnectionCloseEvent") this.#lose(`lost ${this.#port.name}: the reader closed the connection`);
      else if (name === "ReportBufferOverflowErrorEvent") {
        this.#misunderstand(this.#error("llrp-status", name, "lost reports: its buffer ran over").fault);
      } else if (name === "ReaderExceptionEvent") {
        this.#misunderstand(this.#error("llrp-status", name, String(values.Message)).fault);
      }
    }
  }

  /** Reports in their order: what follows an answer waits until whoever asked has had it. */
  #drain(): void {
    while (!this.#paused) {
      const seen = this.#queue.shift();
      if (!seen) return;
      this.#lastUs = Math.max(this.#lastUs, seen.kitTimeUs);
      const [first] = seen.results;
      const asked = first !== undefined && seen.accessSpecId !== null;
      if (asked && this.#accesses.settle(seen.accessSpecId, first, seen.kitTimeUs)) {
        this.#linger();
        this.#paused = true;
        setImmediate(() => {
          this.#paused = false;
          this.#drain();
        });
      } else if (this.#inventory || first !== undefined) this.#emit(seen);
    }
  }

  #emit({ reports }: TagSeen): void {
    for (const report of reports) {
      this.#reported++;
      this.emit("report", report);
    }
  }

  #damage(fault: Fault): void {
    this.emit("fault", fault);
  }

  #misunderstand(fault: Fault): void {
    this.#misunderstood++;
    this.emit("fault", fault);
  }

  #error(code: Fault["code"], path: string, says: string): ReaderError {
    return new ReaderError(`${this.#port.name} ${says}`, {
      code,
      byte: 0,
      bit: null,
      path,
      expected: "success",
      actual: says,
    });
  }

  #end(reason: string): void {
    if (!this.#closed) this.#stream.end();
    this.#lose(reason);
  }

  #lose(reason: string | null): void {
    if (this.#closed) return;
    this.#closed = true;
    this.#cancelWatch();
    this.#cancelLinger();
    this.#paused = false;
    this.#drain();
    const error = this.#error("link-closed", "LLRP", reason ?? "was closed");
    const closed = new ReaderError(reason ?? error.message, error.fault);
    this.#refused(closed);
    this.#requests.close(closed);
    this.#accesses.close(closed);
    this.#port.stream.destroy();
    this.emit("closed", reason);
  }
}
