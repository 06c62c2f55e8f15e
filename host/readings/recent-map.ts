/** A map that forgets: of more keys than it may hold, the one not asked for longest goes. */
export class RecentMap<Key, Value> {
  /** How many keys had to be forgotten. */
  forgotten = 0;
  readonly #most: number;
  readonly #entries = new Map<Key, Value>();

  constructor(most: number) {
    this.#most = most;
  }

  get(key: Key): Value | undefined {
    const value = this.#entries.get(key);
    if (value === undefined) return undefined;
    // A Map keeps the order of insertion: the first is the one not asked for longest.
    this.#entries.delete(key);
    this.#entries.set(key, value);
    return value;
  }

  set(key: Key, value: Value): void {
    this.#entries.delete(key);
    this.#entries.set(key, value);
    if (this.#entries.size <= this.#most) return;
    this.#entries.delete(this.#entries.keys().next().value!);
    this.forgotten++;
  }

  values(): IterableIterator<Value> {
    return this.#entries.values();
  }
}
