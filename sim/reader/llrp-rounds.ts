/** ROSpecs at work in a simulated LLRP reader: which one is active, what is done on its tags, and the reports of that. */
import { type LlrpElement, numberOf, parameterOf } from "../../protocol/llrp/vocabulary.ts";
import type { Identity } from "../tag/memory.ts";
import type { Interrogator } from "./interrogator.ts";
import { accessesOf, isMeantFor, resultsOf } from "./llrp-access.ts";
import { LlrpSpecs, Refused } from "./llrp-specs.ts";
import { NOTHING_SELECTED, TagReports } from "./llrp-tag-report.ts";
import type { Sighting } from "./orders.ts";

/** Rounds follow each other in this time: the reader's own pace, for LLRP has no word for it. */
const ROUND_US = 100_000;

/** A report without a limit of its own is sent before the memory for it grows without end. */
const MOST_WAITING = 1000;

export interface RoundsOwner {
  readonly utcUs: (timeUs: number) => bigint;
  /** Reports that are due, as TagReportData. */
  readonly onReports: (reports: readonly LlrpElement[]) => void;
  /** A ROSpec began (0) or ended (1). */
  readonly onEvent: (nowUs: number, eventType: 0 | 1, roSpecId: number) => void;
}

export class LlrpRounds {
  readonly roSpecs = new LlrpSpecs("ROSpec");
  readonly accessSpecs = new LlrpSpecs("AccessSpec");
  readonly #interrogator: Interrogator;
  readonly #owner: RoundsOwner;
  readonly #tagReports = new TagReports();
  #active: { readonly id: number; readonly spec: LlrpElement; readonly endUs: number } | null = null;
  #waiting: LlrpElement[] = [];

  constructor(interrogator: Interrogator, owner: RoundsOwner) {
    this.#interrogator = interrogator;
    this.#owner = owner;
  }

  /** The ROSpec that is active, or null. */
  get activeId(): number | null {
    return this.#active?.id ?? null;
  }

  /** When the active ROSpec ends by itself. */
  get endUs(): number {
    return this.#active?.endUs ?? Number.POSITIVE_INFINITY;
  }

  /** START_, STOP_, ENABLE_, DISABLE_ or DELETE_ROSPEC. */
  change(nowUs: number, name: string, id: number): Refused | null {
    const active = this.#active !== null && (id === 0 || id === this.#active.id);
    switch (name) {
      case "START_ROSPEC":
        return this.#start(nowUs, id);
      case "STOP_ROSPEC":
        if (!active || id === 0) return new Refused("M_FieldError", `ROSpecID ${id} is not active`);
        this.stop(nowUs);
        return null;
      case "ENABLE_ROSPEC": {
        const refused = this.roSpecs.enable(id, true);
        const immediate = this.roSpecs.enabled().find((spec) => startType(spec) === 1);
        return refused ?? (immediate && !this.#active ? this.#start(nowUs, numberOf(immediate, "ROSpecID")) : null);
      }
      default:
        if (active) this.stop(nowUs);
        return name === "DELETE_ROSPEC" ? this.roSpecs.remove(id) : this.roSpecs.enable(id, false);
    }
  }

  /** Ends the active ROSpec, if there is one. */
  stop(nowUs: number): void {
    if (!this.#active) return;
    const { id } = this.#active;
    this.#active = null;
    this.#interrogator.clear();
    this.flush();
    this.#owner.onEvent(nowUs, 1, id);
  }

  flush(): void {
    if (this.#waiting.length > 0) this.#owner.onReports(this.#waiting);
    this.#waiting = [];
  }

  #start(nowUs: number, id: number): Refused | null {
    const held = this.roSpecs.get(id);
    if (!held?.enabled) return new Refused("M_FieldError", `ROSpecID ${id} is not enabled`);
    if (this.#active) return new Refused("M_FieldError", `ROSpecID ${this.#active.id} is active`);
    const stop = parameterOf(parameterOf(held.spec, "ROBoundarySpec")!, "ROSpecStopTrigger")!;
    const timed = numberOf(stop, "ROSpecStopTriggerType") === 1;
    const endUs = timed ? nowUs + numberOf(stop, "DurationTriggerValue") * 1000 : Number.POSITIVE_INFINITY;
    this.#active = { id, spec: held.spec, endUs };
    // What was carried out is the AccessSpec of then, whatever came or went while the tag was being read.
    let meant: LlrpElement | undefined;
    this.#interrogator.start(nowUs, {
      periodUs: ROUND_US,
      accesses: (identity) => {
        meant = this.#meantFor(id, identity);
        return meant ? accessesOf(meant) : [];
      },
      onSighting: (sighting) => this.#report(sighting, meant),
    });
    this.#owner.onEvent(nowUs, 0, id);
    return null;
  }

  #report(sighting: Sighting, meant: LlrpElement | undefined): void {
    const { id, spec } = this.#active!;
    const access = meant ? this.#executed(meant, sighting) : null;
    const reportSpec = parameterOf(spec, "ROReportSpec");
    const selector = reportSpec ? parameterOf(reportSpec, "TagReportContentSelector")! : NOTHING_SELECTED;
    const utcUs = this.#owner.utcUs(sighting.timeUs);
    this.#waiting.push(this.#tagReports.report({ sighting, utcUs, roSpecId: id, access }, selector));
    const most = reportSpec ? numberOf(reportSpec, "N") : 0;
    if (this.#waiting.length >= (most || MOST_WAITING)) this.flush();
  }

  /** The first AccessSpec meant for the tag, and no other. */
  #meantFor(roSpecId: number, identity: Identity): LlrpElement | undefined {
    return this.accessSpecs.enabled().find((spec) => {
      const bound = numberOf(spec, "ROSpecID");
      return (bound === 0 || bound === roSpecId) && isMeantFor(spec, identity);
    });
  }

  #executed(meant: LlrpElement, { results }: Sighting) {
    const id = numberOf(meant, "AccessSpecID");
    this.accessSpecs.executed(id);
    return { id, results: resultsOf(meant, results) };
  }
}

function startType(rospec: LlrpElement): number {
  const boundary = parameterOf(rospec, "ROBoundarySpec")!;
  return numberOf(parameterOf(boundary, "ROSpecStartTrigger")!, "ROSpecStartTriggerType");
}
