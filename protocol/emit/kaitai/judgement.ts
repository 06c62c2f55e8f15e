/** Expressions of Kaitai Struct for what the codec decides: a raw value from its container, and the verdict on a record. */
import { checksums } from "../../model/checksums.ts";
import type { CompiledField, CompiledRecord } from "../../model/layout.ts";
import { type Reason, reasons } from "../../model/reasons.ts";

/** Field index that stands for the record as a whole. */
const WHOLE = 255;

/** One container of a record: where it lies, its name, and the fields that are slices of it. */
export interface Container {
  readonly byte: number;
  readonly bytes: number;
  readonly little: boolean;
  readonly name: string;
  readonly fields: readonly CompiledField[];
}

/** Words that are no names in one of the languages Kaitai writes. */
const KEYWORDS = new Set(["class", "type", "package", "import", "default", "switch", "case", "new", "this"]);

export function named(id: string): string {
  return KEYWORDS.has(id) ? `${id}_` : id;
}

/** Whether a field's integer means a name or another number, so that there are two to be told apart. */
export function hasMeaning({ type, num, den, add, sentinels }: CompiledField): boolean {
  if (type !== "unsigned" && type !== "signed") return type === "enumeration";
  return num !== 1 || den !== 1 || add !== 0 || sentinels!.length > 0;
}

export function rawName(field: CompiledField): string {
  const id = named(field.array ?? field.id);
  return hasMeaning(field) && field.array === undefined ? `${id}_raw` : id;
}

/** The containers of a record in the order of its bytes; an array is one. */
export function containersOf({ fields }: CompiledRecord): Container[] {
  const containers: Container[] = [];
  for (const first of [...fields].sort((a, b) => a.byte - b.byte)) {
    if (containers.some(({ fields }) => fields.includes(first))) continue;
    const { byte, bytes, little, array } = first;
    const within = fields.filter((field) => (array === undefined ? field.byte === byte : field.array === array));
    const isAlone = first.width === bytes * 8;
    containers.push({ byte, bytes, little, fields: within, name: isAlone ? rawName(first) : `byte_${byte}` });
  }
  return containers;
}

/**
 * Raw value by division and remainder: shifts and masks work on 32 signed bits in JavaScript. A container of 64 bits is
 * read in two halves, because not every language has an integer that holds it.
 */
export function rawOf(field: CompiledField, containers: readonly Container[]): string {
  const { bytes, shift, width, signed, array, index } = field;
  const { name } = containers.find(({ fields }) => fields.includes(field))!;
  if (array !== undefined) return `${name}[${index}]`;
  if (width === bytes * 8) return name;
  if (bytes === 8) return fromHalves(name, field);
  const raw = slice(name, shift, width, bytes * 8);
  return signed ? `(${raw} >= ${2 ** (width - 1)} ? ${raw} - ${2 ** width} : ${raw})` : raw;
}

function slice(container: string, shift: number, width: number, bits: number): string {
  const moved = shift === 0 ? container : `${container} / ${2 ** shift}`;
  return shift + width === bits ? `(${moved})` : `(${moved} % ${2 ** width})`;
}

function fromHalves(name: string, { shift, width, signed, path }: CompiledField): string {
  if (signed) throw new Error(`${path}: a signed slice of 64 bits is not emitted`);
  if (shift >= 32) return slice(`${name}_high`, shift - 32, width, 32);
  if (shift + width <= 32) return slice(`${name}_low`, shift, width, 32);
  return `(${slice(`${name}_high`, 0, shift + width - 32, 32)} * ${2 ** (32 - shift)} + ${slice(`${name}_low`, shift, 32 - shift, 32)})`;
}

/** The verdict: 0, or reason number times 256 plus the field's index, the first fault in the order of the plain decoder. */
export function verdictOf(record: CompiledRecord, containers: readonly Container[]): string {
  const { fields, bytes, tails } = record;
  const faults: string[] = [];
  const fault = (when: string, reason: Reason, index = WHOLE) =>
    faults.push(`${when} ? ${reasons[reason].number * 256 + index}`);
  if (fields.some(({ role }) => role === "kind")) fault("is_empty", "record-empty");
  if (tails.length === 0) fault(`_io.size > ${bytes}`, "trailing-bytes");
  for (const [index, field] of fields.entries()) {
    if (field.type !== "checksum") continue;
    const raw = rawOf(field, containers);
    fault(`${raw} != ${computedName(field)}`, "checksum-mismatch", index);
  }
  const rank = ({ role }: CompiledField) => (role === "kind" ? 0 : role === "layout" ? 1 : 2);
  const order = fields.map((_, i) => i).sort((a, b) => rank(fields[a]!) - rank(fields[b]!));
  for (const index of order) {
    const refused = refusal(fields[index]!, rawOf(fields[index]!, containers));
    if (refused) fault(refused.when, refused.reason, index);
  }
  if (tails.length > 0) fault("_io.size != announced_size", "count-mismatch", tails[tails.length - 1]!.count);
  return [...faults, "0"].join(" : ");
}

export function computedName(field: CompiledField): string {
  return `computed_${field.id}`;
}

/** When a raw value is refused; null when every value that fits is allowed. */
function refusal(field: CompiledField, raw: string): { when: string; reason: Reason } | null {
  switch (field.type) {
    case "constant": {
      const reason: Reason =
        field.role === "kind" ? "kind-unexpected" : field.role === "layout" ? "layout-unknown" : "marker-mismatch";
      return { when: `${raw} != ${field.raw}`, reason };
    }
    case "reserved":
      return { when: `${raw} != 0`, reason: "reserved-bit-set" };
    case "flags": {
      const unnamed = Array.from({ length: field.width }, (_, bit) => bit).filter(
        (bit) => !((field.named! >> bit) & 1),
      );
      if (unnamed.length === 0) return null;
      const set = unnamed.map((bit) => `(${raw} / ${2 ** bit}) % 2 == 1`);
      return { when: `(${set.join(" or ")})`, reason: "reserved-bit-set" };
    }
    case "enumeration":
      return { when: `(${field.names!.map((name) => `${raw} != ${name.raw}`).join(" and ")})`, reason: "name-unknown" };
    case "checksum":
      return null;
    default:
      return rangeRefusal(field, raw);
  }
}

function rangeRefusal(field: CompiledField, raw: string): { when: string; reason: Reason } | null {
  const lowest = field.signed ? -(2 ** (field.width - 1)) : 0;
  const highest = field.signed ? 2 ** (field.width - 1) - 1 : 2 ** field.width - 1;
  const sentinels = new Set(field.sentinels!.map((sentinel) => sentinel.raw));
  let [low, high] = [field.min!, field.max!];
  while (sentinels.delete(high + 1)) high++;
  while (sentinels.delete(low - 1)) low--;
  const outside = [...(low > lowest ? [`${raw} < ${low}`] : []), ...(high < highest ? [`${raw} > ${high}`] : [])].join(
    " or ",
  );
  if (outside === "") return null;
  const spared = [...sentinels].map((sentinel) => ` and ${raw} != ${sentinel}`).join("");
  return { when: `((${outside})${spared})`, reason: "value-out-of-range" };
}

/** The register of a checksum behind one more byte, without a table; the formula is that of the polynomial 1021h alone. */
export function stepOf(algorithm: keyof typeof checksums): string {
  const { width, poly, reflected } = checksums[algorithm];
  if (width !== 16 || poly !== 0x1021 || reflected) throw new Error(`${algorithm}: no formula for this checksum`);
  return "((before % 256) * 256) ^ (folded * 4096 % 65536) ^ (folded * 32 % 65536) ^ folded";
}
