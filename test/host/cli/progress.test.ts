/** The progress line, by a clock of the test's own. */
import { describe, expect, it } from "vitest";
import { Progress } from "../../../host/cli/progress.ts";

function shown(total: number | null, steps: readonly (readonly [nowMs: number, bytes: number])[]): string[] {
  let nowMs = 1000;
  const lines: string[] = [];
  const progress = new Progress(total, {
    write: (text) => lines.push(text.replace("\r\u001b[2K", "|")),
    nowMs: () => nowMs,
  });
  for (const [at, bytes] of steps) {
    nowMs = at;
    progress.bytes(bytes);
  }
  progress.end();
  progress.end();
  return lines;
}

describe("progress", () => {
  it("has percent, rate and time left", () => {
    // 30 MB of 120 MB in 2 s: 15 MB/s, 6 s left; 60 MB in 12 s: 5 MB/s, 12 s left.
    expect(
      shown(120e6, [
        [3000, 30e6],
        [13_000, 60e6],
      ]),
    ).toEqual(["|25 %, 15.0 MB/s, 6 s left", "|50 %, 5.0 MB/s, 12 s left", "|"]);
  });

  it("has minutes and hours", () => {
    expect(shown(100e6, [[2000, 1e6]])[0]).toBe("|1 %, 1.0 MB/s, 1 min 39 s left");
    expect(shown(3601e6, [[2000, 1e6]])[0]).toBe("|0 %, 1.0 MB/s, 1 h 0 min left");
  });

  it("has the rate alone where the whole is not known, and no time left where nothing came yet", () => {
    expect(shown(null, [[2000, 1e6]])[0]).toBe("|1.0 MB/s");
    expect(shown(100, [[2000, 0]])[0]).toBe("|0 %, 0.0 MB/s");
  });

  it("is drawn five times a second at most, and is not taken away when it was not there", () => {
    expect(
      shown(100, [
        [1050, 1],
        [1199, 2],
      ]),
    ).toEqual([]);
    expect(
      shown(100e6, [
        [1200, 1e6],
        [1399, 2e6],
        [1400, 3e6],
      ]).length,
    ).toBe(3);
  });

  it("is nowhere without a terminal", () => {
    const progress = new Progress(100, null);
    progress.bytes(50);
    progress.end();
  });
});
