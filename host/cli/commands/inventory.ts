/** `plyframe inventory`: which tags are there, and how well they are seen. */
import { isFault, layout, parseEpc, recordOf } from "../../../protocol/index.ts";
import type { ChannelPlan } from "../../reader/reader.ts";
import type { AmbientReport, TagReport } from "../../reader/report.ts";
import { CommandError, EXIT } from "../exit.ts";
import { numberOption } from "../number-option.ts";
import { checkPower } from "../power-range.ts";
import { type Presence, PresenceTable } from "../presence.ts";
import { type PlaceOptions, paceOf, readerPlace } from "../reader-place.ts";
import { stopSignals } from "../stop-signals.ts";
import { columns, note, outputGone, say, sayJson } from "../terminal.ts";
import { withReader } from "../with-reader.ts";

export interface InventoryOptions extends PlaceOptions {
  readonly for: string;
  readonly period: string;
  readonly power?: string;
  readonly plan?: ChannelPlan;
  readonly json?: boolean;
}

const LOOK_MS = 20;

export async function inventory(options: InventoryOptions): Promise<void> {
  const periodMs = numberOption("--period", options.period, 10, 60_000);
  const forS = numberOption("--for", options.for, 0.1, 1e7);
  const powerDbm = options.power === undefined ? null : numberOption("--power", options.power, -10, 40);
  const place = readerPlace(options);
  const table = new PresenceTable(paceOf({ ...place, periodMs }));
  let [firstUs, nowUs, lastMs]: [number | null, number, number] = [null, 0, performance.now()];
  let timeIsUp = false;
  const lost = await withReader(
    place,
    async (reader, info) => {
      checkPower(powerDbm, info);
      if (powerDbm !== null) await reader.setPower(powerDbm);
      if (options.plan) await reader.setChannelPlan(options.plan);
      let gone: string | null | undefined;
      reader.on("closed", (reason) => {
        gone = reason;
      });
      // Before the rounds begin: whoever ends them right away is to end them in order too.
      const stop = stopSignals();
      try {
        await reader.startInventory({ periodMs });
        await until(() => {
          // A reader that sees nothing says nothing: its time goes on by the host's clock.
          const sinceLastUs = (performance.now() - lastMs) * 1000;
          timeIsUp = nowUs - (firstUs ?? nowUs) + sinceLastUs >= forS * 1e6;
          return gone !== undefined || outputGone() || timeIsUp || stop.signal.aborted;
        });
      } finally {
        stop.release();
      }
      return gone ?? null;
    },
    (reader) =>
      reader.on("report", (report: TagReport | AmbientReport) => {
        firstUs ??= report.kitTimeUs;
        nowUs = Math.max(nowUs, report.kitTimeUs);
        lastMs = performance.now();
        if (report.kind === "read") table.add(report);
      }),
  );
  if (timeIsUp) nowUs = Math.max(nowUs, (firstUs ??= nowUs) + forS * 1e6);
  const tags = table.at(nowUs);
  if (options.json) for (const tag of tags) sayJson(jsonOf(tag));
  else for (const line of lines(tags)) say(line);
  note(`${tags.length} tags in ${((nowUs - (firstUs ?? nowUs)) / 1e6).toFixed(1)} s of kit time.`);
  if (lost !== null) {
    throw new CommandError(EXIT.device, lost);
  }
}

function lines(tags: readonly Presence[]): string[] {
  if (tags.length === 0) return [];
  const head = ["tag", "PC", "XPC", "sensor", "RSSI", "rate", "age", "seen", "missed"];
  const rows = tags.map((tag) => [
    uriOf(tag.epc) ?? tag.epc,
    hex(tag.pc),
    hex(tag.xpc),
    sensorBits(tag.xpc).join(" ") || "-",
    tag.rssiDbm === null ? "-" : `${tag.rssiDbm.toFixed(1)} dBm`,
    tag.perSecond === null ? "-" : `${tag.perSecond.toFixed(1)}/s`,
    `${tag.ageS.toFixed(1)} s`,
    `${tag.seen}`,
    tag.missed === null ? "-" : `${tag.missed}`,
  ]);
  return columns([head, ...rows], [4, 5, 6, 7, 8]);
}

function jsonOf(tag: Presence): object {
  return {
    record: "tag",
    epc: tag.epc,
    uri: uriOf(tag.epc),
    pc: hex(tag.pc),
    xpc: hex(tag.xpc),
    sensor: sensorBits(tag.xpc),
    rssi_dbm: tag.rssiDbm === null ? null : rounded(tag.rssiDbm, 2),
    rate_per_s: tag.perSecond === null ? null : rounded(tag.perSecond, 3),
    age_s: tag.ageS,
    seen: tag.seen,
    missed: tag.missed,
  };
}

/** Pure identity; null for an EPC of a scheme that is not known. */
function uriOf(epc: string): string | null {
  const identity = parseEpc(epc);
  return isFault(identity) ? null : identity.pureUri;
}

/** Names of the flags set in XPC_W1. */
function sensorBits(xpc: number): string[] {
  const field = recordOf(layout, "xpc").fields.find(({ id }) => id === "xpc_w1")!;
  return (field.flags ?? []).filter(({ bit }) => (xpc >> bit) & 1).map(({ id }) => id);
}

/** To so many decimals: what lies behind them is the arithmetic's, not the reader's. */
function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

function hex(word: number): string {
  return word.toString(16).padStart(4, "0");
}

/** Resolves when it is over. */
function until(over: () => boolean): Promise<void> {
  return new Promise((resolve) => {
    const timer = setInterval(() => {
      if (!over()) return;
      clearInterval(timer);
      resolve();
    }, LOOK_MS);
  });
}
