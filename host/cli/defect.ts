/** What is told of an error that the program did not expect: that is a defect of its own, and no fault of its input. */
import { EXIT } from "./exit.ts";

/** One line that says so, with the error and where it came from. */
export function defectLine(error: unknown): string {
  const says = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  const place =
    error instanceof Error ? /\n\s+at .*?([^/\\()\s]+:\d+:\d+)\)?(?:\n|$)/.exec(error.stack ?? "")?.[1] : null;
  const line = `plyframe: a defect of plyframe itself, please report it: ${says}${place ? ` (${place})` : ""}`;
  return line.replaceAll("\n", " ");
}

/** From now on an error that nobody caught ends the process with that line and a status of its own. */
export function reportDefects(): void {
  process.on("uncaughtException", (error) => {
    process.stderr.write(`${defectLine(error)}\n`);
    process.exit(EXIT.defect);
  });
}
