"""The verdict on any bytes by the tables, in the order of checks in README.md: for what was not made by hand."""

from crc import checksum
from fields import elements

MISMATCH = {"kind": "kind-unexpected", "layout": "layout-unknown", "marker": "marker-mismatch"}


class Bad(Exception):
    """The first fault: reason, byte, bit, path, and what else is said of it."""

    def __init__(self, reason, byte, bit, path, **more):
        super().__init__(reason)
        self.place = (reason, byte, bit, path)
        self.more = more


def judge(record, data):
    """Raw integers of every field but checksums; raises Bad. Tails are left to the caller."""
    fields = elements(record)
    if len(data) < record.size:
        raise Bad("record-too-short", len(data), None, record.id)
    if any(field.role == "kind" for field in fields) and not any(data[: record.size]):
        raise Bad("record-empty", 0, None, record.id)
    if len(data) > record.size and not record.tails:
        raise Bad("trailing-bytes", record.size, None, record.id)
    for field in sorted(fields, key=rank):
        raw = raw_of(field, data)
        found = fault(field, raw, data)
        if found:
            reason, bit, suffix = found
            raise Bad(reason, field.at, bit, f"{record.id}.{field.id}{suffix}")
    return {field.id: raw_of(field, data) for field in fields if field.type != "checksum"}


def rank(field):
    """Checksums, then the kind, then the layout, then everything as it stands."""
    return 0 if field.type == "checksum" else {"kind": 1, "layout": 2}.get(field.role, 3)


def raw_of(field, data):
    """The container as one big-endian integer, and the field's bits of it."""
    word = int.from_bytes(data[field.at : field.at + field.container // 8], "big")
    raw = word >> field.lsb & (1 << field.width) - 1
    return raw - (1 << field.width) if field.type == "signed" and raw > field.highest else raw


def fault(field, raw, data):
    """(reason, bit, rest of the path), or None for a value that may stand there."""
    if field.type == "checksum":
        first, last = field.over
        return None if raw == checksum(field.algorithm, data[first : last + 1]) else ("checksum-mismatch", field.lsb, "")
    if field.type == "constant":
        return None if raw == field.raw else (MISMATCH[field.role], field.lsb, "")
    if field.type == "reserved":
        return ("reserved-bit-set", field.lsb + lowest_bit(raw), "") if raw else None
    if field.type == "flags":
        unknown = raw & ~sum(1 << bit for bit, _ in field.names)
        bit = lowest_bit(unknown)
        return ("reserved-bit-set", field.lsb + bit, f".bit_{bit}") if unknown else None
    if field.type == "enumeration":
        return None if raw in dict(field.names) else ("name-unknown", field.lsb, "")
    allowed = field.low <= raw <= field.high or raw in (sentinel for sentinel, _, _ in field.sentinels)
    return None if allowed else ("value-out-of-range", field.lsb, "")


def lowest_bit(number):
    return (number & -number).bit_length() - 1
