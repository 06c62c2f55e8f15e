"""Records of the tag's memory and of two link messages, by protocol/MEMORY-MAP.md: bytes to raw integers and back.

Big-endian throughout. A field is (name, first byte, bytes of its container, msb, lsb, what), and what is one of the small
classes below. Bits count from 0, the least significant one of the container.
"""

FINGERPRINT = 0x028961A7


class Bad(Exception):
    """Why something was rejected: reason code, byte, bit, path, and what a verb adds to the answer."""

    def __init__(self, reason, byte, bit, path, more=()):
        super().__init__(reason)
        self.reason, self.byte, self.bit, self.path, self.more = reason, byte, bit, path, list(more)


class Constant:
    def __init__(self, raw, reason):
        self.raw, self.reason = raw, reason


class Number:
    def __init__(self, low, high, special=(), signed=False):
        self.low, self.high, self.special, self.signed = low, high, special, signed


class Flags:
    def __init__(self, named):
        self.named = named


class Names:
    def __init__(self, *raws):
        self.raws = raws


class Reserved:
    pass


class Checksum:
    def __init__(self, preset, final_xor, first, last):
        self.preset, self.final_xor, self.first, self.last = preset, final_xor, first, last


def crc16(data, preset, final_xor):
    """Polynomial 1021h, most significant bit first."""
    register = preset
    for byte in data:
        register ^= byte << 8
        for _ in range(8):
            register = (register << 1) ^ 0x1021 if register & 0x8000 else register << 1
            register &= 0xFFFF
    return register ^ final_xor


def seal(at):
    return ("seal", at, 2, 15, 0, Checksum(0x504C, 0x0000, 0, at - 1))


def sealed(kind):
    """First four and next four bits of every sealed record but the header."""
    return [
        ("kind", 0, 2, 15, 12, Constant(kind, "kind-unexpected")),
        ("layout", 0, 2, 11, 8, Constant(1, "layout-unknown")),
    ]


PRESSURE = Number(3328000, 16128000, (16777215,))
TEMPERATURE = Number(-4000, 12500, (-32768,), signed=True)
SIGNED16 = Number(-32768, 32767, signed=True)
U8, U16, U32 = Number(0, 0xFF), Number(0, 0xFFFF), Number(0, 0xFFFFFFFF)

