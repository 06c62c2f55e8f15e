/** Emitted files: nothing stale, nothing but the fingerprint for a date, and what each one says of the specification. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { emittedFiles } from "../../../host/dev/emitted-files.ts";
import { emitJson } from "../../../protocol/emit/json.ts";
import { emitMemoryMap } from "../../../protocol/emit/memory-map.ts";
import { emitRelease } from "../../../protocol/emit/release.ts";
import { emitSvg } from "../../../protocol/emit/svg.ts";
import { formatFingerprint } from "../../../protocol/model/canonical.ts";
import { compile } from "../../../protocol/model/layout.ts";
import { reasons } from "../../../protocol/model/reasons.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { withEmptyRegion, withField, withRecord } from "../../support/changed-layout.ts";
import { bent, fieldOf, small } from "../../support/small-specification.ts";

const layout = compile(specification);

describe("emitted files", () => {
  it("are these", () => {
    expect(emittedFiles(specification).map(({ path }) => path)).toEqual([
      "protocol/emitted/types.ts",
      "protocol/emitted/parsers.ts",
      "protocol/emitted/layout.json",
      "protocol/MEMORY-MAP.md",
      "protocol/memory-map.svg",
      "protocol/firmware/plyframe_layout.h",
      "protocol/emitted/bulk.ts",
      "protocol/emitted/bulk.h",
      "protocol/emitted/plyframe.lua",
      "protocol/emitted/plyframe.ksy",
      "vectors/schema/capture.schema.json",
      "protocol/emitted/plyframe.schema.json",
      "protocol/emitted/canonical.txt",
    ]);
  });

  it("follow from the specification (else: npm run emit)", () => {
    const kept = (path: string) => readFileSync(new URL(`../../../${path}`, import.meta.url), "utf8");
    const stale = emittedFiles(specification).filter(({ path, text }) => text !== kept(path));
    expect(stale.map(({ path }) => path)).toEqual([]);
  });

  it("are the same text twice and another text for another specification", () => {
    const files = emittedFiles(specification);
    expect(emittedFiles(structuredClone(specification))).toEqual(files);
    const other = emittedFiles(bent((s) => (fieldOf(s, "sequence").range = [0, 9]), frameFirst));
    for (const [index, { path, text }] of other.entries()) expect(text === files[index]!.text, path).toBe(false);
  });

  it("carry the fingerprint and neither a date nor a path of a machine", () => {
    for (const { path, text } of emittedFiles(specification)) {
      const number = path.endsWith("layout.json")
        ? `"fingerprint": ${layout.fingerprint}`
        : formatFingerprint(layout.fingerprint);
      if (!path.endsWith("canonical.txt")) expect(text, path).toContain(number);
      expect(text, path).not.toMatch(/\b20[2-9]\d-(?!01-01)\d\d-\d\d\b/);
      expect(text, path).not.toMatch(/\/(home|root|work|tmp|usr)\//);
    }
  });
});

/** The specification with the frame in front, where `fieldOf` looks. */
const frameFirst = {
  ...specification,
  records: [...specification.records].sort((a, b) => Number(b.id === "frame") - Number(a.id === "frame")),
};

