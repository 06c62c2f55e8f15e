/** Ways to write a calibration block that are wrong on purpose; the suite must find each. */
import { updateCalibration } from "../../protocol/codec/calibration-update.ts";
import { layout } from "../../protocol/index.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import type { Bridge } from "../../sim/bridge/bridge.ts";
import { calibrationNew } from "./images.ts";
import type { Update } from "./workloads.ts";

export interface WrongUpdate {
  readonly name: string;
  readonly about: string;
  readonly by: "single" | "pair";
  readonly update: Update;
}

function write(bridge: Bridge, word: number, value: number): void {
  bridge.write(word, value);
  bridge.settle();
}

function copy(bridge: Bridge, place: number, order: readonly number[]): void {
  write(bridge, place, 0);
  for (const i of order) write(bridge, place + i, calibrationNew[i]!);
}

const IN_ORDER = Array.from({ length: 14 }, (_, i) => i + 2);

export const wrongUpdates: readonly WrongUpdate[] = [
  {
    name: "calibration-both-at-once",
    about: "word by word into both copies",
    by: "single",
    update: (bridge) => {
      for (const i of [...IN_ORDER, 1, 0]) for (const place of [40, 56]) write(bridge, place + i, calibrationNew[i]!);
      return true;
    },
  },
  {
    name: "calibration-both-given-up-first",
    about: "word 0 of both copies to zero before either is written",
    by: "single",
    update: (bridge) => {
      write(bridge, 56, 0);
      for (const place of [40, 56]) copy(bridge, place, [...IN_ORDER, 1, 0]);
      return true;
    },
  },
  {
    name: "calibration-always-from-the-first",
    about: "begun again with copy 1, although copy 2 is the one that is torn",
    by: "pair",
    update: (bridge) => {
      for (const place of [40, 56]) copy(bridge, place, [...IN_ORDER, 1, 0]);
      return true;
    },
  },
  {
    name: "calibration-not-confirmed",
    about: "what reads whole is relied on although it may read torn later",
    by: "pair",
    update: (bridge) => {
      const accesses = updateCalibration(recordOf(layout, "calibration"), calibrationNew);
      let next = accesses.next();
      for (let first = true; !next.done; ) {
        const access = next.value;
        if (access.kind === "read") next = accesses.next(Array.from(bridge.read(access.word, access.count)!));
        else {
          if (!first || access.value === 0) write(bridge, access.word, access.value);
          first = false;
          next = accesses.next([]);
        }
      }
      return next.value;
    },
  },
];
