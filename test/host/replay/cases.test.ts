/** Questions made of vectors, against lines written by hand from vectors/README.md and vectors/REPLAY.md. */
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { requestLine } from "../../../host/replay/answer.ts";
import { pathAsked } from "../../../host/replay/concern.ts";
import { rightAnswer } from "../../../host/replay/replay-case.ts";
import { anchorOf, fieldLine, MEMORY_MAP } from "../../../host/replay/specification-link.ts";
import { layout } from "../../../protocol/index.ts";
import { cases, folder, group, vectors } from "./vectors.ts";

function lines(id: string): string[] {
  const asked = cases.find((one) => one.id === id);
  if (!asked) throw new Error(`there is no case ${id}`);
  return [asked.needs, requestLine(1, asked.verb, asked.given), rightAnswer(asked.expected)];
}

describe("a vector becomes a question", () => {
  it.each([
    [
      "counters-ordinary",
      "decode.counters",
      "1 decode record=counters bytes=31030000032c0200002900024ad90ced",
      "good kind=3 layout=1 reuse_cycles=3 cold_starts=812 fruitless_starts=2 brown_outs=41 frames=150233 seal=3309",
    ],
    [
      "counters-ordinary:encode",
      "encode.counters",
      "1 encode record=counters reuse_cycles=3 cold_starts=812 fruitless_starts=2 brown_outs=41 frames=150233",
      "good bytes=31030000032c0200002900024ad90ced",
    ],
    [
      "counters-short-0",
      "decode.counters",
      "1 decode record=counters bytes=",
      "bad record-too-short byte=0 path=counters bit=none",
    ],
    [
      "slots-b-newer",
      "slots",
      "1 slots bytes=2100126600d051000c468630007b69f42100126700d051000c468630007bb1bd",
      "good slot=b sequence=4711 notes=",
    ],
    [
      "slots-both-bad-flipped-empty",
      "slots",
      "1 slots bytes=2100126800d151000c468630007b3a8e00000000000000000000000000000000",
      "bad slots-both-bad byte=0 path=slots bit=none notes=slot-a-bad,slot-b-empty a=checksum-mismatch b=record-empty",
    ],
    [
      "quantity-header-sampling-period-0p009",
      "quantity",
      "1 quantity record=header field=sampling_period value=0.009",
      "bad value-out-of-range byte=8 path=header.sampling_period bit=0",
    ],
    [
      "epc-sgtin-e1-serial-6789:write",
      "epc_write",
      "1 epc_write uri=urn:epc:tag:sgtin-96:3.95060001343.05.6789",
      "good hex=3066c4409047e14000001a85",
    ],
    ["stored-crc-words-1", "stored_crc", "1 stored_crc pc=0800 epc=1111", "good stored_crc=ccae"],
    [
      "slice-16-big-at-0-bits-15-0",
      "slice",
      "1 slice bytes=0123456789abcdef at=0 container=16 order=big msb=15 lsb=0 signed=no",
      "good raw=291",
    ],
    [
      "fingerprint-header-zero",
      "header",
      "1 header bytes=001100000000010403e8123456782f40",
      "bad fingerprint-mismatch byte=2 path=header.fingerprint bit=0",
    ],
    [
      "link-noise-one-delimited",
      "unframe",
      "1 unframe chunks=5500020108010104e4f641c200",
      "bad link-stuffing-invalid byte=0 path=link bit=none bodies=0100010104",
    ],
    [
      "message-hello-ordinary",
      "message.hello",
      "1 message direction=to-kit body=0101020104",
      "good message=hello request=258 link_version=1 max_outstanding=4",
    ],
  ])("%s", (id, ...expected) => expect(lines(id)).toEqual(expected));

  it("of a calibrated pressure with thousandths instead of decimals", () => {
    // 42.423424131 mmHg and U = 120.598507453 Pa stand in the file.
    expect(lines("reading-ordinary")[2]).toBe(
      "good slot=b copy=1 absolute_raw=13644960 gauge_raw=723967 gauge_thousandths_mmhg=42423 uncertainty_thousandths_pa=120599",
    );
    expect(lines("reading-ordinary")[1]).toMatch(/ ambient_raw=12969600 ambient_uncertainty_pa=12$/);
  });
});

