"""The vocabulary of the tables: what a field is, and the short forms the tables are written in."""

from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Field:
    """A slice of one container: `at` is the container's first byte, `bits` its [msb, lsb], both counted from 0."""

    id: str
    type: str  # unsigned, signed, flags, enumeration, constant, reserved, checksum
    at: int
    container: int
    msb: int
    lsb: int
    unit: str = "1"
    num: int = 1
    den: int = 1
    add: int = 0
    rounding: str = "half-away-from-zero"
    out_of_range: str = "reject"
    low: int = 0
    high: int = 0
    sentinels: tuple = ()  # (raw, id, means)
    names: tuple = ()  # (bit, id) of flags, (raw, id) of an enumeration
    raw: int = 0
    role: str = ""  # marker, kind, layout
    algorithm: str = ""
    over: tuple = ()  # first and last byte covered
    count: int = 0  # elements of an array; 0 for a single field

    @property
    def width(self):
        return self.msb - self.lsb + 1

    @property
    def lowest(self):
        """Lowest raw integer the bits can hold."""
        return -(1 << (self.width - 1)) if self.type == "signed" else 0

    @property
    def highest(self):
        """Highest raw integer the bits can hold."""
        return (1 << (self.width - 1)) - 1 if self.type == "signed" else (1 << self.width) - 1


@dataclass(frozen=True)
class Record:
    """A record: bytes of its fixed part, fields in order, and tails (id, bytes an element, id of the counting field)."""

    id: str
    size: int
    fields: tuple
    tails: tuple = ()


def number(id, at, container, bits=None, range=None, scale=(1, 1), unit="1", signed=False, **more):
    msb, lsb = bits or (container - 1, 0)
    low, high = range or (0, (1 << (msb - lsb + 1)) - 1)
    kind = "signed" if signed else "unsigned"
    return Field(id, kind, at, container, msb, lsb, unit, scale[0], scale[1], low=low, high=high, **more)


def flags(id, at, container, bits, names):
    return Field(id, "flags", at, container, bits[0], bits[1], names=names)


def enumeration(id, at, container, bits, names):
    return Field(id, "enumeration", at, container, bits[0], bits[1], names=names)


def constant(id, at, container, bits, role, raw):
    return Field(id, "constant", at, container, bits[0], bits[1], role=role, raw=raw)


def reserved(id, at, container, bits):
    return Field(id, "reserved", at, container, bits[0], bits[1])


def sealed_by(algorithm, id, at, over):
    return Field(id, "checksum", at, 16, 15, 0, algorithm=algorithm, over=over)


def elements(record):
    """The record's fields with every array unrolled into `id[0]`, `id[1]`, …"""
    out = []
    for field in record.fields:
        if not field.count:
            out.append(field)
            continue
        step = field.container // 8
        out += [replace(field, id=f"{field.id}[{i}]", at=field.at + i * step, count=0) for i in range(field.count)]
    return out


def field_of(record, id):
    return next(field for field in elements(record) if field.id == id)
