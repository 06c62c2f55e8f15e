/** The parsers that the compiler of Kaitai Struct makes of the emitted description, in JavaScript. */
import { readFileSync } from "node:fs";
import KaitaiStream from "kaitai-struct/KaitaiStream.js";
import compiler from "kaitai-struct-compiler";
import { parse } from "yaml";

/** What a parser made: a member for every attribute and instance, in camelCase. */
export interface Parsed {
  readonly verdict: number;
  readonly [member: string]: unknown;
}

/** Parses bytes as a type; further values are the type's parameters. Bytes that end too soon are an error, see `isTooShort`. */
export type Parser = (bytes: Uint8Array, ...parameters: unknown[]) => Parsed;

type Type = (new (
  io: KaitaiStream,
  parent: null,
  root: null,
  ...parameters: unknown[]
) => Parsed) & {
  readonly [member: string]: unknown;
};

export interface KaitaiTypes {
  /** The parser of a record, of `message`, or of the whole USER bank as `plyframe`. */
  parserOf(id: string): Parser;
  /** Names of an enumeration of a record by its integers, as they stand in the description. */
  namesOf(record: string, field: string): { readonly [raw: number]: string };
}

/** Files that the compiler writes for a language, by name; a description it does not take is an error. */
export async function compiledFor(language: string): Promise<Record<string, string>> {
  const description = parse(readFileSync(new URL("../../protocol/emitted/plyframe.ksy", import.meta.url), "utf8"));
  return compiler.compile(language, description, null, false);
}

export async function kaitaiTypes(): Promise<KaitaiTypes> {
  const files = await compiledFor("javascript");
  const made: { Plyframe?: Type } = {};
  // The program the compiler wrote asks for its runtime by `require`.
  new Function("exports", "require", files["Plyframe.js"]!)(made, () => KaitaiStream);
  const root = made.Plyframe!;
  const typeOf = (id: string) => (id === "plyframe" ? root : (root[pascalCase(id)] as Type));
  return {
    parserOf: (id) => {
      const type = typeOf(id);
      return (bytes, ...parameters) => new type(streamOf(bytes), null, null, ...parameters);
    },
    namesOf: (record, field) => {
      const names = Object.entries(typeOf(record)[pascalCase(field)] as Record<string, string | number>);
      return Object.fromEntries(
        names.flatMap(([name, raw]) => (typeof raw === "number" ? [[raw, name.toLowerCase()]] : [])),
      );
    },
  };
}

export function isTooShort(error: unknown): boolean {
  return error instanceof KaitaiStream.EOFError;
}

/** The compiler's name of a member. */
export function memberName(id: string): string {
  const name = pascalCase(id);
  return name[0]!.toLowerCase() + name.slice(1);
}

function pascalCase(id: string): string {
  const words = id.split("_").filter((word) => word !== "");
  return words.map((word) => word[0]!.toUpperCase() + word.slice(1)).join("");
}

function streamOf(bytes: Uint8Array): KaitaiStream {
  return new KaitaiStream(new DataView(bytes.buffer, bytes.byteOffset, bytes.length));
}
