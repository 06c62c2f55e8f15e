"""verdict-order.json: records with more than one fault, where the order of the checks decides what is said."""

from cases import Suite
from crc import checksum
from document import bad, document
from frames import BASE
from header import BASE as HEADER_BASE
from memory_tables import FRAME, HEADER
from record import pack

NOTES = {
    "SeveralFaults": (
        "More than one fault, unlike every other file: the first in the order length, never written, checksum, kind, "
        "layout, then the fields in their order, is the verdict."
    )
}

SOURCE = "Packed as in frames.json; the verdict follows from the order of checks in README.md."


def build():
    suite = Suite(FRAME, BASE)
    vectors = []

    def add(id, why, data, reason, byte, bit, path):
        given = {"record": path.split(".")[0], "hex": data.hex()}
        vectors.append(bad(f"order-{id}", why, ["SeveralFaults"], given, reason, byte, bit, path))

    sound = suite.bytes
    add("short-and-empty", "Short, and all zero.", bytes(15), "record-too-short", 15, None, "frame")
    add("empty-and-trailing", "All zero, and too long.", bytes(18), "record-empty", 0, None, "frame")
    add(
        "trailing-and-seal", "Too long, and the seal broken.", sound[:-1] + b"\0\0", "trailing-bytes", 16, None, "frame"
    )
    unsealed = bytearray(pack(FRAME, {**BASE, "kind": 3, "layout": 2, "reserved": 1}))
    unsealed[15] ^= 1
    add(
        "seal-and-kind", "The seal broken, and another kind.", bytes(unsealed), "checksum-mismatch", 14, 0, "frame.seal"
    )
    add(
        "kind-and-layout",
        "Another kind and another layout.",
        pack(FRAME, {**BASE, "kind": 3, "layout": 2}),
        "kind-unexpected",
        0,
        12,
        "frame.kind",
    )
    add(
        "layout-and-reserved",
        "Another layout, which uses bits that are reserved here.",
        pack(FRAME, {**BASE, "layout": 2, "reserved": 255}),
        "layout-unknown",
        0,
        8,
        "frame.layout",
    )
    add(
        "layout-and-range",
        "Another layout, and a pressure outside this one's range.",
        pack(FRAME, {**BASE, "layout": 2, "pressure": 1}),
        "layout-unknown",
        0,
        8,
        "frame.layout",
    )
    add(
        "reserved-and-range",
        "A reserved bit, and a temperature out of range: the field that comes first.",
        pack(FRAME, {**BASE, "reserved": 128, "temperature": 12_501}),
        "reserved-bit-set",
        4,
        31,
        "frame.reserved",
    )
    add(
        "pressure-and-temperature",
        "Two values out of range.",
        pack(FRAME, {**BASE, "pressure": 0, "temperature": -4001}),
        "value-out-of-range",
        4,
        0,
        "frame.pressure",
    )
    add(
        "marker-and-kind",
        "The header's first octet and its kind: kind is judged before every other field.",
        pack(HEADER, {**HEADER_BASE, "dsfid": 9, "kind": 2}),
        "kind-unexpected",
        0,
        4,
        "header.kind",
    )
    add(
        "marker-and-layout",
        "The header's first octet and its layout.",
        pack(HEADER, {**HEADER_BASE, "dsfid": 9, "layout": 2}),
        "layout-unknown",
        0,
        0,
        "header.layout",
    )
    air = pack(FRAME, {**BASE, "kind": 3})[:-2]
    add(
        "air-checksum-and-kind",
        "The air checksum in place of the seal, and another kind.",
        air + checksum("air", air).to_bytes(2, "big"),
        "checksum-mismatch",
        14,
        0,
        "frame.seal",
    )
    return document("record", SOURCE, NOTES, vectors)
