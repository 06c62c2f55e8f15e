"""A record's bytes from its field values, and what its raw integers mean, by whole-number arithmetic."""

from fractions import Fraction

from crc import checksum
from fields import elements


def pack(record, raws, tails=None):
    """Bytes of a record. Constants, reserved bits and checksums are filled in unless `raws` says otherwise."""
    tails = tails or {}
    data = bytearray(record.size)
    fields = elements(record)
    for field in fields:
        if field.type != "checksum":
            raw = raws.get(field.id, field.raw if field.type == "constant" else 0 if field.type == "reserved" else None)
            assert raw is not None, f"{record.id}.{field.id} has no value"
            insert(data, field, raw)
    for id, size, _ in record.tails:
        data += b"".join(element.to_bytes(size, "big") for element in tails.get(id, ()))
    for field in fields:
        if field.type == "checksum":
            first, last = field.over
            insert(data, field, raws.get(field.id, checksum(field.algorithm, data[first : last + 1])))
    return bytes(data)


def insert(data, field, raw):
    """Puts a raw integer into its slice: reads the container as one big-endian integer, replaces the bits, writes it."""
    assert field.lowest <= raw <= field.highest, f"{field.id}: {raw} does not fit"
    size = field.container // 8
    word = int.from_bytes(data[field.at : field.at + size], "big")
    mask = ((1 << field.width) - 1) << field.lsb
    word = (word & ~mask) | ((raw << field.lsb) & mask)
    data[field.at : field.at + size] = word.to_bytes(size, "big")


def complete(record, raws, data):
    """Every field's raw integer, the filled-in ones included; arrays as lists under their own name."""
    out = {}
    for field in elements(record):
        if field.type == "checksum":
            raw = int.from_bytes(data[field.at : field.at + 2], "big")
        else:
            raw = raws.get(field.id, field.raw if field.type == "constant" else 0)
        gather(out, field.id, raw)
    return out


def meanings(record, raws):
    """Physical value of every number (null where a sentinel says there is none), ids of set flags, names."""
    out = {}
    for field in elements(record):
        raw = raws.get(field.id)
        if field.type in ("unsigned", "signed"):
            gather(out, field.id, number_of(field, raw))
        elif field.type == "flags":
            out[field.id] = [id for bit, id in sorted(field.names) if raw >> bit & 1]
        elif field.type == "enumeration":
            out[field.id] = dict(field.names)[raw]
    return out


def number_of(field, raw):
    for sentinel, _, means in field.sentinels:
        if raw == sentinel:
            if means == "absent":
                return None
            raw = field.high
    return plain(Fraction(raw * field.num + field.add, field.den))


def plain(value):
    """An exact fraction as a JSON number: whole where it is whole, else the nearest double."""
    return value.numerator if value.denominator == 1 else float(value)


def gather(out, id, value):
    if id.endswith("]"):
        out.setdefault(id[: id.index("[")], []).append(value)
    else:
        out[id] = value


def arrived(record, length):
    """Ids of the fields whose whole container lies within the first `length` bytes."""
    return [field.id for field in elements(record) if field.at + field.container // 8 <= length]
