/**
 * LLRP's parameters by type number. Source: GS1/EPCglobal Low Level Reader Protocol 1.0.1, its open definition file, and
 * what Wireshark's dissector adds of 1.1; 217 and 225 from memory. Parameters of radio surveys, state-aware inventory,
 * recommissioning and block permalock are left out: they are skipped by their length like any other unknown one.
 */
import { fieldsOf, type LlrpParameterSpec, placesOf } from "./vocabulary.ts";

const tv = (type: number, name: string, fields: string): LlrpParameterSpec => ({
  form: "tv",
  type,
  name,
  fields: fieldsOf(fields),
  places: [],
});

const tlv = (type: number, name: string, fields: string, places = ""): LlrpParameterSpec => ({
  form: "tlv",
  type,
  name,
  fields: fieldsOf(fields),
  places: placesOf(places),
});

const ACCESS = "OpSpecID:u16 AccessPassword:u32";
const WORDS = "MB:u2 _:6 WordPointer:u16";
const OP_SPECS = "C1G2Read|C1G2Write|C1G2Kill|C1G2Lock|C1G2BlockErase|C1G2BlockWrite";
const RESULTS =
  "C1G2ReadOpSpecResult|C1G2WriteOpSpecResult|C1G2KillOpSpecResult|C1G2LockOpSpecResult|C1G2BlockEraseOpSpecResult|C1G2BlockWriteOpSpecResult";
const EVENTS =
  "HoppingEvent? GPIEvent? ROSpecEvent? ReportBufferLevelWarningEvent? ReportBufferOverflowErrorEvent? ReaderExceptionEvent? AISpecEvent? AntennaEvent? ConnectionAttemptEvent? ConnectionCloseEvent?";

const inReports = [
  tv(1, "AntennaID", "AntennaID:u16"),
  tv(2, "FirstSeenTimestampUTC", "Microseconds:u64"),
  tv(3, "FirstSeenTimestampUptime", "Microseconds:u64"),
  tv(4, "LastSeenTimestampUTC", "Microseconds:u64"),
  tv(5, "LastSeenTimestampUptime", "Microseconds:u64"),
  tv(6, "PeakRSSI", "PeakRSSI:s8"),
  tv(7, "ChannelIndex", "ChannelIndex:u16"),
  tv(8, "TagSeenCount", "TagCount:u16"),
  tv(9, "ROSpecID", "ROSpecID:u32"),
  tv(10, "InventoryParameterSpecID", "InventoryParameterSpecID:u16"),
  tv(11, "C1G2_CRC", "CRC:u16"),
  tv(12, "C1G2_PC", "PC_Bits:u16"),
  tv(13, "EPC-96", "EPC:h96"),
  tv(14, "SpecIndex", "SpecIndex:u16"),
  tv(15, "ClientRequestOpSpecResult", "OpSpecID:u16"),
  tv(16, "AccessSpecID", "AccessSpecID:u32"),
  tv(17, "OpSpecID", "OpSpecID:u16"),
  tv(18, "C1G2SingulationDetails", "NumCollisionSlots:u16 NumEmptySlots:u16"),
  tv(19, "C1G2_XPC_W1", "XPC_W1:u16"),
  tv(20, "C1G2_XPC_W2", "XPC_W2:u16"),
];

