import type { TagPresence } from "../../view/messages.ts";
import type { Presence } from "../presence.ts";

/** Presence as pages are told it. */
export function shownPresence(tags: readonly Presence[]): TagPresence[] {
  return tags.map(({ epc, seen, failed, missed, perSecond, ageS, rssiDbm }) => ({
    epc,
    seen,
    failed,
    missed,
    per_second: perSecond,
    age_s: ageS,
    rssi_dbm: rssiDbm,
  }));
}
