"""Messages of LLRP with a fault: cut, with lengths and counts that lie, with parameters too many or too few."""

from document import bad
from llrp_good import BARE, BY_ID, STATUS, STATUS_ONLY, frequencies, nested
from llrp_parameters import cut_short
from llrp_parts import message, tlv, tv, u
from llrp_published import PUBLISHED

OK = message(13, 2, STATUS)
ACK = message(62, 1)
REPORT = bytes.fromhex(PUBLISHED["report"])
ROSPEC = bytes.fromhex(PUBLISHED["add-rospec"])
BAND = "GET_READER_CAPABILITIES_RESPONSE.RegulatoryCapabilities.UHFBandCapabilities"
FREQUENCIES, _ = frequencies([865_700])


def refused(id, why, flags, wire, reason, byte, path, repaired, also=()):
    given = {"wire": wire.hex(), "repaired": repaired.hex()}
    bit = 13 if reason == "reserved-bit-set" and path == "header.reserved" else None
    more = {"also": [{"reason": code, "path": where} for code, where in also]} if also else {}
    return bad(f"llrp-{id}", why, flags, given, reason, byte, bit, path, **more)


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


def hostile():
    """Lengths and counts chosen to lead a decoder astray, at each depth."""
    invalid = "llrp-length-invalid"
    for cut in range(10):
        if cut not in (0, 5, 9):
            yield refused(f"cut-{cut}", f"Only {cut} bytes.", ["Cut"], ACK[:cut], "record-too-short", cut, "header", ACK)
    for cut in range(10, 17):
        yield refused(f"cut-{cut}", f"{cut} of 18 bytes.", ["Cut"], OK[:cut], "record-too-short", cut, "SET_READER_CONFIG_RESPONSE", OK)
    for name, value in {"one": 1, "half": 1 << 31}.items():
        yield refused(f"header-length-{name}", f"A message of {value} bytes.", ["HeaderLength"], patched(ACK, 2, u(value, 4)), invalid, 2, "header.length", ACK)
    for value in (1, 2):
        yield refused(f"nested-length-{value}", f"A parameter of {value} bytes.", ["NestedLength"], patched(OK, 12, u(value, 2)), invalid, 12, "SET_READER_CONFIG_RESPONSE.LLRPStatus", OK)
    # ADD_ROSPEC: ROSpec at 10, ROBoundarySpec at 20, ROSpecStartTrigger at 24, ROSpecStopTrigger at 29.
    for at, path, left in (
        (10, "ROSpec", 70),
        (20, "ROSpec.ROBoundarySpec", 60),
        (24, "ROSpec.ROBoundarySpec.ROSpecStartTrigger", 14),
        (29, "ROSpec.ROBoundarySpec.ROSpecStopTrigger", 9),
    ):
        for name, value in {"zero": 0, "three": 3, "one-more": left + 1, "all-ones": 0xFFFF}.items():
            yield refused(f"depth-{at}-length-{name}", f"A length of {value} where {left} bytes are left.", ["NestedLength"],
                          patched(ROSPEC, at + 2, u(value, 2)), invalid, at + 2, f"ADD_ROSPEC.{path}", ROSPEC)  # fmt: skip
    report = "RO_ACCESS_REPORT.TagReportData"
    bits = message(61, 1, tlv(240, tlv(241, u(8, 2) + b"\xab")))
    reader = message(12, 1, STATUS + tlv(218, u(0, 1) + u(2, 2) + b"\xab\xcd"))
    for id, wire, at, count, path in (
        ("u1v", bits, 18, 9, f"{report}.EPCData.EPC"),
        ("u8v", reader, 23, 3, "GET_READER_CONFIG_RESPONSE.Identification.ReaderID"),
        ("utf8v", OK, 16, 1, "SET_READER_CONFIG_RESPONSE.LLRPStatus.ErrorDescription"),
        ("u16v", REPORT, 67, 5, f"{report}.C1G2ReadOpSpecResult.ReadData"),
        ("u32v", FREQUENCIES, 47, 2, f"{BAND}.FrequencyInformation.FixedFrequencyTable.Frequency"),
    ):
        for name, value in {"one-more": count, "all-ones": 0xFFFF}.items():
            yield refused(f"count-{id}-{name}", f"{value} elements of {id} where there is room for fewer.", ["CountLie"],
                          patched(wire, at, u(value, 2)), "count-mismatch", at, path, wire)  # fmt: skip
    deep, _ = nested(17)
    whole_one, _ = nested(16)
    path = "SET_READER_CONFIG_RESPONSE.LLRPStatus" + ".ParameterError" * 15
    yield refused("depth-17", "Seventeen parameters one in the other.", ["Depth"], message(13, 2, deep),
                  "llrp-parameter-unexpected", 10 + 8 + 15 * 8, path, message(13, 2, whole_one))  # fmt: skip
    yield refused("depth-1200", "More parameters one in the other than a recursive decoder has stack for.", ["Depth"],
                  message(13, 2, nested(1200)[0]), "llrp-parameter-unexpected", 10 + 8 + 15 * 8, path,
                  message(13, 2, whole_one))  # fmt: skip


