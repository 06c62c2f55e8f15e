"""epc-identity.json: SGTIN-96, GRAI-96 and GIAI-96 between hex and tag URI."""

from document import bad, document, good
from epc_layout import SCHEMES, pack96, partition_of
from epc_uris import wrong_uris

NOTES = {
    "WorkedExample": "A worked example of GS1 EPC Tag Data Standard 2.3, Annex E.",
    "WorkedExampleFromMemory": "The worked example of earlier editions of the Tag Data Standard, from memory.",
    "Partition": "One partition value with ordinary numbers: the border between company prefix and reference moves.",
    "Limit": "A field at its lowest or highest number.",
    "LeadingZero": (
        "Leading zeros belong to company prefix, item reference and asset type, whose number of digits is fixed."
    ),
    "Filter": "The filter value; it is no part of the identity.",
    "HeaderUnknown": "The first octet is not one of the three schemes'.",
    "PartitionInvalid": "Partition 7 is not defined.",
    "FieldTooLarge": (
        "The bits hold a number with more digits than the field has, or the text a number the bits cannot hold."
    ),
    "LengthInvalid": "Not 96 bits.",
    "HexInvalid": "The text is not pairs of hex digits.",
    "UriMalformed": "A part of the URI is not written as the standard asks.",
    "SeveralFaults": (
        "Two faults; `also` has the one that comes later in the order text, header, length, partition, company prefix,"
        " reference."
    ),
}

SOURCE = (
    "GS1 EPC Tag Data Standard 2.3: layouts and partition tables of sections 14 and 10 (from memory, checked against"
    " the worked examples named by flag), packed as one 96-bit whole number by vectors/make/epc_layout.py."
)


def uri(scheme, filter, prefix, reference, serial):
    return f"urn:epc:tag:{scheme}:{filter}." + identity(prefix, reference, serial)


def identity(prefix, reference, serial):
    return ".".join([prefix, reference] + ([] if serial is None else [serial]))


def whole(id, why, flags, scheme, filter, partition, prefix, reference, serial=None):
    """Good both ways. `prefix`, `reference` and `serial` are whole numbers."""
    _, name, _, _ = SCHEMES[scheme]
    _, prefix_digits, _, reference_digits = partition_of(scheme, partition)
    prefix_text = f"{prefix:0{prefix_digits}d}"
    reference_text = "" if reference_digits == 0 else f"{reference:0{reference_digits or 1}d}"
    serial_text = None if serial is None else str(serial)
    tag_uri = uri(scheme, filter, prefix_text, reference_text, serial_text)
    expected = {
        "scheme": scheme,
        "filter": filter,
        "partition": partition,
        "company_prefix": prefix_text,
        name: reference_text,
        **({} if serial is None else {"serial": serial_text}),
        "tag_uri": tag_uri,
        "pure_uri": f"urn:epc:id:{scheme[:-3]}:" + identity(prefix_text, reference_text, serial_text),
    }
    return good(
        f"epc-{id}", why, flags, {"hex": pack96(scheme, filter, partition, prefix, reference, serial)}, expected
    )


EXAMPLES = (
    ("sgtin-e1-serial-6789", "WorkedExample", "3066c4409047e14000001a85", ("sgtin-96", 3, 1, 95060001343, 5, 6789)),
    (
        "sgtin-e1-serial-123456789",
        "WorkedExample",
        "3066c4409047e140075bcd15",
        ("sgtin-96", 3, 1, 95060001343, 5, 123456789),
    ),
    ("giai-e3", "WorkedExample", "3476451fd40000000000162e", ("giai-96", 3, 5, 9521141, 5678)),
    ("sgtin-earlier", "WorkedExampleFromMemory", "3074257bf7194e4000001a85", ("sgtin-96", 3, 5, 614141, 812345, 6789)),
    ("grai-earlier", "WorkedExampleFromMemory", "3374257bf40c0e400000162e", ("grai-96", 3, 5, 614141, 12345, 5678)),
    ("giai-earlier", "WorkedExampleFromMemory", "3474257bf40000000000162e", ("giai-96", 3, 5, 614141, 5678)),
)


def examples():
    for id, flag, hex, fields in EXAMPLES:
        vector = whole(id, "A published example.", [flag], *fields)
        assert vector["hex"] == hex, (id, vector["hex"])
        yield vector


def built():
    for scheme, (_, name, _, serial_bits) in SCHEMES.items():
        short = scheme[:-3]
        serial = 271_828 if serial_bits else None
        top = (1 << serial_bits) - 1 if serial_bits else None
        for partition in range(7):
            _, prefix_digits, reference_bits, digits = partition_of(scheme, partition)
            prefix = int("952123456789"[:prefix_digits])
            reference = int("1234567"[:digits] or "0") if digits is not None else 31_415
            highest = 10**digits - 1 if digits is not None else (1 << reference_bits) - 1
            yield whole(
                f"{short}-partition-{partition}",
                f"{scheme}, company prefix of {prefix_digits} digits.",
                ["Partition"],
                scheme,
                1,
                partition,
                prefix,
                reference,
                serial,
            )
            yield whole(
                f"{short}-partition-{partition}-highest",
                "Every field at its highest number.",
                ["Limit"],
                scheme,
                7,
                partition,
                10**prefix_digits - 1,
                highest,
                top,
            )
            yield whole(
                f"{short}-partition-{partition}-lowest",
                "Every field zero.",
                ["Limit", "LeadingZero"],
                scheme,
                0,
                partition,
                0,
                0,
                None if serial is None else 0,
            )
        for filter in range(8):
            yield whole(
                f"{short}-filter-{filter}", f"Filter {filter}.", ["Filter"], scheme, filter, 5, 9_521_234, 17, serial
            )


