/** Everything that follows from the specification, as texts: what `npm run emit` writes and the staleness check compares. */
import { emitBulk } from "../../protocol/emit/bulk.ts";
import { emitCHeader } from "../../protocol/emit/c-header.ts";
import { emitDissector } from "../../protocol/emit/dissector/dissector.ts";
import { emitJson } from "../../protocol/emit/json.ts";
import { emitJsonSchema } from "../../protocol/emit/json-schema.ts";
import { emitKaitai } from "../../protocol/emit/kaitai/kaitai.ts";
import { emitMemoryMap } from "../../protocol/emit/memory-map.ts";
import { emitParsers } from "../../protocol/emit/parsers.ts";
import { emitSvg } from "../../protocol/emit/svg.ts";
import { emitTypes } from "../../protocol/emit/types.ts";
import { canonicalText } from "../../protocol/model/canonical.ts";
import type { EmittedFile } from "../../protocol/model/emitted-file.ts";
import { compile } from "../../protocol/model/layout.ts";
import type { Specification } from "../../protocol/model/vocabulary.ts";

export function emittedFiles(specification: Specification): EmittedFile[] {
  const layout = compile(specification);
  return [
    ...emitTypes(layout),
    ...emitParsers(layout),
    ...emitJson(layout),
    ...emitMemoryMap(layout),
    ...emitSvg(layout),
    ...emitCHeader(layout),
    ...emitBulk(layout),
    ...emitDissector(layout),
    ...emitKaitai(layout),
    ...emitJsonSchema(layout),
    { path: "protocol/emitted/canonical.txt", text: canonicalText(specification) },
  ];
}
