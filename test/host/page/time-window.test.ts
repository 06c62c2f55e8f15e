import { describe, expect, it } from "vitest";
import { TimeWindow } from "../../../host/page/store/time-window.ts";

describe("window over time", () => {
  it("follows the session with the last two minutes at first", () => {
    const shown = new TimeWindow();
    expect(shown.at(0, 500)).toEqual([380, 500]);
    expect(shown.at(0, 501)).toEqual([381, 501]);
  });

  it("shows nothing before the first sample", () => {
    expect(new TimeWindow().at(10, 50)).toEqual([10, 50]);
  });

  it("is never narrower than two seconds", () => {
    const shown = new TimeWindow();
    expect(shown.at(10, 10)).toEqual([8, 10]);
    for (let i = 0; i < 40; i++) shown.zoom(0.5, 0.5, 0, 500);
    expect(shown.at(0, 500)).toEqual([498, 500]);
  });

  it("stays where it was moved to, and follows again from the edge on", () => {
    const shown = new TimeWindow();
    shown.move(-0.5, 0, 500);
    expect([shown.follows, shown.at(0, 600)]).toEqual([false, [320, 440]]);
    shown.move(1.5, 0, 600);
    expect([shown.follows, shown.at(0, 700)]).toEqual([true, [580, 700]]);
  });

  it("catches an edge that moved on a little meanwhile, but is not held by it when going back", () => {
    const shown = new TimeWindow();
    shown.move(-0.5, 0, 500);
    shown.move(0.5, 0, 501);
    expect(shown.follows).toBe(true);
    shown.move(-0.01, 0, 501);
    expect([shown.follows, shown.at(0, 501)[1]]).toEqual([false, 501 - 1.2]);
  });

  it("goes no further back than the first sample", () => {
    const shown = new TimeWindow();
    for (let i = 0; i < 20; i++) shown.move(-0.5, 100, 500);
    expect(shown.at(100, 500)).toEqual([100, 220]);
  });

  it("keeps the place under the fingers still while it is zoomed", () => {
    const shown = new TimeWindow();
    shown.move(-1, 0, 500);
    const [fromS, toS] = shown.at(0, 500);
    const stillS = fromS + 0.25 * (toS - fromS);
    shown.zoom(0.5, 0.25, 0, 500);
    const [nextS, endS] = shown.at(0, 500);
    expect(nextS + 0.25 * (endS - nextS)).toBeCloseTo(stillS, 9);
    expect(endS - nextS).toBeCloseTo(60, 9);
  });

  it("goes on following while it is zoomed at the edge", () => {
    const shown = new TimeWindow();
    shown.zoom(0.5, 0.5, 0, 500);
    expect([shown.follows, shown.at(0, 500)]).toEqual([true, [440, 500]]);
  });

  it("shows everything, and grows with it", () => {
    const shown = new TimeWindow();
    shown.show(null);
    expect([shown.at(0, 500), shown.at(0, 900)]).toEqual([
      [0, 500],
      [0, 900],
    ]);
  });
});
