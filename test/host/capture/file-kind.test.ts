/** What a file is, by its first bytes. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { recognised } from "../../../host/capture/file-kind.ts";
import { frameOf, reportBody, welcomeBody } from "../../support/link-bytes.ts";
import { PcapngBytes } from "../../support/pcapng-bytes.ts";
import { LEG } from "../../support/plyframe.ts";
import { bytesOf } from "../../support/vectors.ts";
import { good, jsonLine } from "./collect.ts";

const little = new PcapngBytes("little");
const read = frameOf(reportBody(good.read));
const text = (value: string) => Buffer.from(value);

async function kindOf(bytes: Uint8Array, cut: number) {
  async function* pieces() {
    for (let at = 0; at < bytes.length; at += cut) yield bytes.subarray(at, at + cut);
  }
  const { kind, all } = await recognised(pieces());
  const parts: Uint8Array[] = [];
  for await (const part of all) parts.push(part);
  expect(Buffer.concat(parts).equals(bytes)).toBe(true);
  return kind;
}

const long = (type: number) =>
  Buffer.concat([little.section([[1, "x".repeat(60_000)]]), little.interface(type), little.packet(read)]);

describe("a file", () => {
  it.each([
    ["text", text("")],
    ["text", text("{")],
    ["text", text(`\uFEFF${jsonLine("capture")}`)],
    ["text", readFileSync(LEG)],
    ["text", text("kit_time_us;epc\n")],
    ["text", Buffer.concat([text(jsonLine("capture")), Buffer.alloc(100)])],
    ["text", Buffer.concat([Buffer.from([1, 2, 3]), text("rubbish ".repeat(1000))])],
    ["link", frameOf(welcomeBody(3))],
    ["link", Buffer.concat([read.subarray(10), read, read])],
    // Noise without control characters in the first 64 bytes is told from text no more.
    ["link", Buffer.concat([Buffer.from([200, 201, 3, 202]), read])],
    ["llrp", bytesOf("043f00000020000000000100001600f6001600008000000000000000010000080000")],
    ["pcapng", Buffer.concat([little.section(), little.interface(147)])],
    ["pcapng", long(147)],
    ["packets", long(1)],
    ["packets", long(148)],
    ["packets", Buffer.concat([new PcapngBytes("big").section(), new PcapngBytes("big").interface(1)])],
    ["packets", little.section()],
    ["packets", bytesOf("d4c3b2a1020004000000000000000000")],
    ["packets", bytesOf("a1b23c4d000200040000000000000000")],
  ] as const)("is %s (case %#)", async (kind, bytes) => {
    for (const cut of [1, 50, 1 << 20]) expect(await kindOf(bytes, cut)).toBe(kind);
  });

  it("of text is known before more of it is there than a short line", async () => {
    let asked = 0;
    async function* slowly() {
      for (asked = 1; ; asked++) yield text(jsonLine("capture"));
    }
    expect((await recognised(slowly())).kind).toBe("text");
    expect(asked).toBe(1);
  });

  it("whose reading fails early is known by what there is, and the failure comes after that", async () => {
    const lost = new Error("gone");
    async function* failing() {
      yield text("{");
      throw lost;
    }
    const { kind, all } = await recognised(failing());
    const parts: string[] = [];
    const reading = (async () => {
      for await (const part of all) parts.push(Buffer.from(part).toString());
    })();
    await expect(reading).rejects.toBe(lost);
    expect([kind, parts]).toEqual(["text", ["{"]]);
  });
});
