/** One tag: memory, sensor, supply and firmware, moved along by kit time. */
import { checksumOf } from "../../protocol/codec/decode.ts";
import { WasmFirmware } from "../firmware/wasm-firmware.ts";
import { Random } from "../random.ts";
import type { Scenario, TagScenario } from "../scenario/scenario.ts";
import { couplingDb } from "./coupling.ts";
import { commissionedMemory } from "./factory.ts";
import type { Board, Firmware } from "./firmware.ts";
import type { Identity, Refusal, TagMemory } from "./memory.ts";
import { CellSensor } from "./sensor.ts";
import { type Supply, type SupplyState, ThresholdSupply } from "./supply.ts";
import { flagBits, toBytes } from "./words.ts";

/** Conducted power of the kit in dBm at kit time `nowUs`; -Infinity while the carrier is off. */
export type Carrier = (nowUs: number) => number;

/** Result of an access, by the names of the link's list. */
export type AccessResult =
  | { readonly result: "done"; readonly words: readonly number[] }
  | {
      readonly result: Refusal | "tag_lost" | "tag_power_insufficient" | "password_wrong";
      readonly words: readonly [];
    };

/** One access command as the kit's request has it. */
export type Access =
  | { readonly kind: "read"; readonly bank: number; readonly word: number; readonly count: number }
  | {
      readonly kind: "write" | "block_write";
      readonly bank: number;
      readonly word: number;
      readonly words: readonly number[];
    }
  | { readonly kind: "lock"; readonly mask: number; readonly action: number };

/** Power is looked at this often. */
const STEP_US = 10_000;
/** Margin in dB at which half the replies arrive, and how fast that changes with the margin. */
const HALF_REPLIES_DB = -0.5;
const REPLIES_SLOPE_DB = 0.7;
/** A write takes more power than a reply. */
const WRITE_MARGIN_DB = 1.5;
/** Loss from the chip's incident to its reflected power: half of it matched, the rest in the antenna. */
const BACKSCATTER_LOSS_DB = 8;
const RSSI_NOISE_DB = 0.4;
const USER = 3;
const EPC = 1;
const XPC_WORD = 33;
const SENSOR_ALARM = flagBits("xpc", "xpc_w1", ["sensor_alarm"]);

export class Tag {
  readonly #scenario: Scenario;
  readonly #tag: TagScenario;
  readonly #carrier: Carrier;
  readonly #memory: TagMemory;
  readonly #supply: Supply;
  readonly #firmware: Firmware;
  readonly #random: Random;
  #state: SupplyState = "off";
  #nextStepUs = 0;
  #wakeUs = Number.POSITIVE_INFINITY;

  constructor(scenario: Scenario, tag: TagScenario, carrier: Carrier) {
    this.#scenario = scenario;
    this.#tag = tag;
    this.#carrier = carrier;
    this.#memory = commissionedMemory(tag);
    this.#supply = new ThresholdSupply(tag.coupling.turnOnDbm);
    this.#firmware = new WasmFirmware(this.#board(new CellSensor(scenario, tag)));
    this.#random = new Random(scenario.seed, `air ${tag.epc}`);
  }

