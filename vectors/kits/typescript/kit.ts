/**
 * Answers the requests of vectors/REPLAY.md with the package's own codecs: a starting point for a reader in TypeScript.
 *
 *     plyframe replay -- npx tsx vectors/kits/typescript/kit.ts
 */
import { createInterface } from "node:readline";
import {
  chooseSlot,
  type DecodedRecord,
  Deframer,
  decode,
  decodeMessage,
  encode,
  encodeEpc,
  type Fault,
  fieldIndex,
  formatFingerprint,
  formatHex,
  identifyHeader,
  isFault,
  layout,
  parseEpc,
  parseHex,
  rawOf,
  recordOf,
  storedCrc,
  toRaw,
} from "plyframe";
import { reading } from "./reading.ts";

type Given = { readonly [key: string]: string };
type Pairs = { readonly [key: string]: string | number | null | readonly (string | number)[] };
type Answer = Pairs | { readonly bad: Fault; readonly more?: Pairs };

const CAN = "decode,encode,write,slots,header,reading,unframe,message,epc,epc_write,quantity,stored_crc,places";

/** Each verb of the contract. */
const verbs: { readonly [verb: string]: (given: Given) => Answer } = {
  hello: () => ({ contract: 1, name: "typescript-kit", fingerprint: formatFingerprint(layout.fingerprint), can: CAN }),
  decode: ({ record, bytes }) => told(decode(recordOf(layout, record!), bytesOf(bytes!)), raws),
  encode: ({ record, ...values }) => written(record!, values),
  write: ({ record, ...values }) => written(record!, values),
  slots: ({ bytes }) => {
    const { slot, frame, fault, notes, faults } = chooseSlot(recordOf(layout, "frame"), bytesOf(bytes!), 0, 16);
    const noticed = { notes, ...(faults.a && { a: faults.a.code }), ...(faults.b && { b: faults.b.code }) };
    return fault ? { bad: fault, more: noticed } : { slot, sequence: rawOf(frame!, "sequence"), ...noticed };
  },
  header: ({ bytes }) => told(identifyHeader([layout], bytesOf(bytes!)), ({ header }) => raws(header)),
  reading: ({ memory, calibration, ambient_raw, ambient_uncertainty_pa }) =>
    told(
      reading(bytesOf(memory!), bytesOf(calibration!), numberOf(ambient_raw!), numberOf(ambient_uncertainty_pa!)),
      (pairs) => pairs,
    ),
  unframe: ({ chunks }) => unframe(chunks!.split(",").map(bytesOf)),
  message: ({ direction, body }) =>
    told(decodeMessage(layout, bytesOf(body!), direction as "to-kit" | "to-host"), ({ message, request, content }) => ({
      message: message.id,
      request,
      ...raws(content),
      ...content.tails,
    })),
  epc: ({ hex }) => told(parseEpc(decodeURIComponent(hex!)), snakeCase),
  epc_write: ({ uri }) => {
    const hex = encodeEpc(decodeURIComponent(uri!));
    return typeof hex === "string" ? { hex } : { bad: hex };
  },
  quantity: ({ record: id, field: name, value }) => {
    const record = recordOf(layout, id!);
    const field = record.fields[fieldIndex(record, name!)]!;
    const raw = toRaw(field, Number(value));
    const place = { byte: field.byte, bit: field.shift, path: field.path };
    return raw === null ? { bad: { code: "value-out-of-range", ...place, expected: "", actual: "" } } : { raw };
  },
  stored_crc: ({ pc, epc }) => {
    const words = (epc!.match(/..../g) ?? []).map((word) => Number.parseInt(word, 16));
    return { stored_crc: storedCrc(Number.parseInt(pc!, 16), words).toString(16).padStart(4, "0") };
  },
};

/** The package's encoder refuses what must not be written, so that it answers both verbs. */
function written(id: string, values: Given): Answer {
  const record = recordOf(layout, id);
  const elements = (text: string) => (text === "" ? [] : text.split(",").map(Number));
  const tails = Object.fromEntries(record.tails.map((tail) => [tail.id, elements(values[tail.id] ?? "")]));
  return told(encode(record, spread(values), tails), (bytes) => ({ bytes: formatHex(bytes) }));
}

function told<Found extends object>(found: Found | Fault, pairs: (found: Found) => Pairs): Answer {
  return isFault(found) ? { bad: found } : pairs(found);
}

function bytesOf(hex: string): Uint8Array {
  const bytes = parseHex(hex);
  if (bytes instanceof Uint8Array) return bytes;
  throw new Error(`no hex: ${hex}`);
}

function numberOf(text: string): number | null {
  return text === "none" ? null : Number(text);
}

/** Raw integers by name, arrays as lists. */
function raws({ record, raws }: DecodedRecord): Pairs {
  const pairs: Record<string, number | number[]> = {};
  for (const [i, { id, array }] of record.fields.entries()) {
    if (array === undefined) pairs[id] = raws[i]!;
    else ((pairs[array] ??= []) as number[]).push(raws[i]!);
  }
  return pairs;
}

/** The same backwards: `samples=1,2` as `samples[0]` and `samples[1]`. */
function spread(values: Given): Record<string, number> {
  return Object.fromEntries(
    Object.entries(values).flatMap(([id, text]) => {
      const elements = text.split(",").map(Number);
      return elements.length === 1 ? [[id, elements[0]!]] : elements.map((raw, i) => [`${id}[${i}]`, raw]);
    }),
  );
}

function snakeCase(fields: object): Pairs {
  return Object.fromEntries(
    Object.entries(fields).map(([key, value]) => [
      key.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`),
      value,
    ]),
  );
}

function unframe(chunks: readonly Uint8Array[]): Answer {
  const deframer = new Deframer();
  const bodies: string[] = [];
  const faults: Fault[] = [];
  for (const chunk of chunks) {
    deframer.push(
      chunk,
      (body) => bodies.push(formatHex(body)),
      (fault) => faults.push(fault),
    );
  }
  deframer.end((fault) => faults.push(fault));
  if (faults.length === 0) return { bodies };
  return { bad: faults[0]!, more: { bodies, ...(faults.length > 1 && { faults: faults.map(({ code }) => code) }) } };
}

function line(answer: Answer): string {
  if (!isBad(answer)) return ["good", ...words(answer)].join(" ");
  const { bad, more } = answer;
  // A reading's fault has no single byte.
  const byte = bad.path === "reading.gauge" ? null : bad.byte;
  return ["bad", bad.code, ...words({ byte, bit: bad.bit, path: bad.path, ...more })].join(" ");
}

function isBad(answer: Answer): answer is { readonly bad: Fault; readonly more?: Pairs } {
  return typeof answer.bad === "object" && answer.bad !== null;
}

function words(pairs: Pairs): string[] {
  return Object.entries(pairs).map(([key, value]) => `${key}=${value === null ? "none" : value}`);
}

for await (const request of createInterface({ input: process.stdin })) {
  const [id, verb, ...rest] = request.split(" ") as [string, string, ...string[]];
  const given = Object.fromEntries(rest.map((word) => word.split(/=(.*)/s).slice(0, 2)));
  process.stdout.write(`${id} ${Object.hasOwn(verbs, verb) ? line(verbs[verb]!(given)) : "unsupported"}\n`);
}
