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

/** Mask and action of a Lock that brings the areas into their states. A reversible one leaves the permanent bit alone. */
export function lockPayload(locks: readonly Lock[]): { readonly mask: number; readonly action: number } {
  let [mask, action] = [0, 0];
  for (const lock of locks) {
    const shift = 2 * (lockAreas.length - 1 - lockAreas.indexOf(lock.area));
    mask |= (isIrreversible(lock) ? 0b11 : 0b10) << shift;
    action |= PAIR[lock.state] << shift;
  }
  return { mask, action };
}

export function isIrreversible({ state }: Lock): boolean {
  return state === "always_open" || state === "never";
}
