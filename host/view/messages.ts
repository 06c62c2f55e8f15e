/**
 * What page and server of the bench page say to each other: JSON messages over one WebSocket at `/feed`. Nothing of Node, so
 * that the page imports it as it is. Members are in snake_case with their unit, as in the published readings
 * (vectors/schema/reading.schema.json); what is not known is null. `time_s` is the session's own time in seconds of the reader's
 * clock: it begins at 0, runs `speed` times as fast as a wall clock, and goes on when a reader that was lost begins its
 * clock anew, which `kit_time_us` does not.
 *
 * The order: `hello` first, once a connection; then `past`, what was read before it; then the others as they come. The server
 * sends a batch at most every TICK_MS, with at most one reading of a tag in it. A page that does not keep up loses the
 * oldest of what waits for it, and the next `presence` says how much.
 *
 * Beside the socket the server answers `GET ./pairing` with a PairingState, and `POST ./pair` with `{"code": "…"}`:
 * 204 paired (a cookie holds it), 403 wrong code, 429 too many tries (Retry-After in seconds), 410 no tries left.
 * Without pairing, `/feed` is refused with 401 where it is needed.
 */
import type { Certificate } from "../calibrate/certificate.ts";
import type { readingJson } from "../readings/reading-json.ts";

/** Raised when a page of an earlier server could no longer understand a later one. */
export const CONTRACT = 1;

/** Shortest time between two batches: 20 a second. */
export const TICK_MS = 50;

/** Marks kept in a session: the oldest give way. */
export const MARKS_KEPT = 500;

type AnyRecord = ReturnType<typeof readingJson>;

/** A reading exactly as `plyframe read --json` prints it. */
export type ReadingRecord = Extract<AnyRecord, { readonly record: "reading" }>;

/** A burst exactly as `plyframe read --json` prints it. */
export type WaveformRecord = Extract<AnyRecord, { readonly record: "waveform" }>;

/** A Read without a reading, and why. */
export interface UnreadRecord {
  readonly time_s: number;
  readonly epc: string;
  /** Reason code of the closed list. */
  readonly reason: string;
  /** In English, for those who look for it. */
  readonly sentence: string;
}

/** Words as one Read brought them: header, slots and counters together, or the calibration copies, or the burst. */
export interface WordsRecord {
  readonly time_s: number;
  readonly epc: string;
  readonly bank: "reserved" | "epc" | "tid" | "user";
  /** Address of the first word in the bank. */
  readonly word: number;
  /** Four hex digits a word, without spaces. */
  readonly hex: string;
}

export type SourceKind = "simulated" | "reader" | "replay";

export interface Hello {
  readonly type: "hello";
  readonly contract: number;
  /** Number of this page among those that came. */
  readonly page: number;
  /** Version of the program. */
  readonly program: string;
  /** Another one: another session, whose marks and past have nothing to do with those kept in the page. */
  readonly session: string;
  readonly source: SourceKind;
  /** Port, file or scenario, as a person would type it. */
  readonly source_name: string;
  /** One line on the scene of a simulation, which says that it is invented; null otherwise. */
  readonly scene: string | null;
  /** Seconds of kit time that pass in a second: not 1 for a simulation or replay that is sped up. */
  readonly speed: number;
  readonly layout: number;
  /** Fingerprint of the specification, as it is printed. */
  readonly fingerprint: string;
  /** Shown once, in English. */
  readonly cautions: readonly string[];
  readonly band_scheme: { readonly id: string; readonly source: string; readonly edges: string };
  /** Supply below which the firmware gives a sample up, in V. */
  readonly supply_low_v: number;
  /** Named sites in the order they were named; a tag that is not among them is called by its EPC. */
  readonly sites: readonly { readonly epc: string; readonly site: string }[];
  /** When the session began, ISO 8601 in UTC. */
  readonly started: string;
  readonly marks: readonly Mark[];
  readonly state: StateMessage;
  /** The latest words of each tag and place. */
  readonly words: readonly WordsRecord[];
  readonly calibration: CalibrationState;
}

/** A reading and when it was reported. The age of its frame at session time T is `age_s` + T - `time_s`. */
export interface TimedReading {
  readonly time_s: number;
  readonly reading: ReadingRecord;
}

export interface TimedWaveform {
  readonly time_s: number;
  readonly waveform: WaveformRecord;
}

/** A point of a trace: a frame seen for the first time, unless it came behind a newer one. */
export interface PastPoint {
  readonly epc: string;
  readonly sequence: number;
  /** When the frame was first seen. */
  readonly time_s: number;
  /** Null too where the reading is not valid: a gap. */
  readonly gauge_mmhg: number | null;
  readonly expanded_uncertainty_mmhg: number | null;
}

/** What was read before this page came: points in order of time, and the last reading of each tag. */
export interface PastMessage {
  readonly type: "past";
  readonly points: readonly PastPoint[];
  /** Older points that are no longer kept. */
  readonly left_out: number;
  readonly latest: readonly TimedReading[];
}

export interface ReadingsMessage {
  readonly type: "readings";
  /** Session time now. */
  readonly now_s: number;
  /** Points of frames that a later one of the same tag overtook before this was sent, in order of time. */
  readonly earlier: readonly PastPoint[];
  /** At most one a tag. A repeat of a frame never hides the frame's first sight. */
  readonly readings: readonly TimedReading[];
  readonly waveforms: readonly TimedWaveform[];
  readonly unread: readonly UnreadRecord[];
}

/** The last Reads of the tags, at most five times a second. */
export interface WordsMessage {
  readonly type: "words";
  readonly words: readonly WordsRecord[];
}

