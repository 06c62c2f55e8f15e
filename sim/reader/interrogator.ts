/**
 * The kit's reader: rounds of inventory over the air, single tags sought out, accesses in between. Strategy for several tags
 * under one dressing: every round reads each tag once; those that are known and were missed are then sought one by one, the
 * one not read for longest first, while there is time before the next round, and one of them even when there is none.
 */
import { bitsOfWords } from "../air/bits.ts";
import type { Command, Session } from "../air/command.ts";
import { QAlgorithm } from "../air/q-algorithm.ts";
import { decodeIdentity, decodeRn16 } from "../air/reply.ts";
import type { Identity } from "../tag/memory.ts";
import type { ChannelPlan } from "./channel-rule.ts";
import type { Field, Process, Received } from "./field.ts";
import type { AccessOrder, InventoryOrder, PasswordedAccess } from "./orders.ts";
import { type AccessResult, Singulated } from "./singulated.ts";
import type { Transmitter } from "./transmitter.ts";

/** From the carrier's coming until tags are looked for: they have to charge and to start. */
export const SETTLE_US = 100_000;
/** The carrier stays this long after an access, so that the next one finds the tag awake. */
const LINGER_US = 1_000_000;
/** Longer than any command with its reply takes; a channel is left in time for it. */
const EXCHANGE_US = 45_000;
/** Time that seeking one tag and reading it takes. */
const SEEK_US = 12_000;
/** A tag not seen for so long is no longer sought. */
const FORGET_US = 10_000_000;
const ATTEMPTS = 4;
/** A round that comes to no end is given up. */
const MAX_SLOTS = 1 << 16;
const ROUND_SESSION: Session = 0;
const SEEK_SESSION: Session = 3;
const EPC = 1;
const EPC_BIT = 32;

interface Known {
  readonly epc: readonly number[];
  seenUs: number;
  readUs: number;
}

export class Interrogator {
  readonly #field: Field;
  readonly #transmitter: Transmitter;
  readonly #known = new Map<string, Known>();
  #inventory: InventoryOrder | null = null;
  #roundUs = Number.POSITIVE_INFINITY;
  #orders: { readonly order: AccessOrder; readonly readyUs: number }[] = [];
  #process: Process<never>;
  #waiting = true;
  #nowUs = 0;
  /** When tags have had their time since the carrier came. */
  #settledUs = 0;
  /** When the air is free for the next command. */
  #freeUs = 0;
  #nextUs = Number.POSITIVE_INFINITY;

  constructor(field: Field, transmitter: Transmitter) {
    this.#field = field;
    this.#transmitter = transmitter;
    this.#process = this.#work();
  }

  /** Time of the next thing to do; Infinity when there is none. */
  get nextUs(): number {
    return this.#nextUs;
  }

  /** Accesses that are waiting or under way. */
  get orders(): number {
    return this.#orders.length;
  }

  /** Does what is due at `nextUs`; the tags must have come to that time. */
  run(): void {
    this.#nowUs = this.#nextUs;
    this.#nextUs = this.#process.next().value;
  }

  /** Begins rounds; those under way are given up. */
  start(nowUs: number, inventory: InventoryOrder): void {
    this.#roundUs = this.#readyUs(nowUs);
    this.#inventory = inventory;
    this.#transmitter.keep(true);
    this.#wake(nowUs, this.#roundUs);
  }

  stop(): void {
    this.#inventory = null;
    this.#roundUs = Number.POSITIVE_INFINITY;
    this.#transmitter.keep(false);
  }

  order(nowUs: number, order: AccessOrder): void {
    const readyUs = this.#readyUs(nowUs);
    this.#orders.push({ order, readyUs });
    this.#transmitter.hold(readyUs + LINGER_US);
    this.#wake(nowUs, readyUs);
  }

  /** Ends all that is waiting and under way, without a word to anyone, and the carrier. */
  clear(): void {
    this.stop();
    this.#transmitter.off();
    this.#orders = [];
    this.#process = this.#work();
    this.#waiting = true;
    this.#nextUs = Number.POSITIVE_INFINITY;
  }

