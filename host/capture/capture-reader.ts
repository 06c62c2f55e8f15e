/** Reads a capture, JSON Lines or CSV, a line at a time and in bounded memory. */
import { formatFingerprint, type Layout, type Reason, reasons } from "../../protocol/index.ts";
import type { Members } from "./columns.ts";
import { type CsvHeading, headingOf, membersOf } from "./csv.ts";
import { headerOf } from "./header-rules.ts";
import { type CaptureCounts, type CaptureItem, LineFault, type Place, quoted } from "./item.ts";
import { LINE_LIMIT, type Line, linesOf, textOf } from "./lines.ts";
import { makeReportRules, type ReportRules } from "./report-rules.ts";

/** Why the records that follow cannot be read: the fault of an earlier line. */
interface Block {
  readonly reason: Reason;
  readonly line: number;
}

/**
 * Async iterable of the items of a capture; iterate once. Never throws for what the bytes say; an error of the stream itself
 * comes out of the iteration. `name` is what messages call the file.
 */
export class CaptureReader implements AsyncIterable<CaptureItem> {
  readonly counts: CaptureCounts = {
    bytes: 0,
    lines: 0,
    headers: 0,
    read: 0,
    ambient: 0,
    blank: 0,
    rejected: {},
    noticed: {},
  };
  readonly #source: AsyncIterable<Uint8Array | string>;
  readonly #name: string;
  readonly #layout: Layout;
  readonly #rules: ReportRules;
  #format: "unknown" | "json" | CsvHeading = "unknown";
  #header: "none" | "seen" = "none";
  #block: Block | null = null;

  constructor(source: AsyncIterable<Uint8Array | string>, name: string, layout: Layout) {
    this.#source = source;
    this.#name = name;
    this.#layout = layout;
    this.#rules = makeReportRules(layout);
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<CaptureItem> {
    let line = 0;
    for await (const piece of linesOf(this.#source)) {
      line = piece.number;
      yield* this.#items(piece);
    }
    const { headers, read, ambient, rejected } = this.counts;
    if (read + ambient === 0 && Object.keys(rejected).length === 0) {
      const found = headers > 0 ? "nothing follows the header" : "nothing to read";
      yield this.#notice({ line: Math.max(1, line) }, new LineFault("file-empty", null, found));
    }
  }

  *#items(line: Line): Generator<CaptureItem> {
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
    const header = headerOf(members);
    this.#header = "seen";
    this.#block = null;
    if (header instanceof LineFault) {
      if (header.reason === "version-unknown") this.#block = { reason: header.reason, line: line.number };
      yield this.#reject(line, header);
      return;
    }
    if (header.layout !== this.#layout.layout) {
      this.#block = { reason: "layout-unknown", line: line.number };
      const found = `written with layout ${header.layout}, read with ${this.#layout.layout}`;
      yield this.#reject(line, new LineFault("layout-unknown", "layout", found));
      return;
    }
    this.counts.headers++;
    if (header.fingerprint !== this.#layout.fingerprint) {
      const found = `written with ${formatFingerprint(header.fingerprint)}, read with ${formatFingerprint(this.#layout.fingerprint)}`;
      yield this.#notice(place, new LineFault("fingerprint-mismatch", "fingerprint", found));
    }
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
