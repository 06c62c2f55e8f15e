/** Ctrl-C in the middle of a decode: what was done is whole, and the command it prints does the rest and nothing twice. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { describe, expect, it } from "vitest";
import { legLines, linesOf, PROGRAM, plyframe, start, startProgram, testFolder } from "../../support/plyframe.ts";

/** The capture with a line nobody can read among those that are there when the signal comes: its message says how far it is. */
const capture = [...legLines.slice(0, 100), "not a record", ...legLines.slice(100)].map((line) => `${line}\n`);
const THERE = 160;
const whole = capture.join("");

/** A decode of standard input that is stopped while it waits for more, and then gone on with. */
async function stopped(out: string, signal: "SIGINT" | "SIGTERM", ...more: readonly string[]) {
  const folder = testFolder();
  const running = start(["decode", "--site", "3066c4409047e14000004b01=B1 (it's inner)", "--out", out, ...more, "-"], {
    cwd: folder,
  });
  running.child.stdin.write(capture.slice(0, THERE).join(""));
  await running.said(/standard input:101: /);
  running.stop(signal);
  const ended = await running.ended;
  const [, before] = /Stopped before line (\d+); everything before it is done\. To go on, with the same input:\n/.exec(
    ended.stderr,
  )!;
  const command = linesOf(ended.stderr).at(-1)!.trim();
  expect(command).toMatch(/^plyframe decode --from \d+ /);
  const rest = startProgram("sh", ["-c", command.replace(/^plyframe/, `'${process.execPath}' '${PROGRAM}'`)], {
    cwd: folder,
    input: whole,
  });
  const wentOn = await rest.ended;
  const names = readdirSync(folder).sort();
  return { folder, ended, wentOn, names, before: Number(before), command };
}

/** What the whole capture gives in one go. */
async function inOneGo(out: string): Promise<string> {
  const folder = testFolder();
  const ended = await plyframe(["decode", "--out", join(folder, out), "-"], { input: whole });
  expect(ended.status).toBe(1);
  return join(folder, out);
}

describe("a decode that is stopped", () => {
  it.each([
    ["SIGINT", 130],
    ["SIGTERM", 143],
  ] as const)(
    "by %s leaves whole lines, and the command it prints gives exactly the others",
    async (signal, status) => {
      const { folder, ended, wentOn, names, before } = await stopped("leg.jsonl", signal, "--rejects", "bad.jsonl");
      expect(ended.status).toBe(status);
      // Input comes in pieces that end in the middle of a line.
      expect([before > 101, before <= THERE + 1]).toEqual([true, true]);
      expect(names).toEqual([`bad.from-${before}.jsonl`, "bad.jsonl", `leg.from-${before}.jsonl`, "leg.jsonl"]);
      const parts = ["leg.jsonl", `leg.from-${before}.jsonl`].map((name) => readFileSync(join(folder, name), "utf8"));
      expect(parts.every((part) => part.endsWith("\n") && linesOf(part).length > 50)).toBe(true);
      expect(parts.join("") === readFileSync(await inOneGo("leg.jsonl"), "utf8")).toBe(true);
      // The line that cannot be read was rejected by the first run and not again.
      expect(ended.stderr).toContain("1 records rejected; they are kept in bad.jsonl");
      expect([
        readFileSync(join(folder, "bad.jsonl"), "utf8"),
        readFileSync(join(folder, `bad.from-${before}.jsonl`), "utf8"),
      ]).toEqual(["not a record\n", ""]);
      expect(wentOn.status).toBe(0);
      expect(wentOn.stderr).toContain(`Written from line ${before} on`);
    },
  );

  it("leaves whole rows of CSV", async () => {
    const { folder, before } = await stopped("leg.csv", "SIGINT");
    const [first, rest] = ["leg.csv", `leg.from-${before}.csv`].map((name) => readFileSync(join(folder, name), "utf8"));
    const [heading] = linesOf(rest!);
    expect(first!.startsWith(`${heading}\n`)).toBe(true);
    expect(first! + rest!.slice(heading!.length + 1) === readFileSync(await inOneGo("leg.csv"), "utf8")).toBe(true);
  });

  it("leaves Parquet with its footer, packed text with its trailer, and pcapng with whole blocks", async () => {
    const connection = await (await DuckDBInstance.create()).connect();
    const rows = async (sql: string) => (await connection.runAndReadAll(sql)).getRowObjectsJson();
    const table = (...files: string[]) => `read_parquet([${files.map((file) => `'${file}'`)}])`;
    const { folder, before } = await stopped("leg.parquet", "SIGINT");
    const parts = table(join(folder, "leg.parquet"), join(folder, `leg.from-${before}.parquet`));
    const once = table(await inOneGo("leg.parquet"));
    expect(await rows(`select count(*)::int n from ${once}`)).toEqual([{ n: 218 }]);
    expect(await rows(`select count(*)::int n from ${parts}`)).toEqual([{ n: 218 }]);
    expect(await rows(`select * from ${once} except all select * from ${parts}`)).toEqual([]);

    const packed = await stopped("leg.csv.gz", "SIGINT");
    expect(packed.names).toEqual([`leg.csv.gz`, `leg.from-${packed.before}.csv.gz`]);
    const csv = (...files: string[]) => `read_csv([${files.map((file) => `'${file}'`)}], all_varchar = true)`;
    const packedParts = csv(...packed.names.map((name) => join(packed.folder, name)));
    expect(
      await rows(`select * from ${csv(await inOneGo("leg.csv"))} except all select * from ${packedParts}`),
    ).toEqual([]);

    const reads = await stopped("leg.pcapng", "SIGINT");
    const both = await Promise.all(reads.names.map((name) => plyframe(["decode", join(reads.folder, name)])));
    const packets = both.map(({ stderr }) => Number(/(\d+) packets in 1 sections/.exec(stderr)![1]));
    expect(packets.reduce((sum, count) => sum + count)).toBe(legLines.length - 1);
  });

  it("prints a command with what was asked for, and with the name of the second part, however often", async () => {
    const { command, before } = await stopped(
      "leg.from-7.csv.gz",
      "SIGINT",
      "--ambient",
      "1008.2+-0.5hPa",
      "--overwrite",
    );
    expect(command).toBe(
      `plyframe decode --from ${before} --ambient 1008.2+-0.5hPa --site '3066c4409047e14000004b01=B1 (it'\\''s inner)' --out leg.from-${before}.csv.gz --overwrite -`,
    );
  });
});

