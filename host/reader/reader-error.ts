import type { Fault } from "../../protocol/model/reasons.ts";

/** A request that brought no answer or a refusal: one sentence, and the fault behind it. */
export class ReaderError extends Error {
  override readonly name = "ReaderError";
  readonly fault: Fault;

  constructor(says: string, fault: Fault) {
    super(says);
    this.fault = fault;
  }
}
