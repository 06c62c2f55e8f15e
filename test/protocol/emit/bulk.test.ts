/** What is emitted for the bulk judge where a field or record is not as the specification has it, written out by hand. */
import { describe, expect, it } from "vitest";
import { emitBulk } from "../../../protocol/emit/bulk.ts";
import { type CompiledField, compile, type Layout } from "../../../protocol/model/layout.ts";
import type { Sentinel } from "../../../protocol/model/vocabulary.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { withEmptyRegion, withField, withRecord } from "../../support/changed-layout.ts";

const layout = compile(specification);

function emitted(from: Layout) {
  const [typeScript, header] = emitBulk(from);
  return { typeScript: typeScript!.text, header: header!.text };
}

const changed = (path: string, change: Partial<CompiledField>) => emitted(withField(layout, path, change));

/** The frame's lines that say why this field is refused, in TypeScript. */
function refusals(id: string, change: Partial<CompiledField>): string[] {
  const judge = /function judgeFrame[\s\S]*?\n}/.exec(changed(`frame.${id}`, change).typeScript)![0];
  return judge.split("\n").filter((line) => line.includes(`// ${id}: `));
}

const sentinels = (...raws: number[]): Sentinel[] => raws.map((raw) => ({ raw, id: `at_${raw}`, means: "absent" }));

describe("the bulk judge", () => {
  it("refuses a flag without a name: bits 7 to 2 are 252; reason 8, field 2", () => {
    const { typeScript, header } = changed("frame.status", { named: 3 });
    expect(typeScript).toContain(
      "\n  if ((((a >>> 16) & 255) & 252) !== 0) return 2050; // status: reserved-bit-set\n",
    );
    expect(header).toContain(
      "\n    if ((((a >> 16) & 255u) & 252u) != 0u) return 2050u; /* status: reserved-bit-set */\n",
    );
  });

  it("refuses what has no name in a list: reason 9, field 2", () => {
    const names = [
      { raw: 1, id: "slow" },
      { raw: 2, id: "fast" },
    ];
    const { typeScript, header } = changed("frame.status", { type: "enumeration", names });
    expect(typeScript).toContain(
      "\n  if (((a >>> 16) & 255) !== 1 && ((a >>> 16) & 255) !== 2) return 2306; // status: name-unknown\n",
    );
    expect(header).toContain(
      "\n    if (((a >> 16) & 255u) != 1u && ((a >> 16) & 255u) != 2u) return 2306u; /* status: name-unknown */\n",
    );
  });

  it("knows negative limits: 24 bits with a sign; reason 10, field 5", () => {
    const change = { type: "signed", signed: true, min: -5, max: 5, sentinels: sentinels(-9) } as const;
    const { typeScript, header } = changed("frame.pressure", change);
    const value = "((b << 8) >> 8)";
    expect(typeScript).toContain(
      `\n  if ((${value} < -5 || ${value} > 5) && ${value} !== -9) return 2565; // pressure: value-out-of-range\n`,
    );
    const inC = "((int32_t)(b << 8) >> 8)";
    expect(header).toContain(
      `\n    if ((${inC} < -5 || ${inC} > 5) && ${inC} != -9) return 2565u; /* pressure: value-out-of-range */\n`,
    );
  });

  it("has no limit where every value is allowed, of either sign", () => {
    const whole = { min: -(2 ** 23), max: 2 ** 23 - 1, sentinels: [] };
    expect(refusals("pressure", { type: "signed", signed: true, ...whole })).toEqual([]);
    expect(refusals("pressure", { min: 0, max: 2 ** 24 - 1, sentinels: [] })).toEqual([]);
  });

  it.each([
    ["a least alone", { min: 1, max: 65_535 }, "(a & 65535) < 1"],
    ["a most alone", { min: 0, max: 65_534 }, "(a & 65535) > 65534"],
    [
      "special values next to the limits",
      { min: 12, max: 20, sentinels: sentinels(10, 11, 21, 22) },
      "(a & 65535) < 10 || (a & 65535) > 22",
    ],
    [
      "special values apart",
      { min: 12, max: 65_535, sentinels: sentinels(10) },
      "((a & 65535) < 12) && (a & 65535) !== 10",
    ],
  ] as const)("has %s: reason 10, field 3", (_, change, when) => {
    expect(refusals("sequence", { sentinels: [], ...change })).toEqual([
      `  if (${when}) return 2563; // sequence: value-out-of-range`,
    ]);
  });

  it("keeps 32 bits without a sign in columns without a sign", () => {
    const { typeScript, header } = changed("frame.pressure", { byte: 4, bytes: 4, shift: 0, width: 32 });
    expect(typeScript).toContain("\n  readonly pressure: Uint32Array;\n");
    expect(typeScript).toContain("\n  to.pressure[row] = (b >>> 0);\n");
    expect(header).toContain("\nstatic inline uint32_t ply_frame_pressure(");
    expect(header).toContain("\n    X(pressure, uint32_t) ");
  });

  it("knows by its name what an access that was done says", () => {
    const names = [
      { raw: 5, id: "failed" },
      { raw: 6, id: "done" },
    ];
    expect(changed("tag_report.result", { names }).header).toContain("\n#define PLY_BULK_DONE 6u\n");
  });

  it("takes apart a whole word with a sign, and the upper half of one", () => {
    const whole = { signed: true, byte: 4, bytes: 4, shift: 0, width: 32 };
    expect(changed("frame.pressure", whole).typeScript).toContain("\n  to.pressure[row] = ((b) >> 0);\n");
    const upper = { byte: 4, bytes: 2, shift: 4, width: 8 };
    expect(changed("frame.pressure", upper).typeScript).toContain("\n  to.pressure[row] = ((b >>> 20) & 255);\n");
    expect(changed("frame.pressure", { ...upper, signed: true }).typeScript).toContain(
      "\n  to.pressure[row] = ((b << 4) >> 24);\n",
    );
  });

  it.each([
    ["of one byte", { bytes: 1 }],
    ["of eight bytes", { bytes: 8 }],
    ["that begins with its least byte", { little: true }],
  ])("does not know a container %s", (_, change) => {
    expect(() => changed("frame.supply", change)).toThrow("frame.supply: not a big-endian container of 2 or 4 bytes");
  });

  it.each([4, 8, 12])("wants the sequence in the first word, not at byte %i", (byte) => {
    expect(() => changed("frame.sequence", { byte })).toThrow("frame.sequence: not in the first four bytes");
  });
});

