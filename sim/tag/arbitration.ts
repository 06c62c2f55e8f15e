/**
 * Who gets the memory when the microcontroller's bridge and the air want it at once. The whole policy:
 *
 * 1. Words are whole. Neither side ever cuts a word that the other is writing.
 * 2. A Read over the air never waits and makes nobody wait: each word is fetched in the moment it is sent, old until a
 *    write of it is over and new from then on. Words of one Read may so be of different moments; a record's own seal and
 *    order of writing say whether they belong together.
 * 3. A write over the air has precedence, because the tag must answer within 20 ms: it waits for the word that the bridge
 *    is writing, no longer, and the bridge waits until the last word of the command is written.
 */
export interface BridgeSide {
  /** When the word that is being written at `nowUs` is over; `nowUs` when none is. */
  wordEndsUs(nowUs: number): number;
  /** The bridge's writes that have not begun at `fromUs` begin at `untilUs` or later, and none begins between. */
  holdBack(fromUs: number, untilUs: number): void;
}

/** Gives the memory to the air for `forUs`, and returns when that begins. */
export function claimForAir(bridge: BridgeSide, nowUs: number, forUs: number): number {
  const beginUs = bridge.wordEndsUs(nowUs);
  bridge.holdBack(beginUs, beginUs + forUs);
  return beginUs;
}