describe("the set", () => {
  it("has the digest that the shell computes", () => {
    const digest = execFileSync("sh", ["-c", "LC_ALL=C; export LC_ALL; cat *.json | sha256sum"], {
      cwd: folder,
      encoding: "utf8",
    });
    expect(vectors.digest).toBe(digest.split(" ")[0]);
    expect(vectors.version).toMatch(/^\d+\.\d+\.\d+$/);
  });

  it("asks every vector of every kind that has a verb, at least once", () => {
    const silent = ["air", "llrp-messages", "llrp-stream"];
    const asked = new Set(cases.map(({ id }) => id.replace(/:(encode|write)$/, "")));
    const missing = vectors.files
      .filter(({ kind }) => !silent.includes(kind))
      .flatMap((file) => file.vectors.map(({ id, hex }) => ({ kind: file.kind, id, hex })))
      .filter(({ kind, hex }) => kind !== "fingerprint" || hex !== undefined)
      .filter(({ id }) => !asked.has(id));
    expect(missing).toEqual([]);
  });

  it("has ids that name one case each", () => {
    expect(new Set(cases.map(({ id }) => id)).size).toBe(cases.length);
  });

  it("asks on lines as long as the contract says, without white space in a value", () => {
    for (const { id, verb, given, expected } of cases) {
      expect(requestLine(99_999, verb, given).length, id).toBeLessThanOrEqual(16_384);
      expect(rightAnswer(expected).length, id).toBeLessThanOrEqual(65_536);
      for (const [, text] of given) expect(text, id).toMatch(/^[!-~]*$/);
    }
  });

  it("has groups of the files' names", () => {
    expect(group("verdict-order").length).toBeGreaterThan(10);
    expect(() => group("nothing")).toThrow();
  });
});

describe("links into the memory map", () => {
  const map = readFileSync(new URL(`../../../${MEMORY_MAP}`, import.meta.url), "utf8");
  const headings = [...map.matchAll(/^#+ (.*)$/gm)].map(([, title]) =>
    title!
      .toLowerCase()
      .replace(/[^a-z0-9 -]/g, "")
      .replaceAll(" ", "-"),
  );
  const anchors = new Set([...[...map.matchAll(/<a id="([^"]+)">/g)].map(([, id]) => id!), ...headings]);

  it("exist for every path that a vector names", () => {
    const paths = new Set(cases.filter(({ expected }) => expected.verdict === "bad").map(pathAsked));
    expect(paths.size).toBeGreaterThan(100);
    for (const path of paths) expect([path, anchors.has(anchorOf(path))]).toEqual([path, true]);
  });

  it("exist for every field of the specification, which has a line of its own", () => {
    for (const record of layout.records) {
      for (const field of record.fields) {
        expect([field.path, anchors.has(anchorOf(field.path))]).toEqual([field.path, true]);
        expect(anchorOf(field.path)).toBe(`${record.id}-${field.array ?? field.id}`.replaceAll("_", "-"));
      }
    }
    expect(fieldLine("frame.temperature")).toMatch(
      /^bytes 8 to 9, bits 15 to 0, signed -4000 to 12500, raw \/ 100 Cel\. /,
    );
    expect(fieldLine("frame.seal")).toMatch(/^bytes 14 to 15, bits 15 to 0, checksum seal over bytes 0 to 13\. /);
    expect(fieldLine("burst.samples[20]")).toMatch(/^bytes 52 to 53, /);
    expect(fieldLine("slots")).toBeNull();
  });

  it.each([
    ["frame.status.bit_3", "frame-status"],
    ["burst.samples[3]", "burst-samples"],
    ["tag_report.words", "tag-report-words"],
    ["slots", "record-frame"],
    ["link.checksum", "checksums"],
    ["link.stuffing", "the-link"],
    ["sgtin_96.serial", "epc-epc"],
    ["epc.header", "epc-epc"],
    ["reading.gauge", "record-calibration"],
    ["slice", "the-four-banks"],
  ])("%s is at #%s", (path, anchor) => {
    expect(anchorOf(path)).toBe(anchor);
    expect(anchors).toContain(anchor);
  });
});