const capabilities = [
  tlv(
    137,
    "GeneralDeviceCapabilities",
    "MaxNumberOfAntennaSupported:u16 CanSetAntennaProperties:u1 HasUTCClockCapability:u1 _:14 DeviceManufacturerName:u32 ModelName:u32 ReaderFirmwareVersion:utf8v",
    "ReceiveSensitivityTableEntry+ PerAntennaReceiveSensitivityRange* GPIOCapabilities PerAntennaAirProtocol+",
  ),
  tlv(139, "ReceiveSensitivityTableEntry", "Index:u16 ReceiveSensitivityValue:s16"),
  tlv(140, "PerAntennaAirProtocol", "AntennaID:u16 ProtocolID:u8v"),
  tlv(141, "GPIOCapabilities", "NumGPIs:u16 NumGPOs:u16"),
  tlv(
    142,
    "LLRPCapabilities",
    "CanDoRFSurvey:u1 CanReportBufferFillWarning:u1 SupportsClientRequestOpSpec:u1 CanDoTagInventoryStateAwareSingulation:u1 SupportsEventAndReportHolding:u1 _:3 MaxNumPriorityLevelsSupported:u8 ClientRequestOpSpecTimeout:u16 MaxNumROSpecs:u32 MaxNumSpecsPerROSpec:u32 MaxNumInventoryParameterSpecsPerAISpec:u32 MaxNumAccessSpecs:u32 MaxNumOpSpecsPerAccessSpec:u32",
  ),
  tlv(143, "RegulatoryCapabilities", "CountryCode:u16 CommunicationsStandard:u16", "UHFBandCapabilities?"),
  tlv(144, "UHFBandCapabilities", "", "TransmitPowerLevelTableEntry+ FrequencyInformation UHFC1G2RFModeTable+"),
  tlv(145, "TransmitPowerLevelTableEntry", "Index:u16 TransmitPowerValue:s16"),
  tlv(146, "FrequencyInformation", "Hopping:u1 _:7", "FrequencyHopTable* FixedFrequencyTable?"),
  tlv(147, "FrequencyHopTable", "HopTableID:u8 _:8 Frequency:u32v"),
  tlv(148, "FixedFrequencyTable", "Frequency:u32v"),
  tlv(
    149,
    "PerAntennaReceiveSensitivityRange",
    "AntennaID:u16 ReceiveSensitivityIndexMin:u16 ReceiveSensitivityIndexMax:u16",
  ),
  tlv(
    327,
    "C1G2LLRPCapabilities",
    "CanSupportBlockErase:u1 CanSupportBlockWrite:u1 _:6 MaxNumSelectFiltersPerQuery:u16",
  ),
  tlv(328, "UHFC1G2RFModeTable", "", "UHFC1G2RFModeTableEntry+"),
  tlv(
    329,
    "UHFC1G2RFModeTableEntry",
    "ModeIdentifier:u32 DRValue:u1 EPCHAGTCConformance:u1 _:6 MValue:u8 ForwardLinkModulation:u8 SpectralMaskIndicator:u8 BDRValue:u32 PIEValue:u32 MinTariValue:u32 MaxTariValue:u32 StepTariValue:u32",
  ),
];

const operations = [
  tlv(177, "ROSpec", "ROSpecID:u32 Priority:u8 CurrentState:u8", "ROBoundarySpec AISpec+ ROReportSpec?"),
  tlv(178, "ROBoundarySpec", "", "ROSpecStartTrigger ROSpecStopTrigger"),
  tlv(179, "ROSpecStartTrigger", "ROSpecStartTriggerType:u8", "PeriodicTriggerValue? GPITriggerValue?"),
  tlv(180, "PeriodicTriggerValue", "Offset:u32 Period:u32", "UTCTimestamp?"),
  tlv(181, "GPITriggerValue", "GPIPortNum:u16 GPIEvent:u1 _:7 Timeout:u32"),
  tlv(182, "ROSpecStopTrigger", "ROSpecStopTriggerType:u8 DurationTriggerValue:u32", "GPITriggerValue?"),
  tlv(183, "AISpec", "AntennaIDs:u16v", "AISpecStopTrigger InventoryParameterSpec+"),
  tlv(
    184,
    "AISpecStopTrigger",
    "AISpecStopTriggerType:u8 DurationTrigger:u32",
    "GPITriggerValue? TagObservationTrigger?",
  ),
  tlv(185, "TagObservationTrigger", "TriggerType:u8 _:8 NumberOfTags:u16 NumberOfAttempts:u16 T:u16 Timeout:u32"),
  tlv(186, "InventoryParameterSpec", "InventoryParameterSpecID:u16 ProtocolID:u8", "AntennaConfiguration*"),
  tlv(
    207,
    "AccessSpec",
    "AccessSpecID:u32 AntennaID:u16 ProtocolID:u8 CurrentState:u1 _:7 ROSpecID:u32",
    "AccessSpecStopTrigger AccessCommand AccessReportSpec?",
  ),
  tlv(208, "AccessSpecStopTrigger", "AccessSpecStopTrigger:u8 OperationCountValue:u16"),
  tlv(209, "AccessCommand", "", `C1G2TagSpec ${OP_SPECS}+`),
];

