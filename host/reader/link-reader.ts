/** A reader kit on the other end of a port, by the link protocol. */
import { EventEmitter } from "node:events";
import { parseHex } from "../../protocol/bytes/hex.ts";
import { isFault, type RawValues } from "../../protocol/codec/encode.ts";
import { rawOf } from "../../protocol/codec/record.ts";
import { layout } from "../../protocol/index.ts";
import { Deframer, encodeFrame } from "../../protocol/link/framing.ts";
import { decodeMessage, type Message } from "../../protocol/link/message.ts";
import { refusalOf } from "../../protocol/link/refusal.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import { type Fault, sentence } from "../../protocol/model/reasons.ts";
import { toRaw } from "../../protocol/model/scale.ts";
import { LINK_VERSION } from "../../protocol/spec/link.ts";
import type { Port } from "../transport/port.ts";
import { portError } from "../transport/port-error.ts";
import { type Clock, systemClock } from "./clock.ts";
import { accessResult, ambientReport, readerInfo, recordingInfo, tagReport } from "./link-report.ts";
import type * as contract from "./reader.ts";
import { ReaderError } from "./reader-error.ts";
import { RequestQueue } from "./request-queue.ts";

/** How often the host asks what may be done twice. A program or board may have been started only now: the first answer takes longest. */
const [TRIES, HELLO_TRIES] = [2, 5];

export interface LinkReaderOptions {
  readonly clock?: Clock;
  /** How long an answer may take. */
  readonly timeoutMs?: number;
  /** Silence of the host after which it shows that it is there. */
  readonly keepAliveMs?: number;
  /** Requests wanted under way at once; the kit may ask for fewer. */
  readonly maxOutstanding?: number;
}

export class LinkReader extends EventEmitter<contract.ReaderEvents> implements contract.Reader {
  info: contract.ReaderInfo | null = null;
  readonly #port: Port;
  readonly #clock: Clock;
  readonly #keepAliveMs: number;
  readonly #maxOutstanding: number;
  readonly #queue: RequestQueue;
  readonly #deframer = new Deframer();
  #reports = 0;
  #misunderstood = 0;
  #inventory = false;
  #closed = false;
  #cancelKeepAlive: () => void = () => undefined;

