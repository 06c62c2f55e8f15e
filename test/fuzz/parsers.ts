/** Every public parser. */
import type { FuzzParser } from "./fuzz-parser.ts";
import { csv, jsonLines, linkCapture, llrpRecording, pcapng } from "./parsers/captures.ts";
import { budget, match, session, touchstone, turnOn } from "./parsers/documents.ts";
import { link, llrp, messages } from "./parsers/streams.ts";

const llrpCapture: FuzzParser = { name: "llrp-capture", seeds: llrp.seeds, run: llrpRecording };

export const parsers: readonly FuzzParser[] = [
  link,
  messages,
  llrp,
  llrpCapture,
  linkCapture,
  pcapng,
  jsonLines,
  csv,
  touchstone,
  turnOn,
  session,
  budget,
  match,
];