/**
 * `connecting`: nothing has come yet. `live`: the reader answered. `reconnecting`: it is lost and tried again. `ended`: a recording is over, or the reader will not be tried again.
 */
export type FeedState = "connecting" | "live" | "reconnecting" | "ended";

export interface StateMessage {
  readonly type: "state";
  readonly state: FeedState;
  /** Why, in one English sentence; null when there is nothing to say. */
  readonly sentence: string | null;
  /** Number of the try that is under way or waited for; null unless reconnecting. */
  readonly attempt: number | null;
  /** Seconds until that try; null unless reconnecting. */
  readonly next_try_s: number | null;
}

export interface TagPresence {
  readonly epc: string;
  readonly seen: number;
  /** Of those, Reads that failed. */
  readonly failed: number;
  /** Rounds without the tag; null for a recording, whose rounds are not known. */
  readonly missed: number | null;
  /** Sightings a second over the whole session; null for fewer than two. */
  readonly per_second: number | null;
  /** Time since the tag was last seen. */
  readonly age_s: number;
  readonly rssi_dbm: number | null;
}

/** Twice a second, with or without news: a page that hears none has lost the server. */
export interface PresenceMessage {
  readonly type: "presence";
  /** Session time now. */
  readonly now_s: number;
  /** Rounds of inventory a second that were asked for; null for a recording. */
  readonly rounds_per_second: number | null;
  readonly tags: readonly TagPresence[];
  /** Messages this page lost because it did not keep up. */
  readonly dropped: number;
}

export const markKinds = ["wrapped", "stood", "walked", "rested", "note"] as const;
export type MarkKind = (typeof markKinds)[number];

/** An event at the bench. */
export interface Mark {
  readonly id: number;
  readonly kind: MarkKind;
  readonly time_s: number;
  /** ISO 8601 in UTC. */
  readonly at: string;
  /** Words of whoever marked it; empty but for a note. */
  readonly text: string;
}

/** To every page, the one that marked it included. */
export interface MarkMessage {
  readonly type: "mark";
  readonly mark: Mark;
}

export interface UnmarkedMessage {
  readonly type: "unmarked";
  readonly id: number;
}

/** What was asked for was refused; `code` is for the page's own words, `sentence` is in English. */
export interface ErrorMessage {
  readonly type: "error";
  readonly code: ErrorCode;
  readonly sentence: string;
}

export type ErrorCode =
  | "message_invalid"
  | "too_fast"
  | "nothing_read_yet"
  | "tag_unknown"
  | "calibration_elsewhere"
  | "calibration_not_now";

/**
 * `idle`: none under way. `apply`: the load of the step is to be applied. `settling`: it was, and is looked at. `unsettled`:
 * it did not settle in time; wait, take or skip. `done`: all steps are through, or a person stopped.
 */
export type CalibrationPhase = "idle" | "apply" | "settling" | "unsettled" | "done";

export interface CalibrationStep {
  /** Counted from 1. */
  readonly number: number;
  readonly of: number;
  readonly cycle: number;
  readonly direction: "up" | "down";
  /** Load to be applied. */
  readonly load_mmhg: number;
}

export interface StabilityJudgement {
  readonly stable: boolean;
  /** Readings looked at, and the least number of them. */
  readonly count: number;
  readonly least_count: number;
  /** Change of their trend and scatter about it; null with fewer than three. */
  readonly change_pa: number | null;
  readonly scatter_pa: number | null;
  readonly change_limit_pa: number;
  readonly scatter_limit_pa: number;
}

/** One settled point: mean of its readings. */
export interface CalibrationPoint {
  readonly step: number;
  readonly cycle: number;
  readonly direction: "up" | "down";
  readonly reference_mmhg: number;
  /** What the tag gave less ambient, without any calibration. */
  readonly sensor_gauge_mmhg: number;
  readonly temperature_cel: number | null;
  /** Reading by the fitted block less what was applied; null while nothing can be fitted. */
  readonly residual_mmhg: number | null;
  /** Taken although it had not settled. */
  readonly unsettled: boolean;
}

/** The calibration as far as it goes: members of the certificate that `plyframe calibrate fit` makes of the same run. */
export type CalibrationFit = Pick<Certificate, "method" | "model" | "budget" | "valid_until" | "block"> & {
  /** What the bench run leaves open; `code` is of a closed list, `sentence` in English. */
  readonly findings: readonly { readonly code: string; readonly sentence: string }[];
};

export interface CalibrationState {
  readonly type: "calibration";
  readonly phase: CalibrationPhase;
  /** Tag being calibrated; null when idle. */
  readonly epc: string | null;
  /** Number of the page that guides it; null: none, and the first to ask does. */
  readonly page: number | null;
  readonly step: CalibrationStep | null;
  readonly stability: StabilityJudgement | null;
  readonly points: readonly CalibrationPoint[];
  readonly fit: CalibrationFit | null;
  /** The run as CSV, for `plyframe calibrate fit`; null until done. */
  readonly csv: string | null;
  /** What makes the certificate of that file, as it is typed. */
  readonly command: string;
}

export type ServerMessage =
  | Hello
  | PastMessage
  | ReadingsMessage
  | WordsMessage
  | StateMessage
  | PresenceMessage
  | MarkMessage
  | UnmarkedMessage
  | CalibrationState
  | ErrorMessage;

/** `GET ./pairing`. */
export interface PairingState {
  /** Whether this server wants a code. */
  readonly needed: boolean;
  readonly paired: boolean;
}
