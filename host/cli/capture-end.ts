/** Where an earlier session left a capture, so that another can go on in it. */
import { appendFileSync, closeSync, fstatSync, openSync, readSync, statSync, truncateSync } from "node:fs";
import { layout, type Reason } from "../../protocol/index.ts";
import { quoted } from "../capture/item.ts";
import { LineRules } from "../capture/line-rules.ts";
import { LINE_LIMIT, type Line } from "../capture/lines.ts";
import { CommandError, EXIT, systemSentence } from "./exit.ts";
import { note } from "./terminal.ts";

const FOREIGN: readonly Reason[] = ["layout-unknown", "version-unknown"];

export interface CaptureEnd {
  /** Bytes up to the end of the last whole record, its line end included if it has one. */
  readonly bytes: number;
  /** Text of a last line that was cut off in the middle; null when there is none. */
  readonly torn: string | null;
  /** Whether the last whole record lacks its line end. */
  readonly open: boolean;
}

/**
 * Looks, and changes nothing. A file that is not there, is empty, or is no regular file has nothing to go on from. Throws a
 * CommandError when the file is no capture in JSON Lines, or one that this program would not read on.
 */
export function captureEnd(name: string): CaptureEnd {
  const found = statSync(name, { throwIfNoEntry: false });
  if (!found?.isFile() || found.size === 0) return { bytes: 0, torn: null, open: false };
  const { head, tail, size } = endsOf(name);
  checkHeader(name, head);
  const begin = tail.lastIndexOf(10) + 1;
  if (begin === 0) throw refusal(name, `its last line has more than ${LINE_LIMIT} bytes`);
  const last = tail.subarray(begin).toString("utf8");
  // Of a record cut short no beginning is JSON.
  const whole = last === "" || isJson(last);
  return whole
    ? { bytes: size, torn: null, open: last !== "" }
    : { bytes: size - (tail.length - begin), torn: last, open: false };
}

/** Makes the end of a capture fit for a further record, and says what it took away. Throws as `captureEnd` does. */
export function mendCapture(name: string): void {
  const { bytes, torn, open } = captureEnd(name);
  let taken = 0;
  try {
    if (torn !== null) {
      taken = statSync(name).size - bytes;
      truncateSync(name, bytes);
    }
    if (open) appendFileSync(name, "\n");
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(name, error));
  }
  if (torn === null) return;
  note(`${name}: the last record was cut off in the middle; its ${taken} bytes were taken out (${quoted(torn)})`);
}

/** The first line and the last bytes of a file, as many as the longest line has. */
function endsOf(name: string): { readonly head: Line; readonly tail: Buffer; readonly size: number } {
  try {
    const file = openSync(name, "r");
    try {
      const { size } = fstatSync(file);
      const piece = (position: number) => {
        const bytes = Buffer.alloc(Math.min(LINE_LIMIT, size));
        return bytes.subarray(0, readSync(file, bytes, 0, bytes.length, position));
      };
      const start = piece(0);
      const bytes = start.subarray(0, start.indexOf(10) + 1);
      return { head: { number: 1, bytes, part: "whole" }, tail: piece(Math.max(0, size - LINE_LIMIT)), size };
    } finally {
      closeSync(file);
    }
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(name, error));
  }
}

/** Of another layout or version the reader's own sentence says which; any other file is somebody else's. */
function checkHeader(name: string, head: Line): void {
  const items = [...new LineRules(name, layout).take(head)];
  if (items.some((item) => "header" in item)) return;
  for (const item of items) {
    if ("reject" in item && FOREIGN.includes(item.reject.reason)) {
      throw new CommandError(EXIT.usage, item.reject.sentence);
    }
  }
  throw refusal(name, "it does not begin with a capture's header");
}

function refusal(name: string, why: string): CommandError {
  return new CommandError(EXIT.usage, `${name}: --append goes on in a capture in JSON Lines, and ${why}`);
}

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
