/** Real time for a kit: the only place in the simulation where a clock runs. */
import type { Duplex } from "node:stream";
import type { Kit } from "./kit.ts";

/** The kit is moved along this often. */
const BEAT_MS = 10;

/** A machine that is too busy makes kit time slower: catching up would keep it from ever answering. */
const LONGEST_BEAT_MS = 4 * BEAT_MS;

/**
 * Serves a kit on a byte stream until the stream ends or is closed, then resolves; rejects with the stream's error.
 * `speed` seconds of kit time pass in a second, fewer on a machine that cannot keep up. While the line takes no more bytes, kit time stands still, so that a slow
 * host is never buried.
 */
export function serveKit(kit: Kit, stream: Duplex, { speed }: { readonly speed: number }): Promise<void> {
  return new Promise((resolve, reject) => {
    let kitTimeUs = 0;
    let lastMs = performance.now();
    let blocked = false;

    const beat = () => {
      const nowMs = performance.now();
      if (!blocked) kitTimeUs += Math.min(nowMs - lastMs, LONGEST_BEAT_MS) * 1000 * speed;
      lastMs = nowMs;
      kit.advance(kitTimeUs);
      flush();
    };
    const flush = () => {
      if (blocked) return;
      const bytes = kit.take();
      if (bytes.length > 0) blocked = !stream.write(bytes);
    };
    const timer = setInterval(beat, BEAT_MS);
    const stop = () => clearInterval(timer);

    stream.on("data", (bytes: Uint8Array) => {
      beat();
      kit.receive(bytes);
      // Answers that are due at once need not wait for the next beat.
      kit.advance(kitTimeUs);
      flush();
    });
    stream.on("drain", () => {
      beat();
      blocked = false;
      flush();
    });
    stream.on("end", () => {
      stop();
      stream.end();
      resolve();
    });
    stream.on("close", () => {
      stop();
      resolve();
    });
    stream.on("error", (error) => {
      stop();
      reject(error);
    });
  });
}
