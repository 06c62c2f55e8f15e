/** Emits the layout as a module that is kept for good, so that a record written with it is still named and read later. */
import { type EmittedFile, layoutMark } from "../model/emitted-file.ts";
import type { Layout } from "../model/layout.ts";
import { layoutText } from "../model/layout-text.ts";

export function emitRelease(layout: Layout): EmittedFile[] {
  const text = `// Released ${layoutMark(layout)}: never changed, never removed.
import type { Layout } from "../../model/layout.ts";

export const layout${layout.layout}: Layout = ${layoutText(layout)};
`;
  return [{ path: `protocol/spec/released/layout-${layout.layout}.ts`, text }];
}
