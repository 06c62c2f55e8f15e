/** Bad input of a bench run: each named with line and column, and the rest read. */
import { describe, expect, it } from "vitest";
import { calibrate } from "../../../host/calibrate/bench-calibration.ts";
import { parseBenchRun } from "../../../host/calibrate/bench-run.ts";
import { findingSentence } from "../../../host/calibrate/finding.ts";
import { NO_GEOMETRY } from "../../../host/calibrate/load.ts";
import { screen } from "../../../host/calibrate/screening.ts";
import { csvLine, HEADER, inventCsv, inventRows } from "../../support/invented-bench-run.ts";
import { asColumnsSay, codesOf, settings } from "./settings.ts";

const good = inventRows(11).slice(0, 40).map(csvLine);
const LINE = 7;
const bad = (change: (cells: string[]) => string[]) => {
  const lines = [HEADER, ...good];
  lines[LINE - 1] = change(lines[LINE - 1]!.split(",")).join(",");
  return lines.join("\n");
};
const cell = (column: string, text: string) => (cells: string[]) =>
  cells.map((old, i) => (HEADER.split(",")[i] === column ? text : old));

const rows: readonly (readonly [what: string, csv: string, code: string, column: string | null])[] = [
  ["a word for a number", bad(cell("sensor_raw", "high")), "cell-invalid", "sensor_raw"],
  ["an empty cell", bad(cell("reference_mmhg", "")), "cell-missing", "reference_mmhg"],
  ["a pressure no sensor has", bad(cell("sensor_raw", "128")), "value-out-of-range", "sensor_raw"],
  [
    "kelvin in a column of degrees Celsius",
    bad(cell("temperature_cel", "293.1")),
    "value-out-of-range",
    "temperature_cel",
  ],
  ["a unit that is not the column's", bad(cell("reference_mmhg", "53.3 hPa")), "unit-mixed", "reference_mmhg"],
  ["half a cycle", bad(cell("cycle", "1.5")), "value-out-of-range", "cycle"],
  ["a direction that is none", bad(cell("direction", "sideways")), "cell-invalid", "direction"],
  ["the time of an earlier row", bad(cell("time_s", "60")), "time-duplicated", "time_s"],
  ["a row cut short", bad((cells) => cells.slice(0, 5)), "cells-wrong", null],
  ["binary rubbish", bad(() => ["\u0000\u0007\ufffd"]), "cells-wrong", null],
];

describe("one bad row", () => {
  it.each(rows)("%s", (_, csv, code, column) => {
    const run = parseBenchRun(csv, asColumnsSay);
    expect(run.findings.map((found) => [found.code, found.line, found.column])).toEqual([[code, LINE, column]]);
    expect(run.rows).toHaveLength(good.length - 1);
    expect(run.rowsRead).toBe(good.length);
    expect(findingSentence(run.findings[0]!)).toMatch(new RegExp(`^${LINE}: .*\\[${code}\\]$`));
  });

  it("none: nothing is said", () => {
    expect(parseBenchRun([HEADER, ...good].join("\r\n"), asColumnsSay).findings).toEqual([]);
  });

  it("of hPa among mmHg is found by what the other rows say", () => {
    const run = parseBenchRun(bad(cell("reference_mmhg", "133.32")), asColumnsSay);
    const screened = screen(run.rows);
    expect(screened.findings.map(({ code, line }) => [code, line])).toEqual([["unit-mixed", LINE]]);
    expect(screened.rows).toHaveLength(good.length - 1);
  });

  it("that is far off for no reason is told and kept", () => {
    const screened = screen(parseBenchRun(bad(cell("reference_mmhg", "70")), asColumnsSay).rows);
    expect(screened.findings.map(({ code, line }) => [code, line])).toEqual([["row-outlying", LINE]]);
    expect(screened.rows).toHaveLength(good.length);
  });
});

const headed = (header: string) => [header, ...good].join("\n");

describe("a heading", () => {
  it.each([
    ["without a sensor", HEADER.replace("sensor_raw", "remark"), ["column-missing", "column-unknown"]],
    ["without a load", HEADER.replace("reference_mmhg", "remark"), ["column-missing", "column-unknown"]],
    ["without an ambient", HEADER.replace("ambient_raw", "remark"), ["column-missing", "column-unknown"]],
    ["with a unit nobody knows", HEADER.replace("mmhg", "bananas"), ["column-missing", "column-unknown"]],
    ["with the load twice", HEADER.replace("temperature_cel", "reference_hpa"), ["units-mixed-columns"]],
    ["with two kinds of load", HEADER.replace("temperature_cel", "weight_kg"), ["units-mixed-columns"]],
    ["with a column twice", HEADER.replace("temperature_cel", "sensor_raw"), ["column-repeated"]],
  ])("%s stops", (_, header, codes) => {
    const run = parseBenchRun(headed(header), asColumnsSay);
    expect(codesOf(run)).toEqual(codes);
    expect(run.findings.every(({ line }) => line === 1)).toBe(true);
    expect(run.rows).toEqual([]);
    expect(calibrate(run, settings).result).toBeNull();
  });

  it("without an ambient is good with a typed one", () => {
    const header = HEADER.replace("ambient_raw", "remark");
    const run = parseBenchRun(headed(header), { geometry: NO_GEOMETRY, ambientPa: 101_140 });
    expect(codesOf(run)).toEqual(["column-unknown"]);
    expect(run.rows[0]!.ambientPa).toBe(101_140);
  });

  it("without a direction takes it from the order of the rows", () => {
    const run = parseBenchRun(headed(HEADER.replace("direction", "remark")), asColumnsSay);
    expect(codesOf(run)).toEqual(["column-unknown", "direction-inferred"]);
    expect(run.rows.slice(0, 11).map(({ direction }) => direction)).toEqual(
      parseBenchRun(headed(HEADER), asColumnsSay)
        .rows.slice(0, 11)
        .map(({ direction }) => direction),
    );
  });
});

