/** Exit statuses of the command line, and the error that carries one. */
export const EXIT = {
  /** All good. */
  good: 0,
  /** The work was done, but some records were rejected; each was named. */
  rejected: 1,
  /** Wrong use: an option or argument that makes no sense. */
  usage: 2,
  /** A device or file that does not exist, cannot be used or vanished. */
  device: 3,
  /** The program itself failed: a defect, whatever it was given. */
  defect: 4,
} as const;

export type ExitStatus = (typeof EXIT)[keyof typeof EXIT];

/** One clear sentence for the person and the status for the shell. */
export class CommandError extends Error {
  readonly status: ExitStatus;
  constructor(status: ExitStatus, sentence: string) {
    super(sentence);
    this.name = "CommandError";
    this.status = status;
  }
}

/** Sentence for a file or device error of the operating system. */
export function systemSentence(name: string, error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === "ENOENT") return `${name}: does not exist`;
  if (code === "EACCES" || code === "EPERM") return `${name}: permission denied`;
  if (code === "EISDIR") return `${name}: is a folder, not a file`;
  if (code === "EADDRINUSE") return `${name}: another program listens there already`;
  if (code === "ENOSPC") return `${name}: no space left on the device`;
  return `${name}: ${error instanceof Error ? error.message : String(error)}`;
}
