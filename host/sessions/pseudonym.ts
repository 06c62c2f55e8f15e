/** Whether a subject id looks like a person: a rule of thumb that can be wrong both ways, and says only what it saw. */

const MONTH = "(?:0?[1-9]|1[0-2])";
const DAY = "(?:0?[1-9]|[12]\\d|3[01])";
const YEAR = "(?:19|20)\\d{2}";

const DATES: readonly RegExp[] = [
  new RegExp(`(?<!\\d)${YEAR}([-./ ]?)${MONTH}\\1${DAY}(?!\\d)`),
  new RegExp(`(?<!\\d)${DAY}([-./ ]?)${MONTH}\\1${YEAR}(?!\\d)`),
  new RegExp(`(?<!\\d)${MONTH}([-./ ]?)${DAY}\\1${YEAR}(?!\\d)`),
  new RegExp(`(?<!\\d)${DAY}([-./])${MONTH}\\1\\d{2}(?!\\d)`),
];

/** "looks like a date of birth", "looks like a name"; null when it looks like neither. */
export function personalText(id: string): string | null {
  if (DATES.some((date) => date.test(id))) return "looks like a date of birth";
  const words = id.match(/\p{L}[\p{L}\p{M}'’]*/gu) ?? [];
  const long = words.filter((word) => [...word].length >= 2);
  const year = new RegExp(`(?<!\\d)${YEAR}(?!\\d)`).test(id);
  if (long.some((word) => [...word].length >= 3) && year) return "looks like a name with a year of birth";
  if (/[,]/.test(id) && words.length >= 2) return "looks like a name";
  if (long.length >= 2 && /\p{L}\s+\p{L}/u.test(id)) return "looks like a name";
  if (!/\d/.test(id) && long.some((word) => /^\p{Lu}\p{Ll}+/u.test(word) || /^\p{Ll}{3,}$/u.test(word))) {
    return "looks like a name";
  }
  return null;
}
