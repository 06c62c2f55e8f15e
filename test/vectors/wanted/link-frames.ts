/** Link frames: every length at a border of the stuffing, a frame cut, changed and split in every place, every kind of damage. */
import { MAX_BODY, MAX_ENCODED } from "../../../protocol/link/framing.ts";
import type { Group } from "./group.ts";
import { type AnyVector, vectorsOfKind } from "./vector-set.ts";

interface Found {
  readonly bodies: readonly string[];
  readonly faults: readonly { readonly reason: string; readonly byte: number }[];
}

const REASONS = ["link-stuffing-invalid", "link-frame-too-long", "link-checksum-mismatch"];
const PLACES = ["alone", "before a good frame", "behind a good frame"];
// A code reaches over 254 bytes at most, and four bytes of checksum stand behind the body.
const BORDERS = [1, 249, 250, 251, 254, 255, 503, 504, 505, 508, MAX_BODY];
const FILLS = ["zeros", "no zeros"];

const damageText = (reason: string, place: string) => `${reason} ${place}`;
const bodyText = (length: number, fill: string) => `a body of ${length} bytes, ${fill}`;
const EVERYWHERE = {
  cut: "two frames and more, split in two in every place",
  truncated: "a frame that ends too early in every place",
  flipped: "a frame with one bit changed in every byte",
  inserted: "a frame with a zero in every place",
};
const OTHERS = {
  bytewise: "several frames, byte by byte",
  damagedBytewise: "damage and a frame, byte by byte",
  idle: "delimiters with nothing between them",
  nothing: "an empty stream",
  longest: "the longest frame",
  over: "one byte more than the longest frame",
  ended: "a stream that ends behind the longest frame, without its delimiter",
};

function simpleTexts({ wire, chunks, expected }: AnyVector): string[] {
  const { bodies, faults } = expected as unknown as Found;
  const hex = wire as string;
  const texts: string[] = [];
  for (const body of bodies) {
    const fill = /^(00)*$/.test(body) ? "zeros" : /^((?!00)..)*$/.test(body) ? "no zeros" : "mixed";
    texts.push(bodyText(body.length / 2, fill));
  }
  for (const { reason } of faults) {
    if (bodies.length === 0) texts.push(damageText(reason, "alone"));
    if (bodies.length > 0 && faults[0]!.byte === 0) texts.push(damageText(reason, "before a good frame"));
    if (bodies.length > 0 && faults[0]!.byte > 0) texts.push(damageText(reason, "behind a good frame"));
  }
  const bytewise = ((chunks as number[] | undefined) ?? [0]).every((length) => length === 1);
  if (bytewise && bodies.length > 1 && faults.length === 0) texts.push(OTHERS.bytewise);
  if (bytewise && bodies.length > 0 && faults.length > 0) texts.push(OTHERS.damagedBytewise);
  if (/^(00)+$/.test(hex) && faults.length === 0) texts.push(OTHERS.idle);
  if (hex === "") texts.push(OTHERS.nothing);
  const longest = Math.max(
    ...(hex.match(/../g) ?? [])
      .join(" ")
      .split("00")
      .map((piece) => piece.trim().split(" ").length),
  );
  if (longest === MAX_ENCODED && faults.length === 0) texts.push(OTHERS.longest);
  if (hex.length / 2 === MAX_ENCODED && faults.length === 1) texts.push(OTHERS.ended);
  if (longest === MAX_ENCODED + 1 && faults[0]?.reason === "link-frame-too-long") texts.push(OTHERS.over);
  return texts;
}

const bytesIn = (hex: unknown): readonly string[] => (hex as string).match(/../g) ?? [];

/** Vectors by the text they share, with the place in which each was cut or changed; a text is shown when no place is missing. */
function placeOf({
  wire,
  chunks,
  repaired,
  expected,
}: AnyVector): readonly [text: string, of: string, place: number, places: number] | null {
  const { bodies, faults } = expected as unknown as Found;
  const [bytes, cut] = [bytesIn(wire), chunks as number[] | undefined];
  if (faults.length === 0) {
    return cut?.length === 2 && bodies.length > 1 ? [EVERYWHERE.cut, wire as string, cut[0]!, bytes.length - 1] : null;
  }
  if (repaired === undefined) return null;
  const whole = bytesIn(repaired);
  const first = whole.findIndex((byte, i) => byte !== bytes[i]);
  const frame = whole.indexOf("00", faults[0]!.byte) - faults[0]!.byte;
  const place = first - faults[0]!.byte;
  const from = whole.slice(faults[0]!.byte, faults[0]!.byte + frame).join("");
  if (bytes.length === first) return [EVERYWHERE.truncated, from, bytes.length - faults[0]!.byte, frame];
  if (bytes.length === whole.length && bytes.every((byte, i) => i === first || byte === whole[i])) {
    return [EVERYWHERE.flipped, from, place + 1, frame];
  }
  const inserted =
    bytes.length === whole.length + 1 &&
    bytes[first] === "00" &&
    bytes.slice(first + 1).join() === whole.slice(first).join();
  return inserted ? [EVERYWHERE.inserted, from, place, frame - 1] : null;
}

function everywhere(vectors: readonly AnyVector[]): string[] {
  const places = new Map<string, Set<number>>();
  const full: string[] = [];
  for (const vector of vectors) {
    const found = placeOf(vector);
    if (!found) continue;
    const [text, of, place, count] = found;
    const key = `${text} ${of}`;
    const seen = places.get(key) ?? new Set();
    places.set(key, seen.add(place));
    if (Array.from({ length: count }, (_, i) => i + 1).every((wanted) => seen.has(wanted))) full.push(text);
  }
  return full;
}

export const linkFrameGroup: Group = {
  name: "link frames: lengths, splits, damage",
  wanted: [
    ...FILLS.flatMap((fill) => BORDERS.map((length) => bodyText(length, fill))),
    ...REASONS.flatMap((reason) => PLACES.map((place) => damageText(reason, place))),
    ...Object.values(EVERYWHERE),
    ...Object.values(OTHERS),
  ],
  shown(files) {
    const vectors = vectorsOfKind(files, "link-frames");
    return new Set([...vectors.flatMap(simpleTexts), ...everywhere(vectors)]);
  },
};
