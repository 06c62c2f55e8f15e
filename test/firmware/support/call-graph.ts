/** Who calls whom in a compiled object, and how deep the stack can get. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { run } from "./program.ts";
import type { Target } from "./targets.ts";

export interface CallGraph {
  /** Names called by each function of the object; those of other objects among them. */
  readonly calls: ReadonlyMap<string, ReadonlySet<string>>;
  /** Functions called that the object does not hold: the port, and what the compiler calls by itself. */
  readonly outside: readonly string[];
}

/**
 * Reads an object that was compiled with a section a function, so that every call leaves a relocation.
 * A relocation in code that names a function is taken for a call.
 */
export function readCallGraph(target: Target, object: string, folder: string): CallGraph {
  const { stdout } = run(target.objdump, ["-d", "-r", object], folder);
  const calls = new Map<string, Set<string>>();
  let inside = "";
  for (const line of stdout.split("\n")) {
    const start = /^[0-9a-f]+ <([\w.]+)>:/.exec(line);
    if (start && !start[1]!.startsWith(".")) {
      inside = start[1]!;
      calls.set(inside, new Set());
    }
    const name = /\bR_\w+\s+(?:\.text\.)?([A-Za-z_][\w.]*)/.exec(line)?.[1];
    if (name && name !== inside) calls.get(inside)!.add(name);
  }
  const named = run(target.nm, ["-u", object], folder).stdout;
  const outside = [...named.matchAll(/\bU (\w+)/g)].map(([, name]) => name!);
  return { calls, outside };
}

/** Functions that can reach themselves. */
export function recursiveFunctions({ calls }: CallGraph): string[] {
  const reaches = (from: string, to: string, seen: Set<string>): boolean =>
    [...(calls.get(from) ?? [])].some((next) => {
      if (next === to) return true;
      if (seen.has(next)) return false;
      seen.add(next);
      return reaches(next, to, seen);
    });
  return [...calls.keys()].filter((name) => reaches(name, name, new Set()));
}

/**
 * Bytes of stack by function, from the compiler's .su files in `folder`.
 * Throws for a function whose stack has no bound.
 */
export function readStackUsage(folder: string): Map<string, number> {
  const lines = readdirSync(folder)
    .filter((name) => name.endsWith(".su"))
    .flatMap((name) => readFileSync(join(folder, name), "utf8").trim().split("\n"));
  return new Map(
    lines.map((line) => {
      const [place, bytes, kind] = line.split("\t");
      if (kind !== "static") throw new Error(`the stack of ${place} has no bound: ${kind}`);
      return [place!.slice(place!.lastIndexOf(":") + 1), Number(bytes)];
    }),
  );
}

/** Bytes of stack, and the functions on it from the outermost. */
export interface Depth {
  readonly bytes: number;
  readonly path: readonly string[];
}

/** The deepest stack from a function, the port and the compiler's own functions not counted. */
export function worstStack(
  graph: CallGraph,
  usage: ReadonlyMap<string, number>,
  returnBytes: number,
  from: string,
): Depth {
  const own = usage.get(from);
  if (own === undefined) throw new Error(`the compiler told no stack of ${from}`);
  const below = [...graph.calls.get(from)!].map(
    (name): Depth =>
      graph.calls.has(name) ? worstStack(graph, usage, returnBytes, name) : { bytes: returnBytes, path: [] },
  );
  const deepest = below.reduce((most, next) => (next.bytes > most.bytes ? next : most), { bytes: 0, path: [] });
  return { bytes: own + returnBytes + deepest.bytes, path: [from, ...deepest.path] };
}
