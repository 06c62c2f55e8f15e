/** What is wrong with a text that a person or an instrument wrote, and where. */
export interface TextFault {
  /** Counted from 1. */
  readonly line: number;
  /** Name of what stands there: a column, an entry of the option line. */
  readonly field: string;
  readonly says: string;
}

/** Whether something is the fault instead of the result. */
export function isTextFault(value: object): value is TextFault {
  return "says" in value;
}

/** A decimal number as instruments write it; null for anything else, infinities included. */
export function decimal(text: string): number | null {
  if (!/^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(text)) return null;
  const value = Number(text);
  return Number.isFinite(value) ? value : null;
}
