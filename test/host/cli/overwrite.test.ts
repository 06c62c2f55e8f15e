/** What was recorded is not replaced by accident. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { complaints, plyframe, testFolder } from "../../support/plyframe.ts";
import { ScriptedKit } from "../../support/scripted-kit.ts";

const OLD = "recorded before\n";

async function bench() {
  const kit = await new ScriptedKit([{ ambientUs: 1e6 }]).listen();
  const file = join(testFolder(), "leg.jsonl");
  writeFileSync(file, OLD);
  const read = (...words: string[]) => plyframe(["read", "--port", kit.port, "--for", "0.1", ...words]);
  return { kit, file, read };
}

describe("a file that is there already", () => {
  it.each([
    ["--capture", "give another name, --append to go on in it, or --overwrite to replace it"],
    ["--link-log", "give another name, or --overwrite to replace it"],
  ])("as %s is left alone, before the kit is asked anything", async (option, ways) => {
    const { kit, file, read } = await bench();
    const ended = await read(option, file);
    expect(complaints(ended)).toEqual([`plyframe: ${file}: is there already; ${ways}`]);
    expect([ended.status, kit.connections, readFileSync(file, "utf8")]).toEqual([2, 0, OLD]);
  });

  it.each(["--capture", "--link-log"])("as %s is replaced with --overwrite", async (option) => {
    const { file, read } = await bench();
    expect((await read(option, file, "--overwrite")).status).toBe(0);
    expect(readFileSync(file).length).toBeGreaterThan(0);
    expect(readFileSync(file, "utf8")).not.toContain(OLD.trim());
  });

  it("that is a device holds nothing to lose", async () => {
    const { read } = await bench();
    expect((await read("--capture", "/dev/null")).status).toBe(0);
  });

  it("is the demo's to write anew only under the demo's own name", async () => {
    const folder = testFolder();
    const [own, other] = [join(folder, "plyframe-demo.jsonl"), join(folder, "leg.jsonl")];
    for (const file of [own, other]) writeFileSync(file, OLD);
    const refused = await plyframe(["demo", "--json", "--speed", "100", "--capture", "leg.jsonl"], { cwd: folder });
    expect(complaints(refused)).toEqual([expect.stringMatching(/^plyframe: leg\.jsonl: is there already/)]);
    expect([refused.status, readFileSync(other, "utf8")]).toEqual([2, OLD]);
    const anew = await plyframe(["demo", "--json", "--speed", "100"], { cwd: folder });
    expect([anew.status, complaints(anew)]).toEqual([0, []]);
    expect(readFileSync(own, "utf8")).toMatch(/^\{"record":"capture"/);
  });
});
