import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Kit, makeKit, type Scenario, scenarios } from "../../../sim/index.ts";
import { messagesIn, requestBytes } from "../support/link-host.ts";

const scenario = scenarios["training-leg-outside"]!;
const S = 1e6;
const EPC = Array.from({ length: 6 }, (_, i) => Number.parseInt(scenario.tags[1]!.epc.slice(4 * i, 4 * i + 4), 16));

/** What a host says, and when. */
const script: readonly (readonly [atUs: number, bytes: Uint8Array])[] = [
  [0, requestBytes("hello", 1, { link_version: 1, max_outstanding: 4 })],
  [1000, requestBytes("start_inventory", 2, { period: 100, bank: 3, pointer: 0, word_count: 32 })],
  [2_000_500, Uint8Array.of(0x12, 0x55, 0, 0, 0xff, 0)],
  [
    2_500_000,
    requestBytes("read", 3, { password: 0, bank: 3, pointer: 40, word_count: 32, epc_words: 6 }, { epc: EPC }),
  ],
  [4_000_000, requestBytes("set_power", 4, { power: 2800 })],
  [9_000_000, requestBytes("stop_inventory", 5)],
];
const END_US = 12 * S;

function play(more: Partial<Scenario>, deliver: (kit: Kit, bytes: Uint8Array) => void, stepUs: number): Uint8Array {
  const kit = makeKit({ ...scenario, ...more });
  const said: Uint8Array[] = [];
  let nowUs = 0;
  const live = (toUs: number) => {
    while (nowUs < toUs) {
      nowUs = Math.min(toUs, nowUs + stepUs);
      kit.advance(nowUs);
      said.push(kit.take());
    }
  };
  for (const [atUs, bytes] of script) {
    live(atUs);
    deliver(kit, bytes);
    said.push(kit.take());
  }
  live(END_US);
  return Buffer.concat(said);
}

const whole = (kit: Kit, bytes: Uint8Array) => kit.receive(bytes);
const reference = play({}, whole, END_US);

describe("the same scenario, bytes and times", () => {
  it("give the same bytes, and enough of them to mean something", () => {
    expect(messagesIn(reference).length).toBeGreaterThan(300);
    expect(Buffer.compare(play({}, whole, END_US), reference)).toBe(0);
  });

  it("give the same bytes however time is cut into steps", () => {
    for (const stepUs of [777, 10_000, 333_333]) expect(Buffer.compare(play({}, whole, stepUs), reference)).toBe(0);
  });

  it("give the same bytes however the requests are cut into chunks", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 30 }), (sizes) => {
        let turn = 0;
        const cut = (kit: Kit, bytes: Uint8Array) => {
          for (let at = 0; at < bytes.length; ) {
            const end = at + sizes[turn++ % sizes.length]!;
            kit.receive(bytes.subarray(at, end));
            at = end;
          }
        };
        expect(Buffer.compare(play({}, cut, END_US), reference)).toBe(0);
      }),
      { numRuns: 15 },
    );
  });
});

describe("another seed", () => {
  it("gives other bytes of the same story", () => {
    const other = play({ seed: scenario.seed + 1 }, whole, END_US);
    expect(Buffer.compare(other, reference)).not.toBe(0);
    const kinds = (bytes: Uint8Array) => new Set(messagesIn(bytes).map(({ message }) => message.id));
    expect(kinds(other)).toEqual(kinds(reference));
  });
});

describe("hostile bytes", () => {
  const anyBytes = fc.uint8Array({ maxLength: 1500 });
  const anyRequest = fc
    .tuple(
      fc.constantFrom(
        "set_power",
        "start_inventory",
        "stop_inventory",
        "read",
        "write",
        "block_write",
        "lock",
        "kill",
        "hello",
      ),
      fc.infiniteStream(fc.nat(0xffff)),
    )
    .map(([id, numbers]) => {
      const next = (top: number) => numbers.next().value! % (top + 1);
      const count = next(8);
      const place = { password: scenario.tags[1]!.accessPassword, bank: next(3), pointer: next(110) };
      const words = Array.from({ length: count }, () => next(0xffff));
      switch (id) {
        case "hello":
          return requestBytes(id, next(9), { link_version: 1, max_outstanding: 1 + next(5) });
        case "set_power":
          return requestBytes(id, next(9), { power: next(3300) });
        case "start_inventory":
          return requestBytes(id, next(9), { period: 10 + next(500), word_count: next(255), ...place });
        case "read":
          return requestBytes(id, next(9), { ...place, word_count: count, epc_words: 6 }, { epc: EPC });
        case "write":
        case "block_write":
          return requestBytes(id, next(9), { ...place, word_count: count, epc_words: 6 }, { epc: EPC, words });
        case "kill":
          return requestBytes(id, next(9), { password: 1 + next(0xffff), epc_words: 6 }, { epc: EPC });
        case "lock":
          return requestBytes(
            id,
            next(9),
            { password: place.password, mask: next(1023), action: next(1023), epc_words: 6 },
            { epc: EPC },
          );
        default:
          return requestBytes(id, next(9));
      }
    });

  it("never make it throw or say anything damaged", () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(anyBytes, anyRequest), { maxLength: 30 }), (chunks) => {
        const kit = makeKit(scenario);
        kit.receive(script[0]![1]);
        let nowUs = 0;
        for (const chunk of chunks) {
          kit.receive(chunk);
          kit.advance((nowUs += 150_000));
        }
        // A nought ends whatever the noise began; then the kit must still be there.
        kit.receive(Uint8Array.of(0));
        kit.take();
        kit.receive(requestBytes("keep_alive", 77));
        expect(messagesIn(kit.take()).map(({ message, request }) => [message.id, request])).toEqual([["done", 77]]);
        kit.advance(nowUs + 2 * S);
        messagesIn(kit.take());
      }),
      { numRuns: 100 },
    );
  });
});