describe("emitMemoryMap", () => {
  const text = emitMemoryMap(layout)[0]!.text;

  it("has an anchor for every field and for every reason code, each once", () => {
    const anchors = [...text.matchAll(/<a id="([^"]+)"><\/a>/g)].map((match) => match[1]!);
    expect(new Set(anchors).size).toBe(anchors.length);
    for (const { id, fields } of layout.records) {
      for (const field of fields) {
        const anchor = `${id}-${field.array ?? field.id}`.replaceAll("_", "-");
        expect(anchors).toContain(anchor);
      }
    }
    for (const code of Object.keys(reasons)) expect(anchors).toContain(`reason-${code}`);
  });

  it("names words and bits as they lie in memory", () => {
    expect(text).toContain('<a id="frame-pressure"></a>`pressure` | 2 [7:0], 3 [15:0] |');
    expect(text).toContain('<a id="frame-uptime"></a>`uptime` | 5 [3:0], 6 [15:0] |');
    expect(text).toContain('<a id="frame-supply"></a>`supply` | 5 [15:4] |');
    expect(text).toContain('<a id="burst-samples"></a>`samples` | 6 to 30, one each |');
  });

  it("says of a field in tag memory who writes it, how it is locked and what a cold start leaves", () => {
    const line = text.split("\n").find((row) => row.startsWith("| `uptime` |"));
    expect(line).toMatch(/^\| `uptime` \| 0 \| firmware \| password-write \| .+ \|$/);
  });

  it("has as many cells in every row of a table as in its head", () => {
    let width = 0;
    for (const row of text.split("\n")) {
      const cells = row.startsWith("|") ? row.replaceAll("\\|", "").split("|").length : 0;
      if (cells > 0 && width > 0) expect(cells, row).toBe(width);
      width = cells;
    }
  });

  it("draws every link to an anchor or a page that exists", () => {
    const anchors = new Set([...text.matchAll(/<a id="([^"]+)">/g)].map((match) => match[1]!));
    anchors.add("checksums");
    for (const [, target] of text.matchAll(/\]\(#([^)]+)\)/g)) expect(anchors).toContain(target);
    for (const [, page] of text.matchAll(/\]\(([^#)][^)]*)\)/g)) {
      expect(() => readFileSync(new URL(`../../../protocol/${page}`, import.meta.url))).not.toThrow();
    }
  });
});

describe("emitJson", () => {
  it("is the compiled layout and the address of every field", () => {
    const { addresses, ...rest } = JSON.parse(emitJson(layout)[0]!.text);
    expect(rest).toEqual(JSON.parse(JSON.stringify(layout)));
    expect(addresses).toContainEqual({
      bank: "epc",
      region: "xpc",
      field: "xpc_w1",
      word: 33,
      words: 1,
      bits: [15, 0],
    });
  });
});

describe("emitRelease", () => {
  it("is a module of its number that holds the layout as it is and says that it stays", () => {
    const { path, text } = emitRelease({ ...layout, layout: 7, fingerprint: 0x0123_abcd })[0]!;
    expect(path).toBe("protocol/spec/released/layout-7.ts");
    const [head, data] = text.split("export const layout7: Layout = ");
    expect(head).toBe(`// Released layout 7, fingerprint 0123abcd: never changed, never removed.
import type { Layout } from "../../model/layout.ts";

`);
    const held = JSON.parse(data!.replace(/;\n$/, ""));
    expect(held).toEqual({ ...JSON.parse(JSON.stringify(layout)), layout: 7, fingerprint: 0x0123_abcd });
  });
});

describe("emitSvg", () => {
  const text = emitSvg(layout)[0]!.text;

  it("draws each bit of each record of USER once: the cells of a band fill its rows", () => {
    const bits = 952 / 128;
    const cells = [
      ...text.matchAll(/<rect class="cell (\w+)" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="46"/g),
    ];
    const total = cells.reduce((sum, match) => sum + Number(match[4]), 0) / bits;
    const records = new Set(layout.banks.find(({ id }) => id === "user")!.regions.map(({ record }) => record));
    const expected = layout.records.filter(({ id }) => records.has(id)).reduce((sum, { bytes }) => sum + bytes * 8, 0);
    expect(total).toBeCloseTo(expected, 0);
  });

  it("keeps every cell inside the page and is legible in the dark", () => {
    for (const [, x, width] of text.matchAll(/<rect class="cell \w+" x="([\d.]+)" y="[\d.]+" width="([\d.]+)"/g)) {
      expect(Number(x) + Number(width)).toBeLessThanOrEqual(976.01);
    }
    expect(text).toContain("prefers-color-scheme: dark");
  });

  it("draws a field that runs over the end of a row in two cells of 16 bits", () => {
    const change = { byte: 14, bytes: 4, shift: 0, width: 32 };
    const [before, after] = [layout, withField(layout, "calibration.reuse_count", change)].map(
      (from) => emitSvg(from)[0]!.text.match(/<rect class="cell number" [^>]* width="119" /g)!.length,
    );
    expect(after! - before!).toBe(2);
  });

  it("lets no text end its element", () => {
    const text = emitSvg(withRecord(layout, "frame", { title: "R & D <x>" }))[0]!.text;
    expect(text).toContain(">R &amp; D &lt;x></text>");
  });

  it("writes a name small where its region has no room for it", () => {
    const drawn = emitSvg(withEmptyRegion(layout, "narrow_one", 1))[0]!.text;
    expect(drawn).toMatch(/<text class="name" style="font-size:8px" [^>]*>narrow_one<\/text>/);
  });

  it("draws another specification too", () => {
    expect(emitSvg(compile(small))[0]!.text).toContain(">level<");
  });
});
