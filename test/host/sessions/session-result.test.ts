import { describe, expect, it } from "vitest";
import { AMBIENT, capture, EPC, header, STARTED, sessionFile, stretch, work } from "./story.ts";

const OTHER = "30361f9404c0004000000008";
const utc = (second: number) => new Date(Date.parse(STARTED) + second * 1000).toISOString();

const POSTURES = [
  { event: "stood_up", kit_time_s: 60 },
  { event: "walked", kit_time_s: 90 },
  { event: "lay_down", kit_time_s: 120 },
] as const;

/** 40 mmHg lying, 55 standing, 50 walking, 38 lying again. */
const leg = (timeS: number) => (timeS < 60 ? 40 : timeS < 90 ? 55 : timeS < 120 ? 50 : 38);

describe("a session", () => {
  it("gives each posture's median in its window, and the static stiffness index", async () => {
    const { sites, problems } = await work(sessionFile({ events: POSTURES }), [
      capture([{ samples: stretch(0, 180, leg) }]),
    ]);
    const [site] = sites;
    expect(
      site!.postures.map(({ posture, medianMmhg, samples }) => [posture, Number(medianMmhg.toFixed(3)), samples]),
    ).toEqual([
      // Settled from 3 s after the change to 1 s before the next: 56 s, 26 s, 26 s, 55.5 s at two samples a second.
      ["resting", 40, 113],
      ["standing", 55, 53],
      ["walking", 50, 53],
      ["resting", 38, 112],
    ]);
    expect(site!.stiffness[0]!.indexMmhg).toBeCloseTo(15, 3);
    // U of a reading: 2 sqrt(30^2 + 6^2) Pa = 0.458949 mmHg; of a difference, independent at most: times sqrt 2.
    expect(site!.postures[0]!.uncertaintyMmhg).toBeCloseTo(0.458949, 5);
    expect(site!.stiffness[0]!.uncertaintyMmhg).toBeCloseTo(0.649053, 5);
    expect(problems).toEqual([]);
  });

  it("takes the lying value last before standing up for the stiffness index", async () => {
    const events = [
      { event: "sat_down", kit_time_s: 20 },
      { event: "lay_down", kit_time_s: 40 },
      { event: "stood_up", kit_time_s: 60 },
    ] as const;
    const samples = stretch(0, 80, (timeS) => (timeS < 20 ? 40 : timeS < 40 ? 45 : timeS < 60 ? 42 : 55));
    const { sites } = await work(sessionFile({ events }), [capture([{ samples }])]);
    expect(sites[0]!.stiffness.map(({ indexMmhg }) => Number(indexMmhg.toFixed(2)))).toEqual([13]);
  });

  it("is not moved by wild values", async () => {
    const wild = (timeS: number) => (timeS % 5 === 0 ? 90 : 40);
    const { sites } = await work(sessionFile(), [capture([{ samples: stretch(0, 60, wild) }])]);
    expect(sites[0]!.postures[0]!.medianMmhg).toBeCloseTo(40, 3);
  });

  it("leaves out what was read before the calibration was", async () => {
    // Offset of 10 mmHg in steps of 1/128 Pa: the frames before it are off by as much.
    const tale = { samples: stretch(0, 40, () => 40), calibratedAtS: 20, calibration: { offset: 170_653 } };
    const { sites } = await work(sessionFile(), [capture([tale])]);
    expect(sites[0]!.frames).toBe(80);
    // From 20 s to 38.5 s, every half second.
    expect(sites[0]!.postures[0]!.samples).toBe(38);
    expect(Math.abs(sites[0]!.postures[0]!.medianMmhg - 40)).toBeCloseTo(10, 2);
    expect(sites[0]!.postures[0]!.uncertaintyMmhg).not.toBeNull();
  });

  it("gives no value to a posture with too few samples", async () => {
    const samples = [...stretch(0, 60, leg), ...stretch(120, 180, leg)];
    const { sites } = await work(sessionFile({ events: POSTURES }), [capture([{ samples }])]);
    expect(sites[0]!.postures.map(({ posture }) => posture)).toEqual(["resting", "resting"]);
    expect(sites[0]!.stiffness).toEqual([]);
  });

  it("shows gaps as gaps: listed, counted and in the coverage", async () => {
    const samples = [...stretch(0, 30, leg), ...stretch(50, 100, leg)];
    const { sites } = await work(sessionFile(), [capture([{ samples }])]);
    const { gaps, coveredPercent, longestGapS } = sites[0]!.coverage;
    expect(gaps).toHaveLength(1);
    expect(longestGapS).toBeCloseTo(20.5, 6);
    // 79 of 99.5 s.
    expect(coveredPercent).toBeCloseTo(79.397, 3);
  });

  it("counts a frame that is read again once", async () => {
    const text = capture([{ samples: stretch(0, 30, leg) }]);
    const last = JSON.parse(text.trimEnd().split("\n").at(-1)!);
    const again = [30, 31].map((timeS) => `${JSON.stringify({ ...last, kit_time_us: timeS * 1e6 })}\n`);
    const { sites } = await work(sessionFile(), [text + again.join("")]);
    expect(sites[0]!.frames).toBe(60);
  });

  it("counts the time before the first and after the last sample as gaps", async () => {
    const { sites } = await work(sessionFile(), [capture([{ samples: stretch(10, 30, leg) }], { lastS: 60 })]);
    // Last sample at 29.5 s, last report at 60 s.
    expect(sites[0]!.coverage.gaps.map(({ fromMs, toMs }) => (toMs - fromMs) / 1000)).toEqual([10, 30.5]);
  });

  it("counts only the time between wrapping and removal", async () => {
    const events = [
      { event: "wrapped", kit_time_s: 30 },
      { event: "removed", kit_time_s: 80 },
    ] as const;
    const samples = [...stretch(30, 80, () => 40), ...stretch(80, 100, () => 0)];
    const { sites, intervals } = await work(sessionFile({ events }), [capture([{ samples }])]);
    expect(intervals.map(({ worn }) => worn)).toEqual([false, true, false]);
    expect(sites[0]!.coverage.coveredPercent).toBe(100);
    expect(sites[0]!.postures.map(({ medianMmhg }) => Math.round(medianMmhg))).toEqual([40]);
  });

  it("takes the walking swing from bursts that lie in the walking, not from those of other times", async () => {
    const swing = [0, 5, 10, 5, 0, -8, 0];
    const bursts = [
      [50, 40, [0, 0.1, 0]],
      [91, 50, [0, 30, 0]],
      [100, 50, swing],
      [110, 50, swing],
      [130, 40, [0, 0.1, 0]],
    ] as const;
    const { sites } = await work(sessionFile({ events: POSTURES }), [
      capture([{ samples: stretch(0, 180, leg), bursts }]),
    ]);
    expect(sites[0]!.walking).toMatchObject({ bursts: 2, longestS: 0.24 });
    expect(sites[0]!.walking!.medianMmhg).toBeCloseTo(18, 1);
  });

  it("tells decay over hours and the trend of the temperature", async () => {
    const samples: [number, number][] = Array.from({ length: 241 }, (_, minute) => [minute * 60, 50 - minute / 24]);
    const tale = { samples, temperature: (timeS: number) => 28 + timeS / 3600 };
    const { sites } = await work(sessionFile(), [capture([tale])]);
    expect(sites[0]!.decay!.perHour).toBeCloseTo(-2.5, 3);
    expect(sites[0]!.decay!.spanS).toBeCloseTo(4 * 3600, 6);
    expect(sites[0]!.temperature!.perHour).toBeCloseTo(1, 2);
    const short = await work(sessionFile(), [capture([{ samples: stretch(0, 100, leg) }])]);
    expect(short.sites[0]!.decay).toBeNull();
  });

  it("flags an inverse gradient, and one that the uncertainties hide, without judging", async () => {
    const tags = [
      { epc: EPC, site: "B1" },
      { epc: OTHER, site: "C" },
    ];
    const direction = async (calf: number) => {
      const text = capture([
        { samples: stretch(0, 40, () => 40) },
        { epc: OTHER, samples: stretch(0, 40, () => calf) },
      ]);
      return (await work(sessionFile({ tags }), [text])).gradients[0]!;
    };
    expect(await direction(30)).toMatchObject({ direction: "falling", ankleSite: "B1", calfSite: "C" });
    expect((await direction(30)).calfPercent).toBeCloseTo(75, 2);
    expect(await direction(45)).toMatchObject({ direction: "inverse" });
    expect(await direction(40.5)).toMatchObject({ direction: "not_resolved" });
  });

  it("puts what was planned beside what was measured", async () => {
    const wraps = [{ site: "B1", tension_n: 9.80665, layers: 2, circumference_cm: 25, width_cm: 10 }];
    const { sites } = await work(sessionFile({ wraps }), [capture([{ samples: stretch(0, 40, () => 30) }])]);
    // Facts of the equation: 36.97 mmHg exactly, 36.96 with the published constant 4620 (test/outside/laplace.test.ts).
    expect(sites[0]!.planned[0]!.thinMmhg).toBeCloseTo(36.973, 3);
    expect(sites[0]!.planned[0]!.measuredLessThinMmhg).toBeCloseTo(-6.973, 3);
  });

  it("merges a separate ambient log by time, and takes its uncertainty from the session file", async () => {
    const ambient = { source: "log", file: "room.csv", expanded_uncertainty_hpa: 0.5 } as const;
    // The log stands 1 hPa above the 1013.25 hPa that the frames were made with: 0.750062 mmHg less.
    const log = `time,pressure_hpa\n${utc(0)},1014.25\n${utc(30)},1014.25\n${utc(60)},1014.25\n`;
    const { sites, series, problems } = await work(
      sessionFile({ ambient }),
      [capture([{ samples: stretch(0, 60, () => 40) }], { barometer: false })],
      { "room.csv": log },
    );
    expect(problems).toEqual([]);
    expect(sites[0]!.postures[0]!.medianMmhg).toBeCloseTo(40 - 0.750062, 3);
    // 2 sqrt(30^2 + 25^2) Pa in mmHg.
    expect(sites[0]!.postures[0]!.uncertaintyMmhg).toBeCloseTo(0.585817, 5);
    expect(series[0]!.samples[5]!.ambientOrigin).toBe("ambient_log");
  });

  it("takes a typed ambient pressure, or a tag outside the dressing that is no site", async () => {
    const typed = { source: "typed", pressure_hpa: 1012.25, expanded_uncertainty_hpa: 0.5 } as const;
    const one = await work(sessionFile({ ambient: typed }), [capture([{ samples: stretch(0, 30, () => 40) }])]);
    // 1 hPa less ambient: 0.750062 mmHg more.
    expect(one.sites[0]!.postures[0]!.medianMmhg).toBeCloseTo(40.750062, 3);
    expect(one.series[0]!.samples[9]!.ambientOrigin).toBe("typed");
    const text = capture([{ samples: stretch(0, 30, () => 40) }, { epc: OTHER, samples: stretch(0, 30, () => 2) }]);
    const two = await work(sessionFile({ ambient: { source: "tag", epc: OTHER } }), [text]);
    expect(two.sites[0]!.postures[0]!.medianMmhg).toBeCloseTo(38, 3);
    // 2 sqrt(30^2 + 30^2) Pa: two calibrations of 60 Pa each.
    expect(two.sites[0]!.postures[0]!.uncertaintyMmhg).toBeCloseTo(0.636448, 4);
    expect(two.series[0]!.samples[9]!.ambientOrigin).toBe("outside_tag");
    expect(two.problems.some((problem) => problem.includes("is heard"))).toBe(false);
  });

  it("does not fall back on the reader's barometer where the ambient log has not begun", async () => {
    const ambient = { source: "log", file: "room.csv", expanded_uncertainty_hpa: 0.5 } as const;
    const log = `time,pressure_hpa\n${utc(30)},1013.25\n${utc(60)},1013.25\n`;
    const { series } = await work(sessionFile({ ambient }), [capture([{ samples: stretch(0, 60, () => 40) }])], {
      "room.csv": log,
    });
    const known = series[0]!.samples.filter(({ gaugeMmhg }) => gaugeMmhg !== null);
    expect(known[0]!.timeMs).toBe(Date.parse(utc(30)));
  });

  it("gives no uncertainty in a gap of the ambient log", async () => {
    const ambient = { source: "log", file: "room.csv", expanded_uncertainty_hpa: 0.5 } as const;
    const log = `time,pressure_hpa\n${utc(0)},1013.25\n${utc(30)},1013.25\n${utc(400)},1013.25\n`;
    const { series, problems } = await work(
      sessionFile({ ambient }),
      [capture([{ samples: stretch(0, 420, () => 40) }], { barometer: false })],
      { "room.csv": log },
    );
    const known = series[0]!.samples.filter(({ uncertaintyMmhg }) => uncertaintyMmhg !== null);
    expect(known.at(0)!.timeMs).toBe(Date.parse(STARTED));
    const inGap = series[0]!.samples.filter(
      ({ timeMs }) => timeMs > Date.parse(utc(91)) && timeMs < Date.parse(utc(399)),
    );
    expect(inGap.every(({ uncertaintyMmhg, gaugeMmhg }) => uncertaintyMmhg === null && gaugeMmhg !== null)).toBe(true);
    expect(problems.some((one) => one.includes("room.csv: nothing from"))).toBe(true);
    expect(problems.some((one) => one.includes("[ambient_old]"))).toBe(true);
  });
});

