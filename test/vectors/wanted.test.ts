/** What the vectors must show, and that a vector less is missed. */
import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it, onTestFinished } from "vitest";
import { type Reason, reasons } from "../../protocol/model/reasons.ts";
import { cover, groups } from "./wanted/cover.ts";
import { reasonsElsewhere } from "./wanted/reasons-elsewhere.ts";
import { type AnyVectorFile, readVectorSet, VECTORS_FOLDER } from "./wanted/vector-set.ts";

const files = readVectorSet(VECTORS_FOLDER);
const root = fileURLToPath(new URL("../../", import.meta.url));
const command = join(root, "test/vectors/wanted/main.ts");

const without = (id: string): AnyVectorFile[] =>
  files.map((file) => ({ ...file, vectors: file.vectors.filter((vector) => vector.id !== id) }));
const missingOf = (set: readonly AnyVectorFile[]) => cover(set).flatMap(({ missing }) => missing);

/** Vectors that are the only ones to show something, by hand: at least one of each group. */
const ONLY: readonly (readonly [id: string, what: string])[] = [
  ["frame-temperature-minus-one", "frame.temperature: one below zero"],
  ["frame-reserved-bit-3", "frame.reserved: reserved bit 3 [reserved-bit-set]"],
  ["calibration-method-limb-form", "calibration.method: name limb_form"],
  ["xpc-xpc-w1-bit-13", "xpc.xpc_w1: bit 13, which has no name [reserved-bit-set]"],
  ["calibration-date-not-stated", "calibration.date: sentinel not_stated"],
  ["burst-kind-raw-9", "burst.kind: 9 [kind-unexpected]"],
  ["calibration-short-17", "calibration: 17 bytes [record-too-short]"],
  ["message-write-words-1", "write.words: one"],
  ["header-flip-byte-9-bit-5", "header.seal: byte 9 changed"],
  ["order-tid-class-and-xtid-header", "record: marker-mismatch before marker-mismatch"],
  ["llrp-both-version-and-type", "llrp-messages: llrp-version-unsupported before message-unknown"],
  ["refusal-number-22", "number 22 in an error message"],
  ["quantity-tid-designer-255p5", "tid.designer: half a step"],
  ["writing-burst-interval-missing", "burst.interval [field-missing]"],
  ["slots-identical", "the same sequence, the same bytes"],
  ["slots-both-bad-empty-reserved-bit", "none is chosen: A has record-empty, B has reserved-bit-set"],
  ["reading-covered-temperature-1499", "temperature one step below the calibrated"],
  ["message-done-type-06", "type 6 to-host [message-unknown]"],
  ["link-three-cut-17", "two frames and more, split in two in every place"],
  ["link-nothing", "an empty stream"],
  ["epc-grai-filter-4", "grai-96: filter 4"],
  ["epc-header-2f", "header 2f [epc-header-unknown]"],
  ["llrp-message-get-rospecs", "GET_ROSPECS: good"],
  ["llrp-stream-truncated-5", "a stream that ends in every place of a message"],
];

describe("the vectors", () => {
  it("show all that is wanted", () => expect(missingOf(files)).toEqual([]));

  it("are not shown to show anything when there are none", () => {
    expect(missingOf([])).toEqual(groups.flatMap(({ wanted }) => wanted));
  });

  it("show nothing that is wanted twice under one text", () => {
    for (const { name, wanted } of groups) expect([name, wanted.length]).toEqual([name, new Set(wanted).size]);
  });

  it.each(ONLY)("miss %s", (id, what) => {
    expect(files.some(({ vectors }) => vectors.some((vector) => vector.id === id))).toBe(true);
    expect(missingOf(without(id))).toEqual([what]);
  });

  it("are missed in every group", () => {
    const named = new Set(ONLY.map(([, what]) => what));
    for (const { name, wanted } of groups) expect([name, wanted.some((what) => named.has(what))]).toEqual([name, true]);
  });
});

describe("a reason that no vector asks for", () => {
  const asked = new Set(files.flatMap(({ vectors }) => vectors.flatMap(({ expected }) => expected.reason ?? [])));

  it.each(Object.keys(reasons) as Reason[])("%s is asked for, or tested elsewhere, not both", (code) => {
    expect(asked.has(code)).toBe(reasonsElsewhere[code] === undefined);
  });

  it.each(Object.entries(reasonsElsewhere))("%s stands in a test", (_, { test, names }) => {
    expect(test).toMatch(/\.test\.ts$/);
    expect(readFileSync(join(root, test), "utf8")).toContain(names);
  });
});

describe("vectors-coverage", () => {
  const run = (...words: string[]) => {
    const ended = spawnSync(process.execPath, ["--import", "tsx", command, ...words], { cwd: root, encoding: "utf8" });
    return { status: ended.status, said: ended.stdout, complained: ended.stderr };
  };

  it("says that nothing is missing, with 0", () => {
    const { status, said } = run();
    expect(said).toMatch(/^altogether +(\d+) +\1 +0$/m);
    expect(said).not.toContain("without a vector");
    expect(status).toBe(0);
  });

  it("lists what a vector less leaves open, with 1", () => {
    const copy = mkdtempSync(join(tmpdir(), "vectors-"));
    onTestFinished(() => rmSync(copy, { recursive: true }));
    cpSync(VECTORS_FOLDER, copy, { recursive: true });
    const name = join(copy, "frames.json");
    const file = JSON.parse(readFileSync(name, "utf8"));
    file.vectors = file.vectors.filter(({ id }: { id: string }) => id !== "frame-temperature-minus-one");
    writeFileSync(name, JSON.stringify(file));
    const { status, said } = run(copy);
    expect(said).toMatch(/\n1 without a vector:\n {2}fields.*: frame\.temperature: one below zero\n$/);
    expect(status).toBe(1);
  });

  it("names a folder that cannot be read, with 3", () => {
    const { status, said, complained } = run("no-such-folder");
    expect({ status, said }).toEqual({ status: 3, said: "" });
    expect(complained).toMatch(/^vectors-coverage: no-such-folder: ENOENT.*\n$/);
  });

  it("tells wrong use, with 2", () => {
    expect(run("one", "two")).toEqual({ status: 2, said: "", complained: "usage: vectors-coverage [FOLDER]\n" });
  });
});
