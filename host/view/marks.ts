/** Events marked at the bench, in memory only; the oldest give way. */
import { MARKS_KEPT, type Mark, type MarkKind } from "./messages.ts";

export class Marks {
  #marks: Mark[] = [];
  #last = 0;

  get list(): readonly Mark[] {
    return this.#marks;
  }

  add(kind: MarkKind, text: string, timeS: number, at: Date): Mark {
    const mark = { id: ++this.#last, kind, time_s: timeS, at: at.toISOString(), text };
    this.#marks = [...this.#marks, mark].slice(-MARKS_KEPT);
    return mark;
  }

  /** Whether there was one. */
  remove(id: number): boolean {
    const kept = this.#marks.filter((mark) => mark.id !== id);
    const found = kept.length < this.#marks.length;
    this.#marks = kept;
    return found;
  }
}
