/** What a page may ask for, and everything else that may come over the socket. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { calibrationLimits, fromPage, parsePageMessage } from "../../../host/view/requests.ts";
import { client, served } from "../../support/view.ts";

const parse = (value: unknown) => parsePageMessage(JSON.stringify(value));
const start = { type: "calibrate", action: "start", epc: "30340123", loads_mmhg: [0, 50, 100], cycles: 3 };

describe("a request", () => {
  it.each([
    [
      { type: "mark", kind: "wrapped" },
      { type: "mark", kind: "wrapped", text: "" },
    ],
    [
      { type: "mark", kind: "note", text: "  second layer " },
      { type: "mark", kind: "note", text: "second layer" },
    ],
    [
      { type: "unmark", id: 3 },
      { type: "unmark", id: 3 },
    ],
    [start, { ...start, reference_uncertainty_pa: null }],
    [
      { type: "calibrate", action: "applied" },
      { type: "calibrate", action: "applied", load_mmhg: null },
    ],
    [
      { type: "calibrate", action: "applied", load_mmhg: 40.2 },
      { type: "calibrate", action: "applied", load_mmhg: 40.2 },
    ],
    [
      { type: "calibrate", action: "stop" },
      { type: "calibrate", action: "stop" },
    ],
  ])("%j is taken", (value, taken) => expect(parse(value)).toEqual(taken));

  it.each([
    [{}, "type: one of mark, unmark, calibrate"],
    [{ type: "toString" }, "type: one of"],
    [{ type: "mark" }, "kind: one of wrapped, stood, walked, rested, note"],
    [{ type: "mark", kind: "__proto__" }, "kind: one of"],
    [{ type: "mark", kind: "note" }, "text: a note says something"],
    [{ type: "mark", kind: "note", text: " \u200b\n" }, "text: a note says something"],
    [{ type: "mark", kind: "note", text: 7 }, "text: a text"],
    [{ type: "mark", kind: "stood", text: "x" }, "text: only a note has one"],
    [{ type: "mark", kind: "note", text: "x".repeat(81) }, "text: at most 80 characters"],
    [{ type: "mark", kind: "stood", time_s: 4 }, '"time_s": no such member'],
    [{ type: "unmark" }, "id: the number of a mark"],
    [{ type: "unmark", id: 0 }, "id: the number of a mark"],
    [{ type: "unmark", id: 1.5 }, "id: the number of a mark"],
    [{ type: "calibrate" }, "action: one of start, applied, wait, take, skip, stop, clear"],
    [{ type: "calibrate", action: "applied", load_mmhg: -1 }, "load_mmhg: 0 to 300"],
    [{ type: "calibrate", action: "applied", load_mmhg: "40" }, "load_mmhg: 0 to 300"],
    [{ type: "calibrate", action: "take", load_mmhg: 1 }, '"load_mmhg": no such member'],
    [{ ...start, epc: "../../etc" }, "epc: lower-case hex"],
    [{ ...start, loads_mmhg: [] }, "loads_mmhg: 1 to 20 rising numbers"],
    [{ ...start, loads_mmhg: [0, 50, 50] }, "loads_mmhg: 1 to 20 rising numbers"],
    [{ ...start, loads_mmhg: [0, 1000] }, "loads_mmhg: 1 to 20 rising numbers"],
    [{ ...start, loads_mmhg: Array.from({ length: 21 }, (_, i) => i) }, "loads_mmhg: 1 to 20 rising numbers"],
    [{ ...start, cycles: 1.5 }, "cycles: a whole number from 1 to 10"],
    [{ ...start, cycles: 11 }, "cycles: a whole number from 1 to 10"],
    [{ ...start, reference_uncertainty_pa: -1 }, "reference_uncertainty_pa: 0 to 10000"],
  ])("%j is refused with its member", (value, sentence) => expect(parse(value)).toContain(sentence));

  it.each([
    ["", "a message is JSON"],
    ["{", "a message is JSON"],
    ["null", "a message is a JSON object"],
    ["[]", "a message is a JSON object"],
    ["7", "a message is a JSON object"],
    [`{"type":"mark","kind":"note","text":"${"x".repeat(3000)}"}`, "a message has at most 2048 characters"],
    ['{"__proto__":{"type":"mark","kind":"stood"}}', "type: one of"],
  ])("%.40s is none", (text, sentence) => expect(parsePageMessage(text)).toContain(sentence));

  it("keeps a note free of what could disguise it", () => {
    // Right-to-left override, line separator, escape and zero-width joiner, by their numbers in the Unicode standard.
    const taken = parse({ type: "mark", kind: "note", text: "a\u202eb\u2028c\u001bd\u200de" });
    expect(taken).toMatchObject({ text: "a b c d e" });
  });

  it("is a message within its limits or a sentence, whatever comes", () => {
    const good = fc.constantFrom<object>(
      { type: "mark", kind: "note", text: "x" },
      { type: "unmark", id: 1 },
      { type: "calibrate", action: "applied", load_mmhg: 40 },
      start,
    );
    const names = fc.constantFrom("type", "kind", "text", "id", "action", "epc", "loads_mmhg", "cycles", "load_mmhg");
    const spoilt = fc
      .tuple(good, fc.dictionary(names, fc.oneof(fc.jsonValue(), fc.double(), fc.string()), { maxKeys: 2 }))
      .map(([value, changes]) => ({ ...value, ...changes }));
    let taken = 0;
    fc.assert(
      fc.property(fc.oneof(spoilt, fc.jsonValue()), (value) => {
        const parsed = parse(value);
        if (typeof parsed === "string") return parsed.length > 0 && parsed.length < 200;
        taken++;
        if (parsed.type === "mark") return parsed.text.length <= fromPage.textCharacters;
        if (parsed.type === "unmark") return parsed.id >= 1;
        return parsed.action !== "start" || parsed.loads_mmhg.length <= calibrationLimits.loads;
      }),
      { numRuns: 3000 },
    );
    expect(taken).toBeGreaterThan(0);
  });
});

describe("on the socket", () => {
  it("what is no request is refused with a sentence, and the page goes on", async () => {
    const { port } = await served();
    const page = client(port);
    await page.hears("hello");
    page.socket.send("<script>alert(1)</script>");
    expect(await page.hears("error")).toEqual({
      type: "error",
      code: "message_invalid",
      sentence: "a message is JSON",
    });
    page.send({ type: "mark", kind: "stood" });
    expect((await page.hears("error", ({ code }) => code === "nothing_read_yet")).sentence).toContain(
      "nothing was read",
    );
  });

  it("a page that keeps saying such things is turned away", async () => {
    const { port } = await served();
    const page = client(port);
    await page.hears("hello");
    for (let i = 0; i < 60; i++) page.socket.send("{}");
    expect(await page.closed).toBe(1008);
  });

  it("requests that come too fast are refused, and the page turned away if it goes on", async () => {
    const { port } = await served();
    const page = client(port);
    await page.hears("hello");
    for (let i = 0; i < 2000; i++) page.send({ type: "unmark", id: 1 });
    await page.hears("error", ({ code }) => code === "too_fast");
    expect(await page.closed).toBe(1008);
  });

  it("a flood of pings is no better", async () => {
    const { port } = await served();
    const page = client(port);
    await page.hears("hello");
    for (let i = 0; i < 2000; i++) page.socket.ping();
    expect(await page.closed).toBe(1008);
  });

  it.each([
    ["a message that is too long", Buffer.from("x".repeat(5000)).toString(), 1009],
    ["bytes instead of text", Buffer.from([1, 2, 3]), 1003],
  ])("%s closes it", async (_, data, code) => {
    const { port } = await served();
    const [page, other] = [client(port), client(port)];
    await page.hears("hello");
    page.socket.send(data);
    expect(await page.closed).toBe(code);
    await other.hears("presence");
  });
});
