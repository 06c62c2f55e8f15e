/** The output that a name asks for. */
import { outcomeColumns } from "../export/outcome-rows.ts";
import type { DecodeOut } from "./decode-out.ts";
import { OutFile } from "./out-file.ts";
import type { OutName } from "./out-name.ts";
import { tableWriter } from "./out-table.ts";
import { LinesOut, TableOut } from "./readings-out.ts";
import { ReadsOut } from "./reads-out.ts";

/** Throws a CommandError when the file cannot be begun. `source` is what a capture that does not say where it is from is called. */
export async function openDecodeOut(name: OutName, overwrite: boolean, source: string): Promise<DecodeOut> {
  const file = await OutFile.open(name, overwrite);
  if (name.format === "pcapng") return new ReadsOut(file, source);
  if (name.format === "jsonl") return new LinesOut(file);
  const table = await tableWriter(name.format, outcomeColumns, file.write);
  return new TableOut(file, table);
}