  /** Takes over the port; its stream must not be read elsewhere. */
  constructor(port: Port, options: LinkReaderOptions = {}) {
    super();
    this.#port = port;
    this.#clock = options.clock ?? systemClock;
    this.#keepAliveMs = options.keepAliveMs ?? 5000;
    this.#maxOutstanding = options.maxOutstanding ?? 4;
    this.#queue = new RequestQueue(layout, this.#clock, options.timeoutMs ?? 2000, (body) => this.#send(body));
    port.stream.on("error", (error) => this.#end(portError("lost", port.name, error).message));
    port.stream.on("end", () =>
      this.#end(port.listenOnly ? null : `lost ${port.name}: the other end closed the connection`),
    );
    port.stream.on("close", () => this.#end(`lost ${port.name}: the port was closed`));
  }

  get counts(): contract.ReaderCounts {
    const { faults, discarded } = this.#deframer.counts;
    return {
      reports: this.#reports,
      faults: faults + this.#misunderstood,
      discardedBytes: discarded,
      lateAnswers: this.#queue.late,
    };
  }

  async open(): Promise<contract.ReaderInfo> {
    const { stream, name, listenOnly } = this.#port;
    stream.on("data", (chunk: Uint8Array) => this.#receive(chunk));
    if (listenOnly) {
      stream.pause();
      return (this.info = recordingInfo(name));
    }
    const hello = { link_version: LINK_VERSION, max_outstanding: this.#maxOutstanding };
    const welcome = await this.#ask("hello", hello, {}, HELLO_TRIES);
    const version = rawOf(welcome.content, "link_version");
    if (version !== LINK_VERSION) {
      const found = { expected: `${LINK_VERSION}`, actual: `${version}` };
      const fault: Fault = { code: "version-unknown", byte: 3, bit: 0, path: "welcome.link_version", ...found };
      throw new ReaderError(
        `the kit speaks version ${version} of the link, this program version ${LINK_VERSION}`,
        fault,
      );
    }
    this.#queue.limit = Math.min(this.#maxOutstanding, rawOf(welcome.content, "max_outstanding"));
    return (this.info = readerInfo(name, welcome));
  }

  async setPower(powerDbm: number): Promise<void> {
    const power = rawNumber("set_power", "power", powerDbm);
    await this.#ask("set_power", { power }, {}, TRIES);
  }

  async setChannelPlan(plan: contract.ChannelPlan): Promise<void> {
    await this.#ask("set_channel_plan", { plan: rawName("set_channel_plan", "plan", plan) }, {}, TRIES);
  }

  async startInventory({ periodMs, read }: contract.InventoryRequest): Promise<void> {
    if (this.#port.listenOnly) {
      this.#port.stream.resume();
      return;
    }
    const period = rawNumber("start_inventory", "period", periodMs / 1000);
    const bank = rawName("start_inventory", "bank", read?.bank ?? "user");
    const values = { period, bank, pointer: read?.word ?? 0, word_count: read?.count ?? 0 };
    this.#inventory = true;
    await this.#ask("start_inventory", values, {}, TRIES);
  }

  async stopInventory(): Promise<void> {
    if (this.#port.listenOnly) {
      this.#port.stream.pause();
      return;
    }
    await this.#ask("stop_inventory", {}, {}, TRIES);
    this.#inventory = false;
  }

  async read({ epc, bank, word, count, password = 0 }: contract.ReadRequest): Promise<contract.AccessResult> {
    return this.#access("read", epc, {
      password,
      bank: rawName("read", "bank", bank),
      pointer: word,
      word_count: count,
    });
  }

  async write(request: contract.WriteRequest): Promise<contract.AccessResult> {
    return this.#writeWords("write", request);
  }

  async blockWrite(request: contract.WriteRequest): Promise<contract.AccessResult> {
    return this.#writeWords("block_write", request);
  }

  async lock({ epc, mask, action, password = 0 }: contract.LockRequest): Promise<contract.AccessResult> {
    return this.#access("lock", epc, { password, mask, action });
  }

  async kill({ epc, password }: contract.KillRequest): Promise<contract.AccessResult> {
    return this.#access("kill", epc, { password: rawNumber("kill", "password", password) });
  }

  async close(): Promise<void> {
    // A kit that is left alone would go on transmitting.
    if (this.#inventory && !this.#closed) await this.stopInventory().catch(() => undefined);
    this.#lose(null);
  }

  #writeWords(id: "write" | "block_write", request: contract.WriteRequest): Promise<contract.AccessResult> {
    const { epc, bank, word, words, password = 0 } = request;
    const values = { password, bank: rawName(id, "bank", bank), pointer: word, word_count: words.length };
    return this.#access(id, epc, values, words);
  }

  async #access(id: string, epc: string, values: RawValues, words?: readonly number[]): Promise<contract.AccessResult> {
    const epcWords = wordsOf(id, epc);
    const tails = { epc: epcWords, ...(words && { words }) };
    return accessResult(
      await this.#ask(id, { ...values, epc_words: epcWords.length }, tails, id === "read" ? TRIES : 1),
    );
  }

  #ask(
    id: string,
    values: RawValues,
    tails: { readonly [id: string]: ArrayLike<number> },
    tries: number,
  ): Promise<Message> {
    if (!this.#port.listenOnly) return this.#queue.ask({ id, values, tails, tries });
    const found = { expected: "a reader", actual: "a recording" };
    const fault: Fault = { code: "message-not-now", byte: 0, bit: null, path: id, ...found };
    return Promise.reject(new ReaderError(`${this.#port.name} is a recording: it cannot be asked for ${id}`, fault));
  }

  #send(body: Uint8Array): void {
    this.#port.stream.write(encodeFrame(body));
    this.#watch();
  }

