/**
 * The closed list of quality flags. A flag that `voids` the uncertainty stands for a contribution that is not known: no
 * expanded uncertainty is given beside it.
 */
export type Severity = "info" | "warning" | "invalid";

export interface Quality {
  readonly severity: Severity;
  readonly voids: boolean;
  readonly says: string;
}

const info = (says: string): Quality => ({ severity: "info", voids: false, says });
const warning = (says: string): Quality => ({ severity: "warning", voids: false, says });
const unknown = (says: string): Quality => ({ severity: "warning", voids: true, says });
const invalid = (says: string): Quality => ({ severity: "invalid", voids: true, says });

export const qualities = {
  // Status of the frame or burst, as the tag set it.
  first_after_cold_start: warning("first sample since power came back: the sensor may still settle"),
  brown_out: warning("the supply fell below its threshold since the last sample"),
  sensor_fault: invalid("the sensor did not answer or failed its self-check"),
  pressure_at_limit: invalid("the pressure is at an end of the sensor's range: the true one may lie beyond"),
  sample_lost: warning("a sample was lost: the sensor was not ready in time or its bus was busy"),
  calibration_missing: warning("the tag found neither copy of its calibration block whole"),
  supply_low: unknown("the supply was below the level at which the sensor is specified"),
  burst_ready: info("a burst was completed since the last frame and can be read"),
  // The sample.
  pressure_not_measured: invalid("the frame holds no pressure"),
  temperature_not_measured: unknown("the frame holds no temperature: the temperature terms are left out"),
  sample_at_limit: unknown("a burst sample is at the end of its range"),
  // The slots and their order in time.
  slot_a_bad: info("slot A did not hold a whole frame"),
  slot_b_bad: info("slot B did not hold a whole frame"),
  slot_a_empty: info("slot A was never written"),
  slot_b_empty: info("slot B was never written"),
  slots_identical: info("both slots hold the same frame"),
  sequence_gap: info("the slots do not hold neighbouring frames"),
  first_sight: info("first frame seen of this tag: how old it was then is not known"),
  repeated: info("the same frame as before, not a new sample"),
  stale: warning("no new sample for longer than three sampling periods and two seconds"),
  sequence_back: warning("an earlier frame than the newest one seen"),
  sequence_reused: warning("other contents under a sequence number already seen"),
  kit_time_back: warning("the kit's clock went back: ages start anew"),
  // Header and counters.
  header_not_read: warning("the header has not been read: sampling period and sensor serial are not known"),
  header_unreadable: warning("the header as last read was not whole"),
  counters_unreadable: info("no whole counters: reuse cycles are known from the calibration block alone"),
  reuse_since_calibration: warning("the tag went through reuse cycles since this calibration: a check is due"),
  reuse_limit_reached: warning("as many reuse cycles as the tag is meant for: it is to be retired"),
  // Calibration.
  uncalibrated: unknown("no usable calibration: offset 0 and gain 1 are taken"),
  calibration_not_read: warning("the calibration block has not been read"),
  calibration_unreadable: warning("neither copy of the calibration block is whole"),
  calibration_other_sensor: warning("the calibration block belongs to another sensor and is not used"),
  calibration_unverified: unknown("the calibration is used without knowing that it belongs to this sensor"),
  calibration_second_copy: info("the second copy of the calibration block is used"),
  calibration_copies_differ: warning("the two copies of the calibration block are whole but differ"),
  calibration_expired: warning("the calibration is past its validity"),
  calibration_dated_later: warning("the calibration is dated after the session"),
  calibration_age_unknown: info("calibration date or session date is not known: validity cannot be checked"),
  calibration_uncertainty_not_stated: unknown("the calibration states no uncertainty"),
  temperature_outside_calibration: unknown("the temperature is outside what the calibration covered"),
  gauge_beyond_span: unknown("the gauge pressure is beyond what the calibration covered"),
  // Ambient.
  ambient_missing: unknown("no ambient pressure: absolute pressure only"),
  ambient_tag: info("this tag is the ambient source: absolute pressure only"),
  ambient_old: unknown("the ambient pressure is more than a minute away in time"),
  ambient_uncertainty_not_stated: unknown("the ambient pressure has no stated uncertainty"),
  gauge_out_of_range: invalid("the difference from ambient is beyond what the arithmetic is specified for"),
  below_ambient: info("the gauge pressure is below ambient: no band"),
} as const satisfies Record<string, Quality>;

export type QualityId = keyof typeof qualities;

const order = new Map((Object.keys(qualities) as QualityId[]).map((id, index) => [id, index]));

/** Flags collected for one reading, each once, in the order of the list. */
export class QualityFlags {
  readonly #ids = new Set<QualityId>();

  add(...ids: readonly QualityId[]): void {
    for (const id of ids) this.#ids.add(id);
  }

  /** Whether a contribution to the uncertainty is not known. */
  get voided(): boolean {
    return [...this.#ids].some((id) => qualities[id].voids);
  }

  list(): QualityId[] {
    return [...this.#ids].sort((a, b) => order.get(a)! - order.get(b)!);
  }
}
