/** `plyframe read`: live readings from a reader kit. */

import type { ChannelPlan } from "../../reader/reader.ts";
import type { AmbientSource } from "../../readings/ambient.ts";
import { readingJson } from "../../readings/reading-json.ts";
import { ambientSource, NO_BAROMETER } from "../ambient-option.ts";
import { Board } from "../board.ts";
import { CommandError, EXIT } from "../exit.ts";
import { introduction } from "../introduction.ts";
import { numberOption } from "../number-option.ts";
import { presenceLine } from "../presence.ts";
import { type PlaceOptions, readerPlace } from "../reader-place.ts";
import { outcomeLine } from "../reading-text.ts";
import { runSession, type SessionCapture } from "../session.ts";
import { siteMap } from "../sites.ts";
import { countsSentence, Tally } from "../tally.ts";
import { note, say, sayJson } from "../terminal.ts";

export interface ReadOptions extends PlaceOptions {
  readonly for?: string;
  readonly period: string;
  readonly retry: string;
  readonly power?: string;
  readonly plan?: ChannelPlan;
  readonly ambient: string;
  readonly site: readonly string[];
  readonly capture?: string;
  readonly append?: boolean;
  readonly linkLog?: string;
  readonly overwrite?: boolean;
  readonly json?: boolean;
}

export async function read(options: ReadOptions): Promise<void> {
  const sites = siteMap(options.site);
  const place = readerPlace(options);
  const ambient = ambientOf(options);
  const board = process.stdout.isTTY === true && !options.json ? new Board(sites) : null;
  const tally = new Tally();
  const result = await runSession({
    ...place,
    periodMs: numberOption("--period", options.period, 10, 60_000),
    powerDbm: options.power === undefined ? null : numberOption("--power", options.power, -10, 40),
    plan: options.plan ?? null,
    ambient,
    capture: captureOf(options),
    linkLog: options.linkLog ?? null,
    overwrite: options.overwrite === true,
    forS: options.for === undefined ? null : numberOption("--for", options.for, 0.1, 1e7),
    retryS: numberOption("--retry", options.retry, 0, 1e6),
    onReady: () => {
      if (!options.json) for (const line of introduction()) note(line);
    },
    onTime: (kitTimeUs) => board?.tick(kitTimeUs),
    onOutcome: (outcome) => {
      tally.add(outcome);
      if (options.json) {
        if (outcome.kind !== "unread") sayJson(readingJson(outcome));
      } else if (!board) say(outcomeLine(outcome, sites));
      else if (outcome.kind === "reading") board.add(outcome);
    },
  });
  if (!options.json) {
    for (const line of tally.lines(sites)) note(line);
    for (const tag of result.presence) note(presenceLine(tag, sites));
  }
  note(countsSentence(result.counts));
  if (result.faults > 0)
    note(`${result.faults} damaged stretches on the line, ${result.discardedBytes} bytes of them discarded`);
  if (result.unkept > 0)
    note(
      `${result.unkept} reports came over connections that failed before the readings could go on; they are not kept`,
    );
  if (options.capture !== undefined) note(`capture: ${options.capture}`);
  if (result.lost !== null) {
    note(`plyframe: ${result.lost}`);
    process.exitCode = EXIT.device;
  }
}

function captureOf({ capture, append, overwrite }: ReadOptions): SessionCapture | null {
  if (append && (capture === undefined || overwrite)) {
    throw new CommandError(
      EXIT.usage,
      "--append goes on in the file that --capture names; --overwrite would replace it",
    );
  }
  return capture === undefined ? null : { file: capture, append: append === true };
}

function ambientOf({ ambient, llrp }: ReadOptions): AmbientSource {
  const source = ambientSource(ambient);
  if (llrp === undefined || source.kind !== "kit_barometer") return source;
  note(NO_BAROMETER);
  return { kind: "none" };
}
