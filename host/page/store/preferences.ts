/** What the user chose on this device. */
import { type Range, rangeOf } from "./verdict.ts";

/** The part of the browser's storage that is used; it may be refused or full. */
export type Cupboard = Pick<Storage, "getItem" | "setItem" | "removeItem">;

export type Theme = "device" | "light" | "dark";
export type Language = "en" | "de";

export const languages: readonly Language[] = ["en", "de"];
export const themes: readonly Theme[] = ["device", "light", "dark"];

interface Kept {
  language: Language | null;
  theme: Theme;
  /** Whether changes are told to a screen reader. */
  announce: boolean;
  /** Session whose cautions were put away. */
  cautionsSeen: string | null;
  /** Range for every site without one of its own. */
  range: Range | null;
  /** By EPC. */
  ranges: { [epc: string]: Range };
}

const KEY = "plyframe-bench";

const nothing = (): Kept => ({
  language: null,
  theme: "device",
  announce: true,
  cautionsSeen: null,
  range: null,
  ranges: {},
});

export class Preferences {
  readonly #cupboard: Cupboard | null;
  #kept: Kept;

  /** Null: nothing is kept beyond this page's life. */
  constructor(cupboard: Cupboard | null) {
    this.#cupboard = cupboard;
    this.#kept = readKept(cupboard);
  }

  get<Name extends keyof Kept>(name: Name): Kept[Name] {
    return this.#kept[name];
  }

  set<Name extends keyof Kept>(name: Name, value: Kept[Name]): void {
    this.#kept[name] = value;
    this.#write();
  }

  /** Range of a site: its own, else the one for all; null when none was chosen. */
  rangeOf(epc: string): Range | null {
    return this.#kept.ranges[epc] ?? this.#kept.range;
  }

  /** Null takes the site's own range away. */
  setRange(epc: string, range: Range | null): void {
    if (range === null) delete this.#kept.ranges[epc];
    else this.#kept.ranges[epc] = range;
    this.#write();
  }

  /** One range for every site; null: none. */
  setRangeOfAll(range: Range | null): void {
    this.#kept.range = range;
    this.#kept.ranges = {};
    this.#write();
  }

  forget(): void {
    this.#kept = nothing();
    try {
      this.#cupboard?.removeItem(KEY);
    } catch {
      // A browser that refuses storage has kept nothing.
    }
  }

  #write(): void {
    try {
      this.#cupboard?.setItem(KEY, JSON.stringify(this.#kept));
    } catch {
      // Refused or full: the choice holds as long as the page.
    }
  }
}

/** What was kept, member by member: anything that is not as it should be counts as not chosen. */
function readKept(cupboard: Cupboard | null): Kept {
  const kept = nothing();
  let found: unknown = null;
  try {
    found = JSON.parse(cupboard?.getItem(KEY) ?? "null");
  } catch {
    return kept;
  }
  if (typeof found !== "object" || found === null) return kept;
  const members = found as { readonly [name: string]: unknown };
  kept.language = languages.find((one) => one === members.language) ?? null;
  kept.theme = themes.find((one) => one === members.theme) ?? "device";
  kept.announce = members.announce !== false;
  kept.cautionsSeen = typeof members.cautionsSeen === "string" ? members.cautionsSeen : null;
  kept.range = readRange(members.range);
  for (const [epc, range] of Object.entries(members.ranges ?? {})) {
    const read = readRange(range);
    if (read && /^[0-9a-f]+$/.test(epc)) kept.ranges[epc] = read;
  }
  return kept;
}

function readRange(value: unknown): Range | null {
  if (typeof value !== "object" || value === null) return null;
  const { lowMmhg, highMmhg } = value as { readonly [name: string]: unknown };
  return typeof lowMmhg === "number" && typeof highMmhg === "number" ? rangeOf(lowMmhg, highMmhg) : null;
}
