/** The one specification: every bit of the tag's memory and of the link stands here once. */
import type { Specification } from "../model/vocabulary.ts";
import { banks, epc, passwords, tid, xpc } from "./banks.ts";
import { burst } from "./burst.ts";
import { calibration } from "./calibration.ts";
import { counters } from "./counters.ts";
import { frame } from "./frame.ts";
import { header } from "./header.ts";
import { linkRecords, messages } from "./link.ts";
import { LAYOUT } from "./seal.ts";

export const specification: Specification = {
  name: "plyframe",
  layout: LAYOUT,
  records: [header, frame, counters, calibration, burst, passwords, epc, xpc, tid, ...linkRecords],
  banks,
  messages,
};
