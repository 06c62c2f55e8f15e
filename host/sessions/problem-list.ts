/** What is wrong with a session, each said once however often it is met. */
export class ProblemList {
  readonly #sentences = new Map<string, string>();
  #rejected = 0;

  /** `key` tells problems of the same kind and place apart from others. */
  add(sentence: string, key = sentence): void {
    if (!this.#sentences.has(key)) this.#sentences.set(key, sentence);
  }

  /** A line or row that was left out; `sentence` null: counted, but not told one by one. */
  reject(sentence: string | null): void {
    this.#rejected++;
    if (sentence !== null) this.add(sentence);
  }

  get sentences(): readonly string[] {
    return [...this.#sentences.values()];
  }

  get rejected(): number {
    return this.#rejected;
  }
}
