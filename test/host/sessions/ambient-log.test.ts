import { describe, expect, it } from "vitest";
import { AmbientLog } from "../../../host/sessions/ambient-log.ts";
import { ProblemList } from "../../../host/sessions/problem-list.ts";

const at = (second: number) => Date.UTC(2026, 2, 4, 9, 0, second);
const time = (second: number) => new Date(at(second)).toISOString();

function open(text: string, maxGapS = 60) {
  const problems = new ProblemList();
  const log = new AmbientLog(text, "room.csv", maxGapS, problems);
  return { log, problems: problems.sentences, rejected: problems.rejected };
}

describe("an ambient log", () => {
  it("gives what lies between two rows by straight line", () => {
    const { log, problems } = open(`time,pressure_hpa\n${time(0)},1000\n${time(40)},1004\n`);
    expect(log.at(at(10))!.pressurePa).toBeCloseTo(100_100, 9);
    expect(log.at(at(40))!.pressurePa).toBeCloseTo(100_400, 9);
    expect(log.at(at(5))!.pressurePa).toBeCloseTo(100_050, 9);
    expect(problems).toEqual([]);
  });

  it("gives nothing before it begins, and its last row with that row's time after it ends", () => {
    const { log } = open(`time,pressure_hpa\n${time(10)},1000\n${time(20)},1001\n`);
    expect(log.at(at(9))).toBeNull();
    expect(log.at(at(300))).toMatchObject({ pressurePa: 100_100, timeMs: at(20) });
  });

  it("does not bridge a gap, and names it", () => {
    const { log, problems } = open(`time,pressure_hpa\n${time(0)},1000\n${time(300)},1010\n`);
    expect(log.at(at(150))).toMatchObject({ pressurePa: 100_000, timeMs: at(0) });
    expect(problems).toEqual([
      "room.csv: nothing from 2026-03-04T09:00:00.000Z to 2026-03-04T09:05:00.000Z: gauge pressures there have no known uncertainty",
    ]);
  });

  it.each([
    ["pressure_pa", "101325", 101_325],
    ["pressure_kpa", "101.325", 101_325],
    // 760 conventional mmHg: 760 x 133.322387415 Pa.
    ["pressure_mmhg", "760", 101_325.0144354],
  ])("takes %s", (column, cell, pascal) => {
    expect(open(`${column},time\n${cell},${time(0)}\n`).log.at(at(0))!.pressurePa).toBeCloseTo(pascal, 6);
  });

  it("leaves out what cannot be and says why, with file and line", () => {
    const { log, problems, rejected } = open(
      [
        "time,pressure_hpa",
        `${time(0)},1000`,
        `${time(0)},1000`,
        `${time(0)},1001`,
        `${time(5)},abc`,
        `${time(6)},100090`,
        `${time(7)},750.1`,
        "yesterday,1000",
        `${time(3)},`,
        `${time(20)},1002`,
        `${time(15)},1002`,
      ].join("\n"),
    );
    expect(problems).toEqual([
      'room.csv:5: pressure_hpa: "abc" is no number',
      "room.csv:6: pressure_hpa: 100090 hpa cannot be; mixed units? It would fit in pa",
      'room.csv:8: time: "yesterday" is no ISO 8601 time with its zone, such as 2026-03-04T09:00:00Z',
      'room.csv:9: pressure_hpa: "" is no number',
      "room.csv:3: the time of line 2 again, same pressure; left out",
      "room.csv:4: the time of line 2 again, another pressure; left out",
      "room.csv:11: earlier than line 10; left out",
    ]);
    expect(rejected).toBe(7);
    expect(log.at(at(7))!.pressurePa).toBeCloseTo(75_010, 6);
  });

  it("with two pressure columns, or none, is named", () => {
    expect(open(`time,pressure_hpa,pressure_mmhg\n${time(0)},1000,750\n`).problems).toEqual([
      "room.csv:1: mixed units: pressure columns in hpa and mmhg; keep one",
      "room.csv: no usable row: absolute pressure only",
    ]);
    expect(open(`when,p\n${time(0)},1000\n`).problems.slice(0, 2)).toEqual([
      "room.csv:1: column time is missing (found when, p)",
      "room.csv:1: no pressure column with its unit (pressure_hpa, pressure_pa, pressure_mmhg, …)",
    ]);
  });
});
