/** Reports in, readings out; the same for live reading and for a capture, so that both give the same readings. */
import { explain, formatFingerprint, type Layout, type Reason, rawOf, reasons } from "../../protocol/index.ts";
import type { AmbientReport, TagReport } from "../reader/report.ts";
import { type AmbientSource, AmbientTracker } from "./ambient.ts";
import { type Maker, makeReading } from "./make-reading.ts";
import { makeWaveform } from "./make-waveform.ts";
import type { Outcome, Unread } from "./reading.ts";
import { RecentMap } from "./recent-map.ts";
import { TagMemory, UserRead, type UserRegion, userRegions } from "./tag-memory.ts";
import { unread } from "./unread.ts";

/** What a capture's header says of the session; null where it is not known. */
export interface Session {
  /** ISO 8601 in UTC. */
  readonly started: string | null;
  readonly barometerUncertaintyPa: number | null;
}

/** What was pushed and what came of it. */
export interface ReadingCounts {
  ambientReports: number;
  tagReports: number;
  /** Seen without a Read being asked for. */
  sighted: number;
  /** Reads of another bank, or of USER words that hold no frame and no burst. */
  other: number;
  readings: number;
  /** Frames seen for the first time. */
  distinctFrames: number;
  waveforms: number;
  /** Tags whose memory was given up for another's: seen again, they are new, and their readings say so. */
  forgottenTags: number;
  readonly unread: Partial<Record<Reason, number>>;
}

/** Tags remembered at once, the one not seen for longest forgotten first: far more than lie under any dressing. */
export const MOST_TAGS = 4096;

/** One session. Throws a RangeError at construction for an ambient value that cannot be. */
export class ReadingStream {
  readonly counts: ReadingCounts = {
    ambientReports: 0,
    tagReports: 0,
    sighted: 0,
    other: 0,
    readings: 0,
    distinctFrames: 0,
    waveforms: 0,
    forgottenTags: 0,
    unread: {},
  };
  readonly #layout: Layout;
  readonly #regions: readonly UserRegion[];
  readonly #ambient: AmbientTracker;
  readonly #sessionDate: string | null;
  readonly #tags = new RecentMap<string, TagMemory>(MOST_TAGS);

  constructor(layout: Layout, session: Session, ambient: AmbientSource) {
    this.#layout = layout;
    this.#regions = userRegions(layout);
    this.#ambient = new AmbientTracker(ambient, session.barometerUncertaintyPa);
    this.#sessionDate = session.started?.slice(0, 10) ?? null;
  }

  /** What becomes of one report: nothing, a reading, a waveform, both, or the reasons why not. */
  push(report: TagReport | AmbientReport): Outcome[] {
    if (report.kind === "ambient") {
      this.counts.ambientReports++;
      this.#ambient.fromKit(report);
      return [];
    }
    this.counts.tagReports++;
    const outcomes = this.#outcomes(report);
    for (const outcome of outcomes) {
      if (outcome.kind === "reading") this.counts.readings++;
      else if (outcome.kind === "waveform") this.counts.waveforms++;
      else this.counts.unread[outcome.reason] = (this.counts.unread[outcome.reason] ?? 0) + 1;
    }
    return outcomes;
  }

  #outcomes(report: TagReport): Outcome[] {
    if (report.result === "not_asked") {
      this.counts.sighted++;
      return [];
    }
    if (report.result !== "done") return [failed(report)];
    if (report.bank !== "user") {
      this.counts.other++;
      return [];
    }
    const tag = this.#tag(report.epc);
    const read = new UserRead(report.word, report.words);
    tag.absorb(read, this.#regions);
    return this.#fromUser(report, tag, read);
  }

  #fromUser(report: TagReport, tag: TagMemory, read: UserRead): Outcome[] {
    const samples = this.#regions.filter(({ record }) => record.id === "frame" || record.id === "burst");
    const touched = samples.filter((region) => read.covers(region) !== "none");
    const short = this.#tooShort(report, read);
    if (touched.length === 0) {
      if (short.length === 0) this.counts.other++;
      return short;
    }
    const foreign = this.#foreign(report, tag);
    if (foreign) return [foreign];
    const maker: Maker = { report, tag, read, ambient: this.#ambient, sessionDate: this.#sessionDate };
    const outcomes: Outcome[] = [...short];
    const slots = samples.filter(({ record }) => record.id === "frame");
    if (slots.every((slot) => read.covers(slot) === "whole")) {
      const reading = makeReading(maker, slots);
      if (reading.kind === "reading" && !reading.quality.includes("repeated")) this.counts.distinctFrames++;
      outcomes.push(reading);
    }
    for (const burst of touched) {
      if (burst.record.id === "burst" && read.covers(burst) === "whole") outcomes.push(makeWaveform(maker, burst));
    }
    return outcomes;
  }

  /** Regions of which a read holds only a part; one slot without the other counts as such. */
  #tooShort(report: TagReport, read: UserRead): Unread[] {
    const slots = this.#regions.filter(({ record }) => record.id === "frame");
    const one = slots.some((slot) => read.covers(slot) !== "none");
    const missing = this.#regions.filter(
      (region) => read.covers(region) === "part" || (one && slots.includes(region) && read.covers(region) === "none"),
    );
    if (missing.length === 0 && report.words.length > 0) return [];
    const last = report.word + report.words.length - 1;
    const held = report.words.length > 0 ? `words ${report.word} to ${last}` : "no words";
    const lacks = missing.map((region) => arrived(region, read)).join("; ");
    return [unread(report, "record-too-short", `the read brought ${held}${lacks && `: ${lacks}`}`)];
  }

  /** A tag whose header names another layout or specification: its words would be read wrongly. */
  #foreign(report: TagReport, tag: TagMemory): Unread | null {
    const fault = tag.headerFault;
    if (fault?.code === "layout-unknown") {
      const says = `header written with layout ${fault.actual}, read with ${this.#layout.layout}`;
      return unread(report, "layout-unknown", says, [fault]);
    }
    if (!tag.header) return null;
    const fingerprint = rawOf(tag.header, "fingerprint");
    if (fingerprint === this.#layout.fingerprint) return null;
    const [written, own] = [fingerprint, this.#layout.fingerprint].map(formatFingerprint);
    const says = `header written with specification ${written} by firmware ${tag.tagHeader!.firmware}, read with ${own}`;
    return unread(report, "fingerprint-mismatch", says);
  }

  #tag(epc: string): TagMemory {
    let tag = this.#tags.get(epc);
    if (!tag) {
      this.#tags.set(epc, (tag = new TagMemory()));
      this.counts.forgottenTags = this.#tags.forgotten;
    }
    return tag;
  }
}

function failed(report: TagReport): Unread {
  const code = report.result.replaceAll("_", "-");
  const reason = Object.hasOwn(reasons, code) ? (code as Reason) : "name-unknown";
  const says = `read of ${report.bank} word ${report.word} gave ${report.result}`;
  return unread(report, reason, says);
}

/** What of a region arrived, with the fields that can be read. */
function arrived(region: UserRegion, read: UserRead): string {
  if (read.covers(region) === "none") return `${region.id} is not in it`;
  const at = read.at(region);
  if (at < 0) return `the start of ${region.id} is not in it`;
  const { fields } = explain(region.record, read.bytes, at, Math.min(at + region.record.bytes, read.bytes.length));
  const single = fields.filter(({ field }) => field.array === undefined);
  return `of ${region.id} only ${single.map(({ field, meaning }) => `${field.id} ${meaning}`).join(", ")}`;
}
