/** A reader that speaks LLRP, GS1's open Low Level Reader Protocol, on the other end of a port. */
import { EventEmitter } from "node:events";
import { element, type LlrpElement, type LlrpMessage } from "../../protocol/llrp/vocabulary.ts";
import type { Port } from "../transport/port.ts";
import { type Clock, systemClock } from "./clock.ts";
import { LlrpConnection } from "./llrp-connection.ts";
import type { LlrpAbilities } from "./llrp-info.ts";
import { checkedEpc, lockOperation, readOperation, writeOperation } from "./llrp-operations.ts";
import { LlrpOrders } from "./llrp-orders.ts";
import { LlrpReports, type TagSeen } from "./llrp-reports.ts";
import { setPowerIndex, setUp, takeDown } from "./llrp-setup.ts";
import type * as contract from "./reader.ts";
import type { ReaderError } from "./reader-error.ts";

export interface LlrpReaderOptions {
  readonly clock?: Clock;
  /** How long an answer may take. */
  readonly timeoutMs?: number;
  /** How often the reader shows that it is there; after two and a half times this of silence it is lost. */
  readonly keepAliveMs?: number;
  /** How long an access waits for its tag. */
  readonly accessTimeoutMs?: number;
}

export class LlrpReader extends EventEmitter<contract.ReaderEvents> implements contract.Reader {
  info: contract.ReaderInfo | null = null;
  readonly #source: string;
  readonly #keepAliveMs: number;
  readonly #connection: LlrpConnection;
  readonly #orders: LlrpOrders;
  readonly #reports: LlrpReports;
  #abilities: LlrpAbilities | null = null;
  #queue: TagSeen[] = [];
  #paused = false;
  #reported = 0;
  #lastUs = 0;

  /** Takes over the port; its stream must not be read elsewhere. */
  constructor(port: Port, options: LlrpReaderOptions = {}) {
    super();
    const { clock = systemClock, timeoutMs = 5000, keepAliveMs = 10_000, accessTimeoutMs = 2000 } = options;
    this.#source = port.name;
    this.#keepAliveMs = keepAliveMs;
    this.#connection = new LlrpConnection(
      port,
      clock,
      { timeoutMs, keepAliveMs },
      {
        onMessage: (message) => this.#take(message),
        onFault: (fault) => void this.emit("fault", fault),
        onEnd: (reason, error) => this.#end(reason, error),
      },
    );
    this.#reports = new LlrpReports((fault) => this.#connection.misunderstand(fault));
    this.#orders = new LlrpOrders(this.#connection.requests, clock, accessTimeoutMs, () => this.#lastUs);
  }

  get counts(): contract.ReaderCounts {
    const { faults, discardedBytes, requests } = this.#connection;
    return { reports: this.#reported, faults, discardedBytes, lateAnswers: requests.late };
  }

  /** Waits for the reader's greeting, agrees on a version, and puts it into a known state: nothing of others stays. */
  async open(): Promise<contract.ReaderInfo> {
    await this.#connection.greet();
    this.#abilities = await setUp(this.#connection.requests, this.#source, this.#keepAliveMs);
    if (this.#abilities.maxAccessSpecs !== null) this.#orders.limit(this.#abilities.maxAccessSpecs);
    return (this.info = this.#abilities.info);
  }

  async setPower(powerDbm: number): Promise<void> {
    const powers = this.#abilities?.powers ?? [];
    const step = powers.filter(({ dbm }) => dbm <= powerDbm).sort((a, b) => b.dbm - a.dbm)[0];
    if (!step) throw this.#refusal("SET_READER_CONFIG", `has no power of ${powerDbm} dBm or less in its table`);
    if (await setPowerIndex(this.#connection.requests, step.index)) return;
    throw this.#refusal("SET_READER_CONFIG", "does not say how its antennas transmit");
  }

  /** An LLRP reader keeps to the channels of its region by itself; only the plan it has can be asked for. */
  async setChannelPlan(plan: contract.ChannelPlan): Promise<void> {
    const plans = this.info?.channelPlans ?? [];
    if (plans.includes(plan)) return;
    const has =
      plans.length > 0 ? `transmits by ${plans.join(", ")} only` : "does not say on which channels it transmits";
    throw this.#refusal("SET_READER_CONFIG", `${has}: LLRP cannot set a channel plan`);
  }

  /** The period is the reader's own: LLRP has no word for it. */
  async startInventory({ read }: contract.InventoryRequest): Promise<void> {
    await this.#orders.start(read ? readOperation(read, 0) : null);
  }

  async stopInventory(): Promise<void> {
    await this.#orders.stop();
  }

  read(request: contract.ReadRequest): Promise<contract.AccessResult> {
    return this.#access(request.epc, () => readOperation(request, request.password ?? 0));
  }

  write(request: contract.WriteRequest): Promise<contract.AccessResult> {
    return this.#access(request.epc, () => writeOperation("C1G2Write", request));
  }

  blockWrite(request: contract.WriteRequest): Promise<contract.AccessResult> {
    return this.#access(request.epc, () => {
      if (this.info?.blockWrite === false) throw this.#refusal("C1G2BlockWrite", "cannot write blocks");
      return writeOperation("C1G2BlockWrite", request);
    });
  }

  lock({ epc, ...lock }: contract.LockRequest): Promise<contract.AccessResult> {
    return this.#access(epc, () => {
      const operation = lockOperation(lock);
      if (operation) return operation;
      const says = "takes lock and permalock of an area together: LLRP cannot set one of the two bits";
      throw this.#refusal("C1G2Lock", says);
    });
  }

  kill({ epc, password }: contract.KillRequest): Promise<contract.AccessResult> {
    return this.#access(epc, () => element("C1G2Kill", { OpSpecID: 1, KillPassword: password }));
  }

  async close(): Promise<void> {
    if (this.#connection.isClosed) return;
    if (this.info) {
      await this.stopInventory().catch(() => undefined);
      await takeDown(this.#connection.requests);
    }
    this.#connection.end(null);
  }

  async #access(epc: string, make: () => LlrpElement): Promise<contract.AccessResult> {
    return this.#orders.access(checkedEpc(epc), make());
  }

  #take(message: LlrpMessage): void {
    this.#queue.push(...this.#reports.take(message));
    this.#drain();
  }

  /** Reports in their order: what follows an answer waits until whoever asked has had it. */
  #drain(): void {
    while (!this.#paused) {
      const seen = this.#queue.shift();
      if (!seen) return;
      this.#lastUs = Math.max(this.#lastUs, seen.kitTimeUs);
      const [first] = seen.results;
      const asked = first !== undefined && seen.accessSpecId !== null;
      if (asked && this.#orders.settle(seen.accessSpecId, first, seen.kitTimeUs)) {
        this.#paused = true;
        setImmediate(() => {
          this.#paused = false;
          this.#drain();
        });
      } else if (this.#orders.inventory || first !== undefined) this.#emit(seen);
    }
  }

  #emit({ reports }: TagSeen): void {
    for (const report of reports) {
      this.#reported++;
      this.emit("report", report);
    }
  }

  #refusal(path: string, says: string): ReaderError {
    return this.#connection.error("request-refused", path, says);
  }

  #end(reason: string | null, error: ReaderError): void {
    this.#paused = false;
    this.#drain();
    this.#orders.close(error);
    this.emit("closed", reason);
  }
}
