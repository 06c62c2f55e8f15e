/** Members of a capture's read and ambient records; a CSV file names its columns the same. */
export const columns = {
  record: { kind: "text", of: "both" },
  kit_time_us: { kind: "number", of: "both" },
  epc: { kind: "text", of: "read" },
  pc: { kind: "text", of: "read" },
  xpc: { kind: "text", of: "read" },
  rssi_dbm: { kind: "number", of: "read" },
  frequency_khz: { kind: "number", of: "read" },
  result: { kind: "text", of: "read" },
  bank: { kind: "text", of: "read" },
  word: { kind: "number", of: "read" },
  words: { kind: "text", of: "read" },
  pressure_raw: { kind: "number", of: "ambient" },
  temperature_cel: { kind: "number", of: "ambient" },
} as const satisfies Record<string, { kind: "text" | "number"; of: "both" | "read" | "ambient" }>;

export type ColumnId = keyof typeof columns;

/** Members by name as they came; what is not there is undefined. */
export type Members = { readonly [name: string]: unknown };

export function isColumn(name: string): name is ColumnId {
  return Object.hasOwn(columns, name);
}
