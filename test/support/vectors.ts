/** The vector files as data. */
import { readdirSync, readFileSync } from "node:fs";
import type { Fault } from "../../protocol/model/reasons.ts";

const HOME = new URL("../../vectors/", import.meta.url);

export interface Good {
  readonly verdict: "good";
}

export interface Bad {
  readonly verdict: "bad";
  readonly reason: string;
  readonly byte: number | null;
  readonly bit: number | null;
  readonly path: string;
}

export interface VectorFile {
  readonly kind: string;
  readonly schema: string;
  readonly counts: { readonly good: number; readonly bad: number };
  readonly notes: { readonly [flag: string]: string };
  readonly defects: { readonly [flag: string]: object };
  readonly vectors: readonly {
    readonly id: string;
    readonly flags: readonly string[];
    readonly repaired?: unknown;
    readonly expected: Good | Bad;
  }[];
}

/** Names of every vector file, sorted. */
export const vectorFiles: readonly string[] = readdirSync(HOME)
  .filter((name) => name.endsWith(".json"))
  .sort();

export function readVectorFile(name: string): VectorFile {
  return JSON.parse(readFileSync(new URL(name, HOME), "utf8"));
}

export function readSchema(name: string): object {
  return JSON.parse(readFileSync(new URL(`schema/${name}`, HOME), "utf8"));
}

/** Vectors of a file, those expected good and those expected bad, what is given kept apart from what is expected. */
export function vectorsOf<Given, GoodPart = object, BadPart = object>(name: string) {
  type Split<Part> = { readonly id: string; readonly given: Given; readonly expected: Part };
  const split = readVectorFile(name).vectors.map(({ id, expected, ...given }) => ({ id, given, expected }));
  const good = split.filter(({ expected }) => expected.verdict === "good");
  const bad = split.filter(({ expected }) => expected.verdict === "bad");
  return { good: good as unknown as Split<GoodPart>[], bad: bad as unknown as Split<Bad & BadPart>[] };
}

export function bytesOf(hex: string): Uint8Array {
  return Uint8Array.from(hex.match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
}

/** The part of a fault that a vector can ask for. */
export function placeOf({ code, byte, bit, path }: Fault) {
  return { reason: code, byte, bit, path };
}

/** The same part of what a vector asks for. */
export function placeAsked({ reason, byte, bit, path }: Bad) {
  return { reason, byte, bit, path };
}
