import { readdirSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { readSchema, readVectorFile, vectorFiles } from "../support/vectors.ts";

const ajv = new Ajv2020({ strict: true, allowUnionTypes: true, allErrors: true });
ajv.addSchema(readSchema("common.schema.json"));

/** Files without a good or without a bad vector, and why. */
const ONE_SIDED: { readonly [name: string]: string } = {
  "slices.json": "any bits make an integer",
  "verdict-order.json": "only faults have an order",
  "refusals.json": "an error message that is whole always tells something",
  "quantities.json": "a field that saturates takes every value",
};

describe("every vector file", () => {
  it("is found", () => expect(vectorFiles.length).toBeGreaterThanOrEqual(16));

  it.each(vectorFiles)("%s fits its schema", (name) => {
    const file = readVectorFile(name);
    const id = `https://plyframe.invalid/${file.schema}`;
    const validate = ajv.getSchema(id) ?? ajv.compile(readSchema(file.schema.replace("schema/", "")));
    expect(validate(file), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
  });

  it.each(vectorFiles)("%s has at least as many bad vectors as good ones, and counts them", (name) => {
    const { vectors, counts } = readVectorFile(name);
    const good = vectors.filter(({ expected }) => expected.verdict === "good").length;
    expect(counts).toEqual({ good, bad: vectors.length - good });
    if (!(name in ONE_SIDED)) expect(counts.bad).toBeGreaterThanOrEqual(counts.good);
  });

  it.each(vectorFiles)("%s explains every flag and uses every explanation", (name) => {
    const { vectors, notes } = readVectorFile(name);
    expect(new Set(vectors.flatMap(({ flags }) => flags))).toEqual(new Set(Object.keys(notes)));
  });

  it.each(vectorFiles)("%s has a twin without the fault for every bad vector", (name) => {
    for (const { id, expected, repaired } of readVectorFile(name).vectors) {
      if (expected.verdict === "bad") expect([id, repaired === undefined]).toEqual([id, false]);
    }
  });

  it.each(vectorFiles)("%s says of every flag what goes wrong without it", (name) => {
    const { notes, defects } = readVectorFile(name);
    expect(Object.keys(defects)).toEqual(Object.keys(notes));
  });

  it("has ids that no other file has", () => {
    const ids = vectorFiles.flatMap((name) => readVectorFile(name).vectors.map(({ id }) => id));
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("has a schema of its own kind for every schema but those of other files", () => {
    const kinds = new Set(vectorFiles.map((name) => readVectorFile(name).schema.replace("schema/", "")));
    const others = "bench-run budget capture certificate common match reading session turnon".split(" ");
    const schemas = readdirSync(new URL("../../vectors/schema/", import.meta.url));
    const ofVectors = schemas.filter((name) => !others.includes(name.replace(".schema.json", "")));
    expect(ofVectors.sort()).toEqual([...kinds].sort());
  });

  it("is refused when a vector is spoilt", () => {
    const file = structuredClone(readVectorFile("frames.json")) as unknown as {
      vectors: { expected: { reason: string } }[];
    };
    const validate = ajv.getSchema("https://plyframe.invalid/schema/record.schema.json")!;
    file.vectors.at(-1)!.expected.reason = "no-such-reason";
    expect(validate(file)).toBe(false);
  });
});
