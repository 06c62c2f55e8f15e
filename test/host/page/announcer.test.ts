import { describe, expect, it } from "vitest";
import { Announcer, readOut } from "../../../host/page/shell/announcer.ts";
import { Preferences } from "../../../host/page/store/preferences.ts";
import { Store } from "../../../host/page/store/store.ts";
import { Text } from "../../../host/page/text/text.ts";
import { EPC, hello, timed } from "./support/reading.ts";

function begin() {
  const clock = { ms: 0 };
  const store = new Store(new Preferences(null), () => clock.ms);
  const announcer = new Announcer(store, new Text("en"));
  store.take(hello());
  const read = (timeS: number, gauge_mmhg: number, quality: never[] | ["sensor_fault"] = []) => {
    clock.ms = timeS * 1000;
    const reading = timed(timeS, { gauge_mmhg, quality, sequence: Math.round(timeS * 10) });
    store.take({ type: "readings", now_s: timeS, readings: [reading], earlier: [], waveforms: [], unread: [] });
    return announcer.next(clock.ms);
  };
  const wait = (timeS: number) => {
    clock.ms = timeS * 1000;
    return announcer.next(clock.ms);
  };
  return { store, read, wait, text: new Text("en") };
}

describe("announcements", () => {
  it("say nothing of numbers that change", () => {
    const { read } = begin();
    expect([read(0, 40), read(10, 55), read(20, 20)]).toEqual([null, null, null]);
  });

  it("say that a site went silent, and that it is back", () => {
    const { read, wait } = begin();
    read(0, 40);
    expect(wait(10)).toBe("B1 went silent.");
    expect(wait(20)).toBeNull();
    expect(read(30, 40)).toBe("B1 is back.");
  });

  it("say when a site crosses its range, but not at its edge", () => {
    const { store, read } = begin();
    store.preferences.setRange(EPC, { lowMmhg: 35, highMmhg: 45 });
    read(0, 30);
    expect(read(10, 40)).toBe("B1 is inside its range.");
    expect(read(20, 45.2)).toBeNull();
    expect(read(30, 40)).toBeNull();
    expect(read(40, 50)).toBe("B1 is above its range.");
    expect(read(50, 20)).toBe("B1 is below its range.");
  });

  it("say that a pressure is not valid", () => {
    const { read } = begin();
    read(0, 40);
    expect(read(10, 40, ["sensor_fault"])).toBe("B1 is not valid.");
  });

  it("come at most once in five seconds, and then say how it stands", () => {
    const { store, read } = begin();
    store.preferences.setRange(EPC, { lowMmhg: 35, highMmhg: 45 });
    read(0, 30);
    expect(read(10, 40)).toBe("B1 is inside its range.");
    expect(read(11, 60)).toBeNull();
    expect(read(14, 20)).toBeNull();
    expect(read(15.5, 60)).toBe("B1 is above its range.");
  });

  it("are silent over what came and went while they paused", () => {
    const { store, read } = begin();
    store.preferences.setRange(EPC, { lowMmhg: 35, highMmhg: 45 });
    read(0, 30);
    read(10, 40);
    read(12, 60);
    expect(read(16, 40)).toBeNull();
  });
});

describe("reading out", () => {
  it("says every site in words, and no number where there is none", () => {
    const { store, read, wait, text } = begin();
    store.take(
      hello({
        sites: [
          { epc: EPC, site: "B1" },
          { epc: "30", site: "C" },
        ],
      }),
    );
    read(0, 40);
    expect(readOut(store, text)).toBe("B1: 40.0 mmHg, plus or minus 0.5. C: not heard yet.");
    wait(60);
    expect(readOut(store, text)).toBe("B1: stale. C: not heard yet.");
  });
});