describe("records of the bulk judge", () => {
  const others: readonly (readonly [string, Layout])[] = [
    ["is not of 16 bytes", withRecord(layout, "counters", { bytes: 18 })],
    [
      "has a tail",
      withRecord(layout, "counters", {
        tails: [{ id: "more", path: "counters.more", why: "", bytes: 1, little: false, count: 2 }],
      }),
    ],
    ["has another checksum than the seal", withField(layout, "counters.seal", { algorithm: "air" })],
    ["has its seal elsewhere", withField(layout, "counters.seal", { byte: 12 })],
    ["has no seal", withField(layout, "counters.seal", { type: "unsigned", sentinels: [], min: 0, max: 65_535 })],
  ];

  it.each(others)("leave out one that %s", (_, from) => {
    const { typeScript, header } = emitted(from);
    expect(typeScript).not.toContain("judgeCounters");
    expect(header).toContain(" X(3, counters_a, 24u, 8u, 0) ");
    expect(header).toContain(" X(1, slot_a, 8u, 8u, ply_judge_frame) ");
  });

  it("are not where no record is", () => {
    expect(emitted(withEmptyRegion(layout, "nothing", 4))).toEqual(emitted(layout));
  });

  it("leave out one that lies in no bank", () => {
    const banks = layout.banks.map((bank) => ({
      ...bank,
      regions: bank.regions.filter(({ record }) => record !== "counters"),
    }));
    expect(emitted({ ...layout, banks }).typeScript).not.toContain("judgeCounters");
  });
});
