/** What the second thread does: stretches of a capture in a file, each as if a good header stood before it. */
import type { Layout } from "../../protocol/index.ts";
import { LineRules } from "../capture/line-rules.ts";
import { BulkReader } from "./bulk-reader.ts";
import type { Engine } from "./engine.ts";
import { fill, type Range } from "./file-ranges.ts";
import type { FromSecond } from "./second-reader.ts";
import { copyBatch, type Slab, slabOf } from "./slab.ts";

/** As many as one stretch needs, and some to go on with. */
const SLABS = 10;

/** Number of the first line of a stretch: only the first of a file may begin with a byte order mark. */
const FIRST_LINE = 2;

export class RangeScan {
  readonly #layout: Layout;
  readonly #engine: Engine;
  readonly #file: number;
  readonly #name: string;
  readonly #say: (message: FromSecond) => void;
  readonly #free: Slab[];
  readonly #ranges: Range[] = [];
  #isBusy = false;
  #wake = () => {};

  /** `file` is open for reading; `name` is what messages call it. */
  constructor(layout: Layout, engine: Engine, file: number, name: string, say: (message: FromSecond) => void) {
    this.#layout = layout;
    this.#engine = engine;
    this.#file = file;
    this.#name = name;
    this.#say = say;
    this.#free = Array.from({ length: SLABS }, () => slabOf(layout));
  }

  /** Takes up a stretch behind those it has; resolves when there is none left to do. */
  async give(range: Range): Promise<void> {
    this.#ranges.push(range);
    if (this.#isBusy) return;
    this.#isBusy = true;
    for (let next = this.#ranges.shift(); next; next = this.#ranges.shift())
      this.#say({ kind: await this.#scan(next) });
    this.#isBusy = false;
  }

  giveBack(memory: ArrayBuffer): void {
    this.#free.push(slabOf(this.#layout, memory));
    this.#wake();
  }

  async #scan({ from, to }: Range): Promise<"done" | "stopped"> {
    const rules = new LineRules(this.#name, this.#layout);
    rules.resume();
    const reader = new BulkReader(this.#engine, rules, this.#layout, FIRST_LINE, from);
    for (let at = from; at < to; ) {
      const space = reader.space();
      const count = fill(this.#file, space.subarray(0, to - at), at);
      at = count === 0 ? to : at + count;
      reader.hold(count);
      for (const batch of reader.batches(at === to)) {
        if (!rules.isSettled) return "stopped";
        const slab = await this.#freeSlab();
        const notes = copyBatch(batch, slab);
        this.#say({ kind: "batch", notes, memory: slab.memory });
      }
    }
    return "done";
  }

  async #freeSlab(): Promise<Slab> {
    while (this.#free.length === 0) {
      await new Promise<void>((resolve) => {
        this.#wake = resolve;
      });
    }
    return this.#free.pop()!;
  }
}
