/** A reader for as long as a piece of work takes. */
import type { Reader, ReaderInfo } from "../reader/reader.ts";
import { ReaderError } from "../reader/reader-error.ts";
import { openPort } from "../transport/port.ts";
import { PortError } from "../transport/port-error.ts";
import { CommandError, EXIT } from "./exit.ts";
import { placedSentence, type ReaderPlace, readerOn } from "./reader-place.ts";

/**
 * Opens a port and its reader, does the work and closes both. `attach` is called before the reader is greeted, for those
 * who must hear its first reports. Throws a CommandError for a port or reader that fails.
 */
export async function withReader<Result>(
  place: ReaderPlace,
  work: (reader: Reader, info: ReaderInfo) => Promise<Result>,
  attach: (reader: Reader) => void = () => undefined,
): Promise<Result> {
  let reader: Reader | null = null;
  let lost: string | null = null;
  try {
    reader = readerOn(await openPort(place.port), place);
    reader.on("closed", (reason) => {
      lost = reason;
    });
    attach(reader);
    const info = await reader.open();
    return await work(reader, info);
  } catch (error) {
    if (error instanceof PortError) throw new CommandError(EXIT.device, error.message);
    if (error instanceof ReaderError) throw new CommandError(EXIT.device, lost ?? placedSentence(place.port, error));
    throw error;
  } finally {
    await reader?.close();
  }
}