const configuration = [
  tlv(217, "LLRPConfigurationStateValue", "LLRPConfigurationStateValue:u32"),
  tlv(218, "Identification", "IDType:u8 ReaderID:u8v"),
  tlv(219, "GPOWriteData", "GPOPortNumber:u16 GPOData:u1 _:7"),
  tlv(220, "KeepaliveSpec", "KeepaliveTriggerType:u8 PeriodicTriggerValue:u32"),
  tlv(221, "AntennaProperties", "AntennaConnected:u1 _:7 AntennaID:u16 AntennaGain:s16"),
  tlv(222, "AntennaConfiguration", "AntennaID:u16", "RFReceiver? RFTransmitter? C1G2InventoryCommand*"),
  tlv(223, "RFReceiver", "ReceiverSensitivity:u16"),
  tlv(224, "RFTransmitter", "HopTableID:u16 ChannelIndex:u16 TransmitPower:u16"),
  tlv(225, "GPIPortCurrentState", "GPIPortNum:u16 Config:u1 _:7 State:u8"),
  tlv(226, "EventsAndReports", "HoldEventsAndReportsUponReconnect:u1 _:7"),
  tlv(244, "ReaderEventNotificationSpec", "", "EventNotificationState+"),
  tlv(245, "EventNotificationState", "EventType:u16 NotificationState:u1 _:7"),
];

const reports = [
  tlv(128, "UTCTimestamp", "Microseconds:u64"),
  tlv(129, "Uptime", "Microseconds:u64"),
  tlv(237, "ROReportSpec", "ROReportTrigger:u8 N:u16", "TagReportContentSelector"),
  tlv(
    238,
    "TagReportContentSelector",
    "EnableROSpecID:u1 EnableSpecIndex:u1 EnableInventoryParameterSpecID:u1 EnableAntennaID:u1 EnableChannelIndex:u1 EnablePeakRSSI:u1 EnableFirstSeenTimestamp:u1 EnableLastSeenTimestamp:u1 EnableTagSeenCount:u1 EnableAccessSpecID:u1 _:6",
    "C1G2EPCMemorySelector?",
  ),
  tlv(239, "AccessReportSpec", "AccessReportTrigger:u8"),
  tlv(
    240,
    "TagReportData",
    "",
    `EPCData|EPC-96 ROSpecID? SpecIndex? InventoryParameterSpecID? AntennaID? PeakRSSI? ChannelIndex? FirstSeenTimestampUTC? FirstSeenTimestampUptime? LastSeenTimestampUTC? LastSeenTimestampUptime? TagSeenCount? C1G2_PC? C1G2_CRC? C1G2_XPC_W1? C1G2_XPC_W2? AccessSpecID? ${RESULTS}|ClientRequestOpSpecResult*`,
  ),
  tlv(241, "EPCData", "EPC:u1v"),
  tlv(246, "ReaderEventNotificationData", "", `UTCTimestamp|Uptime ${EVENTS}`),
  tlv(247, "HoppingEvent", "HopTableID:u16 NextChannelIndex:u16"),
  tlv(248, "GPIEvent", "GPIPortNumber:u16 GPIEvent:u1 _:7"),
  tlv(249, "ROSpecEvent", "EventType:u8 ROSpecID:u32 PreemptingROSpecID:u32"),
  tlv(250, "ReportBufferLevelWarningEvent", "ReportBufferPercentageFull:u8"),
  tlv(251, "ReportBufferOverflowErrorEvent", ""),
  tlv(
    252,
    "ReaderExceptionEvent",
    "Message:utf8v",
    "ROSpecID? SpecIndex? InventoryParameterSpecID? AntennaID? AccessSpecID? OpSpecID?",
  ),
  tlv(254, "AISpecEvent", "EventType:u8 ROSpecID:u32 SpecIndex:u16", "C1G2SingulationDetails?"),
  tlv(255, "AntennaEvent", "EventType:u8 AntennaID:u16"),
  tlv(256, "ConnectionAttemptEvent", "Status:u16"),
  tlv(257, "ConnectionCloseEvent", ""),
  tlv(287, "LLRPStatus", "StatusCode:u16 ErrorDescription:utf8v", "FieldError? ParameterError?"),
  tlv(288, "FieldError", "FieldNum:u16 ErrorCode:u16"),
  tlv(289, "ParameterError", "ParameterType:u16 ErrorCode:u16", "FieldError? ParameterError?"),
];

