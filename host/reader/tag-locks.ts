/** Lock payloads of Gen2 (from memory: ten mask and ten action bits, a pair for each area) by the words for them. */
export const lockAreas = ["kill", "access", "epc", "tid", "user"] as const;
export type LockArea = (typeof lockAreas)[number];

/** `open`: anyone; `password`: with the access password; the others are the same for good, and cannot be taken back. */
export const lockStates = ["open", "password", "always_open", "never"] as const;
export type LockState = (typeof lockStates)[number];

const PAIR: { readonly [state in LockState]: number } = { open: 0b00, password: 0b10, always_open: 0b01, never: 0b11 };

export interface Lock {
  readonly area: LockArea;
  readonly state: LockState;
}

/** Mask and action of a Lock that brings the areas into their states. */
export function lockPayload(locks: readonly Lock[]): { readonly mask: number; readonly action: number } {
  let [mask, action] = [0, 0];
  for (const { area, state } of locks) {
    const shift = 2 * (lockAreas.length - 1 - lockAreas.indexOf(area));
    // With both bits named, a tag refuses what it cannot bring about instead of doing half of it.
    mask |= 0b11 << shift;
    action |= PAIR[state] << shift;
  }
  return { mask, action };
}

export function isIrreversible({ state }: Lock): boolean {
  return state === "always_open" || state === "never";
}
