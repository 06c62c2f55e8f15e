/** What must hold of a kit and a reader on a bad line, and the badness it is tried with. */
import type { BadLineResult } from "./bad-line.ts";
import type { Badness } from "./spoiling.ts";

export const BAD: Badness = {
  drop: 0.02,
  duplicate: 0.01,
  corrupt: 0.02,
  delay: 0.02,
  disconnect: 0.0005,
  reboot: 0.0003,
};

/** Every equation that does not hold, in words; none when all is well. */
export function faultsOf(found: BadLineResult): string[] {
  const { ledger } = found;
  const lost = Object.values(ledger.lost).reduce((sum, each) => sum + each, 0);
  const equal: [string, number, number][] = [
    ["frames said = kept + lost by a known cause", ledger.frames, ledger.kept + lost],
    ["frames lost without a cause = 0", ledger.unexplained, 0],
    ["frames still open = 0", ledger.open, 0],
    ["reports given out = reports that came whole", found.reportsTaken, found.reportsDue],
    ["reports invented, of another tag or out of order = 0", found.wrongReports, 0],
    ["calibrations of another tag = 0", found.wrongFetched, 0],
    ["readings with another tag's sensor = 0", found.wrongReadings, 0],
    ["tag reports = readings + all that is counted beside", found.tagReports, found.tagReportsCounted],
    ["bytes discarded = bytes of no whole frame", found.bytesDiscarded, found.bytesSpoilt],
  ];
  return equal.filter(([, a, b]) => a !== b).map(([what, a, b]) => `${what}: ${a} and ${b}`);
}
