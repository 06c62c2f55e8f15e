/** DuckDB reads what `decode` writes: many row groups of Parquet, and CSV, give the values of the readings' JSON. */
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ambientSource } from "../../host/cli/ambient-option.ts";
import { OutFile } from "../../host/cli/out-file.ts";
import { tableWriter } from "../../host/cli/out-table.ts";
import { outcomeColumns, outcomeRows } from "../../host/export/outcome-rows.ts";
import type { Cell } from "../../host/export/reading-rows.ts";
import type { TagReport } from "../../host/reader/report.ts";
import type { Reading, Waveform } from "../../host/readings/reading.ts";
import { readingJson } from "../../host/readings/reading-json.ts";
import { ReadingStream } from "../../host/readings/reading-stream.ts";
import { layout } from "../../protocol/index.ts";
import { collect } from "../host/capture/collect.ts";
import { burst } from "../host/readings/tag-words.ts";
import { LEG } from "../support/plyframe.ts";

const STARTED = "2026-03-04T09:00:00.000Z";
let folder: string;
let outcomes: (Reading | Waveform)[];
let rows: Cell[][];
let ask: (sql: string) => Promise<Record<string, unknown>[]>;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "plyframe-tables-"));
  const { reports } = await collect(readFileSync(LEG));
  const stream = new ReadingStream(layout, { started: STARTED, barometerUncertaintyPa: 12 }, ambientSource("kit"));
  const last = reports.filter((report): report is TagReport => report.kind === "read").at(-1)!;
  // Words that nobody sampled, and pressures on both sides of the ambient.
  const words = [
    ...Buffer.from(burst({ samples: [0, 100, -100, 250, -32_768] }))
      .toString("hex")
      .matchAll(/..../g),
  ].map(([word]) => Number.parseInt(word, 16));
  const all = [...reports, { ...last, result: "done", word: 72, words }];
  outcomes = all.flatMap((report) => stream.push(report)).filter((outcome) => outcome.kind !== "unread");
  rows = outcomes.flatMap((outcome) => outcomeRows(outcome, STARTED));
  for (const format of ["parquet", "csv", "jsonl"] as const) {
    const file = await OutFile.open({ path: join(folder, `all.${format}`), format, packing: null }, false);
    const table = await tableWriter(format, outcomeColumns, file.write);
    // Three stretches, the last of them short.
    for (let from = 0; from < rows.length; from += 100) {
      const stretch = rows.slice(from, from + 100);
      await table.write(
        outcomeColumns.map((_, i) => stretch.map((cells) => cells[i]!)),
        stretch.length,
      );
    }
    await table.finish();
    await file.commit();
  }
  const connection = await (await DuckDBInstance.create()).connect();
  ask = async (sql) => (await connection.runAndReadAll(sql)).getRowObjectsJson() as Record<string, unknown>[];
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const file = (format: string, name = "all") => `'${join(folder, `${name}.${format}`)}'`;
const order = "order by kit_time_us, epc, sample_time_s nulls first";

/** Values as DuckDB's JSON gives them: INT64 as text. */
const wanted = () =>
  rows.map((cells) =>
    Object.fromEntries(
      outcomeColumns.map(({ name, type }, i) => [
        name,
        type === "INT64" && cells[i] !== null ? `${cells[i]}` : cells[i]!,
      ]),
    ),
  );