def refused(id, why, flag, hex, repaired, reason, byte, bit, path):
    return bad(f"epc-{id}", why, [flag], {"hex": hex, "repaired": repaired}, reason, byte, bit, path)


def first_bit(at):
    """Place of the EPC's bit `at`, counted from its most significant bit: byte, and bit within that byte."""
    return at // 8, 7 - at % 8


def wrong_bits():
    ordinary = pack96("sgtin-96", 1, 5, 9_521_234, 17, 271_828)
    for header in (0x00, 0x2C, 0x2F, 0x31, 0x32, 0x35, 0x36, 0x37, 0x39, 0xB0, 0xE2, 0xFF):
        yield refused(
            f"header-{header:02x}",
            f"Header {header:02X}h.",
            "HeaderUnknown",
            f"{header:02x}" + ordinary[2:],
            ordinary,
            "epc-header-unknown",
            0,
            7,
            "epc.header",
        )
    for length in (0, 1, 2, 11, 13, 16, 25):
        text = (ordinary * 3)[: 2 * length]
        yield refused(
            f"length-{length}",
            f"{length} octets.",
            "LengthInvalid",
            text,
            ordinary,
            "epc-length-invalid",
            min(length, 12),
            None,
            "epc",
        )
    for place in (0, 7, 23):
        text = ordinary[:place] + "g" + ordinary[place + 1 :]
        yield refused(
            f"bad-digit-{place}",
            f"Character {place} is no hex digit.",
            "HexInvalid",
            text,
            ordinary,
            "hex-bad-digit",
            place,
            None,
            "epc",
        )
    yield refused(
        "odd-length",
        "An odd number of digits.",
        "HexInvalid",
        ordinary[:-1],
        ordinary,
        "hex-odd-length",
        22,
        None,
        "epc",
    )
    for scheme, (_, name, _, serial_bits) in SCHEMES.items():
        short, room = scheme[:-3], scheme.replace("-", "_")
        serial = 271_828 if serial_bits else None
        sound = pack96(scheme, 1, 5, 9_521_234, 17, serial)
        seven = f"{int(sound, 16) | 7 << 82:024x}"
        yield refused(
            f"{short}-partition-7",
            "Partition 7.",
            "PartitionInvalid",
            seven,
            sound,
            "epc-partition-invalid",
            *first_bit(11),
            f"{room}.partition",
        )
        for partition in range(7):
            prefix_bits, prefix_digits, reference_bits, digits = partition_of(scheme, partition)
            sound = pack96(scheme, 1, partition, 1, 0, serial)
            for what, prefix in (("first", 10**prefix_digits), ("last", (1 << prefix_bits) - 1)):
                yield refused(
                    f"{short}-partition-{partition}-prefix-{what}",
                    f"A company prefix of more than {prefix_digits} digits.",
                    "FieldTooLarge",
                    pack96(scheme, 1, partition, prefix, 0, serial),
                    sound,
                    "epc-field-too-large",
                    *first_bit(14),
                    f"{room}.company_prefix",
                )
            if digits is None:
                continue
            for what, reference in (("first", 10**digits), ("last", (1 << reference_bits) - 1)):
                yield refused(
                    f"{short}-partition-{partition}-reference-{what}",
                    f"A reference of more than {digits} digits.",
                    "FieldTooLarge",
                    pack96(scheme, 1, partition, 1, reference, serial),
                    sound,
                    "epc-field-too-large",
                    *first_bit(14 + prefix_bits),
                    f"{room}.{name}",
                )


def several_faults():
    """Two faults in one EPC: the text, the header, the length, the partition, the company prefix, the reference."""
    sound = pack96("sgtin-96", 1, 5, 9_521_234, 17, 271_828)
    seven = f"{int(sound, 16) | 7 << 82:024x}"
    large = pack96("sgtin-96", 1, 5, 10**7, 17, 271_828)
    both = pack96("sgtin-96", 1, 5, 10**7, 10**6, 271_828)
    header = ("epc-header-unknown", 0, 7, "epc.header")
    length = ("epc-length-invalid", 12, None, "epc")
    for name, hex, place, later in (
        ("digit-and-odd", "3g" + sound[2:-1], ("hex-bad-digit", 1, None, "epc"), ("hex-odd-length", "epc")),
        ("digit-and-header", "e2g" + sound[3:], ("hex-bad-digit", 2, None, "epc"), ("epc-header-unknown", "epc.header")),
        ("odd-and-header", "e2" + sound[2:-1], ("hex-odd-length", 22, None, "epc"), ("epc-header-unknown", "epc.header")),
        ("header-and-length", "e2" + sound[2:] + "00", header, ("epc-length-invalid", "epc")),
        ("header-and-partition", "e2" + seven[2:], header, ("epc-partition-invalid", "sgtin_96.partition")),
        ("length-and-partition", seven + "00", length, ("epc-partition-invalid", "sgtin_96.partition")),
        ("length-and-prefix", large + "00", length, ("epc-field-too-large", "sgtin_96.company_prefix")),
        (
            "prefix-and-reference",
            both,
            ("epc-field-too-large", *first_bit(14), "sgtin_96.company_prefix"),
            ("epc-field-too-large", "sgtin_96.item_reference"),
        ),
    ):
        why = "Two faults: the first in the order of the checks is named."
        vector = refused(f"both-{name}", why, "SeveralFaults", hex, sound, *place)
        vector["expected"]["also"] = [{"reason": later[0], "path": later[1]}]
        yield vector


def build():
    vectors = [*examples(), *built(), *wrong_bits(), *wrong_uris(), *several_faults()]
    return document("epc-identity", SOURCE, NOTES, vectors)
