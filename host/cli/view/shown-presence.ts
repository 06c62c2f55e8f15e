import type { TagPresence } from "../../view/messages.ts";
import type { Presence } from "../presence.ts";

/** Presence as pages are told it; `rounds`: whether the period of the rounds is known. */
export function shownPresence(tags: readonly Presence[], rounds: boolean): TagPresence[] {
  return tags.map(({ epc, seen, failed, missed, perSecond, ageS, rssiDbm }) => ({
    epc,
    seen,
    failed,
    missed: rounds ? missed : null,
    per_second: perSecond,
    age_s: ageS,
    rssi_dbm: rssiDbm,
  }));
}
