/** All figures of a site, folded away until they are asked for. */

import type { ReadingRecord } from "../../view/messages.ts";
import { el, setText } from "../dom/element.ts";
import { powerOf } from "../store/power.ts";
import type { Site } from "../store/site.ts";
import type { PlainKey, Text } from "../text/text.ts";
import { byGravity, doubt } from "./doubts.ts";

export interface Figures {
  /** Shows and hides them. */
  readonly button: HTMLButtonElement;
  readonly element: HTMLElement;
  draw(supplyLowV: number): void;
}

type Row = readonly [key: PlainKey, value: string];

export function makeFigures(site: Site, text: Text): Figures {
  const rows = el("dl", { class: "figures-rows" });
  const flags = el("ul", { class: "doubts" });
  const id = `figures-${site.epc}`;
  const element = el("div", { class: "figures", id, hidden: true }, rows, flags);
  const toggle = () => {
    element.hidden = !element.hidden;
    button.setAttribute("aria-expanded", String(!element.hidden));
  };
  const button = el(
    "button",
    { type: "button", class: "quiet fold", "aria-expanded": "false", "aria-controls": id, on: { click: toggle } },
    text.say("now.details"),
  );
  const values = new Map<PlainKey, HTMLElement>();
  let flagged = "";
  return {
    button,
    element,
    draw(supplyLowV) {
      if (element.hidden) return;
      const reading = site.latest?.reading ?? null;
      for (const [key, value] of [...ofReading(reading, site, supplyLowV, text), ...ofTag(site, text)]) {
        let place = values.get(key);
        if (!place) {
          values.set(key, (place = el("dd")));
          rows.append(el("div", {}, el("dt", {}, text.say(key)), place));
        }
        setText(place, value);
      }
      const quality = reading?.quality ?? [];
      if (quality.join() === flagged) return;
      flagged = quality.join();
      flags.replaceChildren(...byGravity(quality).map((id) => doubt(id, text)));
    },
  };
}

function ofReading(reading: ReadingRecord | null, site: Site, supplyLowV: number, text: Text): Row[] {
  if (!reading) return [];
  return [
    ["detail.pressure", pressure(reading, text)],
    ["detail.absolute", quantity(reading.absolute_hpa, 2, "hPa", text)],
    ["detail.ambient", ambient(reading, text)],
    ["now.temperature", quantity(reading.temperature_cel, 2, "°C", text)],
    ["detail.supply", supply(reading, site, supplyLowV, text)],
    ["detail.uptime", uptime(reading, text)],
    ["detail.sequence", `${reading.sequence}, ${reading.slot.toUpperCase()}`],
    ["detail.calibration", calibration(reading, text)],
    ["detail.reuse", reading.counters === null ? "–" : String(reading.counters.reuse_cycles)],
    ["detail.signal", quantity(reading.rssi_dbm, 1, "dBm", text)],
  ];
}

function ofTag({ epc, presence, unread }: Site, text: Text): Row[] {
  const counts = presence
    ? [presence.seen, presence.failed, presence.missed].map((count) => (count === null ? "–" : text.number(count, 0)))
    : ["–"];
  return [
    ["detail.heard", counts.join(", ")],
    ["detail.unread", unread ? `${text.reason(unread.reason)} [${unread.reason}]` : "–"],
    ["detail.epc", epc],
  ];
}

function quantity(value: number | null, digits: number, unit: string, text: Text): string {
  return value === null ? "–" : `${text.number(value, digits)} ${unit}`;
}

/** With two decimals, as the command line prints it. */
function pressure({ gauge_mmhg, gauge_hpa, expanded_uncertainty_mmhg }: ReadingRecord, text: Text): string {
  if (gauge_mmhg === null) return "–";
  const uncertainty = expanded_uncertainty_mmhg === null ? "?" : text.number(expanded_uncertainty_mmhg, 2);
  return `${text.number(gauge_mmhg, 2)} ± ${uncertainty} mmHg, ${quantity(gauge_hpa, 2, "hPa", text)}`;
}

function ambient({ ambient_hpa, ambient_source }: ReadingRecord, text: Text): string {
  const source = text.say(`detail.ambient.${ambient_source}` as "detail.ambient.none");
  return ambient_hpa === null ? source : `${text.number(ambient_hpa, 2)} hPa, ${source}`;
}

function supply(reading: ReadingRecord, { heard }: Site, supplyLowV: number, text: Text): string {
  const { supplyV, marginV, share } = powerOf(reading, supplyLowV, heard.share);
  const parts = [quantity(supplyV, 2, "V", text)];
  if (marginV !== null) {
    parts.push(text.say(marginV < 0 ? "power.under" : "power.margin", { margin: text.number(Math.abs(marginV), 2) }));
  }
  if (share !== null) parts.push(text.say("now.heard", { share: text.number(share * 100, 0) }));
  return parts.join("; ");
}

function uptime({ uptime_s, uptime_saturated }: ReadingRecord, text: Text): string {
  const time = text.duration(uptime_s);
  return uptime_saturated ? text.say("detail.uptime.least", { time }) : time;
}

function calibration({ calibration: block }: ReadingRecord, text: Text): string {
  if (block === null) return text.say("detail.calibration.none");
  return text.say("detail.calibration.dated", { date: block.date ?? "–", valid: block.valid_to ?? "–" });
}
