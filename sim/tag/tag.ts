/** One tag: memory, sensor, supply and firmware, moved along by kit time. */
import { checksumOf } from "../../protocol/codec/decode.ts";
import { WasmFirmware } from "../firmware/wasm-firmware.ts";
import { classTag } from "../power/class-tag.ts";
import { Random } from "../random.ts";
import type { Scenario, TagScenario } from "../scenario/scenario.ts";
import type { Answer } from "./answer.ts";
import { claimForAir } from "./arbitration.ts";
import { Chip, type Heard } from "./chip.ts";
import { couplingDb } from "./coupling.ts";
import { commissionedMemory } from "./factory.ts";
import type { Board, Firmware } from "./firmware.ts";
import type { TagMemory } from "./memory.ts";
import { CellSensor } from "./sensor.ts";
import { TagSupply } from "./supply.ts";
import { flagBits, toBytes } from "./words.ts";

/** Conducted power of the kit in dBm at kit time `nowUs`; -Infinity while the carrier is off. */
export type Carrier = (nowUs: number) => number;

/** A command on the air. */
export type Transmission = Omit<Heard, "canWrite">;

/** The field is followed in steps of this length; everything else on the supply happens when it does. */
const STEP_US = 10_000;
/** Margin in dB at which half the commands are understood, and how fast that changes with the margin. */
const HALF_HEARD_DB = -0.5;
const HEARD_SLOPE_DB = 0.7;
/** A write takes more power than a reply. */
const WRITE_MARGIN_DB = 1.5;
/** Loss from the chip's incident to its reflected power: half of it matched, the rest in the antenna. */
const BACKSCATTER_LOSS_DB = 8;
const RSSI_NOISE_DB = 0.4;
/** What the last reading, a moment before the story begins, has left in every tag's store: just too little to run. */
const LEFT_V = 2.35;
/** What is drawn while the supervisor keeps the load off. */
const NOTHING = { currentA: 0, untilUs: Number.POSITIVE_INFINITY };
const USER = 3;
const EPC = 1;
const XPC_WORD = 33;
const SENSOR_ALARM = flagBits("xpc", "xpc_w1", ["sensor_alarm"]);

export class Tag {
  readonly #scenario: Scenario;
  readonly #tag: TagScenario;
  readonly #carrier: Carrier;
  readonly #memory: TagMemory;
  readonly #supply: TagSupply;
  readonly #firmware: Firmware;
  readonly #random: Random;
  readonly #chip: Chip;
  #fadeDb = 0;
  #nowUs = 0;
  #nextStepUs = 0;
  #wakeUs = Number.POSITIVE_INFINITY;

  constructor(scenario: Scenario, tag: TagScenario, carrier: Carrier) {
    this.#scenario = scenario;
    this.#tag = tag;
    this.#carrier = carrier;
    this.#memory = commissionedMemory(tag);
    this.#supply = new TagSupply({ ...classTag, startV: LEFT_V }, tag.storeF);
    this.#firmware = new WasmFirmware(this.#board(new CellSensor(scenario, tag)));
    this.#random = new Random(scenario.seed, `air ${tag.epc}`);
    const claim = (nowUs: number, forUs: number) => claimForAir(this.#firmware, Math.ceil(nowUs), forUs);
    this.#chip = new Chip(this.#memory, new Random(scenario.seed, `slots ${tag.epc}`), claim);
  }

  /** Lives on to kit time `toUs`, included. */
  advance(toUs: number): void {
    for (;;) {
      const draw = this.#supply.on ? this.#firmware.draw(this.#nowUs) : NOTHING;
      const nextUs = Math.min(this.#nextStepUs, this.#wakeUs, draw.untilUs);
      if (nextUs > toUs) return;
      const before = this.#supply.on;
      this.#nowUs = this.#supply.runTo(nextUs, draw.currentA);
      if (this.#supply.on !== before) this.#switched(this.#nowUs);
      else if (nextUs === this.#nextStepUs) this.#followField(nextUs);
      else if (nextUs === this.#wakeUs) this.#wakeUs = this.#firmware.wake(nextUs);
    }
  }

  /** What the tag does about a command, if it reaches the chip at all. */
  hear(transmission: Transmission): Answer | null {
    // The chip is fed from the same store as its microcontroller, and needs the field to understand and to answer.
    const marginDb = this.#marginDb(transmission.endUs);
    if (!this.#supply.on || marginDb + this.#fadeDb < HALF_HEARD_DB) return null;
    return this.#chip.hear({ ...transmission, canWrite: marginDb >= WRITE_MARGIN_DB });
  }

  /** Strength of the reply at the kit in dBm. */
  rssiDbm(nowUs: number): number {
    const { coupling } = this.#tag;
    const gainDb = couplingDb(coupling, this.#scenario.phases, nowUs);
    return this.#carrier(nowUs) + 2 * gainDb - BACKSCATTER_LOSS_DB + RSSI_NOISE_DB * this.#random.noise();
  }

  #followField(nowUs: number): void {
    this.#nextStepUs += STEP_US;
    // Small-scale fading: the same for every command of a step, anew in the next. Its spread is the logistic distribution's.
    const share = (this.#random.integer() + 0.5) / 2 ** 32;
    this.#fadeDb = HEARD_SLOPE_DB * Math.log(share / (1 - share));
    const carrierDbm = this.#carrier(nowUs);
    this.#supply.setLevel(
      carrierDbm === Number.NEGATIVE_INFINITY
        ? carrierDbm
        : carrierDbm + couplingDb(this.#tag.coupling, this.#scenario.phases, nowUs),
    );
  }

  #switched(nowUs: number): void {
    if (this.#supply.on) {
      this.#computeStoredCrc();
      this.#chip.powerUp(nowUs);
      this.#wakeUs = this.#firmware.coldStart(nowUs + classTag.load.processor.bootS * 1e6);
    } else {
      this.#firmware.powerLost(nowUs);
      this.#chip.powerDown(nowUs);
      this.#wakeUs = Number.POSITIVE_INFINITY;
    }
  }

  #marginDb(nowUs: number): number {
    const { coupling } = this.#tag;
    return this.#carrier(nowUs) + couplingDb(coupling, this.#scenario.phases, nowUs) - coupling.turnOnDbm;
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
