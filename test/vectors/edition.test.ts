/** The version of the vector set, its digest and the ids it ever had. */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readVectorFile, vectorFiles } from "../support/vectors.ts";

const read = (name: string) => readFileSync(new URL(`../../vectors/${name}`, import.meta.url), "utf8");
const version = read("VERSION");
const newest = /^## (\S+)\n\nDigest: `(\w+)`$/m.exec(read("CHANGES.md"));

describe("the vector set", () => {
  it("has a version, in a file of one line", () => expect(version).toMatch(/^\d+\.\d+\.\d+\n$/));

  it("says in CHANGES.md what came with this version", () => expect(`${newest![1]}\n`).toBe(version));

  it("is the one with the digest in CHANGES.md", () => {
    const digest = createHash("sha256");
    for (const name of vectorFiles) digest.update(read(name));
    expect(digest.digest("hex")).toBe(newest![2]);
  });

  const lines = read("ids.txt").trimEnd().split("\n");
  const ids = vectorFiles.flatMap((name) => readVectorFile(name).vectors.map(({ id }) => id));

  it("lists every id it ever had, sorted, each once", () => {
    const listed = lines.map((line) => line.split(" ")[0]!);
    expect(listed).toEqual([...new Set(listed)].sort());
    expect(ids.filter((id) => !listed.includes(id))).toEqual([]);
  });

  it("has a vector for every id that is not retired, and none for one that is", () => {
    const given = new Set(ids);
    for (const line of lines) {
      const [, id, reason] = /^(\S+)(?: retired: (.+))?$/.exec(line) ?? [];
      expect([line, given.has(id!)]).toEqual([line, reason === undefined]);
    }
  });
});
