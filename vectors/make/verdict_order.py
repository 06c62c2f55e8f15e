"""verdict-order.json: records with more than one fault, where the order of the checks decides what is said."""

from banks import TID_BASE
from calibration import BASE as CALIBRATION_BASE
from crc import checksum
from document import bad, document
from fields import field_of
from frames import BASE
from header import BASE as HEADER_BASE
from memory_tables import CALIBRATION, EPC, FRAME, HEADER, TID
from record import pack
from stored_crc import BANK_BASE as EPC_BASE

NOTES = {
    "SeveralFaults": (
        "More than one fault: the first in the order length, never written, checksum, kind, layout, then the fields in "
        "their order, is the verdict. `also` lists the faults that come later."
    )
}

SOURCE = "Packed as in frames.json; the verdict follows from the order of checks in README.md."


# Records with a fault of their own in one field: how it is made, its reason, and where it stands.
KIND = ({"kind": 7}, "kind-unexpected", "kind")
LAYOUT_2 = ({"layout": 2}, "layout-unknown", "layout")
RECORDS = {
    "frame": (
        FRAME,
        BASE,
        (KIND, LAYOUT_2, ({"reserved": 1}, "reserved-bit-set", "reserved"), ({"pressure": 0}, "value-out-of-range", "pressure")),
    ),
    "header": (
        HEADER,
        HEADER_BASE,
        (KIND, LAYOUT_2, ({"dsfid": 9}, "marker-mismatch", "dsfid"), ({"sampling_period": 9}, "value-out-of-range", "sampling_period")),
    ),
    "calibration": (
        CALIBRATION,
        CALIBRATION_BASE,
        (KIND, LAYOUT_2, ({"method": 0}, "name-unknown", "method"), ({"sensor_serial": 0}, "value-out-of-range", "sensor_serial")),
    ),
}  # fmt: skip
# Records without kind and layout; the checksum of the EPC bank stands first.
BANK_RECORDS = {
    "tid": (TID, TID_BASE, (({"class": 0}, "marker-mismatch", "class"), ({"xtid_header": 0}, "marker-mismatch", "xtid_header"))),
    "epc": (
        EPC,
        EPC_BASE,
        (
            ({"epc_length": 5}, "value-out-of-range", "epc_length"),
            ({"toggle": 1}, "marker-mismatch", "toggle"),
            ({"attributes": 1}, "reserved-bit-set", "attributes"),
        ),
    ),
}  # fmt: skip


def pairs():
    """Every two faults of one record, the earlier named: in fields, and in a length or checksum before them."""
    for record, base, faults in (*RECORDS.values(), *BANK_RECORDS.values()):
        for i, first in enumerate(faults):
            for second in faults[i + 1 :]:
                data = pack(record, {**base, **first[0], **second[0]})
                yield record, f"{first[2]}-and-{second[2]}", data, first, [second]
    for record, base, faults in RECORDS.values():
        for fault in faults:
            data = pack(record, {**base, **fault[0]})
            torn = data[:-1] + bytes([data[-1] ^ 1])
            yield record, f"short-and-{fault[2]}", data[:-1], "record-too-short", [fault]
            yield record, f"trailing-and-{fault[2]}", data + b"\0", "trailing-bytes", [fault]
            yield record, f"seal-and-{fault[2]}", torn, "checksum-mismatch", [fault]


def sound(id):
    """The record of that id without a fault."""
    record, base, _ = {**RECORDS, **BANK_RECORDS}[id]
    return pack(record, base).hex()


def vector_of(record, name, data, first, later):
    also = [{"reason": reason, "path": f"{record.id}.{id}"} for _, reason, id in later]
    given = {"record": record.id, "hex": data.hex(), "repaired": sound(record.id)}
    if first == "record-too-short":
        place = (first, len(data), None, record.id)
    elif first == "trailing-bytes":
        place = (first, record.size, None, record.id)
    else:
        id = "seal" if first == "checksum-mismatch" else first[2]
        field = field_of(record, id)
        reason = first if first == "checksum-mismatch" else first[1]
        bit = 0 if first == "checksum-mismatch" else field.lsb
        place = (reason, field.at, bit, f"{record.id}.{id}")
    id = f"order-{record.id}-{name}".replace("_", "-")
    return bad(id, "Two faults: the first in the order of the checks.", ["SeveralFaults"], given, *place, also=also)


