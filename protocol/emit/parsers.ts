/**
 * Emits binary-parser chains: whole containers are read, then every field is one line of slice arithmetic.
 * binary-parser's own bit fields are not used: it numbers the bits of a little-endian container its own way.
 */
import { type EmittedFile, hexOf, layoutMark, physicalRange, rawRange } from "../model/emitted-file.ts";
import type { CompiledField, CompiledRecord, CompiledTail, Layout } from "../model/layout.ts";
import { camelCase, pascalCase } from "../model/names.ts";

export function emitParsers(layout: Layout): EmittedFile[] {
  const { records } = layout;
  const text = `// Emitted from ${layoutMark(layout)}: change protocol/spec/ and run "npm run emit".
import { Parser } from "binary-parser";

/** Reads the raw values of a record's fixed part, in the order of its fields, from at least that many bytes. */
export type Read = (bytes: Uint8Array) => number[];

/** Reads a record's tails; the bytes must hold as many elements as the counts say. */
export type ReadTails = (bytes: Uint8Array) => { [id: string]: number[] };

${records.map(reader).join("\n")}
/** The reader of each record's fixed part. */
export const readers: { readonly [record: string]: Read } = {
${records.map(({ id }) => `  ${id}: read${pascalCase(id)},`).join("\n")}
};

/** The reader of the tails of each record that has some. */
export const tailReaders: { readonly [record: string]: ReadTails } = {
${records
  .filter(({ tails }) => tails.length > 0)
  .map(({ id }) => `  ${id}: read${pascalCase(id)}Tails,`)
  .join("\n")}
};
`;
  return [{ path: "protocol/emitted/parsers.ts", text }];
}

function reader(record: CompiledRecord): string {
  const { id, title, bytes, fields, tails } = record;
  const chain = `${camelCase(id)}Containers`;
  const lines = fields.map((field) => `    ${expression(field, fields, "c")}, // ${comment(field)}\n`).join("");
  const empty = fields.length === 0;
  return `const ${chain} = new Parser()${containers(fields).join("")};

/** ${title}: ${bytes} bytes. */
export function read${pascalCase(id)}(bytes: Uint8Array): number[] {
${empty ? `  ${chain}.parse(bytes);\n  return [];\n` : `  const c = ${chain}.parse(bytes);\n  return [\n${lines}  ];\n`}}
${tails.length > 0 ? tailReader(record, chain) : ""}`;
}

function tailReader({ id, title, fields, tails }: CompiledRecord, chain: string): string {
  const parser = `${camelCase(id)}Whole`;
  const array = (tail: CompiledTail) => {
    const count = expression(fields[tail.count]!, fields, "whole.fixed");
    return `\n  .array("${tail.id}", { type: "${type(tail, false)}", length: (whole) => ${count} })`;
  };
  return `
const ${parser} = new Parser()
  .nest("fixed", { type: ${chain} })${tails.map(array).join("")};

/** ${title}: what follows the fixed part. */
export function read${pascalCase(id)}Tails(bytes: Uint8Array): { [id: string]: number[] } {
  const whole = ${parser}.parse(bytes);
  return { ${tails.map((tail) => `${tail.id}: whole.${tail.id}`).join(", ")} };
}
`;
}

/** binary-parser's name of a container. */
function type(container: { readonly bytes: number; readonly little: boolean }, signed: boolean): string {
  const order = container.bytes === 1 ? "" : container.little ? "le" : "be";
  return `${signed ? "" : "u"}int${container.bytes * 8}${order}`;
}

/** A signed field that fills its container is read as such; every other container is read unsigned and sliced. */
function filledSigned(field: CompiledField): boolean {
  return field.signed && field.width === field.bytes * 8;
}

/** One link of the chain for each container, in the order of the bytes. */
function containers(fields: readonly CompiledField[]): string[] {
  const links = new Map<number, string>();
  for (const field of [...fields].sort((a, b) => a.byte - b.byte)) {
    if (links.has(field.byte) || (field.index ?? 0) > 0) continue;
    const name = containerName(field, fields);
    const count = fields.filter(({ array }) => array !== undefined && array === field.array).length;
    const kind = type(field, filledSigned(field));
    links.set(
      field.byte,
      count > 0 ? `\n  .array("${name}", { type: "${kind}", length: ${count} })` : `\n  .${kind}("${name}")`,
    );
  }
  return [...links.values()];
}

/** The field's own name when it fills its container, else the container's place. */
function containerName(field: CompiledField, fields: readonly CompiledField[]): string {
  if (field.array !== undefined) return camelCase(field.array);
  const alone = fields.filter(({ byte }) => byte === field.byte).length === 1;
  return alone ? camelCase(field.id) : `byte${field.byte}`;
}

/** The raw value of a field from its container, a member of `whole`. */
function expression(field: CompiledField, fields: readonly CompiledField[], whole: string): string {
  const name = containerName(field, fields);
  const container = field.array === undefined ? `${whole}.${name}` : `${whole}.${name}[${field.index}]`;
  const { shift, width, signed } = field;
  const bits = field.bytes * 8;
  if (bits === 64) {
    return `Number(BigInt.as${signed ? "Int" : "Uint"}N(${width}, ${container}${shift === 0 ? "" : ` >> ${shift}n`}))`;
  }
  if (width === bits) return container;
  if (signed) return `(${container} << ${32 - shift - width}) >> ${32 - width}`;
  const mask = hexOf(2 ** width - 1, 1);
  return shift === 0 ? `${container} & ${mask}` : `(${container} >>> ${shift}) & ${mask}`;
}

function comment(field: CompiledField): string {
  switch (field.type) {
    case "unsigned":
    case "signed": {
      const sentinels = field.sentinels!.map(({ raw, id }) => `, ${raw} ${id}`).join("");
      const physical = field.num === 1 && field.den === 1 && field.add === 0 && field.unit === "1";
      return `${field.id}: ${rawRange(field)}${physical ? "" : `, ${physicalRange(field)}`}${sentinels}`;
    }
    case "flags":
      return `${field.id}: flags in ${hexOf(field.named!, Math.ceil(field.width / 4))}`;
    case "enumeration":
      return `${field.id}: one of ${field.names!.map(({ raw, id }) => `${raw} ${id}`).join(", ")}`;
    case "constant":
      return `${field.id}: always ${field.raw}`;
    case "reserved":
      return `${field.id}: always 0`;
    case "checksum":
      return `${field.id}: ${field.algorithm} over bytes ${field.over![0]} to ${field.over![1]}`;
  }
}
