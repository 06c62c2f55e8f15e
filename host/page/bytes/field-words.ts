/** One field of a word in the words of the page. */
import { type ExplainedField, toValue } from "../../../protocol/index.ts";
import type { Text } from "../text/text.ts";

/** Units as they are written for people; all others stand as the specification has them. */
const SIGNS: { readonly [unit: string]: string } = { Cel: "°C", "1": "" };

export interface FieldWords {
  readonly value: string;
  readonly unit: string;
}

/** Value and unit; the value of a raw integer that is no number is a word. */
export function fieldWords({ field, raw }: ExplainedField, text: Text): FieldWords {
  const word = (value: string): FieldWords => ({ value, unit: "" });
  switch (field.type) {
    case "unsigned":
    case "signed": {
      const sentinel = field.sentinels?.find((one) => one.raw === raw);
      if (sentinel) return word(sentinel.id);
      const value = toValue(field, raw);
      if (value === null) return word("?");
      return { value: exact(value, text), unit: SIGNS[field.unit!] ?? field.unit! };
    }
    case "flags": {
      const set = field.flags!.filter(({ bit }) => (raw >> bit) & 1).map(({ id }) => id);
      return word(set.length > 0 ? set.join(", ") : text.say("bytes.flags.none"));
    }
    case "enumeration":
      return word(field.names!.find((name) => name.raw === raw)?.id ?? text.say("bytes.unknown"));
    case "constant":
      return word(
        raw === field.raw
          ? text.say("bytes.constant.right")
          : text.say("bytes.constant.wrong", { raw: String(field.raw) }),
      );
    case "reserved":
      return word(raw === 0 ? text.say("bytes.reserved.zero") : text.say("bytes.reserved.set"));
    case "checksum":
      return word(`0x${raw.toString(16).padStart(field.width / 4, "0")}`);
  }
}

/** With every decimal that the number has. */
function exact(value: number, text: Text): string {
  const [, decimals = ""] = String(value).split(".");
  return /e/.test(decimals) ? String(value) : text.number(value, decimals.length);
}
