/** What must hold of the firmware's source and of the code every compiler makes of it, without running it. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { reasons } from "../../protocol/model/reasons.ts";
import { type CallGraph, readCallGraph, recursiveFunctions } from "./support/call-graph.ts";
import { changedSource } from "./support/changed-source.ts";
import { compileObject, firmwareSource, includes } from "./support/image.ts";
import { needsAll } from "./support/needs-all.ts";
import { attempt, firmwareFolder, run, workFolder } from "./support/program.ts";
import { sealNames, sealTables, type Target, targets } from "./support/targets.ts";

const strict = ["-Wall", "-Wextra", "-Wconversion", "-Wpedantic", "-Werror"];
const tables = sealTables.map((table) => [sealNames[table], `-DPLY_SEAL_TABLE=${table}`] as const);
/** Settings that take other code in or out. */
const settings = [...tables, ["no bursts", "-DPLY_BURST_EVERY=0"], ["names", "-DPLY_WITH_NAMES"]] as const;

const clean = { status: 0, stdout: "", stderr: "" };

describe("gcc, all warnings and -fanalyzer", () => {
  needsAll(["gcc"], () => {
    const check = (source: string, option: string) =>
      attempt(
        "gcc",
        [
          "-std=c99",
          ...strict,
          "-Wsign-conversion",
          "-fanalyzer",
          "-Os",
          option,
          ...includes,
          "-c",
          source,
          "-o",
          "/dev/null",
        ],
        workFolder(),
      );

    it.each(tables)("%s: nothing to say", (_, option) => {
      expect(check(firmwareSource, option)).toEqual(clean);
    });

    it("says something of an array read beyond its end", () => {
      const source = changedSource(
        "static uint32_t pair(",
        "static const uint8_t two[2] = {1, 2};\nuint8_t third(void);\nuint8_t third(void)\n{\n    return two[2];\n}\n\nstatic uint32_t pair(",
      );
      expect(check(source, "-DPLY_SEAL_TABLE=0").status).not.toBe(0);
    });
  });
});

describe("clang, static analysis", () => {
  needsAll(["clang"], () => {
    const check = (source: string, option: string) =>
      attempt(
        "clang",
        ["--analyze", "-Xclang", "-analyzer-werror", "-std=c99", option, ...includes, source, "-o", "/dev/null"],
        workFolder(),
      );

    it.each(tables)("%s: nothing to say", (_, option) => {
      expect(check(firmwareSource, option)).toEqual(clean);
    });

    it("says something of a value that was never set", () => {
      const source = changedSource("uint16_t seal = PLY_SEAL_PRESET;", "uint16_t seal;");
      expect(check(source, "-DPLY_SEAL_TABLE=0").status).not.toBe(0);
    });
  });
});

describe("cppcheck", () => {
  needsAll(["cppcheck"], () => {
    /* The functions of the header are called by the board's program, the headers of the system are not its business. */
    const suppress = ["unusedFunction", "missingIncludeSystem"].map((id) => `--suppress=${id}`);
    const check = (source: string, platform: string) =>
      attempt(
        "cppcheck",
        [
          "-q",
          "--enable=all",
          "--inconclusive",
          "--std=c99",
          "--error-exitcode=1",
          `--platform=${platform}`,
          ...suppress,
          "-I",
          firmwareFolder,
          source,
        ],
        workFolder(),
      );

    it.each(["avr8", "unix32"])("%s: nothing to say", (platform) => {
      expect(check(firmwareSource, platform)).toEqual(clean);
    });

    it("says something of a shift wider than the type", () => {
      const source = changedSource("((uint32_t)words[0] << 16)", "((uint32_t)words[0] << 32)");
      expect(check(source, "unix32").status).toBe(1);
    });
  });
});

