import { open } from "node:fs/promises";
import { Duplex } from "node:stream";
import { PortError, portError } from "./port-error.ts";

/** Raw link bytes of a file, from its beginning; nothing can be written to it. */
export async function openReplay(name: string, path: string): Promise<Duplex> {
  try {
    const handle = await open(path);
    const status = await handle.stat();
    if (!status.isDirectory()) return Duplex.from(handle.createReadStream());
    await handle.close();
  } catch (error) {
    throw portError("cannot open", name, error);
  }
  throw new PortError(`cannot open ${name}: it is a directory`);
}