describe("what is wrong with a session is named, and the rest is worked out", () => {
  it("a tag without calibration", async () => {
    const { sites, problems } = await work(sessionFile(), [
      capture([{ samples: stretch(0, 60, () => 40), calibration: null }]),
    ]);
    expect(problems).toContain(
      `tag ${EPC} (B1): without calibration: offset 0 and gain 1 are taken, its uncertainty is not known`,
    );
    expect(sites[0]!.postures[0]!.medianMmhg).toBeCloseTo(40, 3);
    expect(sites[0]!.postures[0]!.uncertaintyMmhg).toBeNull();
    expect(sites[0]!).toMatchObject({ band: null, classes: [] });
  });

  it("a calibration past its date", async () => {
    // Day 2000 is 2025-06-23; six months later is 2025-12-23, before the session of 2026-03-04.
    const { problems } = await work(sessionFile(), [
      capture([{ samples: stretch(0, 60, () => 40), calibration: { validity: 6 } }]),
    ]);
    expect(problems).toContain(`tag ${EPC} (B1): calibration past its date: valid to 2025-12-23`);
  });

  it("reuse since the calibration, and a tag to be retired", async () => {
    const { problems } = await work(sessionFile(), [
      capture([{ samples: stretch(0, 60, () => 40), calibration: { since: 2, count: 20, limit: 20 } }]),
    ]);
    expect(problems).toContain(`tag ${EPC} (B1): reuse cycles since the calibration: a check is due`);
    expect(problems).toContain(`tag ${EPC} (B1): 20 reuse cycles of 20: to be retired`);
  });

  it("a tag that is heard but not in the session, and one that is in it but not heard", async () => {
    const tags = [
      { epc: EPC, site: "B1" },
      { epc: "30361f9404c0004000000009", site: "C" },
    ];
    const text = capture([{ samples: stretch(0, 10, () => 40) }, { epc: OTHER, samples: stretch(0, 10, () => 40) }]);
    const { problems } = await work(sessionFile({ tags }), [text]);
    expect(problems).toContain(`tag ${OTHER} is heard (21 reads) but is no tag of the session: left out`);
    expect(problems).toContain("tag 30361f9404c0004000000009 (C) is in the session but gave no frame");
  });

  it("a reader's clock that goes back: time goes on from where it was", async () => {
    const first = capture([{ samples: stretch(0, 20, () => 40) }]);
    const second = capture([{ samples: stretch(5, 25, () => 41) }], { barometer: false });
    const { problems, series, toMs } = await work(sessionFile(), [first + second.slice(header().length)]);
    expect(problems[0]).toMatch(/^a\.jsonl:\d+: the reader's clock went back by 14\.500 s/);
    expect(series[0]!.samples).toHaveLength(80);
    const times = series[0]!.samples.map(({ timeMs }) => timeMs);
    expect(times.every((time, i) => i === 0 || time >= times[i - 1]!)).toBe(true);
    expect(toMs).toBe(Date.parse(utc(39)));
  });

  it("two captures that overlap by the host's clock", async () => {
    const captures = [{ file: "a.jsonl" }, { file: "b.jsonl" }];
    const { problems } = await work(sessionFile({ captures }), [
      capture([{ samples: stretch(0, 60, () => 40) }]),
      capture([{ samples: stretch(0, 60, () => 40) }], { started: utc(30) }),
    ]);
    expect(
      problems.some((one) => /^b\.jsonl: starts at .* 29\.5 s before the end of the capture before it/.test(one)),
    ).toBe(true);
  });

  it("an event whose two times disagree: a clock jumped between reader and host", async () => {
    const events = [{ event: "stood_up", kit_time_s: 30, at: utc(100) }] as const;
    const { problems, events: placed } = await work(sessionFile({ events }), [
      capture([{ samples: stretch(0, 120, () => 40) }]),
    ]);
    expect(problems[0]).toMatch(
      /^walk\.json: \/events\/0 \(stood_up\): .* is 70\.0 s from kit_time_s 30 by the reader/,
    );
    expect(placed[0]!.timeMs).toBe(Date.parse(utc(30)));
    const fine = await work(sessionFile({ events: [{ event: "stood_up", kit_time_s: 30, at: utc(31) }] }), [
      capture([{ samples: stretch(0, 120, () => 40) }]),
    ]);
    expect(fine.problems).toEqual([]);
  });

  it("events out of order, at one time, and outside the captures", async () => {
    const events = [
      { event: "walked", kit_time_s: 30 },
      { event: "stood_up", kit_time_s: 20 },
      { event: "lay_down", kit_time_s: 20 },
      { event: "removed", at: utc(5000) },
    ] as const;
    const { problems } = await work(sessionFile({ events }), [capture([{ samples: stretch(0, 60, () => 40) }])]);
    expect(problems).toContain("walk.json: /events are not in the order of time; sorted");
    expect(problems).toContain("walk.json: events stood_up and lay_down have the same time");
    expect(problems).toContain(`walk.json: event removed at ${utc(5000)} lies outside the captures`);
  });

  it("lines of a capture that cannot be read are counted", async () => {
    const text = capture([{ samples: stretch(0, 10, () => 40) }]);
    const { problems, rejected, sites } = await work(sessionFile(), [`${text}oops\noops\noops\noops\n`]);
    expect(rejected).toBe(4);
    expect(problems).toContain("a.jsonl: 4 lines in all cannot be read");
    expect(sites[0]!.frames).toBe(20);
  });

  it("no ambient pressure: absolute only, and no band", async () => {
    const { sites, series } = await work(sessionFile({ ambient: { source: "none" } }), [
      capture([{ samples: stretch(0, 30, () => 40) }]),
    ]);
    expect(sites[0]).toMatchObject({ band: null, peak: null, postures: [] });
    // 1013.25 hPa and 40 mmHg of 1.33322387415 hPa.
    expect(series[0]!.samples[3]!.absoluteHpa).toBeCloseTo(1066.57895, 3);
  });

  it("rows of a reference device without a counterpart", async () => {
    const csv = [
      "time,site,pressure_mmhg",
      `${utc(10)},B1,41`,
      `${utc(10)},B1,42`,
      `${utc(20)},C,41`,
      `${utc(500)},B1,41`,
      `${utc(20)},B1,40`,
      `${utc(30)},B1,42`,
    ].join("\n");
    const { problems, pairs, agreement } = await work(
      sessionFile({ reference: { file: "ref.csv" } }),
      [capture([{ samples: stretch(0, 60, () => 40) }])],
      { "ref.csv": csv },
    );
    expect(problems).toEqual([
      "ref.csv:3: site and time of line 2 again; left out",
      'ref.csv:4: site "C" is no site of the session; left out',
      "ref.csv:5: no reading of B1 within 2 s of it; left out",
    ]);
    expect(pairs).toHaveLength(3);
    // Differences -1, 0, -2: mean -1, standard deviation 1.
    expect(agreement!.bias).toBeCloseTo(-1, 3);
    expect(agreement!.deviation).toBeCloseTo(1, 3);
  });

  it("the ambient of the story is the one the frames were made with", () => expect(AMBIENT / 12_800).toBe(1013.25));
});
