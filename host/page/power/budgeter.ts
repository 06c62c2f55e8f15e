/** Has budgets worked out one at a time: of what is asked meanwhile only the latest. */
import type { BudgetAsked, BudgetTold } from "./budget-worker.ts";
import type { BudgetInputs } from "./inputs.ts";

export interface Channel {
  postMessage(asked: BudgetAsked): void;
  onmessage: ((event: { readonly data: BudgetTold }) => void) | null;
}

export class Budgeter {
  readonly #channel: Channel;
  #number = 0;
  #busy = false;
  #waiting: BudgetInputs | null = null;

  /** `told` hears what was asked last; answers to earlier questions that were overtaken are told too, so that the figures follow a slider. */
  constructor(channel: Channel, told: (told: BudgetTold, latest: boolean) => void) {
    this.#channel = channel;
    channel.onmessage = ({ data }) => {
      this.#busy = false;
      const waiting = this.#waiting;
      this.#waiting = null;
      if (waiting) this.#post(waiting);
      told(data, waiting === null);
    };
  }

  ask(inputs: BudgetInputs): void {
    if (this.#busy) this.#waiting = inputs;
    else this.#post(inputs);
  }

  #post(inputs: BudgetInputs): void {
    this.#busy = true;
    this.#channel.postMessage({ number: ++this.#number, inputs });
  }
}
