/** The simulated LLRP reader, spoken to byte by byte. */
import { describe, expect, it } from "vitest";
import { accessSpec, inventorySpec } from "../../../host/reader/llrp-specs.ts";
import { encodeLlrp } from "../../../protocol/llrp/encode.ts";
import { LlrpStream } from "../../../protocol/llrp/stream.ts";
import {
  element,
  type LlrpElement,
  type LlrpMessage,
  numberOf,
  parameterOf,
} from "../../../protocol/llrp/vocabulary.ts";
import { makeLlrpEndpoint } from "../../../sim/index.ts";
import { leg, START_UTC_US } from "../../support/llrp-pair.ts";
import { bytesOf } from "../../support/vectors.ts";

function endpoint(supportedVersion: 1 | 2 = 2) {
  const kit = makeLlrpEndpoint(leg, { startUtcUs: START_UTC_US, supportedVersion });
  const heard: LlrpMessage[] = [];
  const bytes: Uint8Array[] = [];
  const stream = new LlrpStream({
    onMessage: (message) => void heard.push(message),
    onFault: (fault) => expect.fail(JSON.stringify(fault)),
  });
  let nowUs = 0;
  let id = 0;
  const listen = () => {
    const said = kit.take();
    bytes.push(said);
    stream.push(said);
  };
  const wait = (us: number) => {
    kit.advance((nowUs += us));
    listen();
  };
  const send = (raw: Uint8Array) => {
    kit.receive(raw);
    listen();
    return heard.at(-1)!;
  };
  const ask = (request: LlrpElement, version = 1) => send(encodeLlrp(request, version, ++id) as Uint8Array);
  listen();
  return { ask, send, wait, heard, all: () => Buffer.concat(bytes).toString("hex") };
}

const status = (message: LlrpMessage) => numberOf(parameterOf(message, "LLRPStatus")!, "StatusCode");
const rospec = (name: string, ROSpecID = 1) => element(name, { ROSpecID });

/** An inventory with a Read of four words of every tag. */
function inventory(of = endpoint()) {
  const operation = element("C1G2Read", { OpSpecID: 0xc000, AccessPassword: 0, MB: 3, WordPointer: 0, WordCount: 4 });
  of.ask(element("ADD_ROSPEC", {}, [inventorySpec(1)]));
  of.ask(element("ADD_ACCESSSPEC", {}, [accessSpec(5, null, operation)]));
  of.ask(element("ENABLE_ACCESSSPEC", { AccessSpecID: 5 }));
  of.ask(rospec("ENABLE_ROSPEC"));
  expect(status(of.ask(rospec("START_ROSPEC")))).toBe(0);
  return of;
}

