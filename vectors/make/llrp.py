"""llrp.json: messages of LLRP as bytes, packed by hand from the standard's tables; no table of the project takes part."""

from document import bad, document, good

NOTES = {
    "Published": "Message layouts worked out beforehand from the open definition file and shown to Wireshark's dissector.",
    "UnknownTlv": "A TLV parameter of unknown type is skipped by its length and changes nothing else.",
    "Custom": "A maker's own parameter may stand anywhere.",
    "Signed": "Signal strengths and powers are signed.",
    "Bits": "Bit arrays count bits; their last byte is filled up with zeros.",
    "Version11": "Version 1.1 is written as 2.",
    "HeaderLength": "The length in the header cannot be.",
    "NestedLength": "A parameter claims more bytes than what it stands in has left, or fewer than its own header.",
    "UnknownTv": "A TV parameter of unknown type has no length, so nothing behind it can be read.",
    "Unexpected": "A known parameter where the standard has none of its kind, or one too many.",
    "Missing": "A parameter that must be there is not.",
    "CountLie": "An array claims more elements than its parameter has bytes.",
    "Unspoken": "A version that is not spoken, or a message that is not known.",
    "Reserved": "Reserved bits of a header that must be 0.",
    "Cut": "Fewer bytes, or more, than the header says.",
}

SOURCE = (
    "GS1/EPCglobal Low Level Reader Protocol 1.0.1, its open definition file; the messages flagged Published were dissected"
    " by Wireshark 4.0 without an expert warning. The others are packed by hand in vectors/make/llrp.py."
)

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


def u(value, size):
    return value.to_bytes(size, "big", signed=value < 0)


def message(type_number, message_id, body=b"", version=1):
    return u(version * 1024 + type_number, 2) + u(10 + len(body), 4) + u(message_id, 4) + body


def tlv(type_number, body=b""):
    return u(type_number, 2) + u(4 + len(body), 2) + body


def tv(type_number, body):
    return u(0x80 + type_number, 1) + body


def node(name, values=None, parameters=()):
    return {"name": name, "values": values or {}, "parameters": list(parameters)}


def whole(name, message_id, values=None, parameters=(), version=1, skipped=()):
    return {**node(name, values, parameters), "version": version, "id": message_id, "skipped": list(skipped)}


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


def answer(id, why, flags, wire, expected):
    return good(f"llrp-{id}", why, flags, {"wire": wire.hex()}, {"message": expected})


STATUS = tlv(287, u(0, 2) + u(0, 2))


def good_messages():
    for id, expected in read_off().items():
        yield answer(id, f"{expected['name']}, as it stands in the standard's order.", ["Published"], bytes.fromhex(PUBLISHED[id]), expected)
    unknown = tlv(999, b"\x01\x02\x03")
    body = STATUS + unknown
    yield answer("unknown-tlv", "An unknown TLV parameter behind a known one.", ["UnknownTlv"], message(13, 7, body),
                 whole("SET_READER_CONFIG_RESPONSE", 7, {}, [STATUS_OK], skipped=[{"type": 999, "byte": 18}]))  # fmt: skip
    inside = tlv(240, tv(13, bytes.fromhex(EPC)) + unknown + tv(6, u(-1, 1)))
    seen = node("TagReportData", {}, [node("EPC-96", {"EPC": EPC}), node("PeakRSSI", {"PeakRSSI": -1})])
    yield answer("unknown-tlv-inside", "An unknown TLV parameter inside another; what follows it is read.",
                 ["UnknownTlv", "Signed"], message(61, 8, inside),
                 whole("RO_ACCESS_REPORT", 8, {}, [seen], skipped=[{"type": 999, "byte": 27}]))  # fmt: skip
    custom = tlv(1023, u(0xFFFF_FFFF, 4) + u(1, 4) + b"\xaa\xbb")
    values = {"VendorIdentifier": 0xFFFF_FFFF, "ParameterSubtype": 1, "Data": "aabb"}
    yield answer("custom", "A maker's parameter.", ["Custom"], message(13, 9, STATUS + custom),
                 whole("SET_READER_CONFIG_RESPONSE", 9, {}, [STATUS_OK, node("Custom", values)]))  # fmt: skip
    epc = tlv(240, tlv(241, u(12, 2) + b"\xab\xc0") + tv(6, u(-128, 1)))
    odd = node("TagReportData", {}, [node("EPCData", {"EPC": {"bits": 12, "hex": "abc0"}}), node("PeakRSSI", {"PeakRSSI": -128})])
    yield answer("epc-bits", "An EPC of twelve bits in two bytes.", ["Bits", "Signed"], message(61, 10, epc),
                 whole("RO_ACCESS_REPORT", 10, {}, [odd]))  # fmt: skip
    yield answer("version-response", "What versions a reader speaks.", ["Version11"], message(56, 11, u(1, 1) + u(2, 1) + STATUS, 2),
                 whole("GET_SUPPORTED_VERSION_RESPONSE", 11, {"CurrentVersion": 1, "SupportedVersion": 2}, [STATUS_OK], 2))  # fmt: skip


