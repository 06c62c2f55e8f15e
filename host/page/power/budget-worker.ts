/** Works a budget out beside the page's own thread: it takes longer than a frame. */
import { type PowerFigures, powerFigures } from "./figures.ts";
import type { BudgetInputs } from "./inputs.ts";

export interface BudgetAsked {
  readonly number: number;
  readonly inputs: BudgetInputs;
}

export interface BudgetTold {
  readonly number: number;
  /** Null: the scenario cannot be; `sentence` says why. */
  readonly figures: PowerFigures | null;
  readonly sentence: string | null;
}

interface WorkerScope {
  onmessage: ((event: MessageEvent<BudgetAsked>) => void) | null;
  postMessage(told: BudgetTold): void;
}

const scope = globalThis as unknown as WorkerScope;

scope.onmessage = ({ data: { number, inputs } }) => {
  try {
    scope.postMessage({ number, figures: powerFigures(inputs), sentence: null });
  } catch (error) {
    scope.postMessage({ number, figures: null, sentence: error instanceof Error ? error.message : String(error) });
  }
};