describe("a decode from a line on", () => {
  it("writes that line and those behind it, as they are in the whole", async () => {
    const all = linesOf((await plyframe(["decode", "--json", "-"], { input: whole })).stdout);
    // A read of a frame: its reading is the first of the rest.
    const line =
      capture.findIndex((text, i) => i > 120 && text.includes('"result":"done"') && text.includes('"word":0,')) + 1;
    const { kit_time_us: time, epc } = JSON.parse(capture[line - 1]!);
    const ended = await plyframe(["decode", "--json", "--from", `${line}`, "-"], { input: whole });
    const rest = linesOf(ended.stdout);
    expect(JSON.parse(rest[0]!)).toMatchObject({ kit_time_us: time, epc });
    expect(rest).toEqual(all.slice(-rest.length));
    expect(rest.length).toBeLessThan(all.length);
    // The line that cannot be read stands before it.
    expect([ended.status, ended.stderr.includes("rejected")]).toEqual([0, false]);
  });
});

describe("a decode that is stopped while it is busy", () => {
  it("ends between two lines: the output is that of the lines before the one it names", async () => {
    const out = join(testFolder(), "long.jsonl");
    const running = start(["decode", "--out", out, "-"]);
    let lines: string[] = [];
    let feeding = true;
    running.child.once("close", () => {
      feeding = false;
    });
    const said = running.said(/standard input:101: /).then(() => running.stop("SIGINT"));
    // Lines without end: it cannot be done before the signal comes.
    while (feeding) {
      lines = [...lines, ...capture];
      if (!running.child.stdin.write(whole)) {
        await new Promise<void>((resolve) => {
          running.child.stdin.once("drain", resolve);
          running.child.once("close", () => resolve());
        });
      }
    }
    await said;
    const { status, stderr } = await running.ended;
    expect(status).toBe(130);
    const before = Number(/Stopped before line (\d+);/.exec(stderr)![1]);
    const until = await plyframe(["decode", "--json", "-"], { input: lines.slice(0, before - 1).join("") });
    expect(before).toBeGreaterThan(101);
    expect(readFileSync(out, "utf8") === until.stdout).toBe(true);
    expect(existsSync(`${out}.part`)).toBe(false);
  });

  it("without --out prints whole lines and the command too", async () => {
    const running = start(["decode", "--json", "-"]);
    running.child.stdin.write(capture.slice(0, THERE).join(""));
    await running.said(/standard input:101: /);
    running.stop("SIGINT");
    const { status, stdout, stderr } = await running.ended;
    expect(status).toBe(130);
    expect(stdout.endsWith("}\n")).toBe(true);
    const [, before] = /^ {2}plyframe decode --from (\d+) --json -$/m.exec(stderr)!;
    const rest = await plyframe(["decode", "--from", before!, "--json", "-"], { input: whole });
    expect(stdout + rest.stdout === (await plyframe(["decode", "--json", "-"], { input: whole })).stdout).toBe(true);
  });
});
