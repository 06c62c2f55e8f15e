import { describe, expect, it } from "vitest";
import { type Cupboard, Preferences } from "../../../host/page/store/preferences.ts";

class Shelf implements Cupboard {
  readonly kept = new Map<string, string>();
  getItem = (key: string) => this.kept.get(key) ?? null;
  setItem = (key: string, value: string) => void this.kept.set(key, value);
  removeItem = (key: string) => void this.kept.delete(key);
}

const refusing: Cupboard = {
  getItem: () => {
    throw new Error("refused");
  },
  setItem: () => {
    throw new Error("full");
  },
  removeItem: () => {
    throw new Error("refused");
  },
};

const range = { lowMmhg: 35, highMmhg: 45 };
const other = { lowMmhg: 20, highMmhg: 30 };

describe("preferences", () => {
  it("outlive the page", () => {
    const shelf = new Shelf();
    const first = new Preferences(shelf);
    first.set("language", "de");
    first.set("theme", "dark");
    first.set("announce", false);
    first.setRange("30aa", range);
    const second = new Preferences(shelf);
    expect([second.get("language"), second.get("theme"), second.get("announce")]).toEqual(["de", "dark", false]);
    expect([second.rangeOf("30aa"), second.rangeOf("30bb")]).toEqual([range, null]);
  });

  it("have no range that nobody chose", () => {
    expect(new Preferences(new Shelf()).rangeOf("30aa")).toBeNull();
  });

  it("give a site its own range before the one for all", () => {
    const preferences = new Preferences(null);
    preferences.setRangeOfAll(range);
    preferences.setRange("30aa", other);
    expect([preferences.rangeOf("30aa"), preferences.rangeOf("30bb")]).toEqual([other, range]);
    preferences.setRange("30aa", null);
    expect(preferences.rangeOf("30aa")).toEqual(range);
    preferences.setRangeOfAll(null);
    expect(preferences.rangeOf("30aa")).toBeNull();
  });

  it.each([
    "{",
    "[]",
    "7",
    '{"language":"xx","theme":"neon","range":{"lowMmhg":50,"highMmhg":40},"ranges":{"30aa":{"lowMmhg":"a"}}}',
    '{"ranges":7,"range":{"lowMmhg":-1,"highMmhg":1e9}}',
  ])("take nothing from what is not as it should be: %s", (kept) => {
    const shelf = new Shelf();
    shelf.setItem("plyframe-bench", kept);
    const preferences = new Preferences(shelf);
    expect([preferences.get("language"), preferences.get("theme"), preferences.rangeOf("30aa")]).toEqual([
      null,
      "device",
      null,
    ]);
  });

  it("hold as long as the page where a browser keeps nothing", () => {
    const preferences = new Preferences(refusing);
    preferences.setRangeOfAll(range);
    expect(preferences.rangeOf("30aa")).toEqual(range);
    preferences.forget();
    expect(preferences.rangeOf("30aa")).toBeNull();
  });

  it("are forgotten when told to", () => {
    const shelf = new Shelf();
    const preferences = new Preferences(shelf);
    preferences.set("language", "de");
    preferences.forget();
    expect([shelf.kept.size, preferences.get("language")]).toEqual([0, null]);
  });
});