  #watch(): void {
    this.#cancelKeepAlive();
    this.#cancelKeepAlive = this.#clock.after(this.#keepAliveMs, () => this.#keepAlive());
  }

  #keepAlive(): void {
    if (!this.#queue.idle) {
      this.#watch();
      return;
    }
    this.#ask("keep_alive", {}, {}, TRIES).catch((error: ReaderError) => {
      if (error.fault.code === "request-timed-out") this.#lose(`lost ${this.#port.name}: the reader no longer answers`);
    });
  }

  #receive(chunk: Uint8Array): void {
    this.#deframer.push(
      chunk,
      (body) => this.#take(body),
      (fault) => this.emit("fault", fault),
    );
  }

  #take(body: Uint8Array): void {
    if (this.#closed) return;
    const message = decodeMessage(layout, body, "to-host");
    if (isFault(message)) {
      this.#misunderstand(message);
      return;
    }
    switch (message.message.id) {
      case "tag_report":
        this.#reports++;
        this.emit("report", tagReport(message));
        return;
      case "ambient_report":
        this.#reports++;
        this.emit("report", ambientReport(message));
        return;
      case "error": {
        const fault = refusalOf(layout, message.content);
        if (message.request === 0) this.#misunderstand(fault);
        else this.#queue.refuse(message.request, fault);
        // A kit that knows nothing of the hello was switched off in between: it does nothing of what it was asked to.
        if (this.info && fault.code === "message-not-now") this.#lose(`lost ${this.#port.name}: the reader began anew`);
        return;
      }
      default:
        this.#queue.answer(message);
    }
  }

  #misunderstand(fault: Fault): void {
    this.#misunderstood++;
    this.emit("fault", fault);
  }

  /** The stream came to its end, so that half a frame is damage and not just early. */
  #end(reason: string | null): void {
    if (!this.#closed) this.#deframer.end((fault) => this.emit("fault", fault));
    this.#lose(reason);
  }

  #lose(reason: string | null): void {
    if (this.#closed) return;
    this.#closed = true;
    this.#cancelKeepAlive();
    const says = reason ?? `${this.#port.name} was closed`;
    const found = { expected: "an open port", actual: says };
    this.#queue.close(new ReaderError(says, { code: "link-closed", byte: 0, bit: null, path: "link", ...found }));
    this.#port.stream.destroy();
    this.emit("closed", reason);
  }
}

/** Raw integer of a quantity in the field's unit; throws ReaderError when the field cannot hold it. */
function rawNumber(recordId: string, id: string, value: number): number {
  const field = recordOf(layout, recordId).fields.find((candidate) => candidate.id === id)!;
  const raw = toRaw(field, value);
  if (raw !== null) return raw;
  const { path, byte, min, max, num, den, unit } = field;
  const expected = `${(min! * num!) / den!} to ${(max! * num!) / den!} ${unit}`;
  throw invalid({ code: "value-out-of-range", byte, bit: 0, path, expected, actual: `${value}` });
}

/** Raw integer of a named value; throws ReaderError for a name the field does not have. */
function rawName(recordId: string, id: string, name: string): number {
  const { names, path, byte } = recordOf(layout, recordId).fields.find((candidate) => candidate.id === id)!;
  const found = names!.find((candidate) => candidate.id === name);
  if (found) return found.raw;
  const expected = names!.map((candidate) => candidate.id).join(", ");
  throw invalid({ code: "name-unknown", byte, bit: 0, path, expected, actual: name });
}

/** Words of an EPC in hex; throws ReaderError for anything but whole words. */
function wordsOf(recordId: string, epc: string): number[] {
  const path = `${recordId}.epc`;
  const bytes = parseHex(epc);
  if (!(bytes instanceof Uint8Array)) {
    throw invalid({ code: bytes.code, byte: bytes.place, bit: null, path, expected: "hex", actual: bytes.actual });
  }
  if (bytes.length % 2 !== 0) {
    const found = { expected: "whole words of four hex digits", actual: `${bytes.length} bytes` };
    throw invalid({ code: "epc-length-invalid", byte: bytes.length - 1, bit: null, path, ...found });
  }
  return Array.from({ length: bytes.length / 2 }, (_, i) => bytes[2 * i]! * 256 + bytes[2 * i + 1]!);
}

function invalid(fault: Fault): ReaderError {
  return new ReaderError(sentence(fault), fault);
}
