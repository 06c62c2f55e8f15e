/** A port that cannot be opened or was lost, in one sentence a person can act on. */
export class PortError extends Error {
  override readonly name = "PortError";
}

/** What the operating system, the socket layer or the serial binding says, and what that means. */
const meanings: readonly (readonly [pattern: RegExp, says: string])[] = [
  [/ENOENT|no such file/i, "there is no such device or file"],
  [
    /EACCES|EPERM|permission denied|access denied/i,
    "permission denied; serial devices often belong to a group of their own",
  ],
  [/EBUSY|cannot lock port|resource (temporarily unavailable|busy)/i, "another program is using it"],
  [/ECONNREFUSED/, "nothing listens there"],
  [/ENOTFOUND|EAI_AGAIN/, "there is no such host"],
  [/ECONNRESET|EPIPE/, "the other end closed the connection"],
  [/EHOSTUNREACH|ENETUNREACH|ETIMEDOUT/, "the host does not answer"],
  [/EISDIR/, "it is a directory"],
  [/ENOTTY|inappropriate ioctl|not a (tty|serial port)/i, "it is not a serial device"],
  [/ENXIO|ENODEV|\bEIO\b|EBADF|bad file descriptor|input\/output error|disconnected/i, "the device vanished"],
];

/** `cannot open X: …` or `lost X: …` for whatever was thrown; a PortError is passed on as it is. */
export function portError(action: "cannot open" | "lost", name: string, thrown: unknown): PortError {
  if (thrown instanceof PortError) return thrown;
  const { code = "", message = String(thrown) } = (thrown ?? {}) as { code?: unknown; message?: string };
  const text = `${code} ${message}`;
  const says = meanings.find(([pattern]) => pattern.test(text))?.[1] ?? message.split("\n")[0]!.trim();
  return new PortError(`${action} ${name}: ${says}`);
}
