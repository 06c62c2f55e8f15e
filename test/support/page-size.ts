import { readPage } from "../../host/view/page-files.ts";

/** Bytes of the built page as they are sent, packed: of everything, and by file. */
export function pageSize(): { readonly bytes: number; readonly files: ReadonlyMap<string, number> } {
  const files = new Map<string, number>();
  for (const [name, { gzip, body }] of readPage("dist/page")) {
    if (name !== "/") files.set(name, (gzip ?? body).length);
  }
  return { bytes: [...files.values()].reduce((sum, length) => sum + length, 0), files };
}
