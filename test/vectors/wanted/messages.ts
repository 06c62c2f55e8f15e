/** Every link message, in its own direction and in the other, and the types beside those in the list. */
import { layout } from "../../../protocol/index.ts";
import type { Group } from "./group.ts";
import { vectorsOfKind } from "./vector-set.ts";

const DIRECTIONS = ["to-kit", "to-host"] as const;
const codes = layout.messages.map(({ code }) => code);
const beside = [...new Set([0, 255, ...codes.flatMap((code) => [code - 1, code + 1])])].filter(
  (code) => code >= 0 && code <= 255 && !codes.includes(code),
);
const goodText = (id: string) => `${id}: good`;
const refusedText = (code: number, direction: string) => `type ${code} ${direction} [message-unknown]`;

export const messageGroup: Group = {
  name: "link messages: each, from either side",
  wanted: [
    ...layout.messages.map(({ id }) => goodText(id)),
    ...layout.messages.map(({ code, direction }) => refusedText(code, DIRECTIONS.find((way) => way !== direction)!)),
    ...beside.flatMap((code) => DIRECTIONS.map((direction) => refusedText(code, direction))),
  ],
  shown(files) {
    const shown = new Set<string>();
    for (const { body, direction, expected } of vectorsOfKind(files, "link-messages")) {
      if (expected.verdict === "good") shown.add(goodText(expected.message as string));
      else if (expected.reason === "message-unknown" && !expected.also) {
        shown.add(refusedText(Number.parseInt((body as string).slice(0, 2), 16), direction as string));
      }
    }
    return shown;
  },
};
