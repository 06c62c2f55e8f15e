/** A list of cases that are known to fail: one id a line, `#` begins a comment. */

/** Ids with the line each stands on. */
export type ExpectedFailures = ReadonlyMap<string, number>;

/** The list in a text; a sentence with the line when it is wrong. */
export function parseExpectedFailures(text: string): ExpectedFailures | string {
  const listed = new Map<string, number>();
  for (const [index, line] of text.split(/\r?\n/).entries()) {
    const id = line.replace(/#.*/, "").trim();
    if (id === "") continue;
    if (/\s/.test(id)) return `line ${index + 1}: more than one word ("${id}"); give one id a line`;
    if (listed.has(id)) return `line ${index + 1}: ${id} stands in line ${listed.get(id)} already`;
    listed.set(id, index + 1);
  }
  return listed;
}
