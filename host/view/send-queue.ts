/** What waits to be sent to one page: bounded, so that a slow one costs the server no memory and the others no time. */

/** Sends a text and calls back once the system took it. */
export type Send = (text: string, done: () => void) => void;

/** Messages handed to the system at a time, and messages that may wait. */
const UNDER_WAY = 4;
export const WAITING = 64;

interface Waiting {
  readonly text: string;
  /** Overtaken by the next of its kind, so that it may be dropped. */
  readonly passing: boolean;
}

export class SendQueue {
  readonly #send: Send;
  readonly #giveUp: () => void;
  #waiting: Waiting[] = [];
  #underWay = 0;
  /** Messages dropped because they waited too long. */
  dropped = 0;

  /** `giveUp` is called when even what must arrive piles up. */
  constructor(send: Send, giveUp: () => void) {
    this.#send = send;
    this.#giveUp = giveUp;
  }

  push(text: string, passing: boolean): void {
    this.#waiting.push({ text, passing });
    if (this.#waiting.length > WAITING) {
      const oldest = this.#waiting.findIndex((waiting) => waiting.passing);
      if (oldest < 0) {
        this.#waiting = [];
        this.#giveUp();
        return;
      }
      this.#waiting.splice(oldest, 1);
      this.dropped++;
    }
    this.#pump();
  }

  #pump(): void {
    while (this.#underWay < UNDER_WAY && this.#waiting.length > 0) {
      const { text } = this.#waiting.shift()!;
      this.#underWay++;
      this.#send(text, () => {
        this.#underWay--;
        this.#pump();
      });
    }
  }
}
