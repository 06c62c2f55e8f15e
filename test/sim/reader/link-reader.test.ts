import { describe, expect, it } from "vitest";
import { LinkReader } from "../../../host/reader/link-reader.ts";
import type { AmbientReport, TagReport } from "../../../host/reader/report.ts";
import { makeKit, scenarios, serveKit } from "../../../sim/index.ts";
import { duplexPair } from "../support/duplex-pair.ts";

const scenario = scenarios["training-leg"]!;
const [first] = scenario.tags;

describe("the host's reader on the simulated kit", () => {
  it("says hello, takes an inventory, reads, writes and leaves", async () => {
    const [ours, theirs] = duplexPair();
    const served = serveKit(makeKit(scenario), theirs, { speed: 20 });
    const reader = new LinkReader({ name: "pair", stream: ours, listenOnly: false });
    const reports: (TagReport | AmbientReport)[] = [];
    const faults: object[] = [];
    reader.on("fault", (fault) => faults.push(fault));

    const info = await reader.open();
    expect(info).toMatchObject({ blockWrite: true, lock: true, barometer: true, powerHighDbm: 30 });
    expect(info.channelPlans).toEqual(["eu_lower", "eu_upper", "us"]);
    await reader.setPower(29.5);
    const enough = new Promise<void>((resolve) => {
      reader.on("report", (report) => {
        reports.push(report);
        if (new Set(reports.map((seen) => (seen.kind === "read" ? seen.epc : seen.kind))).size === 5) resolve();
      });
    });
    await reader.startInventory({ periodMs: 100, read: { bank: "user", word: 0, count: 32 } });
    await enough;
    const epcs = new Set(reports.flatMap((report) => (report.kind === "read" ? [report.epc] : [])));
    expect([...epcs].sort()).toEqual(scenario.tags.map(({ epc }) => epc));

    const place = { epc: first!.epc, bank: "user", word: 100 } as const;
    expect((await reader.blockWrite({ ...place, words: [1, 2] })).result).toBe("tag_memory_locked");
    const password = first!.accessPassword;
    expect((await reader.blockWrite({ ...place, words: [1, 2], password })).result).toBe("done");
    expect((await reader.read({ ...place, count: 2 })).words).toEqual([1, 2]);
    await reader.stopInventory();
    await expect(reader.setPower(60)).rejects.toThrow();
    expect(faults).toEqual([]);
    expect(reader.counts).toMatchObject({ faults: 0, discardedBytes: 0, lateAnswers: 0 });
    await reader.close();
    theirs.destroy();
    await served;
  });
});
