/** Sixty-four tags in one field: each is itself, and all of them are heard. */
import { expect, it } from "vitest";
import { tagReport } from "../../../host/reader/link-report.ts";
import { makeKit } from "../../../sim/index.ts";
import { manyTags } from "../../../sim/scenario/many-tags.ts";
import { LinkHost } from "../support/link-host.ts";

const distinct = (values: readonly unknown[]) => new Set(values).size;

it("has sixty-four, none with the identity of another", () => {
  const { tags } = manyTags;
  expect(tags.length).toBe(64);
  for (const id of ["epc", "chipSerial", "sensorSerial", "site"] as const) {
    expect([id, distinct(tags.map((tag) => tag[id]))]).toEqual([id, 64]);
  }
  // The standard's example GTIN in SGTIN-96, as in the training leg; the serial is ours.
  for (const { epc } of tags) expect(epc).toMatch(/^3066c4409047e1400000[0-9a-f]{4}$/);
});

it("lets a reader hear every one of them", () => {
  const host = new LinkHost(makeKit(manyTags));
  host.say("start_inventory", { period: 100, bank: 3, pointer: 0, word_count: 32 });
  const heard = new Set<string>();
  for (let i = 0; i < 1000 && heard.size < 64; i++) {
    for (const message of host.wait(10_000)) {
      if (message.message.id !== "tag_report") continue;
      const { epc, words } = tagReport(message);
      if (words.length === 32) heard.add(epc);
    }
  }
  expect(heard.size).toBe(64);
});
