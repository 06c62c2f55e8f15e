/**
 * Everything both sides say, against the LLRP dissector of Wireshark (Debian package tshark): a program of others, written
 * from the same standard.
 */
import { describe, expect, it, onTestFinished } from "vitest";
import type { TagReport } from "../../host/reader/report.ts";
import { dissect } from "../support/dissect.ts";
import { leg, llrpPair, type Said } from "../support/llrp-pair.ts";
import { needs } from "../support/outside.ts";
import { bytesOf } from "../support/vectors.ts";

const [tag] = leg.tags;
const place = { epc: tag!.epc, bank: "user", word: 100 } as const;

/**
 * Version 4.0 of the dissector looks at SET_PROTOCOL_VERSION's one byte with the mask of the header's version and does not
 * step over it, so that it calls every such message too long, whoever made it.
 */
const SLIP_OF_THE_DISSECTOR =
  "4\tLLRP Message (Set Protocol Version)\tIncorrect length of message: 10 bytes decoded, but 11 bytes available.";

/** A session with one of everything this program can ask for. */
async function session(supportedVersion: 1 | 2): Promise<readonly Said[]> {
  const pair = llrpPair({ supportedVersion, keepAliveMs: 2000 });
  const { reader } = pair;
  onTestFinished(() => reader.close());
  await reader.open();
  await reader.setPower(29.5);
  await reader.startInventory({ periodMs: 100, read: { bank: "user", word: 0, count: 32 } });
  await pair.until((reports: readonly TagReport[]) => reports.length > 8);
  const password = tag!.accessPassword;
  expect((await reader.read({ ...place, count: 4 })).result).toBe("done");
  expect((await reader.write({ ...place, words: [1, 2] })).result).toBe("tag_memory_locked");
  expect((await reader.write({ ...place, words: [1, 2], password })).result).toBe("done");
  expect((await reader.blockWrite({ ...place, words: [3, 4], password })).result).toBe("done");
  expect((await reader.lock({ epc: tag!.epc, mask: 3, action: 2, password })).result).toBe("done");
  // A tag in service has a kill password of zero.
  expect((await reader.kill({ epc: tag!.epc, password: 0x1f2e_3d4c })).result).toBe("tag_error");
  expect((await reader.read({ ...place, epc: "30".repeat(6), count: 4 })).result).toBe("tag_lost");
  await expect(reader.setChannelPlan("us")).rejects.toThrow("transmits by eu_lower only");
  await expect.poll(() => pair.said.some(({ message }) => message.name === "KEEPALIVE_ACK")).toBe(true);
  await reader.stopInventory();
  await reader.close();
  expect(pair.faults).toEqual([]);
  return pair.said;
}

needs("tshark", () => {
  describe("Wireshark's dissector", () => {
    it.each([1, 2] as const)("takes every message of both sides, version %i", async (version) => {
      const said = await session(version);
      const { names, warnings } = dissect(said);
      expect(warnings).toEqual(version === 2 ? [SLIP_OF_THE_DISSECTOR] : []);
      expect(names.length).toBe(said.length);
      said.forEach(({ message }, i) => {
        expect(dissected(names[i]!)).toBe(message.name.replaceAll("_", ""));
      });
      const all = new Set(said.map(({ message }) => message.name));
      for (const name of [
        "GET_READER_CAPABILITIES_RESPONSE",
        "RO_ACCESS_REPORT",
        "KEEPALIVE_ACK",
        "CLOSE_CONNECTION",
      ]) {
        expect(all).toContain(name);
      }
      expect(all.has("ERROR_MESSAGE")).toBe(version === 1);
      expect(all.has("SET_PROTOCOL_VERSION_RESPONSE")).toBe(version === 2);
    });

    it("complains of a message with a damaged parameter, so its silence means something", () => {
      const raw = bytesOf("040d0000001200000002011f000800000000");
      expect(dissect([{ by: "reader", raw }]).warnings).toEqual([]);
      raw[13] = 40;
      expect(dissect([{ by: "reader", raw }]).warnings).not.toEqual([]);
    });
  });
});

/** The dissector's name of a message without its spaces. */
function dissected(info: string): string {
  return info
    .replace(/^.*?LLRP Message/i, "")
    .replaceAll(/[^A-Z0-9]/gi, "")
    .toUpperCase();
}
