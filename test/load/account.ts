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
  /** Tag reports of rounds, as `saidIn` has them. */
  readonly reports: readonly string[];
  /** EPC and kit time of every read, those asked for too. */
  readonly times: ReadonlySet<string>;
  /** Lines that are no whole record. */
  readonly torn: number;
}

/** What a capture holds. */
export function keptIn(file: string): Kept {
  const reports: string[] = [];
  const times = new Set<string>();
  let torn = 0;
  for (const line of readFileSync(file, "utf8").split("\n")) {
    if (line === "") continue;
    const record = recordOf(line);
    if (record === null) torn++;
    else if (record.record === "read") {
      times.add(`${record.epc} ${record.kit_time_us}`);
      if (record.word === 0 && record.words !== "") {
        reports.push(key(`${record.epc}`, record.kit_time_us as number, `${record.words}`));
      }
    }
  }
  return { reports, times, torn };
}

function recordOf(line: string): Record<string, unknown> | null {
  try {
    return JSON.parse(line) as Record<string, unknown>;
  } catch {
    return null;
  }
}

/** EPC and kit time of every reading shown with --json, in order; a last line that was cut off is none. */
export function shownIn(stdout: string): string[] {
  return stdout
    .split("\n")
    .slice(0, -1)
    .map((line) => JSON.parse(line) as { epc: string; kit_time_us: number })
    .map(({ epc, kit_time_us }) => `${epc} ${kit_time_us}`);
}
