/** Vectors of records and of messages, each as bytes and what is expected of them, for judging other people's tools. */
import { layout } from "../../protocol/index.ts";
import type { Direction } from "../../protocol/link/message.ts";
import { bytesOf, readVectorFile } from "./vectors.ts";

export type Listed = { readonly [id: string]: number | readonly number[] };

export interface Vector {
  readonly id: string;
  readonly hex?: string;
  readonly body?: string;
  readonly record?: string;
  readonly direction?: Direction;
  readonly user_words_0_31?: string;
  readonly user_words_40_71?: string;
  readonly expected: {
    readonly verdict: "good" | "bad";
    readonly reason?: string;
    readonly path?: string;
    readonly byte?: number;
    readonly bit?: number | null;
    readonly message?: string;
    readonly request?: number;
    readonly raws?: Listed;
    readonly values?: { readonly [id: string]: unknown };
    readonly tails?: { readonly [id: string]: readonly number[] };
    readonly hex?: string;
    readonly arrived?: readonly string[];
    readonly slot?: string;
    readonly sequence?: number;
    readonly notes?: readonly string[];
    readonly faults?: { readonly a?: string; readonly b?: string };
    readonly calibration_copy?: number | null;
    readonly code?: string | null;
    readonly number?: number;
    readonly bodies?: readonly string[];
  };
}

/** Bytes before somebody: `as` is `link` for a message, else the id of a record, or `slots` for the two of them. */
export interface Packet {
  readonly as: string;
  readonly bytes: Uint8Array;
  /** Which way a message goes; to the host where nothing is given, and `unsaid` where the packet is not to say it. */
  readonly direction?: Direction | "unsaid" | undefined;
}

export interface VectorCase {
  readonly id: string;
  readonly packet: Packet;
  readonly expected: Vector["expected"];
  /** The record in the bytes; of a message that is none there is no saying. */
  readonly record?: string | undefined;
}

/** Vectors of a file, as the tests here look at them. */
export const vectorsIn = (name: string): Vector[] => readVectorFile(name).vectors as unknown as Vector[];

const recordFiles = ["frames", "header", "counters", "calibration", "burst", "banks", "verdict-order", "stored-crc"];
/** Every vector of a record of tag memory. */
export const records = recordFiles
  .flatMap((name) => vectorsIn(`${name}.json`).map((vector) => ({ record: "epc", ...vector })))
  .flatMap(({ id, record, hex, expected }): VectorCase[] => {
    if (hex === undefined || !inMemory(record)) return [];
    return [{ id, record, expected, packet: { as: record, bytes: bytesOf(hex) } }];
  });

/** Every vector of a message of the link. */
export const messages = [...vectorsIn("link-messages.json"), ...vectorsIn("verdict-order.json")].flatMap(
  ({ id, body, direction, expected }): VectorCase[] => {
    if (body === undefined) return [];
    const record = layout.messages.find((message) => message.id === expected.message)?.record;
    return [{ id, expected, record, packet: { as: "link", direction, bytes: bytesOf(body) } }];
  },
);

function inMemory(record: string): boolean {
  return layout.banks.some(({ regions }) => regions.some((region) => region.record === record));
}
