/** What the link's reports allow, in the form in which a scanner compares: the same limits as those of single lines. */
import { fieldIndex, type Layout, recordOf, toValue } from "../../protocol/index.ts";
import { TAG_BYTES } from "./engine.ts";
import type { Kind } from "./order.ts";

/** Lowest and highest value of a kind, numbers as they are and hex in bytes. */
export type Limits = { readonly [kind in Kind]?: readonly [low: number, high: number] };

/** A name and its raw value. */
export interface ListedName {
  readonly id: string;
  readonly raw: number;
}

export interface ReportLimits {
  readonly limits: Limits;
  readonly results: readonly ListedName[];
  readonly banks: readonly ListedName[];
}

/** Most bytes of words in one report; the layout counts them in eight bits. */
export const MOST_WORD_BYTES = 510;

export function reportLimits(layout: Layout): ReportLimits {
  const fieldsOf = (id: string) => {
    const record = recordOf(layout, id);
    return (name: string) => record.fields[fieldIndex(record, name)]!;
  };
  const tag = fieldsOf("tag_report");
  const ambient = fieldsOf("ambient_report");
  const raws = ({ min, max }: ReturnType<typeof tag>) => [min!, max!] as const;
  const values = (field: ReturnType<typeof tag>) => [toValue(field, field.min!)!, toValue(field, field.max!)!] as const;
  const words = (count: number) => [0, 2 * count] as const;
  const limits: Limits = {
    kit_time_us: raws(tag("kit_time")),
    epc: words(tag("epc_words").max!),
    pc: [2, 2],
    xpc: [2, 2],
    rssi_dbm: values(tag("rssi")),
    frequency_khz: raws(tag("frequency")),
    word: raws(tag("pointer")),
    words: words(tag("word_count").max!),
    ambient_kit_time_us: raws(ambient("kit_time")),
    pressure_raw: raws(ambient("pressure")),
    temperature_cel: values(ambient("temperature")),
  };
  if (limits.epc![1] > TAG_BYTES - 2 || limits.words![1] > MOST_WORD_BYTES) {
    throw new Error("the layout's reports are longer than the columns");
  }
  return { limits, results: tag("result").names!, banks: tag("bank").names! };
}
