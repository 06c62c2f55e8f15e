/** What the simulated LLRP reader says of itself. An invented device: no maker's number stands in it. */
import { element, type LlrpElement } from "../../protocol/llrp/vocabulary.ts";
import { CHANNEL_RULES } from "./channel-rule.ts";
import { POWER_HIGH_DBM, POWER_LOW_DBM } from "./transmitter.ts";

/** Carrier frequencies in kHz; a channel index of LLRP is counted from 1. */
export const CHANNELS: readonly number[] = CHANNEL_RULES.eu_lower.channelsKhz;

/** Steps of 1 dB; an index of LLRP is counted from 1. */
const POWERS_DBM = Array.from({ length: POWER_HIGH_DBM - POWER_LOW_DBM + 1 }, (_, i) => POWER_LOW_DBM + i);

/** Power of an index of the table; undefined when the table has no such entry. */
export function powerOfIndex(index: number): number | undefined {
  return POWERS_DBM[index - 1];
}

export const HIGHEST_POWER_INDEX = POWERS_DBM.length;

/** ETSI EN 302 208 in the standard's list. */
const ETSI_302_208 = 2;
const AIR_C1G2 = "01";

const general = element(
  "GeneralDeviceCapabilities",
  {
    MaxNumberOfAntennaSupported: 1,
    CanSetAntennaProperties: 0,
    HasUTCClockCapability: 1,
    DeviceManufacturerName: 0,
    ModelName: 0,
    ReaderFirmwareVersion: "simulated",
  },
  [
    element("ReceiveSensitivityTableEntry", { Index: 1, ReceiveSensitivityValue: 0 }),
    element("GPIOCapabilities", { NumGPIs: 0, NumGPOs: 0 }),
    element("PerAntennaAirProtocol", { AntennaID: 1, ProtocolID: AIR_C1G2 }),
  ],
);

/** Specs the reader keeps at once. */
export const MAX_ROSPECS = 1;
export const MAX_ACCESSSPECS = 16;
const MAX_OPSPECS = 8;

const llrp = element("LLRPCapabilities", {
  CanDoRFSurvey: 0,
  CanReportBufferFillWarning: 0,
  SupportsClientRequestOpSpec: 0,
  CanDoTagInventoryStateAwareSingulation: 0,
  SupportsEventAndReportHolding: 0,
  MaxNumPriorityLevelsSupported: 1,
  ClientRequestOpSpecTimeout: 0,
  MaxNumROSpecs: MAX_ROSPECS,
  MaxNumSpecsPerROSpec: 1,
  MaxNumInventoryParameterSpecsPerAISpec: 1,
  MaxNumAccessSpecs: MAX_ACCESSSPECS,
  MaxNumOpSpecsPerAccessSpec: MAX_OPSPECS,
});

/** FM0 at 40 kbit/s with a Tari of 25 µs: plain enough for any tag. */
const mode = element("UHFC1G2RFModeTableEntry", {
  ModeIdentifier: 0,
  DRValue: 0,
  EPCHAGTCConformance: 0,
  MValue: 0,
  ForwardLinkModulation: 2,
  SpectralMaskIndicator: 0,
  BDRValue: 40_000,
  PIEValue: 2000,
  MinTariValue: 25_000,
  MaxTariValue: 25_000,
  StepTariValue: 0,
});

const regulatory = element("RegulatoryCapabilities", { CountryCode: 0, CommunicationsStandard: ETSI_302_208 }, [
  element("UHFBandCapabilities", {}, [
    ...POWERS_DBM.map((dbm, i) =>
      element("TransmitPowerLevelTableEntry", { Index: i + 1, TransmitPowerValue: dbm * 100 }),
    ),
    element("FrequencyInformation", { Hopping: 0 }, [element("FixedFrequencyTable", { Frequency: CHANNELS })]),
    element("UHFC1G2RFModeTable", {}, [mode]),
  ]),
]);

const airProtocol = element("C1G2LLRPCapabilities", {
  CanSupportBlockErase: 0,
  CanSupportBlockWrite: 1,
  MaxNumSelectFiltersPerQuery: 0,
});

/** By GET_READER_CAPABILITIES' number: 0 is all of them. */
export function capabilities(requested: number): LlrpElement[] | null {
  const all = [general, llrp, regulatory, airProtocol];
  if (requested === 0) return all;
  const one = all[requested - 1];
  return one ? [one] : null;
}
