/** A defect of the program itself has a status of its own, and is no fault of what it was given. */
import { existsSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { LEG, linesOf, PROGRAM, plyframe, startProgram, testFolder } from "../../support/plyframe.ts";
import { ScriptedKit } from "../../support/scripted-kit.ts";
import { EPC, service } from "../readings/tag-words.ts";

/** An environment in which one of Node's own functions fails as none does. */
function broken(): { readonly [name: string]: string } {
  const file = join(testFolder(), "break.mjs");
  writeFileSync(file, 'JSON.stringify = () => { throw new TypeError("broken\\non purpose"); };\n');
  return { NODE_OPTIONS: `--import ${pathToFileURL(file).href}` };
}

const LINE =
  /^plyframe: a defect of plyframe itself, please report it: TypeError: broken on purpose \(break\.mjs:1:\d+\)$/;

describe("a defect", () => {
  it("in a command is status 4 and one line that shows the error", async () => {
    const { status, stdout, stderr } = await plyframe(["layout", "--json"], { env: broken() });
    expect(linesOf(stderr)).toEqual([expect.stringMatching(LINE)]);
    expect([status, stdout]).toEqual([4, ""]);
  });

  it("while readings come in is status 4 too", async () => {
    const epc = EPC.match(/.{4}/g)!.map((word) => Number.parseInt(word, 16));
    const { port } = await new ScriptedKit([{ sights: [{ timeUs: 1e6, epc, words: service().words }] }]).listen();
    const { status, stderr } = await plyframe(["read", "--json", "--port", port], { env: broken() });
    expect(linesOf(stderr).filter((line) => line.includes("defect"))).toEqual([expect.stringMatching(LINE)]);
    expect(status).toBe(4);
  });

  it("is told of in every --help, and is not the status of rejected records", async () => {
    for (const words of [["--help"], ["read", "--help"], ["calibrate", "write", "--help"]]) {
      expect((await plyframe(words)).stdout).toContain("4 a defect of plyframe itself");
    }
    expect((await plyframe(["decode", LEG], { env: {} })).status).toBe(0);
  });
});

describe("standard output on a full disk", () => {
  it("is file trouble, and no defect", async () => {
    // Linux has a device that is always full.
    expect(existsSync("/dev/full")).toBe(true);
    const command = `'${process.execPath}' '${PROGRAM}' decode '${LEG}' > /dev/full`;
    const { status, stderr } = await startProgram("sh", ["-c", command], { input: "" }).ended;
    expect(linesOf(stderr)).toContain("plyframe: standard output: no space left on the device");
    expect(stderr).not.toContain("defect");
    expect(status).toBe(3);
  });
});
