/** Kill over the link and over LLRP: the tag's own password, and silence afterwards. */
import { describe, expect, it } from "vitest";
import { accessSpec, inventorySpec } from "../../../host/reader/llrp-specs.ts";
import { type DecodedRecord, nameOf, rawOf } from "../../../protocol/codec/record.ts";
import { encodeFrame } from "../../../protocol/link/framing.ts";
import { encodeLlrp } from "../../../protocol/llrp/encode.ts";
import { LlrpStream } from "../../../protocol/llrp/stream.ts";
import { element, type LlrpElement, numberOf, parameterOf } from "../../../protocol/llrp/vocabulary.ts";
import { reasons } from "../../../protocol/model/reasons.ts";
import { makeKit, makeLlrpEndpoint } from "../../../sim/index.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { leg, START_UTC_US } from "../../support/llrp-pair.ts";
import { LinkHost, messagesIn } from "../support/link-host.ts";

const tag = trainingLeg.tags[0]!;
const wordsOf = (epc: string) => epc.match(/.{4}/g)!.map((word) => Number.parseInt(word, 16));
const EPC = wordsOf(tag.epc);
const KILL = 0x1f2e_3d4c;

const result = ({ content }: { content: DecodedRecord }) => nameOf(content, "result");

/** A host whose first tag may or may not be killed. */
function host(killable: boolean): LinkHost {
  const kit = new LinkHost(makeKit(trainingLeg));
  if (!killable) return kit;
  const place = { password: tag.accessPassword, bank: 0, pointer: 0, word_count: 2, epc_words: 6 };
  const words = [KILL >>> 16, KILL & 0xffff];
  expect(result(kit.ask("write", place, { epc: EPC, words }))).toBe("done");
  return kit;
}

const kill = (kit: LinkHost, password: number) => result(kit.ask("kill", { password, epc_words: 6 }, { epc: EPC }));
const read = (kit: LinkHost) => {
  const place = { password: 0, bank: 1, pointer: 2, word_count: 6, epc_words: 6 };
  return result(kit.ask("read", place, { epc: EPC }));
};

describe("kill over the link", () => {
  it("ends the tag for good and no other", () => {
    const kit = host(true);
    expect(kill(kit, KILL)).toBe("done");
    expect(read(kit)).toBe("tag_lost");
    expect(kill(kit, KILL)).toBe("tag_lost");
    // Until every store is empty: a dead tag does not come back with power.
    kit.wait(120_000_000);
    kit.ask("start_inventory", { period: 100, bank: 3, pointer: 0, word_count: 0 });
    const seen = kit.wait(5_000_000).filter(({ message }) => message.id === "tag_report");
    const found = new Set(seen.map(({ content }) => Array.from(content.tails.epc!).join()));
    expect(found).toEqual(new Set(trainingLeg.tags.slice(1).map(({ epc }) => wordsOf(epc).join())));
  });

  it("with another password leaves the tag alive, also one that differs in one half only", () => {
    const kit = host(true);
    for (const password of [KILL ^ 1, KILL ^ 0x1_0000, tag.accessPassword]) {
      expect(kill(kit, password)).toBe("tag_lost");
      expect(read(kit)).toBe("done");
    }
  });

  it("does nothing to a tag in service, whose kill password is zero", () => {
    const kit = host(false);
    expect(kill(kit, KILL)).toBe("tag_error");
    expect(read(kit)).toBe("done");
  });

  it("is refused with a password of zero before anything is said on the air", () => {
    const kit = makeKit(trainingLeg);
    const hello = encodeFrame(Uint8Array.of(0x01, 0, 1, 1, 4));
    const request = encodeFrame(Uint8Array.of(0x0b, 0, 2, 0, 0, 0, 0, 1, 0x30, 0x66));
    kit.receive(hello);
    kit.receive(request);
    const error = messagesIn(kit.take()).find(({ request }) => request === 2);
    expect(error!.message.id).toBe("error");
    const about = ["reason", "about", "byte"].map((field) => rawOf(error!.content, field));
    expect(about).toEqual([reasons["value-out-of-range"].number, 0x0b, 3]);
    kit.advance(1_000_000);
    expect(messagesIn(kit.take()).filter(({ request }) => request === 2)).toEqual([]);
  });

  it("takes more power than reading does", () => {
    const kit = host(true);
    // 20.5 dBm and a gain of -29 dB: 0.5 dB above the turn-on power of -9 dBm, which is too little to write.
    kit.ask("set_power", { power: 2050 });
    const results = Array.from({ length: 20 }, () => kill(kit, KILL));
    expect(results).toContain("tag_power_insufficient");
    expect(results).not.toContain("done");
    kit.ask("set_power", { power: 3000 });
    expect(read(kit)).toBe("done");
  });
});

describe("kill over LLRP", () => {
  /** Results of the operations on the first tag, in the order of the reports. */
  function results(operations: readonly LlrpElement[]): number[] {
    const kit = makeLlrpEndpoint(leg, { startUtcUs: START_UTC_US, supportedVersion: 2 });
    const found: number[] = [];
    const stream = new LlrpStream({
      onMessage: ({ parameters }) => {
        for (const report of parameters) {
          const kill = parameterOf(report, "C1G2KillOpSpecResult");
          if (kill) found.push(numberOf(kill, "Result"));
        }
      },
      onFault: (fault) => expect.fail(JSON.stringify(fault)),
    });
    let id = 0;
    const ask = (request: LlrpElement) => kit.receive(encodeLlrp(request, 1, ++id) as Uint8Array);
    ask(element("ADD_ROSPEC", {}, [inventorySpec(1)]));
    for (const [i, operation] of operations.entries()) {
      ask(element("ADD_ACCESSSPEC", {}, [accessSpec(i + 1, tag.epc, operation)]));
    }
    ask(element("ENABLE_ROSPEC", { ROSpecID: 1 }));
    ask(element("START_ROSPEC", { ROSpecID: 1 }));
    for (const [i] of operations.entries()) {
      ask(element("ENABLE_ACCESSSPEC", { AccessSpecID: i + 1 }));
      kit.advance((i + 1) * 2_000_000);
      stream.push(kit.take());
      ask(element("DISABLE_ACCESSSPEC", { AccessSpecID: i + 1 }));
    }
    return found;
  }

  const killOperation = (password: number) => element("C1G2Kill", { OpSpecID: 7, KillPassword: password });
  const setPassword = element("C1G2Write", {
    OpSpecID: 6,
    AccessPassword: tag.accessPassword,
    MB: 0,
    WordPointer: 0,
    WriteData: [KILL >>> 16, KILL & 0xffff],
  });

  // Results of C1G2KillOpSpecResult: 0 success, 1 password zero, 3 non-specific tag error, 4 no response (LLRP 1.0.1).
  it("says that it was done, and then nothing of that tag any more", () => {
    expect(results([setPassword, killOperation(KILL)])).toEqual([0]);
  });

  it("says that the tag did not answer when the password is another", () => {
    const found = new Set(results([setPassword, killOperation(KILL ^ 1)]));
    expect(found).toEqual(new Set([4]));
  });

  it("says that the tag refused when it cannot be killed", () => {
    expect(new Set(results([killOperation(KILL)]))).toEqual(new Set([3]));
  });

  it("says that the password is zero when it is", () => {
    expect(new Set(results([killOperation(0)]))).toEqual(new Set([1]));
  });
});
