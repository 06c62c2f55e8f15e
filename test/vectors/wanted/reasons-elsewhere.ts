/** Reasons that no vector can ask for, because no bytes alone lead to them: why, and the test that has them instead. */
import type { Reason } from "../../../protocol/model/reasons.ts";

export interface Elsewhere {
  readonly why: string;
  /** A test file, from the project's root, and a text in it that names the reason. */
  readonly test: string;
  readonly names: string;
}

const AIR = "what the air said of an access stands in a good message, as a name of its result";
const SESSION = "it takes a conversation: what came before decides";
const TEXT = "it is about the lines of a capture file, which only our own programs write";

export const reasonsElsewhere: { readonly [code in Reason]?: Elsewhere } = {
  "copies-both-bad": {
    why: "no decoder gives it: without a whole copy a reading goes on uncalibrated, which is a good verdict",
    test: "test/vectors/readings.test.ts",
    names: "calibration_copy",
  },
  "message-not-now": { why: SESSION, test: "test/sim/reader/kit.test.ts", names: 'reasons["message-not-now"]' },
  "request-refused": { why: SESSION, test: "test/host/reader/link-reader.test.ts", names: "[request-refused]" },
  "request-timed-out": { why: SESSION, test: "test/host/reader/link-reader.test.ts", names: '"request-timed-out"' },
  "too-many-outstanding": { why: SESSION, test: "test/sim/reader/kit.test.ts", names: "too-many-outstanding" },
  "link-closed": { why: SESSION, test: "test/host/reader/link-reader.test.ts", names: '"link-closed"' },
  "tag-lost": { why: AIR, test: "test/host/readings/reading-stream.test.ts", names: "tag-lost" },
  "tag-memory-overrun": { why: AIR, test: "test/sim/reader/kit.test.ts", names: "tag_memory_overrun" },
  "tag-memory-locked": { why: AIR, test: "test/host/readings/reading-stream.test.ts", names: "tag-memory-locked" },
  "tag-power-insufficient": { why: AIR, test: "test/sim/reader/kit.test.ts", names: "tag_power_insufficient" },
  "tag-error": { why: AIR, test: "test/sim/reader/kit.test.ts", names: "tag_error" },
  "password-wrong": { why: AIR, test: "test/sim/reader/kit.test.ts", names: "password_wrong" },
  "json-invalid": { why: TEXT, test: "test/host/capture/json-lines.test.ts", names: '"json-invalid"' },
  "header-missing": { why: TEXT, test: "test/host/capture/json-lines.test.ts", names: '"header-missing"' },
  "version-unknown": { why: TEXT, test: "test/host/capture/json-lines.test.ts", names: '"version-unknown"' },
  "column-missing": { why: TEXT, test: "test/host/capture/csv.test.ts", names: '"column-missing"' },
  "line-too-long": { why: TEXT, test: "test/host/capture/json-lines.test.ts", names: '"line-too-long"' },
  "file-empty": { why: TEXT, test: "test/host/capture/json-lines.test.ts", names: '"file-empty"' },
  "llrp-status": { why: SESSION, test: "test/host/reader/llrp-status.test.ts", names: '"llrp-status"' },
};
