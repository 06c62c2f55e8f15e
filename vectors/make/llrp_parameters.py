"""
One of each parameter of LLRP, in a message where it may stand. Type numbers, fields and widths are written down from the
standard's definition file, from memory, and shown to Wireshark's dissector.
"""

from llrp_parts import message, part, tlv, whole

EPC96 = "3066c4409047e14000001a85"
EPC = part(13, "EPC-96", "EPC:u96", [int(EPC96, 16)])
EPC = (EPC[0], {**EPC[1], "values": {"EPC": EPC96}})
STATUS = part(287, "LLRPStatus", "StatusCode:u16 ErrorDescription:utf8v", [0, ""])
WORDS = {"bits": 20, "hex": "abcde0"}


# Values beside the EPC in a tag's report: TV parameters, and the results of accesses.
IN_REPORTS = (
    (1, "AntennaID", "AntennaID:u16", [0x1234]),
    (2, "FirstSeenTimestampUTC", "Microseconds:u64", [0x0102_0304_0506_0708]),
    (3, "FirstSeenTimestampUptime", "Microseconds:u64", [0xFFFF_FFFF_FFFF_FFFF]),
    (4, "LastSeenTimestampUTC", "Microseconds:u64", [2**53 + 1]),
    (5, "LastSeenTimestampUptime", "Microseconds:u64", [1]),
    (6, "PeakRSSI", "PeakRSSI:s8", [-67]),
    (7, "ChannelIndex", "ChannelIndex:u16", [0x5678]),
    (8, "TagSeenCount", "TagCount:u16", [0xFFFE]),
    (9, "ROSpecID", "ROSpecID:u32", [0x89AB_CDEF]),
    (10, "InventoryParameterSpecID", "InventoryParameterSpecID:u16", [0x1357]),
    (11, "C1G2_CRC", "CRC:u16", [0xC7C6]),
    (12, "C1G2_PC", "PC_Bits:u16", [0x3600]),
    (14, "SpecIndex", "SpecIndex:u16", [0x2468]),
    (16, "AccessSpecID", "AccessSpecID:u32", [0xFEDC_BA98]),
    (19, "C1G2_XPC_W1", "XPC_W1:u16", [0x0200]),
    (20, "C1G2_XPC_W2", "XPC_W2:u16", [0x8001]),
    (15, "ClientRequestOpSpecResult", "OpSpecID:u16", [0x0BAD]),
    (350, "C1G2WriteOpSpecResult", "Result:u8 OpSpecID:u16 NumWordsWritten:u16", [2, 0x1234, 0x0056]),
    (351, "C1G2KillOpSpecResult", "Result:u8 OpSpecID:u16", [1, 0x1235]),
    (352, "C1G2LockOpSpecResult", "Result:u8 OpSpecID:u16", [3, 0x1236]),
    (353, "C1G2BlockEraseOpSpecResult", "Result:u8 OpSpecID:u16", [4, 0x1237]),
    (354, "C1G2BlockWriteOpSpecResult", "Result:u8 OpSpecID:u16 NumWordsWritten:u16", [5, 0x1238, 0x0009]),
)


def in_reports():
    for entry in IN_REPORTS:
        yield entry[1], 61, "RO_ACCESS_REPORT", [part(240, "TagReportData", children=[EPC, part(*entry)])]


