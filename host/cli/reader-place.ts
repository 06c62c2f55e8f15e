/** Where a reader is and what is spoken there. */
import { LinkReader } from "../reader/link-reader.ts";
import { LlrpReader } from "../reader/llrp-reader.ts";
import type { Reader } from "../reader/reader.ts";
import type { ReaderError } from "../reader/reader-error.ts";
import type { Port } from "../transport/port.ts";
import { CommandError, EXIT } from "./exit.ts";
import { llrpPort } from "./llrp-address.ts";

/** As it is typed. */
export interface PlaceOptions {
  readonly port?: string;
  readonly llrp?: string;
}

export interface ReaderPlace {
  readonly port: string;
  /** A reader kit's link when left out. */
  readonly protocol?: "llrp";
}

/** Throws a CommandError of wrong use unless one place is given. */
export function readerPlace({ port, llrp }: PlaceOptions): ReaderPlace {
  if (llrp !== undefined && port === undefined) return { port: llrpPort(llrp), protocol: "llrp" };
  if (port !== undefined && llrp === undefined) return { port };
  throw new CommandError(EXIT.usage, "give --port (a reader kit) or --llrp (an LLRP reader), one of the two");
}

/** The reader behind an open port, not yet greeted. */
export function readerOn(port: Port, { protocol }: Pick<ReaderPlace, "protocol">): Reader {
  return protocol === "llrp" ? new LlrpReader(port) : new LinkReader(port);
}

/** What went wrong, with the port's name before it. */
export function placedSentence(port: string, { message }: ReaderError): string {
  // An LLRP reader names its port itself.
  return message.startsWith(port) ? message : `${port}: ${message}`;
}

/** Time from one round to the next; null for an LLRP reader, which goes at its own pace. */
export function paceOf({
  protocol,
  periodMs,
}: Pick<ReaderPlace, "protocol"> & { readonly periodMs: number }): number | null {
  return protocol === "llrp" ? null : periodMs;
}