describe("columns that changed places", () => {
  it("reference and sensor", () => {
    const swapped = [
      "reference_hpa,sensor_hpa,ambient_hpa,temperature_cel",
      ...[0, 20, 40, 60, 80].map((hpa) => `${1011 + hpa},${hpa},1011,25`),
    ].join("\n");
    const run = parseBenchRun(swapped, asColumnsSay);
    expect(run.findings.map(({ code, line }) => [code, line])).toContainEqual(["columns-reversed", 2]);
    expect(calibrate(run, settings).result).toBeNull();
  });

  it("sensor and ambient", () => {
    const swapped = HEADER.replace("sensor_raw", "x").replace("ambient_raw", "sensor_raw").replace("x", "ambient_raw");
    const made = calibrate(parseBenchRun(headed(swapped), asColumnsSay), settings);
    expect(codesOf(made)).toEqual(["columns-reversed"]);
    expect(made.result).toBeNull();
  });
});

describe("order", () => {
  it("a time that goes back is told", () => {
    const lines = [...good];
    [lines[5], lines[6]] = [lines[6]!, lines[5]!];
    expect(codesOf(parseBenchRun([HEADER, ...lines].join("\n"), asColumnsSay))).toContain("time-backwards");
  });

  it("a direction against the load is told", () => {
    const run = parseBenchRun(bad(cell("direction", "down")), asColumnsSay);
    expect(run.findings.map(({ code, line }) => [code, line])).toEqual([["direction-contradicts", LINE]]);
  });
});

describe("files without a row", () => {
  it.each([
    ["nothing", ""],
    ["a heading alone", HEADER],
    ["notes alone", "# date: 2026-02-17\n"],
  ])("%s", (_, text) => {
    const made = calibrate(parseBenchRun(text, asColumnsSay), settings);
    expect(codesOf(made)).toEqual(["file-empty"]);
    expect(made.result).toBeNull();
  });
});

describe("loads other than a pressure", () => {
  const table = (header: string, loads: readonly number[]) =>
    [header, ...loads.map((load) => `${load},1013.25,1011,25`)].join("\n");

  it("a strap by Laplace: 1 kgf, 25 cm, 10 cm, two layers is 4621.654·2/250 mmHg", () => {
    const geometry = { ...NO_GEOMETRY, circumference: 0.25, width: 0.1, layers: 2 };
    const run = parseBenchRun(table("tension_kgf,sensor_hpa,ambient_hpa,temperature_cel", [1]), {
      geometry,
      ambientPa: null,
    });
    expect(run.rows[0]!.referencePa / 133.322387415).toBeCloseTo((4621.65435133 * 2) / 250, 6);
    expect(run.load).toBe("tension");
  });

  it("a weight on an area: 500 g on 10 cm² is 4903.325 Pa", () => {
    const geometry = { ...NO_GEOMETRY, area: 1e-3 };
    const run = parseBenchRun(table("weight_g,sensor_hpa,ambient_hpa,temperature_cel", [500]), {
      geometry,
      ambientPa: null,
    });
    expect(run.rows[0]!.referencePa).toBeCloseTo(4903.325, 9);
  });

  it("without the geometry stop", () => {
    expect(
      codesOf(parseBenchRun(table("weight_g,sensor_hpa,ambient_hpa,temperature_cel", [500]), asColumnsSay)),
    ).toEqual(["column-missing"]);
  });
});

it("decimal commas in a file of semicolons", () => {
  const text = "reference_mmhg;sensor_hpa;ambient_hpa;temperature_cel\n40,5;1065,2;1011,1;25,5\n";
  const run = parseBenchRun(text, asColumnsSay);
  expect(run.rows[0]!.referencePa).toBeCloseTo(40.5 * 133.322387415, 9);
});

it("notes are read", () => {
  const run = parseBenchRun(
    inventCsv(inventRows(1).slice(0, 3), ["# sensor_serial: 40001", "# plain words"]),
    asColumnsSay,
  );
  expect(run.notes.get("sensor_serial")).toBe("40001");
});
