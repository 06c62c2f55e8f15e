/** Cases that are made while running: the given comes from chance, the right answer from this package's codec. */
import {
  chooseSlot,
  Deframer,
  decode,
  decodeMessage,
  encode,
  type Fault,
  formatHex,
  identifyHeader,
  isFault,
  layout,
  parseEpc,
  type RawValues,
  rawOf,
} from "../../protocol/index.ts";
import type { Pairs } from "./answer.ts";
import { listed, type Raws, rawKeys, record } from "./record-case.ts";
import {
  badAnswer,
  type Expected,
  type ExpectedKey,
  goodAnswer,
  hint,
  must,
  openAnswer,
  type ReplayCase,
} from "./replay-case.ts";

/** Group of the cases made for a capability. */
export function madeGroup(needs: string): string {
  return `made:${needs}`;
}

function made(needs: string, about: string, given: Pairs, expected: Expected): ReplayCase {
  const [verb] = needs.split(".") as [string];
  return { id: `made-${needs}`, group: madeGroup(needs), why: "Made by chance.", needs, verb, given, expected, about };
}

function told<Found extends object>(found: Found | Fault, right: (found: Found) => Expected): Expected {
  return isFault(found) ? badAnswer(found.code, found) : right(found);
}

/** `id`: a record of tag memory. */
export function madeDecode(id: string, bytes: Uint8Array): ReplayCase {
  const expected = told(decode(record(id), bytes), (found) => goodAnswer(rawKeys(record(id), listed(found))));
  return made(
    `decode.${id}`,
    id,
    [
      ["record", id],
      ["bytes", formatHex(bytes)],
    ],
    expected,
  );
}

/** `values`: what the encoder takes, in the order of the record. */
export function madeEncode(id: string, values: RawValues, raws: Raws): ReplayCase {
  const given: Pairs = [["record", id], ...Object.entries(raws).map(([key, raw]) => [key, `${raw}`] as const)];
  const expected = told(encode(record(id), values), (bytes) => goodAnswer([must("bytes", formatHex(bytes))]));
  return made(`encode.${id}`, id, given, expected);
}

export function madeSlots(bytes: Uint8Array): ReplayCase {
  const { slot, frame, fault, notes, faults } = chooseSlot(record("frame"), bytes, 0, 16);
  const noticed: ExpectedKey[] = [hint("notes", notes.join(","))];
  for (const name of ["a", "b"] as const) if (faults[name]) noticed.push(hint(name, faults[name].code));
  const expected = fault
    ? badAnswer(fault.code, fault, noticed)
    : goodAnswer([must("slot", slot!), must("sequence", rawOf(frame!, "sequence")), ...noticed]);
  return made("slots", faults.a?.code ?? "slots", [["bytes", formatHex(bytes)]], expected);
}

export function madeHeader(bytes: Uint8Array): ReplayCase {
  const expected = told(identifyHeader([layout], bytes.subarray(0, 16)), () => openAnswer([]));
  return made("header", "header", [["bytes", formatHex(bytes)]], expected);
}

/** A stream in chunks that ends behind the last one. */
export function madeUnframe(chunks: readonly Uint8Array[]): ReplayCase {
  const deframer = new Deframer();
  const bodies: string[] = [];
  const faults: Fault[] = [];
  const keep = (fault: Fault) => void faults.push(fault);
  for (const chunk of chunks) deframer.push(chunk, (body) => void bodies.push(formatHex(body)), keep);
  deframer.end(keep);
  const keys = [must("bodies", bodies.join(","))];
  if (faults.length > 1) keys.push(must("faults", faults.map(({ code }) => code).join(",")));
  const [first] = faults;
  const expected = first ? badAnswer(first.code, first, keys) : goodAnswer(keys);
  return made("unframe", "link", [["chunks", chunks.map((chunk) => formatHex(chunk)).join(",")]], expected);
}

/** `id`: the message the body was made as; damage may have made it another. */
export function madeMessage(id: string, body: Uint8Array): ReplayCase {
  const { direction, record: about } = layout.messages.find((message) => message.id === id)!;
  const expected = told(decodeMessage(layout, body, direction), ({ message, request, content }) =>
    goodAnswer([
      must("message", message.id),
      must("request", request),
      ...rawKeys(content.record, listed(content)),
      ...Object.entries(content.tails).map(([tail, elements]) => must(tail, elements.join(","))),
    ]),
  );
  return made(
    `message.${id}`,
    about,
    [
      ["direction", direction],
      ["body", formatHex(body)],
    ],
    expected,
  );
}

/** `hex`: 24 digits, or what damage left of them. */
export function madeEpc(hex: string): ReplayCase {
  const expected = told(parseEpc(hex), (identity) =>
    goodAnswer(
      Object.entries(identity).map(([key, value]) =>
        must(
          key.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`),
          value as string | number,
        ),
      ),
    ),
  );
  return made("epc", "epc", [["hex", hex]], expected);
}