describe("the simulated LLRP reader", () => {
  it("greets, and says the same bytes every time", () => {
    const [a, b] = [inventory(), inventory()];
    for (const each of [a, b]) each.wait(1_000_000);
    expect(a.heard[0]!.name).toBe("READER_EVENT_NOTIFICATION");
    expect(a.heard.filter(({ name }) => name === "RO_ACCESS_REPORT").length).toBeGreaterThan(10);
    expect(a.all()).toBe(b.all());
  });

  it("leaves out enabled fields that did not change, after it has said them once", () => {
    const { heard, wait } = inventory();
    wait(2_000_000);
    const reports = heard.filter(({ name }) => name === "RO_ACCESS_REPORT").flatMap(({ parameters }) => parameters);
    const withId = reports.filter((report) => parameterOf(report, "ROSpecID"));
    expect(withId).toEqual([reports[0]]);
    expect(reports.every((report) => parameterOf(report, "LastSeenTimestampUTC"))).toBe(true);
  });

  it.each([
    ["a message it does not know", "05f40000000a00000031", 109],
    ["a version it does not speak", "0c010000000b0000003100", 110],
    ["a message that is not a client's", "043e0000000a00000031", 109],
    ["an unknown TV parameter", "041400000010000000 31 e30000000000".replaceAll(" ", ""), 107],
    ["a request without its parameter", "04140000000a00000031", 103],
    ["a length that lies inside", "04140000000e0000003100b10046", 100],
  ])("answers %s with ERROR_MESSAGE and its number", (_, hex, code) => {
    const answer = endpoint().send(bytesOf(hex));
    expect([answer.name, answer.id, status(answer)]).toEqual(["ERROR_MESSAGE", 0x31, code]);
  });

  it("answers what it cannot do with the status of the request", () => {
    const { ask } = endpoint();
    expect(status(ask(rospec("START_ROSPEC")))).toBe(101);
    expect(status(ask(rospec("STOP_ROSPEC")))).toBe(101);
    expect(status(ask(rospec("DELETE_ROSPEC", 0)))).toBe(0);
    ask(element("ADD_ROSPEC", {}, [inventorySpec(1)]));
    expect(status(ask(element("ADD_ROSPEC", {}, [inventorySpec(1)])))).toBe(201);
    expect(status(ask(rospec("START_ROSPEC")))).toBe(101);
    expect(status(ask(element("GET_READER_CAPABILITIES", { RequestedData: 9 })))).toBe(101);
  });

  it("speaks 1.1 only after it was agreed on, and never when it cannot", () => {
    const modern = endpoint();
    expect(modern.ask(element("KEEPALIVE_ACK"), 2).name).toBe("ERROR_MESSAGE");
    expect(status(modern.ask(element("SET_PROTOCOL_VERSION", { ProtocolVersion: 2 }), 2))).toBe(0);
    expect(modern.ask(element("GET_ROSPECS"), 2)).toMatchObject({ name: "GET_ROSPECS_RESPONSE", version: 2 });
    const old = endpoint(1);
    expect(status(old.ask(element("GET_SUPPORTED_VERSION"), 2))).toBe(110);
  });

  it("does every operation of an AccessSpec under its own password", () => {
    const { epc, accessPassword } = leg.tags[1]!;
    const write = (OpSpecID: number, AccessPassword: number, word: number) =>
      element("C1G2Write", { OpSpecID, AccessPassword, MB: 3, WordPointer: word, WriteData: [0x1234] });
    const of = endpoint();
    // Word 100 of USER is locked: only whoever gives the password may write it.
    const lock = element("C1G2Lock", { OpSpecID: 1, AccessPassword: accessPassword }, [
      element("C1G2LockPayload", { Privilege: 0, DataField: 4 }),
    ]);
    const spec = accessSpec(1, epc, lock);
    const more = [write(2, 0, 100), write(3, accessPassword, 100), write(4, accessPassword ^ 1, 100), write(5, 0, 100)];
    const withOps = (first: LlrpElement, rest: readonly LlrpElement[]): LlrpElement =>
      element(first.name, first.values, [
        ...first.parameters.map((part) =>
          part.name === "AccessCommand" ? element(part.name, part.values, [...part.parameters, ...rest]) : part,
        ),
      ]);
    expect(status(of.ask(element("ADD_ACCESSSPEC", {}, [withOps(spec, [])])))).toBe(0);
    expect(status(of.ask(element("ADD_ACCESSSPEC", {}, [withOps(accessSpec(2, epc, more[0]!), more.slice(1))])))).toBe(
      0,
    );
    of.ask(element("ENABLE_ACCESSSPEC", { AccessSpecID: 0 }));
    inventory(of).wait(3_000_000);
    const results = of.heard
      .filter(({ name }) => name === "RO_ACCESS_REPORT")
      .flatMap(({ parameters }) => parameters)
      .flatMap(({ parameters }) => parameters)
      .filter(({ name }) => name === "C1G2LockOpSpecResult" || name === "C1G2WriteOpSpecResult")
      .map(({ values }) => [values.OpSpecID, values.Result]);
    // By LLRP's numbers: done, memory locked without the password, done with it, the wrong one refused, and then nobody there.
    expect(results).toEqual([
      [1, 0],
      [2, 2],
      [3, 0],
      [4, 4],
      [5, 5],
    ]);
  });

  it("does an AccessSpec of one execution once, for its tag only, and drops it", () => {
    const of = endpoint();
    const operation = element("C1G2Read", { OpSpecID: 0x8000, AccessPassword: 0, MB: 2, WordPointer: 0, WordCount: 2 });
    of.ask(element("ADD_ACCESSSPEC", {}, [accessSpec(1, leg.tags[1]!.epc, operation)]));
    of.ask(element("ENABLE_ACCESSSPEC", { AccessSpecID: 1 }));
    inventory(of).wait(2_000_000);
    const reports = of.heard.filter(({ name }) => name === "RO_ACCESS_REPORT").flatMap(({ parameters }) => parameters);
    const done = reports.filter(({ parameters }) => parameters.some(({ values }) => values.OpSpecID === 0x8000));
    expect(done.map((report) => parameterOf(report, "EPC-96")!.values.EPC)).toEqual([leg.tags[1]!.epc]);
    const left = of.ask(element("GET_ACCESSSPECS")).parameters.filter(({ name }) => name === "AccessSpec");
    expect(left.map((spec) => numberOf(spec, "AccessSpecID"))).toEqual([5]);
  });
});
