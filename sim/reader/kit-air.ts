/** What stands before a simulated reader: its carrier, the scenario's tags, and the reader's work on them. */
import type { LinkProfile } from "../air/timing.ts";
import { Random } from "../random.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { Tag } from "../tag/tag.ts";
import { Field } from "./field.ts";
import { Interrogator } from "./interrogator.ts";
import { Transmitter } from "./transmitter.ts";

/** A middling link: 12.5 µs Tari, 320 kHz, Miller with two cycles. Common practice, no source. */
const PROFILE: LinkProfile = { tariUs: 12.5, rtcalUs: 31.25, trcalUs: 200 / 3, dr: 1, m: 1, trext: false };
/** What a reader's receiver needs, and how much stronger the one of two replies must be: common practice, no source. */
const SENSITIVITY_DBM = -74;
const CAPTURE_DB = 10;

/** The same scenario gives the same air. */
export function airOf(scenario: Scenario): {
  readonly tags: readonly Tag[];
  readonly transmitter: Transmitter;
  readonly interrogator: Interrogator;
} {
  const transmitter = new Transmitter(new Random(scenario.seed, "channels"));
  const carrier = (nowUs: number) => transmitter.carrierDbm(nowUs);
  const tags = scenario.tags.map((tag) => new Tag(scenario, tag, carrier));
  const options = { profile: PROFILE, sensitivityDbm: SENSITIVITY_DBM, captureDb: CAPTURE_DB };
  const field = new Field(tags, new Random(scenario.seed, "receiver"), options);
  return { tags, transmitter, interrogator: new Interrogator(field, transmitter) };
}