def singles():
    """Pairs worked one by one: (id, why, bytes, place of the first fault, later faults)."""
    whole = pack(FRAME, BASE)
    frame = lambda **raws: pack(FRAME, {**BASE, **raws})
    seal, kind, layout = ("checksum-mismatch", "frame.seal"), ("kind-unexpected", "frame.kind"), ("layout-unknown", "frame.layout")
    reserved, pressure = ("reserved-bit-set", "frame.reserved"), ("value-out-of-range", "frame.pressure")
    temperature = ("value-out-of-range", "frame.temperature")
    at = lambda fault, byte, bit: (fault[0], byte, bit, fault[1])
    seal_at, kind_at, layout_at = at(seal, 14, 0), at(kind, 0, 12), at(layout, 0, 8)
    short, trailing = ("record-too-short", 15, None, "frame"), ("trailing-bytes", 16, None, "frame")
    empty = ("record-empty", 0, None, "frame")
    yield "short-and-empty", "Short, and all zero.", bytes(15), short, [empty[::3]]
    later = [trailing[::3], seal, kind, layout]
    yield "empty-and-trailing", "All zero, and too long.", bytes(18), empty, later
    yield "trailing-and-seal", "Too long, and the seal broken.", whole[:-1] + b"\0\0", trailing, [seal]
    unsealed = bytearray(frame(kind=3, layout=2, reserved=1))
    unsealed[15] ^= 1
    yield "seal-and-kind", "The seal broken, and another kind.", bytes(unsealed), seal_at, [kind, layout, reserved]
    yield "kind-and-layout", "Another kind and another layout.", frame(kind=3, layout=2), kind_at, [layout]
    why = "Another layout, which uses bits that are reserved here."
    yield "layout-and-reserved", why, frame(layout=2, reserved=255), layout_at, [reserved]
    why = "Another layout, and a pressure outside this one's range."
    yield "layout-and-range", why, frame(layout=2, pressure=1), layout_at, [pressure]
    why = "A reserved bit, and a temperature out of range: the field that comes first."
    data = frame(reserved=128, temperature=12_501)
    yield "reserved-and-range", why, data, at(reserved, 4, 31), [temperature]
    data = frame(pressure=0, temperature=-4001)
    yield "pressure-and-temperature", "Two values out of range.", data, at(pressure, 4, 0), [temperature]
    why = "The header's first octet and its kind: kind is judged before every other field."
    marker = ("marker-mismatch", "header.dsfid")
    header = lambda **raws: pack(HEADER, {**HEADER_BASE, "dsfid": 9, **raws})
    yield "marker-and-kind", why, header(kind=2), ("kind-unexpected", 0, 4, "header.kind"), [marker]
    why = "The header's first octet and its layout."
    yield "marker-and-layout", why, header(layout=2), ("layout-unknown", 0, 0, "header.layout"), [marker]
    air = frame(kind=3)[:-2]
    why = "The air checksum in place of the seal, and another kind."
    yield "air-checksum-and-kind", why, air + checksum("air", air).to_bytes(2, "big"), seal_at, [kind]


def build():
    vectors = []
    for id, why, data, place, later in singles():
        record = place[3].split(".")[0]
        given = {"record": record, "hex": data.hex(), "repaired": sound(record)}
        also = [{"reason": reason, "path": path} for reason, path in later]
        vectors.append(bad(f"order-{id}", why, ["SeveralFaults"], given, *place, also=also))
    vectors += [vector_of(*pair) for pair in pairs()]
    return document("record", SOURCE, NOTES, vectors)
