import { describe, expect, it } from "vitest";
import { clipped, escaped, parseAnswer, requestLine } from "../../../host/replay/answer.ts";
import { parseExpectedFailures } from "../../../host/replay/expected-failures.ts";
import { parseGreeting } from "../../../host/replay/greeting.ts";
import { Lines } from "../../../host/replay/lines.ts";

describe("a request", () => {
  it("is one line", () => {
    const pairs = [
      ["record", "frame"],
      ["bytes", ""],
    ] as const;
    expect(requestLine(12, "decode", pairs)).toBe("12 decode record=frame bytes=");
  });

  it("holds no white space and no letter that is not ASCII", () => {
    // 0917 in UTF-8 is e0 a4 97, by RFC 3629.
    expect(escaped("a b\tc%\u0917")).toBe("a%20b%09c%25%E0%A4%97");
  });
});

describe("an answer", () => {
  it.each([
    ["good", { verdict: "good", pairs: new Map() }],
    [
      "good a=1 b= c=x=y",
      {
        verdict: "good",
        pairs: new Map([
          ["a", "1"],
          ["b", ""],
          ["c", "x=y"],
        ]),
      },
    ],
    ["bad trailing-bytes byte=16", { verdict: "bad", reason: "trailing-bytes", pairs: new Map([["byte", "16"]]) }],
    ["unsupported", { verdict: "unsupported" }],
  ])("%s", (text, expected) => expect(parseAnswer(text)).toEqual(expected));

  it.each([
    ["", /neither/],
    ["fine", /neither/],
    ["good  a=1", /no key=value: ""/],
    ["good a", /no key=value: "a"/],
    ["good A=1", /no key=value/],
    ["good a=1 a=1", /a twice/],
    ["bad", /without a reason/],
    ["bad byte=3", /without a reason/],
    ["unsupported a=1", /more behind/],
  ])("%j cannot be read", (text, sentence) => expect(parseAnswer(text)).toMatch(sentence));

  it("is shortened in a sentence", () => expect(clipped("x".repeat(200), 3)).toBe("xxx… (200 characters)"));
});

describe("a greeting", () => {
  it("says what the program can do", () => {
    expect(
      parseGreeting("good contract=1 name=x version=2 fingerprint=028961a7 can=decode,slots,fly,decode.hello,places"),
    ).toEqual({
      name: "x",
      version: "2",
      fingerprint: "028961a7",
      can: ["decode", "slots", "places"],
      unknown: ["fly", "decode.hello"],
    });
  });

  it.each([
    ["unsupported", /not answered with good/],
    ["bad field-missing", /not answered with good/],
    ["what?", /cannot be read/],
    ["good contract=2 name=x fingerprint=028961a7 can=decode", /contract=2/],
    ["good contract=1 fingerprint=028961a7 can=decode", /no name/],
    ["good contract=1 name=x can=decode", /no fingerprint/],
    ["good contract=1 name=x fingerprint=28961A7 can=decode", /no fingerprint/],
    ["good contract=1 name=x fingerprint=028961a7 can=decode mood=fine", /mood/],
  ])("%s is none", (text, sentence) => expect(parseGreeting(text)).toMatch(sentence));
});

describe("lines", () => {
  const chunk = (text: string) => Buffer.from(text);

  it("are found across chunks, with LF or CR LF", () => {
    const lines = new Lines(10);
    expect(lines.push(chunk("a\nb"))).toEqual(["a"]);
    expect(lines.pending).toBe(1);
    expect(lines.push(chunk("c\r\n\nd"))).toEqual(["bc", ""]);
  });

  it("have a longest one", () => {
    expect(new Lines(4).push(chunk("1234\n"))).toEqual(["1234"]);
    expect(new Lines(4).push(chunk("12345\n"))).toBeNull();
    expect(new Lines(4).push(chunk("12345"))).toBeNull();
    const lines = new Lines(4);
    expect(lines.push(chunk("123"))).toEqual([]);
    expect(lines.push(chunk("45"))).toBeNull();
  });
});

describe("a list of expected failures", () => {
  it("has one id a line and comments", () => {
    expect(parseExpectedFailures("# why\na-1\n\n  b-2  # soon\r\n")).toEqual(
      new Map([
        ["a-1", 2],
        ["b-2", 4],
      ]),
    );
  });

  it.each([
    ["a b\n", /line 1: more than one word/],
    ["a\nb\na\n", /line 3: a stands in line 1/],
  ])("%j is wrong", (text, sentence) => expect(parseExpectedFailures(text)).toMatch(sentence));
});
