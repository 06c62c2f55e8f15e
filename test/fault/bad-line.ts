/** A kit and a reader with a bad line between them, in simulated time; what the kit said is kept to judge what came out. */

import type { Duplex } from "node:stream";
import type { Clock } from "../../host/reader/clock.ts";
import { LinkReader } from "../../host/reader/link-reader.ts";
import { tagReport } from "../../host/reader/link-report.ts";
import { reopen } from "../../host/reader/reopen.ts";
import { isFault } from "../../protocol/codec/encode.ts";
import { layout } from "../../protocol/index.ts";
import { Deframer } from "../../protocol/link/framing.ts";
import { decodeMessage } from "../../protocol/link/message.ts";
import { makeKit, scenarios } from "../../sim/index.ts";
import { Random } from "../../sim/random.ts";
import { duplexPair } from "../sim/support/duplex-pair.ts";

/** Chances for every piece of bytes on the line, or for every step of time. */
export interface Badness {
  readonly drop: number;
  readonly duplicate: number;
  readonly corrupt: number;
  readonly delay: number;
  readonly disconnect: number;
  readonly reboot: number;
}

export interface Outcome {
  readonly said: number;
  readonly taken: number;
  /** Reports that the kit never made as they came out: invented, or of another tag. */
  readonly invented: number;
  readonly faults: number;
  readonly reconnections: number;
  readonly heapMb: number;
}

const STEP_US = 10_000;

/** A clock that is moved by hand. */
class SteppedClock implements Clock {
  nowMs = 0;
  #timers: { readonly atMs: number; readonly then: () => void }[] = [];

  after(delayMs: number, then: () => void): () => void {
    const timer = { atMs: this.nowMs + delayMs, then };
    this.#timers.push(timer);
    return () => {
      this.#timers = this.#timers.filter((other) => other !== timer);
    };
  }

  to(nowMs: number): void {
    this.nowMs = nowMs;
    const due = this.#timers.filter(({ atMs }) => atMs <= nowMs);
    this.#timers = this.#timers.filter(({ atMs }) => atMs > nowMs);
    for (const { then } of due) then();
  }
}

export async function runBadLine(seconds: number, seed: number, badness: Badness): Promise<Outcome> {
  const random = new Random(seed, "line");
  const clock = new SteppedClock();
  const truth = new Set<string>();
  let [said, taken, invented, faults, reconnections, stepUs, bootUs] = [0, 0, 0, 0, 0, 0, 0];
  let kit = makeKit(scenarios["training-leg"]!);
  const line: { far: Duplex | null } = { far: null };
  let listening = new Deframer();
  const late: { readonly atUs: number; readonly bytes: Uint8Array }[] = [];
  const chance = (share: number) => random.fraction() < share;

  /** A piece of bytes as the line leaves it. */
  const spoilt = (bytes: Uint8Array): Uint8Array[] => {
    if (chance(badness.drop)) {
      const from = Math.floor(random.fraction() * bytes.length);
      const length = 1 + Math.floor(random.fraction() * 20);
      return [bytes.slice(0, from), bytes.slice(from + length)];
    }
    if (chance(badness.corrupt)) {
      const copy = bytes.slice();
      copy[Math.floor(random.fraction() * copy.length)]! ^= 1 << Math.floor(random.fraction() * 8);
      return [copy];
    }
    const cut = Math.floor(random.fraction() * bytes.length);
    const halves = [bytes.slice(0, cut), bytes.slice(cut)];
    return chance(badness.duplicate) ? [...halves, bytes] : halves;
  };
  const key = (report: { readonly epc: string; readonly kitTimeUs: number; readonly words: readonly number[] }) =>
    `${report.epc} ${report.kitTimeUs} ${report.words.join()}`;
  const open = async () => {
    const [near, other] = duplexPair();
    line.far = other;
    other.on("data", (bytes: Uint8Array) => {
      for (const piece of spoilt(bytes)) kit.receive(piece);
    });
    other.on("error", () => undefined);
    const reader = new LinkReader({ name: "sim", stream: near, listenOnly: false }, { clock });
    reader.on("report", (report) => {
      if (report.kind !== "read") return;
      taken++;
      if (!truth.has(key(report))) invented++;
    });
    reader.on("closed", () => {
      faults += reader.counts.faults;
      line.far = null;
      if (stepUs < seconds * 1e6) void connect();
    });
    try {
      await reader.open();
      await reader.startInventory({ periodMs: 100, read: { bank: "user", word: 0, count: 32 } });
    } catch (error) {
      await reader.close();
      throw error;
    }
    return reader;
  };
  let current: LinkReader | null = null;
  let connecting = false;
  const connect = async () => {
    if (connecting) return;
    connecting = true;
    current = await reopen(open, clock, Number.POSITIVE_INFINITY, () => stepUs >= seconds * 1e6);
    connecting = false;
    if (current) reconnections++;
  };
  void connect();
  for (stepUs = 0; stepUs < seconds * 1e6; stepUs += STEP_US) {
    clock.to(stepUs / 1000);
    if (chance(badness.reboot)) {
      kit = makeKit(scenarios["training-leg"]!);
      listening = new Deframer();
      bootUs = stepUs;
    }
    if (line.far && chance(badness.disconnect)) line.far.end();
    kit.advance(stepUs - bootUs);
    const bytes = kit.take();
    listening.push(
      bytes,
      (body) => {
        const message = decodeMessage(layout, body, "to-host");
        if (isFault(message) || message.message.id !== "tag_report") return;
        said++;
        truth.add(key(tagReport(message)));
      },
      () => undefined,
    );
    late.push(
      ...spoilt(bytes).map((piece) => ({ atUs: stepUs + (chance(badness.delay) ? 200_000 : 0), bytes: piece })),
    );
    // Delayed bytes hold up those behind them: a line keeps their order.
    while (late.length > 0 && late[0]!.atUs <= stepUs) {
      const { bytes: piece } = late.shift()!;
      if (line.far?.writable && piece.length > 0) line.far.write(piece);
    }
    await new Promise((resolve) => setImmediate(resolve));
  }
  faults += (current as LinkReader | null)?.counts.faults ?? 0;
  // Nobody moves the clock any more, so nothing waits for the answer to this.
  void (current as LinkReader | null)?.close();
  return { said, taken, invented, faults, reconnections, heapMb: process.memoryUsage().heapUsed / 1e6 };
}
