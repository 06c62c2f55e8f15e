"""Good messages of LLRP: the published ones, every other message, and arrays of every type."""

from document import good
from llrp_parts import message, node, tlv, tv, u, whole
from llrp_published import EPC, PUBLISHED, STATUS_OK, read_off


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


# Messages of one response form: a status and nothing else. Type numbers as in the standard's definition file.
STATUS_ONLY = {
    11: "GET_READER_CAPABILITIES_RESPONSE",
    12: "GET_READER_CONFIG_RESPONSE",
    30: "ADD_ROSPEC_RESPONSE",
    31: "DELETE_ROSPEC_RESPONSE",
    32: "START_ROSPEC_RESPONSE",
    33: "STOP_ROSPEC_RESPONSE",
    34: "ENABLE_ROSPEC_RESPONSE",
    35: "DISABLE_ROSPEC_RESPONSE",
    36: "GET_ROSPECS_RESPONSE",
    50: "ADD_ACCESSSPEC_RESPONSE",
    51: "DELETE_ACCESSSPEC_RESPONSE",
    52: "ENABLE_ACCESSSPEC_RESPONSE",
    53: "DISABLE_ACCESSSPEC_RESPONSE",
    54: "GET_ACCESSSPECS_RESPONSE",
}
# Messages without a field.
BARE = {26: "GET_ROSPECS", 44: "GET_ACCESSSPECS", 60: "GET_REPORT", 64: "ENABLE_EVENTS_AND_REPORTS"}
# Messages that name one specification by its number.
BY_ID = {
    23: ("STOP_ROSPEC", "ROSpecID"),
    25: ("DISABLE_ROSPEC", "ROSpecID"),
    41: ("DELETE_ACCESSSPEC", "AccessSpecID"),
    43: ("DISABLE_ACCESSSPEC", "AccessSpecID"),
}


def other_messages():
    """The messages that are not among the published ones."""

    def each(number, name, body, values, parameters=(), version=1):
        id = f"message-{name.lower().replace('_', '-')}"
        return answer(id, f"{name}, type {number}.", ["Message"], message(number, number, body, version),
                      whole(name, number, values, parameters, version))  # fmt: skip

    for number, name in STATUS_ONLY.items():
        yield each(number, name, STATUS, {}, [STATUS_OK])
    for number, name in BARE.items():
        yield each(number, name, b"", {})
    for number, (name, field) in BY_ID.items():
        yield each(number, name, u(0xFFFF_FFFE, 4), {field: 0xFFFF_FFFE})
    config = {"AntennaID": 2, "RequestedData": 3, "GPIPortNum": 4, "GPOPortNum": 65_535}
    yield each(2, "GET_READER_CONFIG", u(2, 2) + u(3, 1) + u(4, 2) + u(65_535, 2), config)
    yield each(46, "GET_SUPPORTED_VERSION", b"", {}, version=2)
    yield each(47, "SET_PROTOCOL_VERSION", u(2, 1), {"ProtocolVersion": 2}, version=2)
    yield each(57, "SET_PROTOCOL_VERSION_RESPONSE", STATUS, {}, [STATUS_OK], version=2)
    maker = {"VendorIdentifier": 0xFFFF_FFFF, "MessageSubtype": 7, "Data": "c0ffee"}
    yield each(1023, "CUSTOM_MESSAGE", u(0xFFFF_FFFF, 4) + u(7, 1) + bytes.fromhex("c0ffee"), maker)
    empty = {**maker, "Data": ""}
    yield answer("message-custom-message-empty", "CUSTOM_MESSAGE with no data.", ["Message"],
                 message(1023, 1, u(0xFFFF_FFFF, 4) + u(7, 1)), whole("CUSTOM_MESSAGE", 1, empty))  # fmt: skip


