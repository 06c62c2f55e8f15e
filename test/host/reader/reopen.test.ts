/** How a lost reader is tried again: the waits, their end, and what is told of them. */
import { describe, expect, it } from "vitest";
import { Patience, type ReopenOptions, reopen, type Try } from "../../../host/reader/reopen.ts";
import { ManualClock } from "../../support/manual-clock.ts";

/** Waits until patience is at an end. */
function waits(forMs: number): number[] {
  const patience = new Patience(forMs);
  const all: number[] = [];
  for (let waitMs = patience.next(); waitMs !== null; waitMs = patience.next()) all.push(waitMs);
  return all;
}

class Away extends Error {}

function bench(forMs: number, open: (attempt: number) => Promise<string>) {
  const clock = new ManualClock();
  const controller = new AbortController();
  const tries: Try[] = [];
  const opened: number[] = [];
  const options: ReopenOptions = {
    clock,
    patience: new Patience(forMs),
    stop: controller.signal,
    sentenceOf: (error) => (error instanceof Away ? error.message : null),
    onTry: (next) => tries.push(next),
  };
  const state: { value?: string | null; error?: unknown } = {};
  const again = () => {
    opened.push(clock.nowMs);
    return open(opened.length);
  };
  reopen(again, options).then(
    (value) => (state.value = value),
    (error) => (state.error = error),
  );
  return { clock, stop: () => controller.abort(), tries, opened, state };
}

const away = async (attempt: number): Promise<string> => {
  throw new Away(`away ${attempt}`);
};

describe("patience", () => {
  it("waits twice as long each time, five seconds at most, and so long in all and no longer", () => {
    expect(waits(20_000)).toEqual([250, 500, 1000, 2000, 4000, 5000, 5000, 2250]);
    expect(waits(600)).toEqual([250, 350]);
    expect(waits(0)).toEqual([]);
  });
});

describe("a reader that was lost", () => {
  it("is tried after each wait, and told why the try before failed", async () => {
    const { clock, tries, opened, state } = bench(60_000, async (attempt) => {
      if (attempt < 4) throw new Away(`away ${attempt}`);
      return "back";
    });
    await clock.advance(60_000);
    expect([opened, state]).toEqual([[250, 750, 1750, 3750], { value: "back" }]);
    expect(tries).toEqual([
      { attempt: 1, waitMs: 250, failed: null },
      { attempt: 2, waitMs: 500, failed: "away 1" },
      { attempt: 3, waitMs: 1000, failed: "away 2" },
      { attempt: 4, waitMs: 2000, failed: "away 3" },
    ]);
  });

  it("is given up when patience is at an end", async () => {
    const { clock, opened, state } = bench(600, away);
    await clock.advance(599);
    expect([opened, state]).toEqual([[250], {}]);
    await clock.advance(1);
    await new Promise(setImmediate);
    expect([opened, state]).toEqual([[250, 600], { value: null }]);
  });

  it("is not waited for any longer once that was stopped", async () => {
    const { clock, stop, opened, state } = bench(60_000, away);
    await clock.advance(1000);
    expect(opened).toEqual([250, 750]);
    stop();
    await new Promise(setImmediate);
    expect(state).toEqual({ value: null });
    await clock.advance(60_000);
    expect(opened).toEqual([250, 750]);
  });

  it("whose opening fails for a reason no try can mend is not tried again", async () => {
    const { clock, opened, state } = bench(60_000, async () => {
      throw new TypeError("a defect");
    });
    await clock.advance(60_000);
    expect(opened).toEqual([250]);
    expect(state.error).toBeInstanceOf(TypeError);
  });
});
