/**
 * Words of a command line, without a shell: split at white space; 'single quotes' keep everything, "double quotes" keep
 * all but \" and \\, and a quote may stand inside a word. Null when a quote is not closed. Nothing else is special, so a
 * Windows path needs no care.
 */
export function commandWords(text: string): string[] | null {
  const words: string[] = [];
  const piece = /\s+|'([^']*)'|"((?:[^"\\]|\\.)*)"|([^\s'"]+)|(.)/gsy;
  let word: string | undefined;
  for (const match of text.matchAll(piece)) {
    const [, single, double, bare, stray] = match;
    if (stray !== undefined) return null;
    const part = single ?? double?.replace(/\\(["\\])/g, "$1") ?? bare;
    if (part !== undefined) word = (word ?? "") + part;
    else if (word !== undefined) {
      words.push(word);
      word = undefined;
    }
  }
  if (word !== undefined) words.push(word);
  return words;
}