def in_events():
    """Events, with one of the two kinds of timestamp."""
    uptime = part(129, "Uptime", "Microseconds:u64", [1_234_567_890_123])
    inside = [
        part(9, "ROSpecID", "ROSpecID:u32", [7]),
        part(14, "SpecIndex", "SpecIndex:u16", [1]),
        part(10, "InventoryParameterSpecID", "InventoryParameterSpecID:u16", [2]),
        part(1, "AntennaID", "AntennaID:u16", [3]),
        part(16, "AccessSpecID", "AccessSpecID:u32", [4]),
        part(17, "OpSpecID", "OpSpecID:u16", [5]),
    ]
    slots = part(18, "C1G2SingulationDetails", "NumCollisionSlots:u16 NumEmptySlots:u16", [0x0102, 0x0304])
    for entry in (
        (247, "HoppingEvent", "HopTableID:u16 NextChannelIndex:u16", [0x0102, 0x0304]),
        (248, "GPIEvent", "GPIPortNumber:u16 GPIEvent:u1 _:7", [0x0102, 1]),
        (249, "ROSpecEvent", "EventType:u8 ROSpecID:u32 PreemptingROSpecID:u32", [2, 0x0102_0304, 0x0506_0708]),
        (250, "ReportBufferLevelWarningEvent", "ReportBufferPercentageFull:u8", [90]),
        (251, "ReportBufferOverflowErrorEvent"),
        (252, "ReaderExceptionEvent", "Message:utf8v", ["too warm"], inside),
        (254, "AISpecEvent", "EventType:u8 ROSpecID:u32 SpecIndex:u16", [0, 0x0102_0304, 0x0506], [slots]),
        (255, "AntennaEvent", "EventType:u8 AntennaID:u16", [1, 0x0102]),
        (256, "ConnectionAttemptEvent", "Status:u16", [2]),
        (257, "ConnectionCloseEvent"),
    ):
        data = part(246, "ReaderEventNotificationData", children=[uptime, part(*entry)])
        yield entry[1], 63, "READER_EVENT_NOTIFICATION", [data]


def in_status():
    field = part(288, "FieldError", "FieldNum:u16 ErrorCode:u16", [0x0102, 0x0304])
    inner = part(289, "ParameterError", "ParameterType:u16 ErrorCode:u16", [0x0708, 0x090A])
    outer = part(289, "ParameterError", "ParameterType:u16 ErrorCode:u16", [0x0506, 0x0607], [field, inner])
    for name, children in (("FieldError", [field]), ("ParameterError", [field, outer])):
        status = part(287, "LLRPStatus", "StatusCode:u16 ErrorDescription:utf8v", [100, "no"], children)
        yield name, 100, "ERROR_MESSAGE", [status]


def in_capabilities():
    sensitivity = part(139, "ReceiveSensitivityTableEntry", "Index:u16 ReceiveSensitivityValue:s16", [1, -3])
    reach = part(149, "PerAntennaReceiveSensitivityRange",
                 "AntennaID:u16 ReceiveSensitivityIndexMin:u16 ReceiveSensitivityIndexMax:u16", [1, 2, 3])  # fmt: skip
    pins = part(141, "GPIOCapabilities", "NumGPIs:u16 NumGPOs:u16", [4, 5])
    protocol = part(140, "PerAntennaAirProtocol", "AntennaID:u16 ProtocolID:u8v", [6, "0102"])
    general = part(137, "GeneralDeviceCapabilities",
                   "MaxNumberOfAntennaSupported:u16 CanSetAntennaProperties:u1 HasUTCClockCapability:u1 _:14"
                   " DeviceManufacturerName:u32 ModelName:u32 ReaderFirmwareVersion:utf8v",
                   [4, 1, 0, 0xFFFF_FFFF, 0x0102_0304, "7.5"], [sensitivity, reach, pins, protocol])  # fmt: skip
    yield "GeneralDeviceCapabilities", 11, "GET_READER_CAPABILITIES_RESPONSE", [STATUS, general]
    limits = part(142, "LLRPCapabilities",
                  "CanDoRFSurvey:u1 CanReportBufferFillWarning:u1 SupportsClientRequestOpSpec:u1"
                  " CanDoTagInventoryStateAwareSingulation:u1 SupportsEventAndReportHolding:u1 _:3"
                  " MaxNumPriorityLevelsSupported:u8 ClientRequestOpSpecTimeout:u16 MaxNumROSpecs:u32"
                  " MaxNumSpecsPerROSpec:u32 MaxNumInventoryParameterSpecsPerAISpec:u32 MaxNumAccessSpecs:u32"
                  " MaxNumOpSpecsPerAccessSpec:u32",
                  [0, 1, 0, 1, 1, 8, 0x0910, 11, 12, 13, 14, 15])  # fmt: skip
    yield "LLRPCapabilities", 11, "GET_READER_CAPABILITIES_RESPONSE", [STATUS, limits]
    gen2 = part(327, "C1G2LLRPCapabilities", "CanSupportBlockErase:u1 CanSupportBlockWrite:u1 _:6 MaxNumSelectFiltersPerQuery:u16",
                [0, 1, 0x0203])  # fmt: skip
    yield "C1G2LLRPCapabilities", 11, "GET_READER_CAPABILITIES_RESPONSE", [STATUS, gen2]
    hops = part(147, "FrequencyHopTable", "HopTableID:u8 _:8 Frequency:u32v", [1, [902_750, 903_250]])
    table = part(146, "FrequencyInformation", "Hopping:u1 _:7", [1], [hops])
    power = part(145, "TransmitPowerLevelTableEntry", "Index:u16 TransmitPowerValue:s16", [1, -100])
    mode = part(329, "UHFC1G2RFModeTableEntry",
                "ModeIdentifier:u32 DRValue:u1 EPCHAGTCConformance:u1 _:6 MValue:u8 ForwardLinkModulation:u8"
                " SpectralMaskIndicator:u8 BDRValue:u32 PIEValue:u32 MinTariValue:u32 MaxTariValue:u32 StepTariValue:u32",
                [1, 1, 0, 2, 1, 3, 40_000, 1500, 12_500, 25_000, 6250])  # fmt: skip
    modes = part(328, "UHFC1G2RFModeTable", children=[mode])
    band = part(144, "UHFBandCapabilities", children=[power, table, modes])
    rules = part(143, "RegulatoryCapabilities", "CountryCode:u16 CommunicationsStandard:u16", [840, 1], [band])
    yield "RegulatoryCapabilities", 11, "GET_READER_CAPABILITIES_RESPONSE", [STATUS, rules]


