/** The seam between a tag's hardware and the program on its microcontroller. */
import type { BridgeSide } from "./arbitration.ts";
import type { Sensor } from "./sensor.ts";

/** Non-volatile memory by words: the USER bank. One write is one word, so that power can be cut between any two. */
export interface NonVolatile {
  read(word: number): number;
  write(word: number, value: number): void;
}

/** What the firmware can reach. */
export interface Board {
  readonly memory: NonVolatile;
  readonly sensor: Sensor;
  /** Supply voltage now. */
  supplyV(): number;
  /** Sets or clears the sensor alarm bit of XPC_W1. */
  setSensorAlarm(on: boolean): void;
}

/**
 * A program on the microcontroller. Every call does what is due at kit time `nowUs` and returns the time of the next
 * call; between calls it sleeps. While power is away it is not called at all.
 */
export interface Firmware extends BridgeSide {
  /** Power came from nothing: RAM is lost, memory is as it was left. */
  coldStart(nowUs: number): number;
  wake(nowUs: number): number;
  /** What the microcontroller and all it feeds draw from `nowUs` on, and until when it stays so. */
  draw(nowUs: number): { readonly currentA: number; readonly untilUs: number };
  /** Power is gone at this moment, whatever was under way. */
  powerLost(nowUs: number): void;
}
