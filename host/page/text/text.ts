/** Words and numbers in one language. */
import type { Reason } from "../../../protocol/model/reasons.ts";
import type { FindingCode } from "../../calibrate/finding.ts";
import type { QualityId } from "../../readings/quality.ts";
import { de } from "./de.ts";
import { en } from "./en.ts";
import type { BandWord, Key, Words } from "./words.ts";

/** Languages by their code, each with its own name. */
export const languageNames = { en: "English", de: "Deutsch" } as const;

const words: { readonly [language in keyof typeof languageNames]: Words } = { en, de };

type Names<Template> = Template extends `${string}{${infer Name}}${infer Rest}` ? Name | Names<Rest> : never;

/** What has to be filled in for a key; nothing for most. */
type Filling<K extends Key> = [Names<(typeof en.say)[K]>] extends [never]
  ? []
  : [values: { readonly [name in Names<(typeof en.say)[K]>]: string }];

/** The keys that need nothing filled in. */
export type PlainKey = { [K in Key]: Filling<K> extends [] ? K : never }[Key];

export class Text {
  readonly language: keyof typeof languageNames;
  readonly #words: Words;
  readonly #formats = new Map<number, Intl.NumberFormat>();
  readonly #moment: Intl.DateTimeFormat;

  constructor(language: keyof typeof languageNames) {
    this.language = language;
    this.#words = words[language];
    this.#moment = new Intl.DateTimeFormat(language === "en" ? "en-GB" : language, {
      dateStyle: "medium",
      timeStyle: "short",
    });
  }

  say<K extends Key>(key: K, ...[values]: Filling<K>): string {
    return fill(this.#words.say[key], (values ?? {}) as { readonly [name: string]: string });
  }

  get cautions(): readonly string[] {
    return this.#words.cautions;
  }

  get bandEdges(): string {
    return this.#words.bandEdges;
  }

  quality(id: QualityId): string {
    return this.#words.quality[id] ?? id;
  }

  /** What a reason code says; a code of a later list stays as it is. */
  reason(code: string): string {
    return Object.hasOwn(this.#words.reasons, code) ? this.#words.reasons[code as Reason] : code;
  }

  /** What a finding of a bench run says; null when the server's English sentence has to say it. */
  finding(code: string): string | null {
    const { findings } = this.#words;
    return findings !== null && Object.hasOwn(findings, code) ? findings[code as FindingCode] : null;
  }

  /** A band as the published readings name it: a word, or a boundary of two or more ranges. */
  band(band: string): string {
    if (band in this.#words.bands) return this.#words.bands[band as BandWord];
    const bands = band
      .replace(/ boundary$/, "")
      .split("/")
      .map((range) => range.replace("-", "–"))
      .join(" / ");
    return fill(this.#words.bandBoundary, { bands });
  }

  /** A number with that many decimals; a true minus sign before a negative one. */
  number(value: number, digits: number): string {
    let format = this.#formats.get(digits);
    if (!format) {
      format = new Intl.NumberFormat(this.language, {
        minimumFractionDigits: digits,
        maximumFractionDigits: digits,
        useGrouping: false,
      });
      this.#formats.set(digits, format);
    }
    // A value that rounds to nothing has no sign.
    return format
      .format(value)
      .replace(/^-(?=[0.,]*$)/, "")
      .replace("-", "−");
  }

  /** An uncertainty with that many decimals, rounded up, so that it is never shown smaller than it is. */
  uncertainty(value: number, digits: number): string {
    const steps = 10 ** digits;
    return this.number(Math.ceil(value * steps - 1e-9) / steps, digits);
  }

  /** A duration: `0.4 s`, `12 s`, `3 min 20 s`, `2 h 5 min`. */
  duration(seconds: number): string {
    if (seconds < 9.95) return this.say("unit.s", { value: this.number(seconds, 1) });
    const whole = Math.round(seconds);
    if (whole < 60) return this.say("unit.s", { value: String(whole) });
    const minutes = Math.floor(whole / 60);
    if (minutes < 60) return this.say("unit.min", { minutes: String(minutes), seconds: String(whole % 60) });
    return this.say("unit.h", { hours: String(Math.floor(minutes / 60)), minutes: String(minutes % 60) });
  }

  /** An age for a place that is looked at again and again: whole seconds, `under 1 s` before the first. */
  age(seconds: number): string {
    if (seconds < 1) return this.say("now.age.fresh");
    return seconds < 60 ? this.say("unit.s", { value: String(Math.floor(seconds)) }) : this.duration(seconds);
  }

  /** Session time: `1:05.3`, with the decimals asked for. */
  time(seconds: number, digits: number): string {
    const steps = 10 ** digits;
    const all = Math.round(Math.abs(seconds) * steps);
    const minutes = Math.floor(all / (60 * steps));
    const rest = this.number((all - minutes * 60 * steps) / steps, digits);
    const padded = rest.padStart(digits === 0 ? 2 : digits + 3, "0");
    return `${seconds < 0 && all > 0 ? "−" : ""}${minutes}:${padded}`;
  }

  /** Date and time of day. */
  moment(date: Date): string {
    return this.#moment.format(date);
  }
}

function fill(template: string, values: { readonly [name: string]: string }): string {
  return template.replace(/\{(\w+)\}/g, (whole, name: string) => values[name] ?? whole);
}
