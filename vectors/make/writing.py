"""writing.json: raw integers to the bytes of a record, or the first value that must not be written."""

from banks import TID_BASE
from burst import BASE as BURST_BASE
from calibration import BASE as CALIBRATION_BASE
from cases import slug
from counters import BASE as COUNTERS_BASE
from document import bad, document, good
from fields import elements, field_of
from frames import BASE as FRAME_BASE
from header import BASE as HEADER_BASE
from link_bodies import ORDINARY
from link_tables import PAYLOADS
from memory_tables import BURST, CALIBRATION, COUNTERS, EPC, FRAME, HEADER, PASSWORDS, TID, XPC
from record import gather, pack
from stored_crc import BANK_BASE as EPC_BASE

NOTES = {
    "Complete": "Every value is given and allowed.",
    "OwnValues": "Constants, reserved bits and checksums are the writer's own; what is given for them is not looked at.",
    "FieldMissing": "A value is not given. It must not be written as 0.",
    "NotWhole": "A raw integer that is no integer.",
    "Limit": "A raw integer beyond the field's range, or beyond its bits.",
    "Name": "A raw integer outside the closed list.",
    "ReservedBit": "A flag without a name.",
    "Count": "A count that is not the number of the elements given, or an element that does not fit its bits.",
}

SOURCE = (
    "Packed as in the files of records and messages by whole-number arithmetic (vectors/make/record.py); the first field"
    " at fault, in the order of the record, is named."
)

MEMORY = (
    (HEADER, HEADER_BASE),
    (FRAME, FRAME_BASE),
    (COUNTERS, COUNTERS_BASE),
    (CALIBRATION, CALIBRATION_BASE),
    (BURST, BURST_BASE),
    (PASSWORDS, {"kill_password": 0, "access_password": 0x5AC3_0F17}),
    (EPC, EPC_BASE),
    (XPC, {"xpc_w1": 0x0200}),
    (TID, TID_BASE),
)
SETTABLE = ("unsigned", "signed", "flags", "enumeration")


def given(record, raws, tails):
    out = {}
    for id, raw in raws.items():
        gather(out, id, raw)
    return {"record": record.id, "raws": out, **({"tails": tails} if tails else {})}


def written(record, name, why, flags, raws, tails=None):
    tails = tails or {}
    own = {id: raw for id, raw in raws.items() if field_of(record, id).type in SETTABLE}
    hex = pack(record, own, tails).hex()
    return good(f"writing-{slug(record.id)}-{name}", why, flags, given(record, raws, tails), {"hex": hex})


def refused(record, name, why, flags, base, raws, reason, place, tails=None, sound_tails=None):
    repaired = given(record, base, sound_tails if sound_tails is not None else tails)
    shown = {**given(record, raws, tails), "repaired": repaired}
    return bad(f"writing-{slug(record.id)}-{name}", why, flags, shown, reason, *place)


def place_of(record, field):
    return field.at, field.lsb, f"{record.id}.{field.id}"


def of_record(record, base, tails):
    tails = {id: list(words) for id, words in tails.items()}
    yield written(record, "complete", "Every value is given.", ["Complete"], base, tails)
    own = {f.id: f.highest for f in elements(record) if f.type in ("constant", "reserved", "checksum")}
    if own:
        why = "Ones for constants, reserved bits and checksum."
        yield written(record, "own-values", why, ["OwnValues"], {**own, **base}, tails)
    counts = {count for _, _, count in record.tails}
    for field in elements(record):
        # The elements of an array are alike: the last one stands for them, for without it the list is one shorter.
        if field.type not in SETTABLE or (field.id.endswith("]") and field.id != last(record)):
            continue
        name, place = slug(field.id), place_of(record, field)
        without = {id: raw for id, raw in base.items() if id != field.id}
        yield refused(record, f"{name}-missing", f"{field.id} is not given.", ["FieldMissing"], base, without,
                      "field-missing", place, tails)  # fmt: skip
        half = {**base, field.id: base[field.id] + 0.5}
        yield refused(record, f"{name}-half", f"{field.id} is no integer.", ["NotWhole"], base, half,
                      "field-invalid", place, tails)  # fmt: skip
        for raw in wrong(field):
            reason, flag = WRONG[field.type]
            id = f"{name}-raw-{raw}".replace("--", "-minus-")
            counted = {t: [0] * raw if c == field.id and 0 < raw < 300 else tails[t] for t, _, c in record.tails}
            yield refused(record, id, f"{field.id} {raw}.", [flag], base, {**base, field.id: raw}, reason, place,
                          counted, tails)  # fmt: skip
        if field.id in counts:
            tail = next(id for id, _, count in record.tails if count == field.id)
            for step, words in ((-1, tails[tail][:-1]), (1, [*tails[tail], 7])):
                id = f"{slug(tail)}-{'one-less' if step < 0 else 'one-more'}"
                yield refused(record, id, f"{tail}: {len(words)} elements.", ["Count"], base, base, "count-mismatch", place,
                              {**tails, tail: words}, tails)  # fmt: skip
    at = record.size
    for tail, size, count in record.tails:
        for raw in (-1, 65_536):
            id = f"{slug(tail)}-element-{raw}".replace("--", "-minus-")
            words = [*tails[tail][:-1], raw]
            place = (at + size * (len(words) - 1), 0, f"{record.id}.{tail}[{len(words) - 1}]")
            yield refused(record, id, f"An element of {tail} that does not fit 16 bits.", ["Count"], base, base,
                          "value-out-of-range", place, {**tails, tail: words}, tails)  # fmt: skip
        at += size * len(tails[tail])


def last(record):
    """Id of the last element of the record's array, if it has one."""
    return next((f.id for f in reversed(elements(record)) if f.id.endswith("]")), None)


WRONG = {
    "unsigned": ("value-out-of-range", "Limit"),
    "signed": ("value-out-of-range", "Limit"),
    "enumeration": ("name-unknown", "Name"),
    "flags": ("reserved-bit-set", "ReservedBit"),
}


def wrong(field):
    """Raw integers that are no value of the field: beside its range or list, and beside what its bits hold."""
    beyond = {field.lowest - 1, field.highest + 1}
    if field.type in ("unsigned", "signed"):
        allowed = {raw for raw, _, _ in field.sentinels}
        return sorted(({field.low - 1, field.high + 1} | beyond) - allowed)
    known = {raw for raw, _ in field.names}
    if field.type == "enumeration":
        return sorted(({min(known) - 1, max(known) + 1} | beyond) - known)
    unnamed = [bit for bit in range(field.width) if bit not in known]
    return [1 << bit for bit in (*unnamed[:1], field.width)]


def build():
    vectors = []
    for record, base in MEMORY:
        vectors += of_record(record, base, {})
    for id, (values, tails) in ORDINARY.items():
        if PAYLOADS[id].size:
            vectors += of_record(PAYLOADS[id], values, tails)
    return document("record-writing", SOURCE, NOTES, vectors)
