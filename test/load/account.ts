/** What was said, shown and kept of a session, and how the three compare. */
import { existsSync, readFileSync } from "node:fs";
import { tagReport } from "../../host/reader/link-report.ts";
import { Deframer, decodeMessage, isFault, layout } from "../../protocol/index.ts";

const hex = (words: ArrayLike<number>) => Array.from(words, (word) => word.toString(16).padStart(4, "0")).join("");
const key = (epc: string, kitTimeUs: number, words: string) => `${epc} ${kitTimeUs} ${words}`;

/** Tag reports with words in link bytes, each as one text, in order; answers to requests are not among them. */
export function saidIn(file: string): string[] {
  const said: string[] = [];
  const deframer = new Deframer();
  const take = (body: Uint8Array) => {
    const message = decodeMessage(layout, body, "to-host");
    if (isFault(message) || message.message.id !== "tag_report") return;
    const { epc, kitTimeUs, words } = tagReport(message);
    if (words.length > 0) said.push(key(epc, kitTimeUs, hex(words)));
  };
  if (existsSync(file)) deframer.push(readFileSync(file), take, () => undefined);
  return said;
}

export interface Kept {
  /** Tag reports of rounds, as `saidIn` has them; a list for each header. */
  readonly sessions: readonly (readonly string[])[];
  /** EPC and kit time of every read, those asked for too. */
  readonly times: ReadonlySet<string>;
  /** Lines that are no whole record. */
  readonly torn: number;
}

/** What a capture holds. */
export function keptIn(file: string): Kept {
  const sessions: string[][] = [];
  const times = new Set<string>();
  let torn = 0;
  for (const line of readFileSync(file, "utf8").split("\n")) {
    if (line === "") continue;
    const record = recordOf(line);
    if (record === null) torn++;
    else if (record.record === "capture") sessions.push([]);
    else if (record.record === "read") {
      times.add(`${record.epc} ${record.kit_time_us}`);
      if (record.word === 0 && record.words !== "") {
        sessions.at(-1)!.push(key(`${record.epc}`, record.kit_time_us as number, `${record.words}`));
      }
    }
  }
  return { sessions, times, torn };
}

function recordOf(line: string): Record<string, unknown> | null {
  try {
    return JSON.parse(line) as Record<string, unknown>;
  } catch {
    return null;
  }
}

export interface Comparison {
  /** Reports kept that were not said in this form, stand there twice, or out of their order. */
  readonly wrong: number;
  /** Reports said between two that one session kept, or before the first of all, and not kept. */
  readonly missing: number;
  /** Reports said between the last that one session kept and the first of the next. */
  readonly unread: number;
}

/** Holds what sessions kept against what was said. */
export function compare(sessions: Kept["sessions"], said: readonly string[]): Comparison {
  const places = new Map<string, number[]>();
  said.forEach((one, place) => {
    places.set(one, [...(places.get(one) ?? []), place]);
  });
  let [wrong, missing, unread, next] = [0, 0, 0, 0];
  for (const kept of sessions) {
    let between = next > 0;
    for (const one of kept) {
      const place = places.get(one)?.find((each) => each >= next);
      if (place === undefined) {
        wrong++;
        continue;
      }
      if (between) unread += place - next;
      else missing += place - next;
      between = false;
      next = place + 1;
    }
  }
  return { wrong, missing, unread };
}

/** EPC and kit time of every reading shown with --json, in order; a last line that was cut off is none. */
export function shownIn(stdout: string): string[] {
  return stdout
    .split("\n")
    .slice(0, -1)
    .map((line) => JSON.parse(line) as { epc: string; kit_time_us: number })
    .map(({ epc, kit_time_us }) => `${epc} ${kit_time_us}`);
}