  /** Lives on to kit time `toUs`, included. */
  advance(toUs: number): void {
    for (;;) {
      const nextUs = Math.min(this.#nextStepUs, this.#wakeUs);
      if (nextUs > toUs) return;
      if (nextUs === this.#nextStepUs) this.#stepSupply(nextUs);
      else this.#wakeUs = this.#firmware.wake(nextUs);
    }
  }

  /** What an inventory round brings back at `nowUs`, or null when the tag does not answer. */
  inventory(nowUs: number): Identity | null {
    return this.#replies(nowUs) ? this.#memory.identity() : null;
  }

  /** Strength of the reply at the kit in dBm. */
  rssiDbm(nowUs: number): number {
    const { coupling } = this.#tag;
    const gainDb = couplingDb(coupling, this.#scenario.phases, nowUs);
    return this.#carrier(nowUs) + 2 * gainDb - BACKSCATTER_LOSS_DB + RSSI_NOISE_DB * this.#random.noise();
  }

  /** Whether an access by EPC is meant for this tag. */
  hasEpc(words: readonly number[]): boolean {
    const { epc } = this.#memory.identity();
    return epc.length === words.length && epc.every((word, index) => word === words[index]);
  }

  /** One access at `nowUs`. `password` 0: none is given. */
  access(nowUs: number, access: Access, password: number): AccessResult {
    if (!this.#replies(nowUs)) return refused("tag_lost");
    const needed = this.#memory.accessPassword;
    if (password !== 0 && password !== needed) return refused("password_wrong");
    const secured = password === needed;
    if (access.kind === "read") {
      const words = this.#memory.read(access.bank, access.word, access.count, secured);
      return typeof words === "string" ? refused(words) : { result: "done", words };
    }
    if (this.#marginDb(nowUs) < WRITE_MARGIN_DB) return refused("tag_power_insufficient");
    if (access.kind === "lock") {
      // Lock is a command of the secured state only.
      if (!secured) return refused("tag_error");
      return this.#memory.locks.apply(access.mask, access.action) ? done : refused("tag_memory_locked");
    }
    const refusal = this.#memory.write(access.bank, access.word, access.words, secured);
    return refusal ? refused(refusal) : done;
  }

  #stepSupply(nowUs: number): void {
    this.#nextStepUs += STEP_US;
    const before = this.#state;
    const carrierDbm = this.#carrier(nowUs);
    const chipDbm =
      carrierDbm === Number.NEGATIVE_INFINITY
        ? carrierDbm
        : carrierDbm + couplingDb(this.#tag.coupling, this.#scenario.phases, nowUs);
    this.#state = this.#supply.step(nowUs, chipDbm);
    if (this.#state === before) return;
    if (this.#state === "off") {
      this.#firmware.powerLost(nowUs);
      this.#wakeUs = Number.POSITIVE_INFINITY;
    } else if (before === "off") {
      this.#computeStoredCrc();
      this.#wakeUs = this.#firmware.coldStart(nowUs);
    }
  }

  #marginDb(nowUs: number): number {
    const { coupling } = this.#tag;
    return this.#carrier(nowUs) + couplingDb(coupling, this.#scenario.phases, nowUs) - coupling.turnOnDbm;
  }

  #replies(nowUs: number): boolean {
    if (this.#state !== "on") return false;
    const chance = 1 / (1 + Math.exp((HALF_REPLIES_DB - this.#marginDb(nowUs)) / REPLIES_SLOPE_DB));
    return this.#random.fraction() < chance;
  }

  /** Gen2: the tag computes StoredCRC at power-up, over the PC word and as many EPC words as it says. */
  #computeStoredCrc(): void {
    const { pc, epc } = this.#memory.identity();
    const bytes = toBytes([pc, ...epc]);
    this.#memory.poke(EPC, 0, [checksumOf("air", bytes, 0, bytes.length)]);
  }

  #board(sensor: Board["sensor"]): Board {
    const memory = this.#memory;
    const supply = this.#supply;
    return {
      memory: {
        read: (word) => memory.peek(USER, word),
        write: (word, value) => memory.poke(USER, word, [value]),
      },
      sensor,
      supplyV: () => supply.volts,
      setSensorAlarm: (on) => {
        const xpc = memory.peek(EPC, XPC_WORD);
        memory.poke(EPC, XPC_WORD, [on ? xpc | SENSOR_ALARM : xpc & ~SENSOR_ALARM]);
      },
    };
  }
}

const done: AccessResult = { result: "done", words: [] };

function refused(result: Exclude<AccessResult["result"], "done">): AccessResult {
  return { result, words: [] };
}
