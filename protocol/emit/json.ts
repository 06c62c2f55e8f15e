/** Emits the compiled layout as JSON, with the word address of every field of every region. */
import { addressesOf } from "../model/address.ts";
import type { EmittedFile } from "../model/emitted-file.ts";
import type { Layout } from "../model/layout.ts";
import { layoutText } from "../model/layout-text.ts";

export function emitJson(layout: Layout): EmittedFile[] {
  const text = `${layoutText({ ...layout, addresses: addressesOf(layout) })}\n`;
  return [{ path: "protocol/emitted/layout.json", text }];
}
