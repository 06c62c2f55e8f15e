/** Runs an emitted parsers module for a layout that is not on disk. */
import { Parser } from "binary-parser";
import ts from "typescript";
import type { Read, ReadTails } from "../../protocol/emitted/parsers.ts";

export interface Emitted {
  readonly readers: { readonly [record: string]: Read };
  readonly tailReaders: { readonly [record: string]: ReadTails };
}

/** Exports of the module whose TypeScript text is given; it may import nothing but binary-parser. */
export function evaluateParsers(text: string): Emitted {
  const options = { module: ts.ModuleKind.CommonJS, target: ts.ScriptTarget.ES2022 };
  const { outputText } = ts.transpileModule(text, { compilerOptions: options });
  const exports = {};
  new Function("exports", "require", outputText)(exports, (name: string) => {
    if (name !== "binary-parser") throw new Error(`an emitted parser imports ${name}`);
    return { Parser };
  });
  return exports as Emitted;
}
