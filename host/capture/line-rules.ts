/** The rules of a capture, JSON Lines or CSV, for one line after another: what each becomes, and what it changes for those behind it. */
import { type Layout, type Reason, reasons } from "../../protocol/index.ts";
import type { Members } from "./columns.ts";
import { addCounts, noCounts } from "./counts.ts";
import { type CsvHeading, headingOf, membersOf } from "./csv.ts";
import { judgeHeader } from "./header-rules.ts";
import { type CaptureCounts, type CaptureItem, LineFault, type Place, quoted } from "./item.ts";
import { LINE_LIMIT, type Line, textOf } from "./lines.ts";
import { makeReportRules, type ReportRules } from "./report-rules.ts";

/** Why the records that follow cannot be read: the fault of an earlier line. */
interface Block {
  readonly reason: Reason;
  readonly line: number;
}

/** Holds what earlier lines say of later ones, and counts. Never throws for what the bytes say. `name` is what messages call the file. */
export class LineRules {
  readonly counts: CaptureCounts = noCounts();
  readonly #name: string;
  readonly #layout: Layout;
  readonly #rules: ReportRules;
  #format: "unknown" | "json" | CsvHeading = "unknown";
  #header: "none" | "seen" = "none";
  #block: Block | null = null;

  constructor(name: string, layout: Layout) {
    this.#name = name;
    this.#layout = layout;
    this.#rules = makeReportRules(layout);
  }

  /** Takes up a JSON Lines capture behind its header, and behind a record that was read. */
  resume(): void {
    this.#format = "json";
    this.#header = "seen";
  }

  /** Counts lines that were judged elsewhere. */
  pass(more: CaptureCounts): void {
    addCounts(this.counts, more);
  }

  /** Whether a JSON record is now judged by itself alone: no heading to come, no earlier fault in its way. */
  get isSettled(): boolean {
    return this.#format === "json" && this.#header === "seen" && this.#block === null;
  }

  /** What becomes of one line, or of one piece of an over-long line. Lines come in their order, each once. */
  *take(line: Line): Generator<CaptureItem> {
    const place = { line: line.number };
    this.counts.bytes += line.bytes.length;
    if (line.part === "more") {
      yield { place, more: line.bytes };
      return;
    }
    this.counts.lines++;
    if (line.part === "first") {
      if (this.#format === "unknown") this.#format = "json";
      yield this.#reject(line, new LineFault("line-too-long", null, `more than ${LINE_LIMIT} bytes`));
      return;
    }
    const text = textOf(line);
    if (text === null) {
      yield this.#reject(line, this.#notText());
      return;
    }
    if (text.trim() === "") {
      this.counts.blank++;
      return;
    }
    if (this.#format === "unknown") {
      const heading = text.trimStart().startsWith("{") ? null : headingOf(text);
      this.#format = heading ?? "json";
      if (heading) {
        yield* this.#heading(place, heading);
        return;
      }
    }
    const members = this.#format === "json" ? parse(text) : membersOf(text, this.#format);
    if (members instanceof LineFault) yield this.#reject(line, members);
    else if (this.#format === "json" && members.record === "capture") yield* this.#captureHeader(line, members);
    else yield* this.#record(line, members);
  }

  /** What there is to say behind the last line, whose number is `line` (0 when there was none). */
  *end(line: number): Generator<CaptureItem> {
    const { headers, read, ambient, rejected } = this.counts;
    if (read + ambient === 0 && Object.keys(rejected).length === 0) {
      const found = headers > 0 ? "nothing follows the header" : "nothing to read";
      yield this.#notice({ line: Math.max(1, line) }, new LineFault("file-empty", null, found));
    }
  }

  #notText(): LineFault {
    const csv = typeof this.#format === "object";
    if (this.#format === "unknown") this.#format = "json";
    return new LineFault(csv ? "field-invalid" : "json-invalid", null, "bytes that are no UTF-8 text");
  }

  *#heading(place: Place, heading: CsvHeading): Generator<CaptureItem> {
    this.counts.headers++;
    this.#header = "seen";
    for (const fault of heading.faults) yield this.#notice(place, fault);
    const first = heading.faults[0];
    if (first) this.#block = { reason: first.reason, line: place.line };
  }

  *#captureHeader(line: Line, members: Members): Generator<CaptureItem> {
    const place = { line: line.number };
    const { header, fault, blocks } = judgeHeader(members, this.#layout);
    this.#header = "seen";
    this.#block = blocks ? { reason: fault!.reason, line: line.number } : null;
    if (header === null) {
      yield this.#reject(line, fault!);
      return;
    }
    this.counts.headers++;
    if (fault) yield this.#notice(place, fault);
    yield { place, header };
  }

  *#record(line: Line, members: Members): Generator<CaptureItem> {
    const place = { line: line.number };
    if (this.#block) {
      const found = `because of line ${this.#block.line}`;
      yield this.#reject(line, new LineFault(this.#block.reason, null, found), this.#block.line);
      return;
    }
    const report = this.#rules(members);
    if (report instanceof LineFault) {
      yield this.#reject(line, report);
      return;
    }
    if (this.#header === "none") {
      this.#header = "seen";
      const found = `layout ${this.#layout.layout} is assumed; date and barometer uncertainty are not known`;
      yield this.#notice(place, new LineFault("header-missing", null, found));
    }
    this.counts[report.kind]++;
    yield { place, report, raw: line.bytes };
  }

  #notice(place: Place, fault: LineFault): CaptureItem {
    this.counts.noticed[fault.reason] = (this.counts.noticed[fault.reason] ?? 0) + 1;
    return { place, notice: { reason: fault.reason, sentence: this.#sentence(place, fault) } };
  }

  #reject(line: Line, fault: LineFault, becauseOf: number | null = null): CaptureItem {
    const { reason, field } = fault;
    const place = { line: line.number };
    this.counts.rejected[reason] = (this.counts.rejected[reason] ?? 0) + 1;
    return { place, reject: { reason, field, sentence: this.#sentence(place, fault), raw: line.bytes, becauseOf } };
  }

  #sentence({ line }: Place, { reason, field, found }: LineFault): string {
    const subject = field === null ? "" : `${field}: `;
    return `${this.#name}:${line}: ${subject}${reasons[reason].says} (${found}) [${reason}]`;
  }
}

function parse(text: string): Members | LineFault {
  try {
    const value: unknown = JSON.parse(text);
    if (typeof value === "object" && value !== null && !Array.isArray(value)) return value as Members;
  } catch {
    // Falls through: what JSON.parse says names no place a reader of a capture would look for.
  }
  return new LineFault("json-invalid", null, `${text.length} characters, ${quoted(text)}`);
}