it("a name stands for every reason code", () => {
  const header = readFileSync(join(firmwareFolder, "plyframe_layout.h"), "utf8");
  const named = [...header.matchAll(/case (\d+)u: return "([a-z0-9-]+)";/g)].map(([, number, code]) => [
    code,
    Number(number),
  ]);
  expect(named).toEqual(Object.entries(reasons).map(([code, { number }]) => [code, number]));
});

const port = [
  "now_ms",
  "sleep_until",
  "supply_mv",
  "sensor_start",
  "sensor_ready",
  "sensor_read",
  "bridge_read",
  "bridge_write",
  "bridge_settle",
].map((name) => `ply_port_${name}`);

/** Called by compilers on their own: copying, clearing, and the jump table of a switch. */
const broughtByCompiler: Readonly<Record<Target["id"], readonly string[]>> = {
  "cortex-m0": [
    "memcpy",
    "memset",
    "__gnu_thumb1_case_uhi",
    "__gnu_thumb1_case_uqi",
    "__gnu_thumb1_case_sqi",
    "__gnu_thumb1_case_shi",
  ],
  "cortex-m3": ["memcpy", "memset"],
  avr: ["memcpy", "memset", "__tablejump2__"],
  msp430: ["memcpy", "memset"],
  rv32: ["memcpy", "memset"],
};

/** Instructions that divide, on the cores that have them. */
const DIVIDES = /^\s*[0-9a-f]+:\s+(?:[0-9a-f]{2,8} ?)+\s*\t?(?:[us]div|divu?|remu?)\s/m;

describe.each(targets.map((target) => [target.title, target] as const))("%s", (_, target) => {
  needsAll(target.programs, () => {
    const warn = target.compiler === "clang" ? strict : [...strict, "-Wsign-conversion"];

    it.each(settings)("%s: compiles without a warning", (_, option) => {
      compileObject(target, firmwareSource, workFolder(), [...warn, option]);
    });

    describe.each(tables)("%s", (_, option) => {
      let graph: CallGraph;
      let code = "";
      beforeAll(() => {
        const folder = workFolder();
        const object = compileObject(target, firmwareSource, folder, [option]);
        graph = readCallGraph(target, object, folder);
        code = run(target.objdump, ["-d", object], folder).stdout;
      });

      it("calls the port and nothing else but what a compiler brings: no heap, no float, no division", () => {
        expect(
          graph.outside.filter((name) => !port.includes(name) && !broughtByCompiler[target.id].includes(name)),
        ).toEqual([]);
        expect(port.filter((name) => !graph.outside.includes(name))).toEqual([]);
      });

      it("divides by no instruction", () => {
        expect(DIVIDES.exec(code)?.[0]).toBeUndefined();
      });

      it("calls itself nowhere", () => {
        expect(graph.calls.size).toBeGreaterThan(10);
        expect(graph.calls.get("ply_step")!.size).toBeGreaterThan(5);
        expect(recursiveFunctions(graph)).toEqual([]);
      });
    });

    it("finds a division, a heap and a recursion where they are", () => {
      const source = join(workFolder(), "wrong.c");
      writeFileSync(
        source,
        "void *malloc(unsigned size);\nunsigned down(unsigned a, unsigned b);\nunsigned up(unsigned a, unsigned b);\n" +
          "__attribute__((noinline)) unsigned up(unsigned a, unsigned b) { return a / b + down(a - 1u, b) * 3u; }\n" +
          "__attribute__((noinline)) unsigned down(unsigned a, unsigned b) { return a == 0u || malloc(a) == 0 ? 0u : up(a, b) + 1u; }\n",
      );
      const folder = workFolder();
      const object = compileObject(target, source, folder, []);
      const wrong = readCallGraph(target, object, folder);
      expect(recursiveFunctions(wrong)).toContain("up");
      expect(wrong.outside).toContain("malloc");
      const divides = DIVIDES.test(run(target.objdump, ["-d", object], folder).stdout);
      expect(divides || wrong.outside.some((name) => /div/.test(name))).toBe(true);
    });
  });
});
