/** Ctrl-C and the request to end, as something that can be waited for. */

export interface StopSignals {
  readonly signal: AbortSignal;
  /** The signals do again what they did before. */
  release(): void;
}

/** From now on the first SIGINT or SIGTERM sets the signal; a second one ends the process as always. */
export function stopSignals(): StopSignals {
  const controller = new AbortController();
  const release = () => {
    process.removeListener("SIGINT", stop);
    process.removeListener("SIGTERM", stop);
  };
  const stop = () => {
    release();
    controller.abort();
  };
  process.on("SIGINT", stop);
  process.on("SIGTERM", stop);
  return { signal: controller.signal, release };
}