const airProtocol = [
  tlv(
    330,
    "C1G2InventoryCommand",
    "TagInventoryStateAware:u1 _:7",
    "C1G2Filter* C1G2RFControl? C1G2SingulationControl?",
  ),
  tlv(331, "C1G2Filter", "T:u2 _:6", "C1G2TagInventoryMask"),
  tlv(332, "C1G2TagInventoryMask", "MB:u2 _:6 Pointer:u16 TagMask:u1v"),
  tlv(335, "C1G2RFControl", "ModeIndex:u16 Tari:u16"),
  tlv(336, "C1G2SingulationControl", "Session:u2 _:6 TagPopulation:u16 TagTransitTime:u32"),
  tlv(338, "C1G2TagSpec", "", "C1G2TargetTag+"),
  tlv(339, "C1G2TargetTag", "MB:u2 Match:u1 _:5 Pointer:u16 TagMask:u1v TagData:u1v"),
  tlv(341, "C1G2Read", `${ACCESS} ${WORDS} WordCount:u16`),
  tlv(342, "C1G2Write", `${ACCESS} ${WORDS} WriteData:u16v`),
  tlv(343, "C1G2Kill", "OpSpecID:u16 KillPassword:u32"),
  tlv(344, "C1G2Lock", ACCESS, "C1G2LockPayload+"),
  tlv(345, "C1G2LockPayload", "Privilege:u8 DataField:u8"),
  tlv(346, "C1G2BlockErase", `${ACCESS} ${WORDS} WordCount:u16`),
  tlv(347, "C1G2BlockWrite", `${ACCESS} ${WORDS} WriteData:u16v`),
  tlv(348, "C1G2EPCMemorySelector", "EnableCRC:u1 EnablePCBits:u1 EnableXPCBits:u1 _:5"),
  tlv(349, "C1G2ReadOpSpecResult", "Result:u8 OpSpecID:u16 ReadData:u16v"),
  tlv(350, "C1G2WriteOpSpecResult", "Result:u8 OpSpecID:u16 NumWordsWritten:u16"),
  tlv(351, "C1G2KillOpSpecResult", "Result:u8 OpSpecID:u16"),
  tlv(352, "C1G2LockOpSpecResult", "Result:u8 OpSpecID:u16"),
  tlv(353, "C1G2BlockEraseOpSpecResult", "Result:u8 OpSpecID:u16"),
  tlv(354, "C1G2BlockWriteOpSpecResult", "Result:u8 OpSpecID:u16 NumWordsWritten:u16"),
];

/** The one parameter that may stand anywhere: what a maker adds. */
export const CUSTOM = "Custom";

/** Every parameter this program knows. */
export const parameters: readonly LlrpParameterSpec[] = [
  ...inReports,
  ...capabilities,
  ...operations,
  ...configuration,
  ...reports,
  ...airProtocol,
  tlv(1023, CUSTOM, "VendorIdentifier:u32 ParameterSubtype:u32 Data:rest"),
];

const keyOf = (form: "tv" | "tlv", type: number) => (form === "tv" ? -type : type);
const byType = new Map(parameters.map((spec) => [keyOf(spec.form, spec.type), spec]));
const byName = new Map(parameters.map((spec) => [spec.name, spec]));

export function parameterByType(form: "tv" | "tlv", type: number): LlrpParameterSpec | undefined {
  return byType.get(keyOf(form, type));
}

export function parameterByName(name: string): LlrpParameterSpec | undefined {
  return byName.get(name);
}