def in_configuration():
    state = part(217, "LLRPConfigurationStateValue", "LLRPConfigurationStateValue:u32", [0x0102_0304])
    connected = part(221, "AntennaProperties", "AntennaConnected:u1 _:7 AntennaID:u16 AntennaGain:s16", [1, 2, -5])
    port = part(225, "GPIPortCurrentState", "GPIPortNum:u16 Config:u1 _:7 State:u8", [2, 1, 1])
    output = part(219, "GPOWriteData", "GPOPortNumber:u16 GPOData:u1 _:7", [3, 1])
    hold = part(226, "EventsAndReports", "HoldEventsAndReportsUponReconnect:u1 _:7", [1])
    for entry in (state, connected, port, output, hold):
        yield entry[1]["name"], 12, "GET_READER_CONFIG_RESPONSE", [STATUS, entry]
    events = part(244, "ReaderEventNotificationSpec", children=[
        part(245, "EventNotificationState", "EventType:u16 NotificationState:u1 _:7", [kind, kind % 2]) for kind in range(9)
    ])  # fmt: skip
    yield "ReaderEventNotificationSpec", 12, "GET_READER_CONFIG_RESPONSE", [STATUS, events]
    yield "AntennaConfiguration", 12, "GET_READER_CONFIG_RESPONSE", [STATUS, antenna()]


def antenna():
    mask = part(332, "C1G2TagInventoryMask", "MB:u2 _:6 Pointer:u16 TagMask:u1v", [1, 0x20, WORDS])
    only = part(331, "C1G2Filter", "T:u2 _:6", [2], [mask])
    control = part(335, "C1G2RFControl", "ModeIndex:u16 Tari:u16", [1000, 12_500])
    slots = part(336, "C1G2SingulationControl", "Session:u2 _:6 TagPopulation:u16 TagTransitTime:u32", [2, 16, 1000])
    command = part(330, "C1G2InventoryCommand", "TagInventoryStateAware:u1 _:7", [0], [only, control, slots])
    receiver = part(223, "RFReceiver", "ReceiverSensitivity:u16", [1])
    sender = part(224, "RFTransmitter", "HopTableID:u16 ChannelIndex:u16 TransmitPower:u16", [1, 2, 61])
    return part(222, "AntennaConfiguration", "AntennaID:u16", [1], [receiver, sender, command])


