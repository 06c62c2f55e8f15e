/** Now: what is under each site? */
import "../styles/now.css";
import { el } from "../dom/element.ts";
import { onFrame } from "../shell/on-frame.ts";
import type { Mount } from "../shell/view.ts";
import { makeRangeDialog } from "./range-dialog.ts";
import { makeSlip, type Slip } from "./slip.ts";
import { tapeEndMmhg } from "./tape.ts";

export const mount: Mount = (host, store, text) => {
  const none = el("p", { class: "none" }, text.say("now.none"));
  const list = el("div", { class: "slips" });
  const dialog = makeRangeDialog(store, text);
  host.append(none, list, dialog.element);
  const slips = new Map<string, Slip>();

  const stop = onFrame(store, () => {
    const { sites, clock, hello, preferences } = store;
    for (const [epc, slip] of slips) {
      if (sites.get(epc) === slip.site) continue;
      slip.element.remove();
      slips.delete(epc);
    }
    none.hidden = sites.size > 0;
    const highest = [...sites.keys()].map((epc) => preferences.rangeOf(epc)?.highMmhg ?? 0);
    const endMmhg = tapeEndMmhg(Math.max(store.highestMmhg, ...highest));
    const now = { nowS: clock.nowS, endMmhg, supplyLowV: hello?.supply_low_v ?? 0 };
    for (const site of sites.values()) {
      let slip = slips.get(site.epc);
      if (!slip) {
        slip = makeSlip(site, text, () => dialog.open(site));
        slips.set(site.epc, slip);
        list.append(slip.element);
      }
      slip.draw({ ...now, range: preferences.rangeOf(site.epc) });
    }
  });
  return stop;
};
