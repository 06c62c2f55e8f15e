/** The file of frames that `decode --frames --out` asks for. Loaded when it is asked for: packing and tables take long to load. */
import { layout } from "../../protocol/index.ts";
import { FrameRows, frameColumns } from "../export/frame-rows.ts";
import { OutFile } from "./out-file.ts";
import type { OutName } from "./out-name.ts";
import { tableWriter } from "./out-table.ts";

export interface FramesOut {
  readonly file: OutFile;
  readonly rows: FrameRows;
}

/** Throws a CommandError when the file cannot be made. */
export async function openFramesOut(name: OutName, overwrite: boolean): Promise<FramesOut> {
  const file = await OutFile.open(name, overwrite);
  const table = await tableWriter(name.format as "csv", frameColumns(layout), file.write);
  return { file, rows: new FrameRows(layout, table) };
}
