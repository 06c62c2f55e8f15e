import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { rawOf } from "../../../protocol/codec/record.ts";
import { type Kit, makeKit, scenarios, serveKit } from "../../../sim/index.ts";
import { duplexPair } from "../support/duplex-pair.ts";
import { messagesIn, requestBytes } from "../support/link-host.ts";

const scenario = scenarios["training-leg"]!;
const hello = requestBytes("hello", 1, { link_version: 1, max_outstanding: 4 });

beforeEach(() => {
  vi.useFakeTimers({ toFake: ["setInterval", "clearInterval", "performance"] });
});
afterEach(() => {
  vi.useRealTimers();
});

/** Lets `ms` of the false clock pass and the streams take their turns in between. */
async function pass(ms: number): Promise<void> {
  for (let done = 0; done < ms; done += 10) {
    await vi.advanceTimersByTimeAsync(10);
    await new Promise((resolve) => setImmediate(resolve));
  }
}

function listen(stream: NodeJS.ReadableStream): Uint8Array[] {
  const heard: Uint8Array[] = [];
  stream.on("data", (bytes: Uint8Array) => heard.push(bytes));
  return heard;
}

const ambientTimes = (heard: readonly Uint8Array[]) =>
  messagesIn(Buffer.concat(heard))
    .filter(({ message }) => message.id === "ambient_report")
    .map(({ content }) => rawOf(content, "kit_time"));

describe("serveKit", () => {
  it.each([1, 4])("lets kit time pass at speed %d", async (speed) => {
    const [ours, theirs] = duplexPair();
    const heard = listen(ours);
    void serveKit(makeKit(scenario), theirs, { speed });
    ours.write(hello);
    await pass(2500);
    const times = ambientTimes(heard);
    expect(times.length).toBe(Math.floor(2.5 * speed) + 1);
    for (let i = 1; i < times.length; i++) expect(times[i]! - times[i - 1]!).toBe(1_000_000);
  });

  it("lets kit time fall behind on a machine that cannot keep up, and does not catch up", async () => {
    const [, theirs] = duplexPair();
    let nowMs = 0;
    vi.spyOn(performance, "now").mockImplementation(() => nowMs);
    const reached: number[] = [];
    const slow: Kit = {
      receive: () => undefined,
      // Every look at the kit takes two seconds.
      advance: (toUs) => {
        reached.push(toUs);
        nowMs += 2000;
      },
      take: () => new Uint8Array(),
    };
    void serveKit(slow, theirs, { speed: 10 });
    await pass(50);
    // Four beats of 10 ms at tenfold speed are the most that is made up for.
    expect(reached.slice(1).map((toUs, i) => toUs - reached[i]!)).toEqual([400_000, 400_000, 400_000, 400_000]);
    vi.restoreAllMocks();
  });

  it("ends with the stream and leaves no timer behind", async () => {
    const [ours, theirs] = duplexPair();
    const heard = listen(ours);
    const served = serveKit(makeKit(scenario), theirs, { speed: 1 });
    ours.write(hello);
    await pass(50);
    const ended = new Promise((resolve) => ours.on("end", resolve));
    ours.end();
    await pass(50);
    await served;
    await ended;
    expect(ambientTimes(heard)).toHaveLength(1);
    expect(vi.getTimerCount()).toBe(0);
  });

  it("ends when the stream is destroyed, and passes on an error", async () => {
    const [, gone] = duplexPair();
    const served = serveKit(makeKit(scenario), gone, { speed: 1 });
    gone.destroy();
    await served;
    const [, broken] = duplexPair();
    const failed = serveKit(makeKit(scenario), broken, { speed: 1 });
    broken.destroy(new Error("the line was cut"));
    await expect(failed).rejects.toThrow("the line was cut");
    expect(vi.getTimerCount()).toBe(0);
  });

  it("stops kit time while the line takes nothing, and goes on from there", async () => {
    const [ours, theirs] = duplexPair(64);
    let kitTimeUs = 0;
    let saidUs = 0;
    // A kit with 10 bytes to say in every millisecond of its time, on a line that holds 64.
    const talker: Kit = {
      receive: () => undefined,
      advance: (toUs) => {
        kitTimeUs = toUs;
      },
      take: () => {
        const bytes = new Uint8Array(Math.floor((kitTimeUs - saidUs) / 100));
        saidUs = kitTimeUs;
        return bytes;
      },
    };
    void serveKit(talker, theirs, { speed: 1 });
    await pass(500);
    const stoppedUs = kitTimeUs;
    expect(stoppedUs).toBeLessThan(100_000);
    await pass(500);
    expect(kitTimeUs).toBe(stoppedUs);
    let bytes = 0;
    ours.on("data", (chunk: Uint8Array) => (bytes += chunk.length));
    await pass(500);
    expect(kitTimeUs).toBeGreaterThan(stoppedUs + 300_000);
    expect(kitTimeUs).toBeLessThan(stoppedUs + 510_000);
    expect(bytes).toBeGreaterThan(1000);
  });
});
