/** What an LLRP reader says it is and can do. */
import { type LlrpElement, numberOf, parameterOf } from "../../protocol/llrp/vocabulary.ts";
import type { ChannelPlan, ReaderInfo } from "./reader.ts";

/** Entry of the reader's table of powers. */
export interface PowerStep {
  readonly index: number;
  readonly dbm: number;
}

export interface LlrpAbilities {
  readonly info: ReaderInfo;
  readonly powers: readonly PowerStep[];
  /** AccessSpecs the reader keeps at once; null when it does not say. */
  readonly maxAccessSpecs: number | null;
}

const BANDS: { readonly [plan in ChannelPlan]: readonly [lowKhz: number, highKhz: number] } = {
  eu_lower: [865_000, 868_000],
  eu_upper: [915_000, 921_000],
  us: [902_000, 928_000],
};

/** `response`: GET_READER_CAPABILITIES_RESPONSE. */
export function abilitiesOf(source: string, response: LlrpElement): LlrpAbilities {
  const regulatory = parameterOf(response, "RegulatoryCapabilities");
  const band = regulatory && parameterOf(regulatory, "UHFBandCapabilities");
  const powers = (band?.parameters ?? [])
    .filter(({ name }) => name === "TransmitPowerLevelTableEntry")
    .map((entry) => ({ index: numberOf(entry, "Index"), dbm: numberOf(entry, "TransmitPowerValue") / 100 }));
  const air = parameterOf(response, "C1G2LLRPCapabilities");
  const limits = parameterOf(response, "LLRPCapabilities");
  const most = limits ? numberOf(limits, "MaxNumAccessSpecs") : 0;
  const dbm = powers.map((power) => power.dbm);
  const info = {
    source,
    blockWrite: air !== undefined && numberOf(air, "CanSupportBlockWrite") === 1,
    lock: true,
    // LLRP has no word for one.
    barometer: false,
    channelPlans: plansOf(band),
    powerLowDbm: dbm.length > 0 ? Math.min(...dbm) : null,
    powerHighDbm: dbm.length > 0 ? Math.max(...dbm) : null,
    barometerUncertaintyPa: null,
    kitTimeUs: 0,
  };
  // 0 stands for "not said", and for no limit in some readers.
  return { info, powers, maxAccessSpecs: most === 0 ? null : most };
}

/** The one plan all of its frequencies lie in: LLRP readers keep to their region by themselves. */
function plansOf(band: LlrpElement | undefined): ChannelPlan[] {
  const tables = band && parameterOf(band, "FrequencyInformation")?.parameters;
  const frequencies = (tables ?? []).flatMap(({ values }) => (values.Frequency as readonly number[] | undefined) ?? []);
  if (frequencies.length === 0) return [];
  const fits = ([, [low, high]]: [string, readonly [number, number]]) =>
    frequencies.every((khz) => khz >= low && khz <= high);
  const found = Object.entries(BANDS).find(fits);
  return found ? [found[0] as ChannelPlan] : [];
}
