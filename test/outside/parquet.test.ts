/** DuckDB reads an export back: as many rows, the same values, partitions by day and tag. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { csvHeading, csvLine } from "../../host/export/csv.ts";
import { parquetFiles } from "../../host/export/parquet.ts";
import { type ReadingRow, readingColumns, readingRows } from "../../host/export/reading-rows.ts";
import type { SessionResult } from "../../host/sessions/session-result.ts";
import { capture, sessionFile, work } from "../host/sessions/story.ts";
import { exampleSession } from "../support/example-session.ts";

const OTHER = "30361f9404c0004000000008";
let folder: string;
let results: SessionResult[];
let rows: ReadingRow[];
let ask: (sql: string) => Promise<Record<string, unknown>[]>;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "plyframe-parquet-"));
  // The second session goes past midnight, holds an uncalibrated tag, a site that needs quoting and absent values.
  const tags = [
    { epc: "30361f9404c0004000000007", site: 'B1, "inner"', layer: 1 },
    { epc: OTHER, site: "C" },
  ];
  const night = sessionFile({ tags, ambient: { source: "typed", pressure_hpa: 1013.25 } });
  const samples = Array.from({ length: 200 }, (_, i) => [i, 40 + i / 100] as const);
  const text = capture([{ samples }, { epc: OTHER, samples, calibration: null }], {
    started: "2026-03-04T23:58:20.000Z",
  });
  results = [await exampleSession(), await work(night, [text])];
  rows = results.flatMap((result) => [...readingRows(result)]);
  results.forEach((result, part) => {
    for (const { path, bytes } of parquetFiles(readingRows(result), part, result.provenance)) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), bytes);
    }
  });
  writeFileSync(join(folder, "all.csv"), csvHeading() + rows.map(csvLine).join(""));
  const connection = await (await DuckDBInstance.create()).connect();
  await connection.run("set timezone = 'UTC'");
  ask = async (sql) => (await connection.runAndReadAll(sql)).getRowObjectsJson() as Record<string, unknown>[];
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const table = () => `read_parquet('${folder}/*/*/*.parquet', hive_partitioning = true)`;

describe("an export as Parquet, read by DuckDB", () => {
  it("has every row, by day and tag", async () => {
    const found = await ask(
      `select cast(day as varchar) as day, tag, count(*)::int n from ${table()} group by all order by all`,
    );
    const expected = new Map<string, number>();
    for (const { time, epc } of rows) {
      const key = `${(time as Date).toISOString().slice(0, 10)} ${epc}`;
      expected.set(key, (expected.get(key) ?? 0) + 1);
    }
    expect(new Map(found.map(({ day, tag, n }) => [`${day} ${tag}`, n]))).toEqual(expected);
    expect(found).toHaveLength(8);
    expect(found.filter(({ tag }) => tag === OTHER).map(({ n }) => n)).toEqual([100, 100]);
  });

  it("gives back every value of every column", async () => {
    const columns = Object.keys(readingColumns).map((name) =>
      name === "time" ? "epoch_ms(time)::double as time" : name,
    );
    const found = await ask(`select ${columns.join(", ")} from ${table()} order by session, epc, kit_time_s, sequence`);
    const text = (row: ReadingRow) => `${row.session}\n${row.epc}`;
    const sorted = [...rows].sort(
      (a, b) =>
        (text(a) < text(b) ? -1 : text(a) > text(b) ? 1 : 0) ||
        (a.kit_time_s as number) - (b.kit_time_s as number) ||
        (a.sequence as number) - (b.sequence as number),
    );
    expect(found).toEqual(sorted.map((row) => ({ ...row, time: (row.time as Date).getTime() })));
  });

  it("keeps what is absent absent, and sums as the readings do", async () => {
    const [sum] = await ask(
      `select count(gauge_mmhg)::int known, count(expanded_uncertainty_mmhg)::int certain, sum(gauge_mmhg) total from ${table()}`,
    );
    const known = rows.flatMap(({ gauge_mmhg: value }) => (value === null ? [] : [value as number]));
    const certain = rows.filter(({ expanded_uncertainty_mmhg: value }) => value !== null);
    expect(sum).toMatchObject({ known: known.length, certain: certain.length });
    expect(sum!.total as number).toBeCloseTo(
      known.reduce((a, b) => a + b, 0),
      6,
    );
    expect(certain.length).toBeLessThan(known.length);
  });

  it("carries the provenance in rows and in each file", async () => {
    const [one] = await ask(
      `select distinct layout_fingerprint, ambient_source, software from ${table()} where session = 'training-leg'`,
    );
    expect(one).toEqual({
      layout_fingerprint: results[0]!.provenance.fingerprint,
      ambient_source: "kit_barometer",
      software: "plyframe test",
    });
    const keys = await ask(
      `select distinct decode(value) v from parquet_kv_metadata('${folder}/*/*/part-0.parquet') where decode(key) = 'plyframe'`,
    );
    expect(JSON.parse(keys[0]!.v as string)).toEqual(results[0]!.provenance);
  });
});

describe("an export as CSV, read by DuckDB", () => {
  it("is the same table as the Parquet one", async () => {
    const names = Object.keys(readingColumns).filter((name) => name !== "time");
    const list = `epoch_ms(time), ${names.join(", ")}`;
    const csv = `read_csv('${folder}/all.csv', nullstr = '', types = {'session': 'VARCHAR', 'epc': 'VARCHAR', 'layout_fingerprint': 'VARCHAR', 'quality': 'VARCHAR'})`;
    const differ = await ask(
      `select count(*)::int n from ((select ${list.replace("quality", "coalesce(quality, '') quality")} from ${csv}) except all (select ${list} from ${table()}))`,
    );
    expect(differ).toEqual([{ n: 0 }]);
    expect(await ask(`select count(*)::int n from ${csv}`)).toEqual([{ n: rows.length }]);
  });
});
