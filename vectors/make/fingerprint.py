"""fingerprint.json: the canonical text of the tag's memory, its number, and headers that carry another."""

import zlib

from crc import PARAMETERS, checksum
from document import bad, document, good
from memory_tables import BANKS, HEADER, LAYOUT, RECORDS
from record import pack


def canonical_lines():
    used = sorted({field.algorithm for record in RECORDS for field in record.fields if field.algorithm})
    lines = [f"plyframe layout {LAYOUT}", *map(checksum_line, used)]
    for record in RECORDS:
        lines.append(f"record {record.id} {record.size}")
        lines += map(field_line, record.fields)
    for id, number, words, regions in BANKS:
        lines.append(f"bank {id} {number} {words}")
        lines += [f"region {region} {word} {count} {record or 'absent'}" for region, word, count, record in regions]
    return lines


def checksum_line(name):
    width, polynomial, preset, reflected, final = PARAMETERS[name]
    digits = width // 4
    order = "reflected" if reflected else "forward"
    return (
        f"checksum {name} {width} poly {polynomial:0{digits}x} init {preset:0{digits}x} {order} "
        f"xorout {final:0{digits}x}"
    )


def field_line(field):
    start = f"field {field.id} byte {field.at} big {field.container}"
    if field.count:
        return f"{start} array {field.count} {field.type} {quantity(field)}"
    return f"{start} bits {field.msb}..{field.lsb} {field.type}{meaning(field)}"


def meaning(field):
    if field.type in ("unsigned", "signed"):
        return f" {quantity(field)}"
    if field.type in ("flags", "enumeration"):
        return "".join(f" {raw}={id}" for raw, id in field.names)
    if field.type == "constant":
        return f" {field.role} {field.raw}"
    if field.type == "checksum":
        return f" {field.algorithm} over {field.over[0]}..{field.over[1]}"
    return ""


def quantity(field):
    sentinels = "".join(f" {raw}={id}:{means}" for raw, id, means in field.sentinels)
    return (
        f"unit {field.unit} scale {field.num}/{field.den}+{field.add} {field.rounding} {field.out_of_range} "
        f"range {field.low}..{field.high}{sentinels}"
    )


def fingerprint_of(lines):
    text = "".join(f"{line}\n" for line in lines).encode("ascii")
    number = checksum("crc32", text)
    assert number == zlib.crc32(text)
    return number


LINES = canonical_lines()
FINGERPRINT = fingerprint_of(LINES)

NOTES = {
    "CanonicalText": "The whole text, line by line, and its number.",
    "MeaningChanged": (
        "One word of one line differs (line numbers from 0): another specification, so another number, although "
        "every place and width is as it was."
    ),
    "ShapeChanged": "A place or a width differs.",
    "SameFingerprint": "The header carries the reader's number.",
    "ForeignFingerprint": (
        "The header carries this layout number and another fingerprint: two specifications share a number. "
        "The numbers behind it must not be believed."
    ),
}

CHANGES = (
    ("unit", "MeaningChanged", "field pressure", "unit Pa ", "unit hPa "),
    ("scale", "MeaningChanged", "field pressure", "scale 1/128", "scale 1/64"),
    ("rounding", "MeaningChanged", "field uptime", "floor", "half-away-from-zero"),
    ("out-of-range", "MeaningChanged", "field supply", "saturate", "reject"),
    ("range", "MeaningChanged", "field temperature", "range -4000..", "range -4001.."),
    ("sentinel-name", "MeaningChanged", "field temperature", "not_measured", "not_known"),
    ("flag-name", "MeaningChanged", "field status", "1=brown_out", "1=brownout"),
    (
        "names-exchanged",
        "MeaningChanged",
        "field method",
        "1=bench_two_point 2=bench_multi_point",
        "1=bench_multi_point 2=bench_two_point",
    ),
    ("preset", "MeaningChanged", "checksum seal", "init 504c", "init 504d"),
    ("sign", "MeaningChanged", "field offset", "signed", "unsigned"),
    ("slice", "ShapeChanged", "field supply", "bits 31..20", "bits 31..21"),
    ("place", "ShapeChanged", "region burst", "burst 72", "burst 70"),
    ("record-size", "ShapeChanged", "record frame", "frame 16", "frame 18"),
    ("layout-number", "ShapeChanged", "plyframe layout", "layout 1", "layout 2"),
)


def changed(name, flag, start, was, now):
    line = next(i for i, text in enumerate(LINES) if text.startswith(start) and was in text)
    lines = [*LINES[:line], LINES[line].replace(was, now, 1), *LINES[line + 1 :]]
    number = fingerprint_of(lines)
    assert number != FINGERPRINT
    given = {"change": {"line": line, "was": LINES[line], "now": lines[line]}}
    return good(
        f"fingerprint-{name}", f"{name.replace('-', ' ')} changed.", [flag], given, {"fingerprint": f"{number:08x}"}
    )


def build():
    vectors = [
        good(
            "fingerprint-layout-1",
            "The text of layout 1.",
            ["CanonicalText"],
            {"lines": LINES},
            {"fingerprint": f"{FINGERPRINT:08x}"},
        ),
        *(changed(*change) for change in CHANGES),
    ]
    rest = {"firmware_major": 1, "firmware_minor": 4, "sampling_period": 1000, "sensor_serial": 305_419_896}
    own = pack(HEADER, {"fingerprint": FINGERPRINT, **rest})
    reader = {"reader": {"layout": LAYOUT, "fingerprint": f"{FINGERPRINT:08x}"}}
    vectors.append(
        good(
            "fingerprint-header-own",
            "A header of the reader's own specification.",
            ["SameFingerprint"],
            {"hex": own.hex(), **reader},
            {"fingerprint": f"{FINGERPRINT:08x}"},
        )
    )
    swapped = int.from_bytes(FINGERPRINT.to_bytes(4, "big"), "little")
    foreign = {
        "zero": 0,
        "ones": 0xFFFF_FFFF,
        "bytes-swapped": swapped,
        "complement": FINGERPRINT ^ 0xFFFF_FFFF,
        **{f"bit-{bit}": FINGERPRINT ^ 1 << bit for bit in range(0, 32, 3)},
        **{
            vector["id"].removeprefix("fingerprint-"): int(vector["expected"]["fingerprint"], 16)
            for vector in vectors[1:-1]
        },
    }
    for name, number in foreign.items():
        data = pack(HEADER, {"fingerprint": number, **rest})
        vectors.append(
            bad(
                f"fingerprint-header-{name}",
                f"Another fingerprint: {name.replace('-', ' ')}.",
                ["ForeignFingerprint"],
                {"hex": data.hex(), **reader, "repaired": own.hex()},
                "fingerprint-mismatch",
                2,
                0,
                "header.fingerprint",
            )
        )
    return document("fingerprint", SOURCE, NOTES, vectors)


SOURCE = (
    "The text is written by vectors/make/fingerprint.py from tables transcribed by hand, by the rule in"
    " protocol/FINGERPRINT.md; its CRC-32/ISO-HDLC is worked bit by bit and by Python's zlib, which must agree."
)