# record: (bytes, fields); an array is written out, one field an element.
RECORDS = {
    "header": (
        16,
        [
            ("dsfid", 0, 2, 15, 8, Constant(0, "marker-mismatch")),
            ("kind", 0, 2, 7, 4, Constant(1, "kind-unexpected")),
            ("layout", 0, 2, 3, 0, Constant(1, "layout-unknown")),
            ("fingerprint", 2, 4, 31, 0, U32),
            ("firmware_major", 6, 2, 15, 8, U8),
            ("firmware_minor", 6, 2, 7, 0, U8),
            ("sampling_period", 8, 2, 15, 0, Number(10, 60000)),
            ("sensor_serial", 10, 4, 31, 0, Number(1, 0xFFFFFFFF)),
            seal(14),
        ],
    ),
    "frame": (
        16,
        [
            *sealed(2),
            ("status", 0, 2, 7, 0, Flags(0xFF)),
            ("sequence", 2, 2, 15, 0, U16),
            ("reserved", 4, 4, 31, 24, Reserved()),
            ("pressure", 4, 4, 23, 0, PRESSURE),
            ("temperature", 8, 2, 15, 0, TEMPERATURE),
            ("supply", 10, 4, 31, 20, Number(0, 4094, (4095,))),
            ("uptime", 10, 4, 19, 0, Number(0, 1048574, (1048575,))),
            seal(14),
        ],
    ),
    "counters": (
        16,
        [
            *sealed(3),
            ("reuse_cycles", 0, 2, 7, 0, Number(0, 254, (255,))),
            ("cold_starts", 2, 4, 31, 0, Number(0, 0xFFFFFFFE, (0xFFFFFFFF,))),
            ("fruitless_starts", 6, 4, 31, 24, Number(0, 254, (255,))),
            ("brown_outs", 6, 4, 23, 0, Number(0, 0xFFFFFE, (0xFFFFFF,))),
            ("frames", 10, 4, 31, 0, Number(0, 0xFFFFFFFE, (0xFFFFFFFF,))),
            seal(14),
        ],
    ),
    "calibration": (
        32,
        [
            *sealed(4),
            ("method", 0, 2, 7, 4, Names(1, 2, 3, 4, 5)),
            ("reuse_since", 0, 2, 3, 0, Number(0, 14, (15,))),
            ("date", 2, 2, 15, 0, Number(0, 65534, (65535,))),
            ("sensor_serial", 4, 4, 31, 0, Number(1, 0xFFFFFFFF)),
            ("reuse_count", 8, 4, 31, 24, Number(0, 254)),
            ("offset", 8, 4, 23, 0, Number(-8388608, 8388607, signed=True)),
            ("reuse_limit", 12, 4, 31, 24, Number(0, 254, (255,))),
            ("gain", 12, 4, 23, 0, Number(262144, 4194304)),
            ("temperature_effect", 16, 2, 15, 0, SIGNED16),
            ("gain_temperature", 18, 2, 15, 0, SIGNED16),
            ("curvature", 20, 2, 15, 0, SIGNED16),
            ("reference_temperature", 22, 2, 15, 0, Number(-4000, 12500, signed=True)),
            ("expanded_uncertainty", 24, 2, 15, 0, Number(0, 65534, (65535,))),
            ("temperature_low", 26, 2, 15, 8, Number(-40, 125, signed=True)),
            ("temperature_high", 26, 2, 7, 0, Number(-40, 125, signed=True)),
            ("span", 28, 2, 15, 8, Number(1, 255)),
            ("validity", 28, 2, 7, 0, Number(1, 254, (255,))),
            seal(30),
        ],
    ),
    "burst": (
        64,
        [
            *sealed(5),
            ("status", 0, 2, 7, 0, Flags(0xFF)),
            ("sequence", 2, 2, 15, 0, U16),
            ("count", 4, 4, 31, 24, Number(0, 25)),
            ("pressure", 4, 4, 23, 0, PRESSURE),
            ("interval", 8, 2, 15, 0, Number(1, 10000)),
            ("temperature", 10, 2, 15, 0, TEMPERATURE),
            *((f"samples[{i}]", 12 + 2 * i, 2, 15, 0, SIGNED16) for i in range(25)),
            seal(62),
        ],
    ),
    "epc": (
        16,
        [
            ("stored_crc", 0, 2, 15, 0, Checksum(0xFFFF, 0xFFFF, 2, 15)),
            ("epc_length", 2, 2, 15, 11, Number(6, 6)),
            ("indicators", 2, 2, 10, 9, Flags(3)),
            ("toggle", 2, 2, 8, 8, Constant(0, "marker-mismatch")),
            ("attributes", 2, 2, 7, 0, Reserved()),
            *((f"epc[{i}]", 4 + 2 * i, 2, 15, 0, U16) for i in range(6)),
        ],
    ),
}


def slice_of(data, byte, size, msb, lsb, signed=False, order="big"):
    """The bits msb to lsb of the container of `size` bytes that begins at `byte`."""
    width = msb - lsb + 1
    raw = int.from_bytes(data[byte : byte + size], order) >> lsb & (1 << width) - 1
    return raw - (1 << width) if signed and raw >> width - 1 else raw


def decode(record, data):
    """Raw integers by name, or Bad. The order: length, never written, length, checksum, kind, layout, every field."""
    size, fields = RECORDS[record]
    has_seal = any(name == "seal" for name, *_ in fields)
    if len(data) < size:
        raise Bad("record-too-short", len(data), None, record)
    if has_seal and not any(data[:size]):
        raise Bad("record-empty", 0, None, record)
    if len(data) > size:
        raise Bad("trailing-bytes", size, None, record)
    check(record, data, [field for field in fields if isinstance(field[5], Checksum)])
    for first in ("kind", "layout"):
        check(record, data, [field for field in fields if field[0] == first])
    return check(record, data, fields)


