/** Mutated inputs to one parser, one after the other, until there were enough or one breaks a promise. */
import { readdirSync, readFileSync } from "node:fs";
import { Random } from "../../sim/random.ts";
import { type Finding, findingOf, minimised } from "./finding.ts";
import type { FuzzParser } from "./fuzz-parser.ts";
import { below, mutated, pieces } from "./mutation.ts";

export interface FuzzResult {
  readonly inputs: number;
  readonly bytes: number;
  readonly found: (Finding & { readonly input: Uint8Array; readonly number: number }) | null;
}

export interface FuzzOptions {
  readonly seed: number;
  /** Whether to go on after so many inputs. */
  readonly goesOn: (inputs: number) => boolean;
  /** Told of every input before it is run. */
  readonly before?: (input: Uint8Array) => void;
}

/** Inputs kept in corpus/NAME/: those that once broke a promise. */
export function keptInputs(name: string): Uint8Array[] {
  const folder = new URL(`corpus/${name}/`, import.meta.url);
  try {
    return readdirSync(folder)
      .sort()
      .map((file) => new Uint8Array(readFileSync(new URL(file, folder))));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return [];
    throw error;
  }
}

/** Seeds and kept inputs as they are first, then mutations of them. The same seed gives the same inputs. */
export async function fuzz(parser: FuzzParser, { seed, goesOn, before }: FuzzOptions): Promise<FuzzResult> {
  const random = new Random(seed, parser.name);
  const pool = [...parser.seeds(), ...keptInputs(parser.name)];
  let bytes = 0;
  let inputs = 0;
  for (; goesOn(inputs); inputs++) {
    const pick = () => pool[below(random, pool.length)]!;
    const input = inputs < pool.length ? pool[inputs]! : mutated(pick(), pick(), random);
    before?.(input);
    const finding = await findingOf(parser, input, pieces(input, random));
    bytes += input.length;
    if (finding) {
      const least = await minimised(parser, input, finding);
      return { inputs: inputs + 1, bytes, found: { ...finding, input: least, number: inputs } };
    }
  }
  return { inputs, bytes, found: null };
}