def each_message():
    """Every message of a simple form with what it must not lack, or must not have."""
    for number, name in STATUS_ONLY.items():
        id = name.lower().replace("_", "-")
        sound = message(number, 1, STATUS)
        yield refused(f"{id}-without-status", "No status.", ["Missing"], message(number, 1), "field-missing", 10, name, sound)
    for number, name in {**BARE, 14: "CLOSE_CONNECTION", 62: "KEEPALIVE", 72: "KEEPALIVE_ACK"}.items():
        id = name.lower().replace("_", "-")
        wire = message(number, 1, STATUS)
        yield refused(f"{id}-with-status", "A status where none may be.", ["Unexpected"], wire, "llrp-parameter-unexpected", 10,
                      name, message(number, 1))  # fmt: skip
    published = {21: ("DELETE_ROSPEC", "ROSpecID"), 22: ("START_ROSPEC", "ROSpecID"), 42: ("ENABLE_ACCESSSPEC", "AccessSpecID")}
    for number, (name, field) in {**BY_ID, **published}.items():
        id = name.lower().replace("_", "-")
        yield refused(f"{id}-three-bytes", "Three bytes of a number of four.", ["NestedLength"], message(number, 1, bytes(3)),
                      "llrp-length-invalid", 10, f"{name}.{field}", message(number, 1, bytes(4)))  # fmt: skip
    for name, field, wire, sound in cut_short():
        id = name.lower().replace("_", "-")
        yield refused(f"tv-cut-{id}", "A TV parameter that the report's end cuts off.", ["NestedLength"], wire,
                      "llrp-length-invalid", 28, f"RO_ACCESS_REPORT.TagReportData.{name}.{field}", sound)  # fmt: skip


def several_faults():
    """Two faults in one message: the header's reserved bits, length, version and type; then the bytes in their order."""
    flags = ["SeveralFaults"]
    version, unknown = ("llrp-version-unsupported", "header.version"), ("message-unknown", "header.type")
    length, reserved = ("llrp-length-invalid", "header.length"), ("reserved-bit-set", "header.reserved")
    set_reserved = lambda wire: bytes([wire[0] | 0x20]) + wire[1:]
    nine, three = patched(ACK, 2, u(9, 4)), patched(ACK, 0, u(3 * 1024 + 62, 2))
    type_500 = patched(ACK, 0, u(1024 + 500, 2))
    for id, wire, first, byte, path, later in (
        ("short-and-reserved", set_reserved(ACK)[:5], "record-too-short", 5, "header", reserved),
        ("short-and-length", nine[:9], "record-too-short", 9, "header", length),
        ("reserved-and-length", set_reserved(nine), *at(reserved, 0), length),
        ("reserved-and-version", set_reserved(three), *at(reserved, 0), version),
        ("length-and-version", patched(three, 2, u(9, 4)), *at(length, 2), version),
        ("length-and-type", patched(type_500, 2, u(9, 4)), *at(length, 2), unknown),
        ("version-and-type", patched(ACK, 0, u(3 * 1024 + 500, 2)), *at(version, 0), unknown),
        ("version-and-trailing", three + b"\0", *at(version, 0), ("trailing-bytes", "KEEPALIVE")),
        ("type-and-short", patched(OK, 0, u(1024 + 500, 2))[:12], *at(unknown, 0), ("record-too-short", "header")),
        ("type-and-trailing", type_500 + b"\0", *at(unknown, 0), ("trailing-bytes", "header")),
    ):
        yield refused(f"both-{id}", "Two faults in a header.", flags, wire, first, byte, path, ACK, [later])
    report = "RO_ACCESS_REPORT.TagReportData"
    missing = ("field-missing", report)
    weak = tv(6, u(-1, 1))
    for id, wire, first, byte, path in (
        ("trailing-and-missing", message(61, 1, tlv(240, weak)) + b"\0", "trailing-bytes", 16, "RO_ACCESS_REPORT"),
        ("unexpected-and-missing", message(61, 1, tlv(240, weak + STATUS)), "llrp-parameter-unexpected", 16, report),
        ("length-and-missing", message(61, 1, tlv(240, weak + u(241, 2) + u(99, 2))), "llrp-length-invalid", 18, f"{report}.EPCData"),
    ):
        yield refused(f"both-{id}", "A report without an EPC, and another fault.", flags, wire, first, byte, path, REPORT, [missing])


def at(fault, byte):
    return fault[0], byte, fault[1]
