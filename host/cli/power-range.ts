/** Whether a reader can transmit at the power a person asked for. */
import type { ReaderInfo } from "../reader/reader.ts";
import { CommandError, EXIT } from "./exit.ts";

/** Throws a CommandError of wrong use when it cannot; `powerDbm` null: none was asked for. */
export function checkPower(powerDbm: number | null, { powerLowDbm, powerHighDbm }: ReaderInfo): void {
  if (powerDbm === null || powerLowDbm === null || powerHighDbm === null) return;
  if (powerDbm >= powerLowDbm && powerDbm <= powerHighDbm) return;
  throw new CommandError(
    EXIT.usage,
    `--power ${powerDbm}: this kit transmits at ${powerLowDbm} to ${powerHighDbm} dBm`,
  );
}
