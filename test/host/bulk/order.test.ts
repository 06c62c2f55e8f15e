/** Which lines fit a learned order, and that nothing hangs on it but speed. */
import { describe, expect, it } from "vitest";
import { KINDS, orderOf } from "../../../host/bulk/order.ts";
import { PlainEngine } from "../../../host/bulk/plain-engine.ts";
import { wasmEngine } from "../../../host/bulk/wasm-engine.ts";
import { layout } from "../../../protocol/index.ts";
import { byColumns } from "./by-columns.ts";

const HEADER = `{"record":"capture","version":1,"layout":1,"fingerprint":"028961a7","started":"2026-03-04T09:00:00.000Z","source":"test","barometer_uncertainty_pa":null}\n`;
const USUAL = `{"record":"read","kit_time_us":7,"epc":"3066","pc":"3600","xpc":"0000","rssi_dbm":-40.5,"frequency_khz":865700,"result":"done","bank":"tid","word":0,"words":"e280"}\n`;
const OTHER = `{"words":"e280", "word":0, "bank":"tid", "result":"done", "frequency_khz":865700, "rssi_dbm":-40.5, "xpc":"0000", "pc":"3600", "epc":"3066", "kit_time_us":7, "record":"read"}\n`;

const bytes = (text: string) => new TextEncoder().encode(text);
const stepsOf = (line: string) =>
  orderOf(bytes(line))?.steps.map(({ text, value }) => [Buffer.from(text).toString(), KINDS[value]]);

/** Lines that went through the rules for single lines, for each engine. */
async function fellBack(text: string): Promise<number[]> {
  const counts = [];
  for (const engine of [new PlainEngine(layout), wasmEngine(layout)!]) {
    counts.push((await byColumns(bytes(text), engine, () => 100_000)).fellBack);
  }
  return counts;
}

describe("the order of a line", () => {
  it("is the text between its values, quotes of hex and names with it", () => {
    expect(
      stepsOf(` {"kit_time_us": 7 ,"record":"ambient","pressure_raw":1,"x":"y","temperature_cel":null}\r\n`),
    ).toEqual([
      [` {"kit_time_us": `, "ambient_kit_time_us"],
      [` ,"record":"ambient","pressure_raw":`, "pressure_raw"],
      [`,"x":`, "any"],
      [`,"temperature_cel":`, "temperature_cel"],
      ["}\r\n", "line_end"],
    ]);
    expect(stepsOf(USUAL)!.slice(0, 3)).toEqual([
      [`{"record":"read","kit_time_us":`, "kit_time_us"],
      [`,"epc":"`, "epc"],
      [`","pc":"`, "pc"],
    ]);
  });

  it.each([
    ["no line end", USUAL.trimEnd()],
    ["a member within a member", USUAL.replace("{", `{"x":{},`)],
    ["a list", USUAL.replace("{", `{"x":[1],`)],
    ["a member twice", USUAL.replace("{", `{"word":0,`)],
    ["an escape", USUAL.replace("3066", "\\u00333066")],
    ["text beyond ASCII", USUAL.replace("{", `{"ä":1,`)],
    ["no kind of record", USUAL.replace(`"record":"read",`, "")],
  ])("cannot be learned from %s", (_, line) => {
    expect(orderOf(bytes(line))).toBeNull();
  });
});

describe("lines that fall back", () => {
  it("are the first one only, when all are alike", async () => {
    expect(await fellBack(HEADER + USUAL.repeat(1000))).toEqual([1, 1]);
    expect(await fellBack(HEADER + OTHER.repeat(1000))).toEqual([1, 1]);
  });

  it("are every one of another order, until there are nine of them without one that fits", async () => {
    expect(await fellBack(HEADER + (USUAL.repeat(9) + OTHER).repeat(50))).toEqual([51, 51]);
    expect(await fellBack(HEADER + USUAL.repeat(100) + OTHER.repeat(100))).toEqual([1 + 9, 1 + 9]);
  });

  it.each([
    ["a number with an exponent", USUAL.replace(":7,", ":7e0,")],
    ["a number with sixteen digits", USUAL.replace("-40.5", "-40.50000000000000")],
    ["spaces within hex", USUAL.replace("e280", "e2 80")],
    ["a space more", USUAL.replace(",", " ,")],
    ["a carriage return", USUAL.replace("\n", "\r\n")],
  ])("are those with %s, which are read all the same", async (_, line) => {
    expect(await fellBack(HEADER + USUAL.repeat(5) + line + USUAL.repeat(5))).toEqual([2, 2]);
    for (const engine of [new PlainEngine(layout), wasmEngine(layout)!]) {
      const { rows } = await byColumns(bytes(HEADER + USUAL + line), engine, () => 100_000);
      expect(rows.map(({ report }) => report)).toEqual([rows[0]!.report, rows[0]!.report]);
    }
  });

  it("are all of a capture that has a heading row", async () => {
    const row = "1,3066,3600,0000,1,tag_lost,user,0,\n";
    const text = `kit_time_us,epc,pc,xpc,frequency_khz,result,bank,word,words\n${row.repeat(20)}`;
    expect(await fellBack(text)).toEqual([20, 20]);
  });
});

describe("a line that fits a learned order and is too long for a record", () => {
  it("is refused all the same, at one byte more than the limit and not before", async () => {
    const remark = (length: number) => USUAL.replace("{", `{"remark":"${"x".repeat(length)}",`);
    const short = remark(1).length;
    // 65 536 bytes are the longest line a capture may have, its line end included (vectors/schema/capture.schema.json).
    const longest = remark(1 + 65_536 - short);
    const text = bytes(HEADER + remark(1) + longest + remark(2 + 65_536 - short) + remark(1));
    for (const engine of [new PlainEngine(layout), wasmEngine(layout)!]) {
      const { rows, counts, fellBack: slow } = await byColumns(text, engine, () => 500_000);
      expect({ reads: rows.length, rejected: counts.rejected, slow }, engine.name).toEqual({
        reads: 3,
        rejected: { "line-too-long": 1 },
        slow: 2,
      });
    }
  });
});

describe("a batch", () => {
  it("ends when its columns are full, and the next one goes on", async () => {
    const text = bytes(HEADER + USUAL.repeat(9000));
    for (const engine of [new PlainEngine(layout), wasmEngine(layout)!]) {
      const { rows, counts } = await byColumns(text, engine, () => 2_000_000);
      expect(rows.length).toBe(9000);
      expect(rows.at(-1)!.line).toBe(9001);
      expect(counts.bytes).toBe(text.length);
    }
  });
});
