/** ROSpecs and AccessSpecs a simulated LLRP reader holds, and what may be done to them. */
import { element, type LlrpElement, numberOf, parameterOf } from "../../protocol/llrp/vocabulary.ts";
import { MAX_ACCESSSPECS, MAX_ROSPECS } from "./llrp-capabilities.ts";

/** Why a request is not served: the name of a status, and words. */
export class Refused {
  readonly status: string;
  readonly says: string;
  constructor(status: string, says: string) {
    this.status = status;
    this.says = says;
  }
}

interface Held {
  readonly spec: LlrpElement;
  enabled: boolean;
  /** Executions left; Infinity without a stop trigger. */
  left: number;
}

/** Specs of one kind, in the order they were added. */
export class LlrpSpecs {
  readonly #idField: string;
  readonly #most: number;
  readonly #held = new Map<number, Held>();

  constructor(kind: "ROSpec" | "AccessSpec") {
    this.#idField = `${kind}ID`;
    this.#most = kind === "ROSpec" ? MAX_ROSPECS : MAX_ACCESSSPECS;
  }

  add(spec: LlrpElement): Refused | null {
    const id = numberOf(spec, this.#idField);
    if (id === 0) return new Refused("P_FieldError", `${this.#idField} 0 stands for all`);
    if (this.#held.has(id)) return new Refused("P_FieldError", `${this.#idField} ${id} is there already`);
    if (this.#held.size >= this.#most) return new Refused("P_OverflowParameter", `no room for more than ${this.#most}`);
    if (numberOf(spec, "CurrentState") !== 0) return new Refused("P_FieldError", "a spec is added disabled");
    const stop = parameterOf(spec, "AccessSpecStopTrigger");
    const counted = stop !== undefined && numberOf(stop, "AccessSpecStopTrigger") === 1;
    this.#held.set(id, { spec, enabled: false, left: counted ? numberOf(stop, "OperationCountValue") : Infinity });
    return null;
  }

  /** 0: all of them. */
  remove(id: number): Refused | null {
    return this.#each(id, (held, each) => void (held && this.#held.delete(each)));
  }

  /** 0: all of them. */
  enable(id: number, enabled: boolean): Refused | null {
    return this.#each(id, (held) => {
      held.enabled = enabled;
    });
  }

  get(id: number): Held | undefined {
    return this.#held.get(id);
  }

  clear(): void {
    this.#held.clear();
  }

  /** Enabled specs, in the order they were added. */
  enabled(): LlrpElement[] {
    return [...this.#held.values()].filter(({ enabled }) => enabled).map(({ spec }) => spec);
  }

  /** One execution more of a spec: with the last one its trigger asks for, it is gone. */
  executed(id: number): void {
    const held = this.#held.get(id);
    if (held && --held.left <= 0) this.#held.delete(id);
  }

  /** As GET_…SPECS wants them, with the state they are in. */
  all(activeId: number | null): LlrpElement[] {
    return [...this.#held].map(([id, { spec, enabled }]) => {
      const CurrentState = id === activeId ? 2 : enabled ? 1 : 0;
      return element(spec.name, { ...spec.values, CurrentState }, spec.parameters);
    });
  }

  #each(id: number, act: (held: Held, id: number) => void): Refused | null {
    const one = this.#held.get(id);
    if (id !== 0 && !one) return new Refused("M_FieldError", `there is no ${this.#idField} ${id}`);
    for (const [each, held] of id === 0 ? [...this.#held] : [[id, one!] as const]) act(held, each);
    return null;
  }
}

/** Why this reader cannot run a ROSpec as it is written, or null when it can. */
export function cannotRun(rospec: LlrpElement): Refused | null {
  const boundary = parameterOf(rospec, "ROBoundarySpec")!;
  const start = numberOf(parameterOf(boundary, "ROSpecStartTrigger")!, "ROSpecStartTriggerType");
  const stop = numberOf(parameterOf(boundary, "ROSpecStopTrigger")!, "ROSpecStopTriggerType");
  const inventory = rospec.parameters.filter(({ name }) => name === "AISpec");
  const aiStop = numberOf(parameterOf(inventory[0]!, "AISpecStopTrigger")!, "AISpecStopTriggerType");
  if (start > 1) return new Refused("P_UnsupportedParameter", "starts at once or by START_ROSPEC only");
  if (stop > 1) return new Refused("P_UnsupportedParameter", "stops by time or by STOP_ROSPEC only");
  if (aiStop !== 0 || inventory.length > 1)
    return new Refused("P_UnsupportedParameter", "one AISpec without an end only");
  return null;
}
