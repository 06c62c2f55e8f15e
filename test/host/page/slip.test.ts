import "./support/document.ts";
import { describe, expect, it } from "vitest";
import { makeSlip } from "../../../host/page/now/slip.ts";
import { tapeEndMmhg } from "../../../host/page/now/tape.ts";
import { Site } from "../../../host/page/store/site.ts";
import { Text } from "../../../host/page/text/text.ts";
import type { ReadingRecord } from "../../../host/view/messages.ts";
import { EPC, timed } from "./support/reading.ts";

const range = { lowMmhg: 35, highMmhg: 45 };

function slipOf(changes: Partial<ReadingRecord> | null, nowS = 10, language: "en" | "de" = "en") {
  const site = new Site(EPC, "B1");
  if (changes !== null) site.takeReading(timed(10, changes));
  const slip = makeSlip(site, new Text(language), () => {});
  slip.draw({ nowS, endMmhg: 80, supplyLowV: 1.8, range });
  const { element } = slip;
  const words = (selector: string) => element.querySelector(selector)?.textContent ?? null;
  return { site, slip, element, words, shows: element.getAttribute("data-shows") };
}

const isHidden = (element: Element, selector: string) => element.querySelector(selector)!.hasAttribute("hidden");

describe("a slip", () => {
  it("shows a pressure with its uncertainty, band with scheme, verdict, temperature and power", () => {
    const { words, shows } = slipOf({ gauge_mmhg: 41.96 });
    expect(shows).toBe("number");
    expect([words(".slip-name"), words(".slip-value"), words(".slip-uncertainty"), words(".slip-unit")]).toEqual([
      "B1",
      "42.0",
      "± 0.5",
      "mmHg",
    ]);
    expect([words(".slip-verdict"), words(".slip-band")]).toEqual(["inside 35–45", "strong (WUWHS 2008)"]);
    expect(words(".slip-facts")).toBe("ageunder 1 stemperature27.5 °Cpowerfed");
    expect(words(".doubts")).toBe("nothing to doubt");
  });

  it("speaks its own language, with its comma", () => {
    const { words } = slipOf({ gauge_mmhg: 41.96 }, 10, "de");
    expect([words(".slip-value"), words(".slip-verdict"), words(".slip-band")]).toEqual([
      "42,0",
      "innerhalb 35–45",
      "kräftig (WUWHS 2008)",
    ]);
  });

  it.each([
    ["absent", null, 10],
    ["stale", {}, 20],
    ["absolute", { gauge_mmhg: null, expanded_uncertainty_mmhg: null, band: null }, 10],
    ["invalid", { quality: ["sensor_fault"] }, 10],
  ] as const)(
    "has no number in the large place, no pin, no band and no verdict when it is %s",
    (shows, changes, nowS) => {
      const { element, words, shows: shown } = slipOf(changes as never, nowS);
      expect(shown).toBe(shows);
      expect(words(".slip-value")).not.toMatch(/\d/);
      expect([words(".slip-uncertainty"), words(".slip-band"), words(".slip-verdict")]).toEqual(["", "", ""]);
      expect([".slip-side", ".tape-pin", ".tape-bar"].map((part) => isHidden(element, part))).toEqual([
        true,
        true,
        true,
      ]);
      expect(words(".slip-number .unseen")).toBe(words(".slip-value"));
    },
  );

  it("says what it last said in a sentence when it is stale, with its age", () => {
    const { words } = slipOf({ gauge_mmhg: 41.96 }, 22);
    expect(words(".slip-why")).toBe("last heard: 42.0 ± 0.5 mmHg, 12 s ago.");
    expect([words(".doubts"), isHidden(slipOf({}, 22).element, ".slip-facts div:nth-child(2)")]).toEqual(["", true]);
  });

  it("does not repeat a number that was not valid", () => {
    expect(slipOf({ quality: ["sensor_fault"] }, 22).words(".slip-why")).toBe("nothing new for 12 s.");
  });

  it("says that the uncertainty is not known, and neither band nor verdict then", () => {
    const { words, element, shows } = slipOf({
      expanded_uncertainty_mmhg: null,
      band: null,
      quality: ["uncalibrated", "first_sight"],
    });
    expect([shows, words(".slip-value"), words(".slip-uncertainty")]).toEqual(["unsure", "42.0", "± not known"]);
    expect([words(".slip-band"), element.getAttribute("data-place")]).toEqual(["", null]);
    expect(words(".slip-verdict")).toBe("uncertainty not known: not compared with 35–45");
    expect([isHidden(element, ".tape-pin"), isHidden(element, ".tape-bar")]).toEqual([false, true]);
    expect(words(".doubts")).toBe("doubt: no usable calibration: offset 0 and gain 1 are taken");
  });

  it("says why a tag that is heard gives no reading", () => {
    const { site, slip, words } = slipOf(null);
    site.unread = { time_s: 9, epc: EPC, reason: "layout-unknown", sentence: "tag: another layout" };
    slip.draw({ nowS: 10, endMmhg: 80, supplyLowV: 1.8, range: null });
    expect(words(".slip-why")).toBe(
      "The last Read gave no reading: written with another layout than the one read with.",
    );
  });

  it("has the pin where the pressure is, and a bar as wide as its uncertainty", () => {
    const { element } = slipOf({ gauge_mmhg: 40, expanded_uncertainty_mmhg: 4 });
    const style = (selector: string) => (element.querySelector(selector) as HTMLElement).style;
    expect([style(".tape-pin").left, style(".tape-bar").left, style(".tape-bar").width]).toEqual([
      "50.00%",
      "45.00%",
      "10.00%",
    ]);
    expect([style(".tape-range").left, style(".tape-range").width]).toEqual(["43.75%", "12.50%"]);
  });

  it("tells what is grave first, each with the word for how grave it is", () => {
    const { element } = slipOf({ quality: ["slot_b_empty", "stale", "calibration_expired", "sensor_fault"] });
    const doubts = [...element.querySelectorAll(".slip-foot .doubts li")].map(({ textContent }) => textContent);
    expect(doubts).toEqual([
      "not valid: the sensor did not answer or failed its self-check",
      "doubt: no new sample for longer than three sampling periods and two seconds",
      "doubt: the calibration is past its validity",
    ]);
  });

  it("has all figures as the command line prints them, once they are unfolded", () => {
    const { site, slip, element, words } = slipOf({
      gauge_mmhg: 41.876,
      gauge_hpa: 55.83,
      expanded_uncertainty_mmhg: 0.371,
    });
    expect(words(".figures-rows")).toBe("");
    (element.querySelector(".fold") as HTMLElement).dispatchEvent(
      new (document.defaultView as never as { Event: typeof Event }).Event("click"),
    );
    expect(element.querySelector(".fold")!.getAttribute("aria-expanded")).toBe("true");
    slip.draw({ nowS: 10, endMmhg: 80, supplyLowV: 1.8, range });
    expect(words(".figures-rows dd")).toBe("41.88 ± 0.37 mmHg, 55.83 hPa");
    expect(words(".figures-rows")).toContain("2.90 V; 1.10 V above what is needed");
    expect(site.label).toBe("B1");
  });
});

describe("the scale of the tapes", () => {
  it("is 80 mmHg, and grows in steps of 40", () => {
    expect([0, 79, 80, 81, 130].map(tapeEndMmhg)).toEqual([80, 80, 80, 120, 160]);
  });
});