def in_rospec():
    def rospec(start=(), stop=(), ai_stop=(), start_type=0, stop_type=0, ai_type=0, configuration=()):
        first = part(179, "ROSpecStartTrigger", "ROSpecStartTriggerType:u8", [start_type], start)
        last = part(182, "ROSpecStopTrigger", "ROSpecStopTriggerType:u8 DurationTriggerValue:u32", [stop_type, 30_000], stop)
        bounds = part(178, "ROBoundarySpec", children=[first, last])
        end = part(184, "AISpecStopTrigger", "AISpecStopTriggerType:u8 DurationTrigger:u32", [ai_type, 2000], ai_stop)
        inventory = part(186, "InventoryParameterSpec", "InventoryParameterSpecID:u16 ProtocolID:u8", [9, 1], configuration)
        antennas = part(183, "AISpec", "AntennaIDs:u16v", [[1, 2]], [end, inventory])
        return [part(177, "ROSpec", "ROSpecID:u32 Priority:u8 CurrentState:u8", [0x0102_0304, 5, 0], [bounds, antennas])]

    clock = part(128, "UTCTimestamp", "Microseconds:u64", [1_772_614_800_000_000])
    period = part(180, "PeriodicTriggerValue", "Offset:u32 Period:u32", [0x0102_0304, 0x0506_0708], [clock])
    pin = part(181, "GPITriggerValue", "GPIPortNum:u16 GPIEvent:u1 _:7 Timeout:u32", [1, 1, 5000])
    seen = part(185, "TagObservationTrigger", "TriggerType:u8 _:8 NumberOfTags:u16 NumberOfAttempts:u16 T:u16 Timeout:u32",
                [0, 4, 3, 250, 5000])  # fmt: skip
    yield "PeriodicTriggerValue", 20, "ADD_ROSPEC", rospec([period], start_type=2)
    yield "GPITriggerValue", 20, "ADD_ROSPEC", rospec([pin], [pin], start_type=3, stop_type=2)
    yield "TagObservationTrigger", 20, "ADD_ROSPEC", rospec(ai_stop=[seen], ai_type=3)
    yield "InventoryParameterSpec", 20, "ADD_ROSPEC", rospec(configuration=[antenna()])


def in_accessspec():
    access = "OpSpecID:u16 AccessPassword:u32"
    place = f"{access} MB:u2 _:6 WordPointer:u16"
    pattern = part(339, "C1G2TargetTag", "MB:u2 Match:u1 _:5 Pointer:u16 TagMask:u1v TagData:u1v", [1, 1, 32, WORDS, WORDS])
    payload = part(345, "C1G2LockPayload", "Privilege:u8 DataField:u8", [0, 4])
    for entry in (
        (342, "C1G2Write", f"{place} WriteData:u16v", [1, 0x0102_0304, 3, 40, [0x1234, 0xFFFE]]),
        (343, "C1G2Kill", "OpSpecID:u16 KillPassword:u32", [2, 0x0102_0304]),
        (344, "C1G2Lock", access, [3, 0x0102_0304], [payload]),
        (346, "C1G2BlockErase", f"{place} WordCount:u16", [4, 0x0102_0304, 3, 72, 32]),
        (347, "C1G2BlockWrite", f"{place} WriteData:u16v", [5, 0x0102_0304, 3, 56, [1, 2, 3]]),
    ):
        tags = part(338, "C1G2TagSpec", children=[pattern])
        command = part(209, "AccessCommand", children=[tags, part(*entry)])
        stop = part(208, "AccessSpecStopTrigger", "AccessSpecStopTrigger:u8 OperationCountValue:u16", [1, 5])
        told = part(239, "AccessReportSpec", "AccessReportTrigger:u8", [1])
        spec = part(207, "AccessSpec", "AccessSpecID:u32 AntennaID:u16 ProtocolID:u8 CurrentState:u1 _:7 ROSpecID:u32",
                    [6, 1, 1, 0, 7], [stop, command, told])  # fmt: skip
        yield entry[1], 40, "ADD_ACCESSSPEC", [spec]


def cut_short():
    """(name, field, bytes, the same whole): each TV parameter of one field without its last byte, its report as long as it is."""
    for entry in IN_REPORTS:
        if entry[0] < 128:
            data, _ = part(*entry)
            field = entry[2].split(":")[0]
            reports = [message(61, 1, tlv(240, EPC[0] + piece)) for piece in (data[:-1], data)]
            yield entry[1], field, *reports


def samples():
    """(id, bytes of the message, what it means) for each."""
    for source in (in_reports, in_events, in_status, in_capabilities, in_configuration, in_rospec, in_accessspec):
        for name, number, title, parts in source():
            id = f"parameter-{name.lower().replace('_', '-')}"
            data = message(number, 1, b"".join(data for data, _ in parts))
            yield id, data, whole(title, 1, {}, [element for _, element in parts])
