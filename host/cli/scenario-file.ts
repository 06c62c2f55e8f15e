/** Scenario files: JSON judged by a schema of the package, what is left out filled in, every fault with line and member. */
import { readFileSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { Ajv2020, type ErrorObject, type ValidateFunction } from "ajv/dist/2020.js";
import { CommandError, EXIT, systemSentence } from "./exit.ts";
import { jsonPlaces } from "./json-places.ts";
import { packageFile } from "./package-file.ts";

/** A value that the scenario did not give. */
export interface Assumption {
  readonly path: string;
  readonly value: unknown;
  /** What the value rests on, from the schema's `x-standing`; null where the value is a mere choice, such as a seed. */
  readonly standing: string | null;
}

export interface ScenarioFile<Content> {
  readonly content: Content;
  readonly assumed: readonly Assumption[];
  /** A file named in the scenario, relative to the scenario's folder. */
  fileOf(name: string): string;
  /** The error of a member that the schema could not judge. */
  refusal(path: string, says: string): CommandError;
}

interface Schema {
  readonly properties?: { readonly [name: string]: Schema };
  readonly default?: unknown;
  readonly "x-standing"?: string;
}

interface Compiled {
  readonly schema: Schema;
  readonly judge: ValidateFunction;
}

/** To compile a schema takes far longer than to judge a scenario by it. */
const schemas = new Map<string, Compiled>();

function compiled(schemaName: string): Compiled {
  let found = schemas.get(schemaName);
  if (!found) {
    const schema = JSON.parse(readFileSync(packageFile(`vectors/schema/${schemaName}`), "utf8")) as Schema;
    const ajv = new Ajv2020({ allErrors: true, useDefaults: true, verbose: true, strict: true, strictRequired: false });
    ajv.addKeyword("x-standing");
    found = { schema, judge: ajv.compile(schema as object) };
    schemas.set(schemaName, found);
  }
  return found;
}

/**
 * Reads a scenario (`-`: standard input; left out: every value is the default) and judges it by vectors/schema/NAME.
 * Throws a CommandError with every fault that was found.
 */
export function readScenario<Content>(file: string | undefined, schemaName: string): ScenarioFile<Content> {
  const { schema, judge } = compiled(schemaName);
  const name = file === undefined ? "the defaults" : file === "-" ? "standard input" : file;
  const text = file === undefined ? "{}" : textOf(file, name);
  const given = parse(text, name);
  const places = jsonPlaces(text);
  const assumed = isObject(given) ? assumptions(schema, given, "") : [];
  const say = (path: string, says: string) => {
    let known = path;
    while (!places.has(known)) known = known.replace(/(^|\.)[^.[]*$|\[\d+\]$/, "");
    return `${name}:${places.get(known)}: ${path ? `${path}: ` : ""}${says}`;
  };
  if (!judge(given)) {
    const sentences = judge.errors!.map((error) => say(...sentenceOf(error)));
    throw new CommandError(EXIT.usage, [...new Set(sentences)].join("\nplyframe: "));
  }
  return {
    content: given as Content,
    assumed,
    fileOf: (other) => resolve(file === undefined || file === "-" ? "." : dirname(file), other),
    refusal: (path, says) => new CommandError(EXIT.usage, say(path, says)),
  };
}

function textOf(file: string, name: string): string {
  try {
    return readFileSync(file === "-" ? 0 : file, "utf8").replace(/^\uFEFF/, "");
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(name, error));
  }
}

function parse(text: string, name: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    const at = /position (\d+)/.exec((error as Error).message);
    const before = at ? text.slice(0, Number(at[1])) : text.trimEnd();
    throw new CommandError(EXIT.usage, `${name}:${before.split("\n").length}: not JSON (${(error as Error).message})`);
  }
}

function isObject(value: unknown): value is { readonly [name: string]: unknown } {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** The defaults that will be used, from the outermost member left out down to its single values. */
function assumptions(schema: Schema, given: { readonly [name: string]: unknown }, path: string): Assumption[] {
  return Object.entries(schema.properties ?? {}).flatMap(([name, member]) => {
    const here = path ? `${path}.${name}` : name;
    const value = given[name] ?? member.default;
    if (value === undefined) return [];
    const left = given[name] === undefined;
    if (isObject(value) && member["x-standing"] === undefined) return assumptions(member, left ? {} : value, here);
    return left ? [{ path: here, value, standing: member["x-standing"] ?? null }] : [];
  });
}

/** Path and sentence of one of the validator's errors. */
function sentenceOf({ instancePath, keyword, params, data, parentSchema }: ErrorObject): [path: string, says: string] {
  const path = instancePath
    .slice(1)
    .split("/")
    .map((part) => part.replaceAll("~1", "/").replaceAll("~0", "~"))
    .reduce((before, part) => (/^\d+$/.test(part) ? `${before}[${part}]` : before ? `${before}.${part}` : part), "");
  const known = Object.keys((parentSchema as Schema).properties ?? {});
  const shown = JSON.stringify(data);
  switch (keyword) {
    case "additionalProperties": {
      const name = params.additionalProperty as string;
      const meant = known.filter((other) => other.startsWith(`${name}_`));
      const inside = path ? `${path}.${name}` : name;
      if (meant.length > 0) return [inside, `the unit is missing from the name: write ${meant.join(" or ")}`];
      return [inside, `not known here; known are ${known.join(", ")}`];
    }
    case "type":
      return [path, `give ${withArticle(params.type)}, not ${shown}`];
    case "required":
      return [path, `${params.missingProperty} is missing`];
    case "enum":
      return [path, `${shown} is none of ${params.allowedValues.join(", ")}`];
    case "minimum":
    case "maximum":
    case "exclusiveMinimum":
    case "exclusiveMaximum":
      return [path, `${shown} must be ${params.comparison} ${params.limit}`];
    case "minProperties":
    case "maxProperties":
      return [path, `give ${params.limit === 1 ? "exactly one" : params.limit} of ${known.join(", ")}`];
    case "minItems":
      return [path, `give at least ${params.limit} of them`];
    case "dependentRequired":
      return [path, `${params.property} needs ${params.missingProperty} beside it`];
    default:
      return [path, `does not fit the schema (${keyword}: ${JSON.stringify(params)})`];
  }
}

function withArticle(type: string): string {
  return /^[aeio]/.test(type) ? `an ${type}` : `a ${type}`;
}
