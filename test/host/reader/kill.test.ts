/** Kill through both readers of the host, each on its simulated partner: the same words for the same outcome. */
import { describe, expect, it, onTestFinished } from "vitest";
import { LinkReader } from "../../../host/reader/link-reader.ts";
import type { Reader } from "../../../host/reader/reader.ts";
import type { TagReport } from "../../../host/reader/report.ts";
import { makeKit, serveKit } from "../../../sim/index.ts";
import { duplexPair } from "../../sim/support/duplex-pair.ts";
import { leg, llrpPair } from "../../support/llrp-pair.ts";

const KILL = 0x1f2e_3d4c;
const { epc, accessPassword } = leg.tags[0]!;
const place = { epc, bank: "reserved", word: 0, password: accessPassword } as const;

function linkReader(): Reader {
  const [ours, theirs] = duplexPair();
  serveKit(makeKit(leg), theirs, { speed: 4 }).catch(() => undefined);
  onTestFinished(() => void theirs.destroy());
  return new LinkReader({ name: "pair", stream: ours, listenOnly: false }, { timeoutMs: 30_000 });
}

const readers = {
  link: linkReader,
  LLRP: () => llrpPair({ speed: 4, timeoutMs: 30_000, accessTimeoutMs: 30_000 }).reader,
} as const;

describe.each(Object.keys(readers) as (keyof typeof readers)[])("a %s reader", (kind) => {
  it("kills with the tag's own password only, and the tag is then lost", async () => {
    const reader = readers[kind]();
    onTestFinished(() => reader.close());
    const seen: TagReport[] = [];
    reader.on("report", (report) => {
      if (report.kind === "read") seen.push(report);
    });
    await reader.open();
    // The tags stay powered, however long this process is held up between two requests.
    await reader.startInventory({ periodMs: 100 });
    const answers = async () => (await reader.read({ epc, bank: "epc", word: 2, count: 1 })).result;
    expect((await reader.kill({ epc, password: KILL })).result).toBe("tag_error");
    expect((await reader.write({ ...place, words: [KILL >>> 16, KILL & 0xffff] })).result).toBe("done");
    expect((await reader.kill({ epc, password: KILL ^ 1 })).result).toBe("tag_lost");
    expect(await answers()).toBe("done");
    await expect.poll(() => seen.map((report) => report.epc)).toContain(epc);
    const killed = await reader.kill({ epc, password: KILL });
    expect(killed.result).toBe("done");
    // Others are seen on, this one is not.
    const later = () => seen.filter(({ kitTimeUs }) => kitTimeUs > killed.kitTimeUs);
    await expect.poll(() => later().length).toBeGreaterThan(20);
    expect(later().map((report) => report.epc)).not.toContain(epc);
  });
});

describe("a link reader", () => {
  it("does not ask for a kill with a password of zero", async () => {
    const reader = linkReader();
    onTestFinished(() => reader.close());
    await reader.open();
    await expect(reader.kill({ epc, password: 0 })).rejects.toThrow("kill.password");
  });
});
