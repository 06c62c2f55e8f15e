/**
 * The closed list of units a field may name. Symbols follow UCUM where UCUM has one; the suffix ends the name of a number
 * in TypeScript (`pressurePa`).
 */
export const units = {
  one: { symbol: "1", suffix: "", quantity: "number" },
  pascal: { symbol: "Pa", suffix: "Pa", quantity: "pressure" },
  pascal_per_kelvin: { symbol: "Pa/K", suffix: "PaPerK", quantity: "pressure change per temperature" },
  per_kelvin: { symbol: "1/K", suffix: "PerK", quantity: "relative change per temperature" },
  per_pascal: { symbol: "1/Pa", suffix: "PerPa", quantity: "relative change per pressure" },
  hectopascal: { symbol: "hPa", suffix: "Hpa", quantity: "pressure" },
  celsius: { symbol: "Cel", suffix: "C", quantity: "temperature" },
  volt: { symbol: "V", suffix: "V", quantity: "electric potential" },
  second: { symbol: "s", suffix: "S", quantity: "time" },
  microsecond: { symbol: "us", suffix: "Us", quantity: "time" },
  day: { symbol: "d", suffix: "Days", quantity: "time" },
  month: { symbol: "mo", suffix: "Months", quantity: "time" },
  kilohertz: { symbol: "kHz", suffix: "Khz", quantity: "frequency" },
  decibel_milliwatt: { symbol: "dBm", suffix: "Dbm", quantity: "power level (1 mW); not in UCUM" },
  word: { symbol: "word", suffix: "", quantity: "16-bit memory words; not in UCUM" },
  byte: { symbol: "By", suffix: "Bytes", quantity: "bytes" },
} as const;

export type UnitId = keyof typeof units;

/** Symbol of a unit as it stands in tables and JSON. */
export function unitSymbol(id: UnitId): string {
  return units[id].symbol;
}

/** Suffix of a number's name for a unit's symbol; empty for a symbol outside the list. */
export function unitSuffix(symbol: string): string {
  return Object.values(units).find((unit) => unit.symbol === symbol)?.suffix ?? "";
}
