/**
 * LLRP's messages by type number. Source: GS1/EPCglobal Low Level Reader Protocol 1.0.1, its open definition file; 46, 47,
 * 56 and 57 (version 1.1) as Wireshark's dissector has them.
 */
import { fieldsOf, type LlrpMessageSpec, placesOf } from "./vocabulary.ts";

const message = (type: number, name: string, fields = "", places = ""): LlrpMessageSpec => ({
  type,
  name,
  fields: fieldsOf(fields),
  places: placesOf(places),
});

const STATUS = "LLRPStatus";

/** Every message this program knows. */
export const messages: readonly LlrpMessageSpec[] = [
  message(1, "GET_READER_CAPABILITIES", "RequestedData:u8"),
  message(
    11,
    "GET_READER_CAPABILITIES_RESPONSE",
    "",
    `${STATUS} GeneralDeviceCapabilities? LLRPCapabilities? RegulatoryCapabilities? C1G2LLRPCapabilities?`,
  ),
  message(2, "GET_READER_CONFIG", "AntennaID:u16 RequestedData:u8 GPIPortNum:u16 GPOPortNum:u16"),
  message(
    12,
    "GET_READER_CONFIG_RESPONSE",
    "",
    `${STATUS} Identification? AntennaProperties* AntennaConfiguration* ReaderEventNotificationSpec? ROReportSpec? AccessReportSpec? LLRPConfigurationStateValue? KeepaliveSpec? GPIPortCurrentState* GPOWriteData* EventsAndReports?`,
  ),
  message(
    3,
    "SET_READER_CONFIG",
    "ResetToFactoryDefault:u1 _:7",
    "ReaderEventNotificationSpec? AntennaProperties* AntennaConfiguration* ROReportSpec? AccessReportSpec? KeepaliveSpec? GPOWriteData* GPIPortCurrentState* EventsAndReports?",
  ),
  message(13, "SET_READER_CONFIG_RESPONSE", "", STATUS),
  message(14, "CLOSE_CONNECTION"),
  message(4, "CLOSE_CONNECTION_RESPONSE", "", STATUS),
  message(20, "ADD_ROSPEC", "", "ROSpec"),
  message(30, "ADD_ROSPEC_RESPONSE", "", STATUS),
  message(21, "DELETE_ROSPEC", "ROSpecID:u32"),
  message(31, "DELETE_ROSPEC_RESPONSE", "", STATUS),
  message(22, "START_ROSPEC", "ROSpecID:u32"),
  message(32, "START_ROSPEC_RESPONSE", "", STATUS),
  message(23, "STOP_ROSPEC", "ROSpecID:u32"),
  message(33, "STOP_ROSPEC_RESPONSE", "", STATUS),
  message(24, "ENABLE_ROSPEC", "ROSpecID:u32"),
  message(34, "ENABLE_ROSPEC_RESPONSE", "", STATUS),
  message(25, "DISABLE_ROSPEC", "ROSpecID:u32"),
  message(35, "DISABLE_ROSPEC_RESPONSE", "", STATUS),
  message(26, "GET_ROSPECS"),
  message(36, "GET_ROSPECS_RESPONSE", "", `${STATUS} ROSpec*`),
  message(40, "ADD_ACCESSSPEC", "", "AccessSpec"),
  message(50, "ADD_ACCESSSPEC_RESPONSE", "", STATUS),
  message(41, "DELETE_ACCESSSPEC", "AccessSpecID:u32"),
  message(51, "DELETE_ACCESSSPEC_RESPONSE", "", STATUS),
  message(42, "ENABLE_ACCESSSPEC", "AccessSpecID:u32"),
  message(52, "ENABLE_ACCESSSPEC_RESPONSE", "", STATUS),
  message(43, "DISABLE_ACCESSSPEC", "AccessSpecID:u32"),
  message(53, "DISABLE_ACCESSSPEC_RESPONSE", "", STATUS),
  message(44, "GET_ACCESSSPECS"),
  message(54, "GET_ACCESSSPECS_RESPONSE", "", `${STATUS} AccessSpec*`),
  message(60, "GET_REPORT"),
  message(61, "RO_ACCESS_REPORT", "", "TagReportData*"),
  message(62, "KEEPALIVE"),
  message(72, "KEEPALIVE_ACK"),
  message(63, "READER_EVENT_NOTIFICATION", "", "ReaderEventNotificationData"),
  message(64, "ENABLE_EVENTS_AND_REPORTS"),
  message(100, "ERROR_MESSAGE", "", STATUS),
  message(46, "GET_SUPPORTED_VERSION"),
  message(56, "GET_SUPPORTED_VERSION_RESPONSE", "CurrentVersion:u8 SupportedVersion:u8", STATUS),
  message(47, "SET_PROTOCOL_VERSION", "ProtocolVersion:u8"),
  message(57, "SET_PROTOCOL_VERSION_RESPONSE", "", STATUS),
  message(1023, "CUSTOM_MESSAGE", "VendorIdentifier:u32 MessageSubtype:u8 Data:rest"),
];

const byType = new Map(messages.map((spec) => [spec.type, spec]));
const byName = new Map(messages.map((spec) => [spec.name, spec]));

export function messageByType(type: number): LlrpMessageSpec | undefined {
  return byType.get(type);
}

export function messageByName(name: string): LlrpMessageSpec | undefined {
  return byName.get(name);
}