describe("a table of readings", () => {
  it("as Parquet has every value of every column", async () => {
    const found = await ask(`select * from read_parquet(${file("parquet")}) ${order}`);
    expect(found.length).toBe(rows.length);
    wanted().forEach((row, i) => {
      expect(found[i]).toEqual(row);
    });
  });

  it("as Parquet in several row groups has every row as often as it was written", async () => {
    const TIMES = 100;
    const sink = await OutFile.open({ path: join(folder, "many.parquet"), format: "parquet", packing: null }, false);
    const table = await tableWriter("parquet", outcomeColumns, sink.write);
    const values = outcomeColumns.map((_, i) => rows.map((cells) => cells[i]!));
    for (let time = 0; time < TIMES; time++) await table.write(values, rows.length);
    await table.finish();
    await sink.commit();
    const found = await ask(
      `select *, count(*)::int times from read_parquet(${file("parquet", "many")}) group by all ${order}`,
    );
    expect(found).toEqual(wanted().map((row) => ({ ...row, times: TIMES })));
    const [groups] = await ask(
      `select count(distinct row_group_id)::int many from parquet_metadata(${file("parquet", "many")})`,
    );
    expect(groups!.many).toBeGreaterThan(1);
  });

  it("as Parquet says what made it", async () => {
    const keys = await ask(
      `select decode(value) v from parquet_kv_metadata(${file("parquet")}) where decode(key) = 'plyframe'`,
    );
    expect(JSON.parse(keys[0]!.v as string)).toMatchObject({
      layout: 1,
      fingerprint: layout.fingerprint.toString(16).padStart(8, "0"),
    });
  });

  it("as CSV and as JSON Lines is the same table", async () => {
    const types = outcomeColumns.map(
      ({ name, type }) =>
        `'${name}': '${type === "STRING" ? "VARCHAR" : type === "INT32" ? "INTEGER" : type === "INT64" ? "BIGINT" : type}'`,
    );
    const list = outcomeColumns.map(({ name }) => name).join(", ");
    const csv = `read_csv(${file("csv")}, header = true, columns = {${types.join(", ")}})`;
    const json = `read_json(${file("jsonl")}, format = 'newline_delimited', columns = {${types.join(", ")}})`;
    for (const other of [csv, json]) {
      const [counted] = await ask(`select count(*)::int n from ${other}`);
      expect(counted).toEqual({ n: rows.length });
      // An empty text and a missing one are the same in CSV.
      const texts = outcomeColumns
        .map(({ name, type }) => (type === "STRING" ? `coalesce(${name}, '') ${name}` : name))
        .join(", ");
      expect(
        await ask(
          `select ${texts} from read_parquet(${file("parquet")}) except all select ${texts} from (select ${list} from ${other})`,
        ),
      ).toEqual([]);
    }
  });

  it("leaves no member of a reading's JSON out", () => {
    const names = new Set(outcomeColumns.map(({ name }) => name));
    const members = new Set<string>();
    for (const outcome of outcomes) {
      for (const [name, value] of Object.entries(readingJson(outcome))) {
        const inner = value !== null && typeof value === "object" && !Array.isArray(value);
        for (const member of inner ? Object.keys(value).map((one) => `${name}_${one}`) : [name]) members.add(member);
      }
    }
    for (const member of members) {
      // The times of a waveform are one to a row; objects that are missing have no members.
      if (!["times_s", "calibration", "tag", "counters"].includes(member)) expect(names).toContain(member);
    }
    expect(members.size).toBeGreaterThan(45);
  });

  it("has a row for each sample of a waveform", () => {
    const column = (name: string) => outcomeColumns.findIndex((one) => one.name === name);
    const samples = rows.filter((cells) => cells[column("record")] === "waveform");
    const waveform = outcomes.find((outcome) => outcome.kind === "waveform")!;
    expect(samples.map((cells) => cells[column("sample_time_s")])).toEqual([...waveform.timesS]);
    expect(samples.map((cells) => cells[column("absolute_hpa")]).slice(0, 5)).toEqual([
      expect.any(Number),
      expect.any(Number),
      expect.any(Number),
      expect.any(Number),
      null,
    ]);
    const json = readingJson(waveform) as { gauge_mmhg: (number | null)[] };
    expect(samples.map((cells) => cells[column("gauge_mmhg")])).toEqual(json.gauge_mmhg);
    expect(new Set(json.gauge_mmhg.slice(0, 5)).size).toBe(5);
    // 1 mmHg is 1.33322387415 hPa (NIST SP 811).
    const [mmhg, hpa] = [samples[0]![column("gauge_mmhg")] as number, samples[0]![column("gauge_hpa")] as number];
    expect(hpa / mmhg).toBeCloseTo(1.33322387415, 6);
  });
});