  /** Another channel plan, from the next command on, or at once when nothing is under way. */
  follow(nowUs: number, plan: ChannelPlan): void {
    this.#transmitter.plan = plan;
    if (this.#transmitter.isWanted(nowUs)) this.#wake(nowUs, nowUs);
  }

  /** When tags are awake; the carrier comes on a channel of its own choice when it was off. */
  #readyUs(nowUs: number): number {
    if (!this.#transmitter.isOn(nowUs)) {
      this.#transmitter.tune(nowUs, EXCHANGE_US);
      this.#settledUs = nowUs + SETTLE_US;
    }
    return Math.max(nowUs, this.#settledUs);
  }

  /** Work is to be done at `atUs`; before that a carrier that has just come may have to be tuned. */
  #wake(nowUs: number, atUs: number): void {
    if (!this.#waiting) return;
    const tuneUs = Math.max(nowUs, this.#transmitter.tuneUs(EXCHANGE_US));
    this.#nextUs = Math.min(this.#nextUs, atUs, tuneUs);
  }

  *#work(): Process<never> {
    // The first call only brings the process to where it waits.
    for (;;) {
      this.#freeUs = Math.max(this.#freeUs, this.#nowUs);
      const order = this.#orders[0];
      if (order && order.readyUs <= this.#nowUs) yield* this.#serve(order.order);
      else if (this.#inventory && this.#roundUs <= this.#nowUs) yield* this.#turn(this.#inventory);
      else {
        this.#waiting = true;
        yield Math.min(this.#orders[0]?.readyUs ?? Number.POSITIVE_INFINITY, this.#roundUs, this.#tuneUs());
        this.#waiting = false;
        if (this.#nowUs >= this.#tuneUs()) this.#transmitter.tune(this.#nowUs, EXCHANGE_US);
      }
    }
  }

  /** When the carrier must be tuned although nothing is to be said. */
  #tuneUs(): number {
    const atUs = Math.max(this.#nowUs, this.#transmitter.tuneUs(EXCHANGE_US));
    return this.#transmitter.isWanted(atUs) ? atUs : Number.POSITIVE_INFINITY;
  }

  /** One round, and the tags it missed. */
  *#turn(inventory: InventoryOrder): Process<void> {
    const startUs = this.#nowUs;
    this.#roundUs = startUs + inventory.periodUs;
    yield* this.#round(inventory);
    const missed = [...this.#known.values()]
      .filter(({ seenUs }) => seenUs < startUs && startUs - seenUs < FORGET_US)
      .sort((a, b) => a.readUs - b.readUs);
    for (const [i, { epc }] of missed.entries()) {
      const hurry = this.#orders.length > 0 || this.#nowUs + SEEK_US > this.#roundUs;
      if (this.#inventory !== inventory || (hurry && i > 0)) break;
      yield* this.#seek(epc, inventory);
    }
  }

  *#round(inventory: InventoryOrder): Process<void> {
    const estimate = new QAlgorithm(Math.round(Math.log2(Math.max(1, this.#known.size))));
    yield* this.#say({ ...ALL, target: ROUND_SESSION });
    let q = estimate.q;
    let left = 2 ** q;
    let unresolved = false;
    let next: Command = { ...QUERY, session: ROUND_SESSION, q };
    for (let slots = 0; slots < MAX_SLOTS && this.#inventory === inventory; slots++) {
      const received = yield* this.#say(next);
      left--;
      if (received.kind === "silence") estimate.empty();
      else if (received.kind === "collision") {
        estimate.collision();
        unresolved = true;
      } else if (!(yield* this.#meet(received, inventory))) unresolved = true;
      const change = Math.sign(estimate.q - q) as 1 | 0 | -1;
      if (change === 0 && left === 0 && !unresolved) return;
      if (change === 0 && left > 0) {
        next = { kind: "query_rep", session: ROUND_SESSION };
        continue;
      }
      // All that are left draw anew.
      q += change;
      left = 2 ** q;
      unresolved = false;
      next = { kind: "query_adjust", session: ROUND_SESSION, change };
    }
  }

  /** A tag by its EPC, as part of an inventory. */
  *#seek(epc: readonly number[], inventory: InventoryOrder): Process<void> {
    const received = yield* this.#call(epc);
    if (received.kind === "reply") yield* this.#meet(received, inventory);
  }

  /** Has the tag of this EPC, and no other, answer. */
  *#call(epc: readonly number[]): Process<Received> {
    yield* this.#say({ ...ALL, target: SEEK_SESSION, bank: EPC, pointer: EPC_BIT, mask: bitsOfWords(epc) });
    return yield* this.#say({ ...QUERY, session: SEEK_SESSION, q: 0 });
  }

  /** Acknowledges who answered and does what is wanted; false when the tag was not understood. */
  *#meet(received: Received, inventory: InventoryOrder): Process<boolean> {
    const rn = decodeRn16(received.bits);
    if (rn === null) return false;
    const identity = yield* this.#acknowledge(rn);
    if (!identity) return false;
    const timeUs = Math.round(this.#nowUs);
    const frequencyKhz = this.#transmitter.channelKhz;
    const list = inventory.accesses(identity);
    const results = list.length === 0 ? [] : yield* this.#accessAll(rn, list);
    const key = identity.epc.join();
    const readUs = results.every(({ result }) => result === "done") ? timeUs : (this.#known.get(key)?.readUs ?? 0);
    this.#known.set(key, { epc: identity.epc, seenUs: timeUs, readUs });
    if (this.#inventory === inventory) {
      inventory.onSighting({ timeUs, identity, rssiDbm: received.rssiDbm, frequencyKhz, results });
    }
    return true;
  }

  *#acknowledge(rn: number): Process<Identity | null> {
    const { bits } = yield* this.#say({ kind: "ack", rn });
    const reply = decodeIdentity(bits, false);
    return reply?.kind === "identity" ? { pc: reply.pc, xpc: reply.xpc ?? 0, epc: reply.epc } : null;
  }

  /** Accesses in their order, each under its own password. A tag that refuses one takes part no more: the rest are lost. */
  *#accessAll(rn: number, list: readonly PasswordedAccess[]): Process<AccessResult[]> {
    const tag = new Singulated((command) => this.#say(command), rn);
    let there = yield* tag.open();
    let given = 0;
    const results: AccessResult[] = [];
    for (const { password, access } of list) {
      let refused = false;
      if (there && password !== 0 && password !== given) {
        const answer = yield* tag.secure(password);
        there = answer === "secured";
        refused = answer === "refused";
        given = password;
      }
      if (there) results.push(yield* tag.access(access));
      else results.push({ result: refused ? "password_wrong" : "tag_lost", words: [] });
    }
    return results;
  }

  /** One access that the host asked for, in several attempts when the tag gets lost over it. */
  *#serve(order: AccessOrder): Process<void> {
    let result: AccessResult = { result: "tag_lost", words: [] };
    for (let i = 0; i < ATTEMPTS; i++) {
      this.#transmitter.hold(this.#nowUs + LINGER_US);
      result = yield* this.#attempt(order, result);
      // A tag that falls silent over its password may have lost the field just then: once is no proof.
      if (result.result !== "tag_lost" && (result.result !== "password_wrong" || i === ATTEMPTS - 1)) break;
    }
    this.#orders.shift();
    order.onDone(result, Math.round(this.#nowUs));
  }

  *#attempt({ epc, password, access }: AccessOrder, before: AccessResult): Process<AccessResult> {
    const received = yield* this.#call(epc);
    const rn = received.kind === "reply" ? decodeRn16(received.bits) : null;
    if (rn === null) return before;
    const identity = yield* this.#acknowledge(rn);
    if (identity?.epc.join() !== epc.join()) return before;
    const [result] = yield* this.#accessAll(rn, [{ password, access }]);
    return result!;
  }

  /** Says a command as soon as the air is free, on a channel that may be used for as long as it takes. */
  *#say(command: Command): Process<Received> {
    for (;;) {
      const startUs = this.#transmitter.tune(this.#freeUs, EXCHANGE_US);
      if (this.#orders.length > 0) this.#transmitter.hold(startUs + LINGER_US);
      if (startUs === this.#freeUs) break;
      yield startUs;
      this.#freeUs = startUs;
    }
    const received = yield* this.#field.say(this.#freeUs, command);
    this.#freeUs = received.nextUs;
    return received;
  }
}

const ALL = { kind: "select", action: 0, bank: EPC, pointer: 0, mask: [], truncate: false } as const;
const QUERY = { kind: "query", dr: 1, m: 1, trext: false, sel: 0, target: "A" } as const;