def arrays():
    """One message for each array type with no element, one, and many: (type, why, body behind the status, parameter)."""
    for bits, hex in ((0, ""), (1, "80"), (8, "ff"), (9, "ff80"), (127, "aa" * 15 + "aa")):
        body = tlv(240, tlv(241, u(bits, 2) + bytes.fromhex(hex)))
        seen = node("TagReportData", {}, [node("EPCData", {"EPC": {"bits": bits, "hex": hex}})])
        yield answer(f"array-u1v-{bits}", f"{bits} bits.", ["Bits"], message(61, 1, body), whole("RO_ACCESS_REPORT", 1, {}, [seen]))
    for count in (0, 1, 64):
        data = bytes(i % 256 for i in range(count))
        body = STATUS + tlv(218, u(0, 1) + u(count, 2) + data)
        parameter = node("Identification", {"IDType": 0, "ReaderID": data.hex()})
        yield answer(f"array-u8v-{count}", f"{count} bytes.", ["Array"], message(12, 1, body),
                     whole("GET_READER_CONFIG_RESPONSE", 1, {}, [STATUS_OK, parameter]))  # fmt: skip
    for name, text in (("ascii", "busy"), ("two-bytes", "zu heiß"), ("four-bytes", "\U0001f321")):
        data = text.encode("utf-8")
        status = node("LLRPStatus", {"StatusCode": 0, "ErrorDescription": text})
        yield answer(f"array-utf8v-{name}", "The count is of bytes, not of characters.", ["Array"],
                     message(13, 1, tlv(287, u(0, 2) + u(len(data), 2) + data)),
                     whole("SET_READER_CONFIG_RESPONSE", 1, {}, [status]))  # fmt: skip
    for count in (0, 1, 255):
        words = [(i * 4099 + 0xC001) % 65_536 for i in range(count)]
        result = tlv(349, u(0, 1) + u(7, 2) + u(count, 2) + b"".join(u(word, 2) for word in words))
        body = tlv(240, tv(13, bytes.fromhex(EPC)) + result)
        read = node("C1G2ReadOpSpecResult", {"Result": 0, "OpSpecID": 7, "ReadData": words})
        seen = node("TagReportData", {}, [node("EPC-96", {"EPC": EPC}), read])
        yield answer(f"array-u16v-{count}", f"{count} words.", ["Array"], message(61, 1, body), whole("RO_ACCESS_REPORT", 1, {}, [seen]))
    for table in ([], [865_700], [865_700, 866_300, 866_900, 867_500, 4_294_967_295]):
        data, element = frequencies(table)
        yield answer(f"array-u32v-{len(table)}", f"{len(table)} double words.", ["Array"], data, element)


def nested(levels):
    """A status with parameter errors one in the other, `levels` parameters deep: bytes and element."""
    data, inner = b"", []
    for _ in range(levels - 1):
        data = tlv(289, u(287, 2) + u(100, 2) + data)
        inner = [node("ParameterError", {"ParameterType": 287, "ErrorCode": 100}, inner)]
    return tlv(287, u(0, 2) + u(0, 2) + data), node("LLRPStatus", {"StatusCode": 0, "ErrorDescription": ""}, inner)


def frequencies(table):
    """Capabilities of a reader of one power, one mode and the frequencies given, in kHz: bytes and element."""
    mode = u(0, 4) + u(0, 1) + u(2, 1) + u(0, 1) + u(0, 1) + u(160_000, 4) + u(0, 16)
    fixed = tlv(148, u(len(table), 2) + b"".join(u(khz, 4) for khz in table))
    band = tlv(144, tlv(145, u(1, 2) + u(3000, 2)) + tlv(146, u(0, 1) + fixed) + tlv(328, tlv(329, mode)))
    data = message(11, 1, STATUS + tlv(143, u(0, 2) + u(0, 2) + band))
    entry = {
        **{"ModeIdentifier": 0, "DRValue": 0, "EPCHAGTCConformance": 0, "MValue": 2, "ForwardLinkModulation": 0},
        **{"SpectralMaskIndicator": 0, "BDRValue": 160_000, "PIEValue": 0, "MinTariValue": 0, "MaxTariValue": 0},
        "StepTariValue": 0,
    }
    parts = [
        node("TransmitPowerLevelTableEntry", {"Index": 1, "TransmitPowerValue": 3000}),
        node("FrequencyInformation", {"Hopping": 0}, [node("FixedFrequencyTable", {"Frequency": list(table)})]),
        node("UHFC1G2RFModeTable", {}, [node("UHFC1G2RFModeTableEntry", entry)]),
    ]
    rules = {"CountryCode": 0, "CommunicationsStandard": 0}
    regulatory = node("RegulatoryCapabilities", rules, [node("UHFBandCapabilities", {}, parts)])
    return data, whole("GET_READER_CAPABILITIES_RESPONSE", 1, {}, [STATUS_OK, regulatory])
