/** A calibrated reading out of the words of a tag and an ambient pressure, with what the package exports. */
import {
  calibratedAbsolute,
  calibratedGauge,
  chooseSlot,
  decode,
  divideRounded,
  type Fault,
  flagsOf,
  identifyHeader,
  isFault,
  layout,
  namedRaws,
  recordOf,
} from "plyframe";

const NOMINAL = {
  offset: 0,
  gain: 1_048_576,
  temperatureEffect: 0,
  gainTemperature: 0,
  curvature: 0,
  referenceTemperature: 0,
};
const NOT_MEASURED = { pressure: 16_777_215, temperature: -32_768 };
const NOT_STATED = 65_535;
/** With one of these flags nobody can say how far a pressure is off. */
const DOUBTFUL = ["sensor_fault", "pressure_at_limit", "supply_low"];

/** `memory`: USER words 0 to 31; `blocks`: words 40 to 71. Pressures in 1/128 Pa, expanded uncertainties (k = 2) in Pa. */
export function reading(memory: Uint8Array, blocks: Uint8Array, ambient: number | null, ambientU: number | null) {
  const identified = identifyHeader([layout], memory);
  if (isFault(identified)) return identified;
  const { slot, frame, fault } = chooseSlot(recordOf(layout, "frame"), memory, 16, 32);
  if (fault) return fault;
  const { pressure, temperature } = namedRaws(frame!, "frame");
  const { copy, block } = calibrationOf(blocks, namedRaws(identified.header, "header").sensorSerial);
  const celsius100 = temperature === NOT_MEASURED.temperature ? null : temperature;
  const none = {
    slot,
    copy,
    absolute_raw: null,
    gauge_raw: null,
    gauge_thousandths_mmhg: null,
    uncertainty_thousandths_pa: null,
  };
  if (pressure === NOT_MEASURED.pressure) return none;
  const absolute = calibratedAbsolute(pressure, celsius100, block ?? NOMINAL);
  if (ambient === null) return { ...none, absolute_raw: absolute };
  const gauge = calibratedGauge(absolute, ambient, celsius100, block ?? NOMINAL);
  if (gauge === null) return beyondLimit();
  const covered =
    block !== null &&
    !flagsOf(frame!, "status").some((flag) => DOUBTFUL.includes(flag)) &&
    celsius100 !== null &&
    celsius100 >= 100 * block.temperatureLow &&
    celsius100 <= 100 * block.temperatureHigh &&
    gauge <= block.span * 12_800;
  const own = covered && block.expandedUncertainty !== NOT_STATED ? block.expandedUncertainty : null;
  return {
    ...none,
    absolute_raw: absolute,
    gauge_raw: gauge,
    gauge_thousandths_mmhg: thousandthsMmhg(gauge),
    uncertainty_thousandths_pa: own === null || ambientU === null ? null : Math.round(1000 * Math.hypot(own, ambientU)),
  };
}

/** The first whole copy that belongs to this sensor. */
function calibrationOf(blocks: Uint8Array, serial: number) {
  for (const copy of [1, 2]) {
    const decoded = decode(recordOf(layout, "calibration"), blocks, 32 * (copy - 1), 32 * copy);
    if (isFault(decoded)) continue;
    const block = namedRaws(decoded, "calibration");
    if (block.sensorSerial === serial) return { copy, block };
  }
  return { copy: null, block: null };
}

/** 1 mmHg = 133.322387415 Pa. */
function thousandthsMmhg(gauge: number): number {
  return divideRounded(Math.round((gauge * 1e9) / 133_322.387_415), 128_000);
}

function beyondLimit(): Fault {
  return {
    code: "value-out-of-range",
    byte: 0,
    bit: null,
    path: "reading.gauge",
    expected: "at most 40 kPa",
    actual: "more",
  };
}
