import { describe, expect, it } from "vitest";
import { isFault } from "../../protocol/codec/encode.ts";
import { layout } from "../../protocol/index.ts";
import { decodeMessage } from "../../protocol/link/message.ts";
import { refusalOf } from "../../protocol/link/refusal.ts";
import { bytesOf, vectorsOf } from "../support/vectors.ts";

interface Told {
  readonly number: number;
  readonly code: string | null;
  readonly type: number;
  readonly about: string | null;
  readonly byte: number;
}

const { good } = vectorsOf<{ readonly body: string }, Told>("refusals.json");

describe("refusals.json", () => {
  it.each(good)("$id", ({ given, expected }) => {
    const message = decodeMessage(layout, bytesOf(given.body), "to-host");
    if (isFault(message)) expect.fail(JSON.stringify(message));
    const { code, byte, path, actual } = refusalOf(layout, message.content);
    const unnamed = `message_0x${expected.type.toString(16).padStart(2, "0")}`;
    expect({ byte, path }).toEqual({ byte: expected.byte, path: expected.about ?? unnamed });
    // A number in no list is itself a fault, which shows the number.
    if (expected.code === null)
      expect({ code, actual }).toEqual({ code: "name-unknown", actual: `${expected.number}` });
    else expect(code).toBe(expected.code);
  });
});