def refused(id, why, flags, wire, reason, byte, path, repaired):
    given = {"wire": wire.hex(), "repaired": repaired.hex()}
    return bad(f"llrp-{id}", why, flags, given, reason, byte, None if reason != "reserved-bit-set" or path != "header.reserved" else 13, path)


OK = message(13, 2, STATUS)
ACK = message(62, 1)
REPORT = bytes.fromhex(PUBLISHED["report"])


def patched(wire, at, new):
    return wire[:at] + new + wire[at + len(new) :]


def bad_messages():
    length = "llrp-length-invalid"
    for name, value in {"zero": 0, "nine": 9, "over-limit": (1 << 18) + 1, "all-ones": 0xFFFF_FFFF}.items():
        yield refused(f"header-length-{name}", f"A message of {value} bytes.", ["HeaderLength"], patched(ACK, 2, u(value, 4)), length, 2, "header.length", ACK)  # fmt: skip
    yield refused("reserved", "A reserved bit of the header.", ["Reserved"], patched(ACK, 0, b"\x24"), "reserved-bit-set", 0, "header.reserved", ACK)  # fmt: skip
    for version in (0, 3, 7):
        yield refused(f"version-{version}", f"Version {version}.", ["Unspoken"], patched(ACK, 0, u(version * 1024 + 62, 2)), "llrp-version-unsupported", 0, "header.version", ACK)  # fmt: skip
    yield refused("message-unknown", "Message type 500.", ["Unspoken"], patched(ACK, 0, u(1024 + 500, 2)), "message-unknown", 0, "header.type", ACK)  # fmt: skip
    for cut in (0, 5, 9):
        yield refused(f"cut-{cut}", f"Only {cut} bytes.", ["Cut"], ACK[:cut], "record-too-short", cut, "header", ACK)
    yield refused("cut-17", "The last byte is missing.", ["Cut"], OK[:17], "record-too-short", 17, "SET_READER_CONFIG_RESPONSE", OK)
    yield refused("trailing", "A byte too many.", ["Cut"], ACK + b"\0", "trailing-bytes", 10, "KEEPALIVE", ACK)
    path = "SET_READER_CONFIG_RESPONSE"
    for name, value in {"three": 3, "zero": 0, "nine": 9, "all-ones": 0xFFFF}.items():
        yield refused(f"nested-length-{name}", f"A parameter of {value} bytes where eight are left.", ["NestedLength"], patched(OK, 12, u(value, 2)), length, 12, f"{path}.LLRPStatus", OK)  # fmt: skip
    yield refused("nested-length-short", "A parameter too short for its fields.", ["NestedLength"], message(13, 2, tlv(287, u(0, 2)) + tlv(999)), length, 16, f"{path}.LLRPStatus.ErrorDescription", OK)  # fmt: skip
    yield refused("nested-header", "Three bytes left where a parameter's header takes four.", ["NestedLength"], message(13, 2, STATUS + b"\1\2\3"), length, 18, path, OK)  # fmt: skip
    data = "RO_ACCESS_REPORT.TagReportData"
    yield refused("inner-over-outer", "A result longer than the report it stands in.", ["NestedLength"], patched(REPORT, 62, u(18, 2)), length, 62, f"{data}.C1G2ReadOpSpecResult", REPORT)  # fmt: skip
    yield refused("tv-cut", "A TV parameter that the report's end cuts off.", ["NestedLength"], message(61, 1, tlv(240, tv(13, bytes(11)))), length, 15, f"{data}.EPC-96.EPC", REPORT)  # fmt: skip
    yield refused("count-words", "Five words in room for four.", ["CountLie"], patched(REPORT, 67, u(5, 2)), "count-mismatch", 67, f"{data}.C1G2ReadOpSpecResult.ReadData", REPORT)  # fmt: skip
    yield refused("count-text", "A text longer than its parameter.", ["CountLie"], patched(OK, 16, u(0xFFFF, 2)), "count-mismatch", 16, f"{path}.LLRPStatus.ErrorDescription", OK)  # fmt: skip
    yield refused("unknown-tv", "TV parameter 99.", ["UnknownTv"], patched(REPORT, 27, b"\xe3"), "llrp-parameter-unknown", 27, data, REPORT)  # fmt: skip
    yield refused("tlv-reserved", "A reserved bit of a parameter's header.", ["Reserved"], patched(OK, 10, b"\x05"), "reserved-bit-set", 10, path, OK)  # fmt: skip
    yield refused("unexpected", "A status where a report has none.", ["Unexpected"], message(61, 1, STATUS), "llrp-parameter-unexpected", 10, "RO_ACCESS_REPORT", REPORT)  # fmt: skip
    yield refused("second", "Two statuses.", ["Unexpected"], message(13, 2, STATUS + STATUS), "llrp-parameter-unexpected", 18, path, OK)  # fmt: skip
    yield refused("missing-status", "An answer without a status.", ["Missing"], message(13, 2), "field-missing", 10, path, OK)
    yield refused("missing-epc", "A report without an EPC.", ["Missing"], message(61, 1, tlv(240, tv(6, u(-1, 1)))), "field-missing", 14, data, REPORT)  # fmt: skip


def build():
    return document("llrp-messages", SOURCE, NOTES, [*good_messages(), *bad_messages()])
