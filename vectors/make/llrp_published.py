"""Messages of LLRP that were worked out beforehand from the open definition file, and what they say."""

from llrp_parts import node, whole

PUBLISHED = {
    "reader-event-connection": "043F000000200000000000F600160080000C00060A24181E4000010000060000",
    "get-capabilities": "04010000000B0000000100",
    "set-config": "040300000014000000028000DC00090100002710",
    "set-config-response": "040D0000001200000002011F000800000000",
    "delete-rospec": "04150000000E0000000300000000",
    "add-rospec": "0414000000500000000400B1004600000001000000B2001200B300050000B60009000000000000B700180001000100B800090000"
    "00000000BA000700010100ED001202000100EE000B9EC0015C000540",
    "add-accessspec": "0428000000600000000500CF005600000001000001000000000100D0000700000000D1003A01520027015300236000200060"
    "FFFFFFFFFFFFFFFFFFFFFFFF00603066C4409047E14000001A850155000F000700000000C00000000400EF000501",
    "enable-accessspec": "042A0000000E0000000600000001",
    "enable-rospec": "04180000000E0000000700000001",
    "start-rospec": "04160000000E0000000800000001",
    "report": "043D0000004D0000006400F000438D3066C4409047E14000001A85890000000181000186C68700028200060A2418311687880001"
    "8C30009000000001015D001100000700041234ABCD00FF55AA",
    "keepalive": "043E0000000A000000C8",
    "keepalive-ack": "04480000000A000000C8",
    "close": "040E0000000A0000000A",
    "close-response": "0404000000120000000A011F000800000000",
    "error-version": "0464000000120000000B011F0008006E0000",
}


EPC = "3066c4409047e14000001a85"
STATUS_OK = node("LLRPStatus", {"StatusCode": 0, "ErrorDescription": ""})


def read_off():
    """What the published messages say, read off their bytes by hand."""
    selector = {
        "EnableROSpecID": 1, "EnableSpecIndex": 0, "EnableInventoryParameterSpecID": 0, "EnableAntennaID": 1,
        "EnableChannelIndex": 1, "EnablePeakRSSI": 1, "EnableFirstSeenTimestamp": 1, "EnableLastSeenTimestamp": 0,
        "EnableTagSeenCount": 1, "EnableAccessSpecID": 1,
    }  # fmt: skip
    memory = node("C1G2EPCMemorySelector", {"EnableCRC": 0, "EnablePCBits": 1, "EnableXPCBits": 0})
    start = node("ROSpecStartTrigger", {"ROSpecStartTriggerType": 0})
    stop = node("ROSpecStopTrigger", {"ROSpecStopTriggerType": 0, "DurationTriggerValue": 0})
    inventory = node("InventoryParameterSpec", {"InventoryParameterSpecID": 1, "ProtocolID": 1})
    ai_stop = node("AISpecStopTrigger", {"AISpecStopTriggerType": 0, "DurationTrigger": 0})
    rospec = node(
        "ROSpec",
        {"ROSpecID": 1, "Priority": 0, "CurrentState": 0},
        [
            node("ROBoundarySpec", {}, [start, stop]),
            node("AISpec", {"AntennaIDs": [1]}, [ai_stop, inventory]),
            node("ROReportSpec", {"ROReportTrigger": 2, "N": 1}, [node("TagReportContentSelector", selector, [memory])]),
        ],
    )
    mask = {"bits": 96, "hex": "f" * 24}
    target = node("C1G2TargetTag", {"MB": 1, "Match": 1, "Pointer": 32, "TagMask": mask, "TagData": {"bits": 96, "hex": EPC}})
    read = {"OpSpecID": 7, "AccessPassword": 0, "MB": 3, "WordPointer": 0, "WordCount": 4}
    command = node("AccessCommand", {}, [node("C1G2TagSpec", {}, [target]), node("C1G2Read", read)])
    access_stop = node("AccessSpecStopTrigger", {"AccessSpecStopTrigger": 0, "OperationCountValue": 0})
    access_values = {"AccessSpecID": 1, "AntennaID": 0, "ProtocolID": 1, "CurrentState": 0, "ROSpecID": 1}
    access = node("AccessSpec", access_values, [access_stop, command, node("AccessReportSpec", {"AccessReportTrigger": 1})])
    result = node("C1G2ReadOpSpecResult", {"Result": 0, "OpSpecID": 7, "ReadData": [0x1234, 0xABCD, 0x00FF, 0x55AA]})
    seen = [
        node("EPC-96", {"EPC": EPC}),
        node("ROSpecID", {"ROSpecID": 1}),
        node("AntennaID", {"AntennaID": 1}),
        node("PeakRSSI", {"PeakRSSI": -58}),
        node("ChannelIndex", {"ChannelIndex": 2}),
        node("FirstSeenTimestampUTC", {"Microseconds": "1700000001234567"}),
        node("TagSeenCount", {"TagCount": 1}),
        node("C1G2_PC", {"PC_Bits": 0x3000}),
        node("AccessSpecID", {"AccessSpecID": 1}),
        result,
    ]
    greeting = [node("UTCTimestamp", {"Microseconds": "1700000000000000"}), node("ConnectionAttemptEvent", {"Status": 0})]
    keepalive = node("KeepaliveSpec", {"KeepaliveTriggerType": 1, "PeriodicTriggerValue": 10_000})
    unsupported = node("LLRPStatus", {"StatusCode": 110, "ErrorDescription": ""})
    return {
        "reader-event-connection": whole(
            "READER_EVENT_NOTIFICATION", 0, {}, [node("ReaderEventNotificationData", {}, greeting)]
        ),
        "get-capabilities": whole("GET_READER_CAPABILITIES", 1, {"RequestedData": 0}),
        "set-config": whole("SET_READER_CONFIG", 2, {"ResetToFactoryDefault": 1}, [keepalive]),
        "set-config-response": whole("SET_READER_CONFIG_RESPONSE", 2, {}, [STATUS_OK]),
        "delete-rospec": whole("DELETE_ROSPEC", 3, {"ROSpecID": 0}),
        "add-rospec": whole("ADD_ROSPEC", 4, {}, [rospec]),
        "add-accessspec": whole("ADD_ACCESSSPEC", 5, {}, [access]),
        "enable-accessspec": whole("ENABLE_ACCESSSPEC", 6, {"AccessSpecID": 1}),
        "enable-rospec": whole("ENABLE_ROSPEC", 7, {"ROSpecID": 1}),
        "start-rospec": whole("START_ROSPEC", 8, {"ROSpecID": 1}),
        "report": whole("RO_ACCESS_REPORT", 100, {}, [node("TagReportData", {}, seen)]),
        "keepalive": whole("KEEPALIVE", 200),
        "keepalive-ack": whole("KEEPALIVE_ACK", 200),
        "close": whole("CLOSE_CONNECTION", 10),
        "close-response": whole("CLOSE_CONNECTION_RESPONSE", 10, {}, [STATUS_OK]),
        "error-version": whole("ERROR_MESSAGE", 11, {}, [unsupported]),
    }