def check(record, data, fields):
    raws = {}
    for name, byte, size, msb, lsb, what in fields:
        raw = slice_of(data, byte, size, msb, lsb, getattr(what, "signed", False))
        reason, bit, path = fault(data, raw, what), lsb, f"{record}.{name}"
        if reason == "reserved-bit-set":
            wrong = raw & ~getattr(what, "named", 0)
            low = (wrong & -wrong).bit_length() - 1
            bit, path = lsb + low, f"{path}.bit_{low}" if isinstance(what, Flags) else path
        if reason:
            raise Bad(reason, byte, bit, path)
        raws[name] = raw
    return raws


def fault(data, raw, what):
    """Reason why a field cannot have this raw integer; None when it can."""
    if isinstance(what, Checksum):
        covered = data[what.first : what.last + 1]
        return None if raw == crc16(covered, what.preset, what.final_xor) else "checksum-mismatch"
    if isinstance(what, Constant):
        return None if raw == what.raw else what.reason
    if isinstance(what, Reserved):
        return "reserved-bit-set" if raw else None
    if isinstance(what, Flags):
        return "reserved-bit-set" if raw & ~what.named else None
    if isinstance(what, Names):
        return None if raw in what.raws else "name-unknown"
    return None if what.low <= raw <= what.high or raw in what.special else "value-out-of-range"


def encode(record, raws):
    """Bytes of a record: constants and checksums are made here."""
    size, fields = RECORDS[record]
    data = bytearray(size)
    for checksums in (False, True):
        for name, byte, width, msb, lsb, what in fields:
            if isinstance(what, Checksum) is not checksums:
                continue
            if checksums:
                raw = crc16(data[what.first : what.last + 1], what.preset, what.final_xor)
            else:
                raw = 0 if isinstance(what, Reserved) else what.raw if isinstance(what, Constant) else raws[name]
            whole = int.from_bytes(data[byte : byte + width], "big") | (raw & (1 << msb - lsb + 1) - 1) << lsb
            data[byte : byte + width] = whole.to_bytes(width, "big")
    return bytes(data)


def write(record, raws):
    """The same for values from outside: the first that is missing, no integer or not allowed is Bad."""
    for name, byte, size, _, lsb, what in RECORDS[record][1]:
        if isinstance(what, (Constant, Reserved, Checksum)):
            continue
        path = f"{record}.{name}"
        if name not in raws:
            raise Bad("field-missing", byte, lsb, path)
        if not isinstance(raws[name], int):
            raise Bad("field-invalid", byte, lsb, path)
        reason = fault(b"", raws[name], what)
        if reason:
            raise Bad(reason, byte, lsb, path)
    return encode(record, raws)


def choose_slot(data):
    """Which of slot A (bytes 0 to 15) and slot B (16 to 31) holds the newest whole frame, by RFC 1982: (slot, raws)."""
    slots, faults = {}, {}
    for slot, at in (("a", 0), ("b", 16)):
        try:
            slots[slot] = decode("frame", data[at : at + 16])
        except Bad as bad:
            faults[slot] = bad.reason
    if not slots:
        raise Bad("slots-both-bad", 0, None, "slots", faults.items())
    if len(slots) == 1:
        return next(iter(slots.items()))
    ahead = (slots["b"]["sequence"] - slots["a"]["sequence"]) & 0xFFFF
    if ahead == 0x8000 or (ahead == 0 and data[:16] != data[16:32]):
        raise Bad("slots-contradict", 16, None, "slots")
    slot = "b" if 0 < ahead < 0x8000 else "a"
    return slot, slots[slot]
