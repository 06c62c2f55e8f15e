"""The cases every record gets: limits and sentinels of each field, and each way it can be wrong, one fault at a time."""

from crc import checksum
from document import bad, good
from fields import elements
from record import arrived, complete, meanings, pack

NOTES = {
    "Ordinary": "Nothing at a limit.",
    "Limit": "A number at its lowest or highest valid raw integer, or one step beyond it.",
    "Sentinel": (
        "A raw integer that stands for something other than a number: not there, or at least the highest value."
    ),
    "Negative": "A number below zero: a decoder that forgets the sign shows a large positive value.",
    "Flag": "One flag alone, or all of them.",
    "Name": "A value of a closed list, or one outside it.",
    "ReservedBit": (
        "A bit kept for later is set. It may mean something in a later layout, so the record must not be believed."
    ),
    "Length": "Fewer or more bytes than the record has. The fields that arrived may be shown; the record is not good.",
    "NeverWritten": "Memory as it is before anything was written: all zero, or all ones.",
    "SealBroken": "The seal does not fit: a bit changed on the way, or words were swapped.",
    "Torn": "The power went while the record was written: the first words are new, the rest are old.",
    "ForeignChecksum": (
        "The right bytes under another checksum of the same width. A decoder with the wrong preset, final XOR, "
        "bit order or polynomial takes it for good."
    ),
    "OtherKind": "A sealed record of another kind: a Read at the wrong word.",
    "OtherLayout": "Written with another layout. To be named as such, never shown as numbers.",
    "Marker": "A value that must always be the same is not.",
}


class Suite:
    """Collects the vectors of one record around one ordinary set of raw integers."""

    def __init__(self, record, base):
        self.record = record
        self.base = base
        self.fields = elements(record)
        self.bytes = pack(record, base)
        self.vectors = []

    def good(self, id, why, flags, **changes):
        raws = {**self.base, **changes}
        data = pack(self.record, raws)
        whole = complete(self.record, raws, data)
        given = {"record": self.record.id, "hex": data.hex()}
        expected = {"raws": whole, "values": meanings(self.record, raws)}
        self.add(good(f"{self.record.id}-{id}", why, flags, given, expected))

    def bad(self, id, why, flags, data, reason, byte, bit, path, **more):
        given = {"record": self.record.id, "hex": data.hex(), "repaired": self.bytes.hex()}
        self.add(bad(f"{self.record.id}-{id}", why, flags, given, reason, byte, bit, path, **more))

    def add(self, vector):
        self.vectors.append(vector)

    def at(self, field, reason, id, why, flags, raw, bit=None, suffix=""):
        """One field holds a value the specification does not allow; the checksum is right."""
        data = pack(self.record, {**self.base, field.id: raw})
        self.bad(
            id,
            why,
            flags,
            data,
            reason,
            field.at,
            field.lsb if bit is None else bit,
            f"{self.record.id}.{field.id}{suffix}",
        )

    def whole(self, id, why, flags, data, reason, byte, **more):
        self.bad(id, why, flags, data, reason, byte, None, self.record.id, **more)

    def seal_broken(self, id, why, flags, data):
        field = next(field for field in self.fields if field.type == "checksum")
        self.bad(id, why, flags, data, "checksum-mismatch", field.at, 0, f"{self.record.id}.{field.id}")


def slug(id):
    return id.replace("_", "-").replace("[", "-").replace("]", "")


def good_cases(suite, skip=()):
    suite.good("ordinary", "An ordinary record.", ["Ordinary"])
    for field in suite.fields:
        name = slug(field.id)
        if field.id in skip:
            continue
        if field.type in ("unsigned", "signed") and field.low < field.high:
            suite.good(f"{name}-lowest", f"{field.id} at its lowest valid value.", ["Limit"], **{field.id: field.low})
            suite.good(
                f"{name}-highest", f"{field.id} at its highest valid value.", ["Limit"], **{field.id: field.high}
            )
            if not field.low < suite.base[field.id] < field.high:
                middle = (field.low + field.high) // 2
                suite.good(f"{name}-middle", f"{field.id} in the middle.", ["Ordinary"], **{field.id: middle})
            if field.type == "signed":
                suite.good(f"{name}-minus-one", f"{field.id} one step below zero.", ["Negative"], **{field.id: -1})
                suite.good(f"{name}-zero", f"{field.id} at zero.", ["Limit"], **{field.id: 0})
            for raw, id, means in field.sentinels:
                suite.good(
                    f"{name}-{slug(id)}",
                    f"{field.id}: {id.replace('_', ' ')} ({means}).",
                    ["Sentinel"],
                    **{field.id: raw},
                )
        if field.type == "flags":
            for bit, id in sorted(field.names):
                suite.good(f"{name}-{slug(id)}", f"{field.id}: {id} alone.", ["Flag"], **{field.id: 1 << bit})
            everything = sum(1 << bit for bit, _ in field.names)
            suite.good(f"{name}-none", f"{field.id}: no flag.", ["Flag"], **{field.id: 0})
            suite.good(f"{name}-all", f"{field.id}: every flag.", ["Flag"], **{field.id: everything})
        if field.type == "enumeration":
            for raw, id in field.names:
                suite.good(f"{name}-{slug(id)}", f"{field.id}: {id}.", ["Name"], **{field.id: raw})


def length_cases(suite):
    size = suite.record.size
    for length in range(size):
        suite.whole(
            f"short-{length}",
            f"{length} of {size} bytes.",
            ["Length"],
            suite.bytes[:length],
            "record-too-short",
            length,
            arrived=arrived(suite.record, length),
        )
    for extra in sorted({1, 2, size}):
        tail = suite.bytes if extra == size else bytes(extra)
        suite.whole(
            f"trailing-{extra}", f"{extra} bytes too many.", ["Length"], suite.bytes + tail, "trailing-bytes", size
        )


def value_cases(suite):
    for field in suite.fields:
        name = slug(field.id)
        if field.type in ("unsigned", "signed"):
            allowed = {raw for raw, _, _ in field.sentinels}
            wrong = {field.low - 1, field.high + 1, field.lowest, field.highest}
            for raw in sorted(wrong):
                valid = field.low <= raw <= field.high or raw in allowed
                if field.lowest <= raw <= field.highest and not valid:
                    suite.at(
                        field,
                        "value-out-of-range",
                        f"{name}-raw-{raw}".replace("--", "-minus-"),
                        f"{field.id} outside its valid range.",
                        ["Limit"],
                        raw,
                    )
        if field.type == "reserved":
            for bit in range(field.width):
                suite.at(
                    field,
                    "reserved-bit-set",
                    f"{name}-bit-{bit}",
                    f"Reserved bit {field.lsb + bit} is set.",
                    ["ReservedBit"],
                    1 << bit,
                    field.lsb + bit,
                )
            suite.at(
                field,
                "reserved-bit-set",
                f"{name}-all",
                "Every reserved bit is set: the lowest is named.",
                ["ReservedBit"],
                field.highest,
            )
        if field.type == "flags":
            named = {bit for bit, _ in field.names}
            for bit in range(field.width):
                if bit not in named:
                    suite.at(
                        field,
                        "reserved-bit-set",
                        f"{name}-bit-{bit}",
                        f"Bit {bit} of {field.id} has no name.",
                        ["ReservedBit"],
                        1 << bit,
                        field.lsb + bit,
                        f".bit_{bit}",
                    )
        if field.type == "enumeration":
            known = {raw for raw, _ in field.names}
            for raw in sorted({0, max(known) + 1, field.highest} - known):
                suite.at(field, "name-unknown", f"{name}-raw-{raw}", f"{field.id} outside the list.", ["Name"], raw)
        if field.type == "constant":
            constant_cases(suite, field, name)


def constant_cases(suite, field, name):
    if field.role == "marker":
        for raw in sorted({field.raw ^ 1 << bit for bit in range(field.width)}):
            suite.at(field, "marker-mismatch", f"{name}-raw-{raw}", f"{field.id} must be {field.raw}.", ["Marker"], raw)
    else:
        reason, flag = {"kind": ("kind-unexpected", "OtherKind"), "layout": ("layout-unknown", "OtherLayout")}[
            field.role
        ]
        for raw in range(field.highest + 1):
            if raw != field.raw:
                suite.at(field, reason, f"{name}-raw-{raw}", f"{field.id} {raw} in place of {field.raw}.", [flag], raw)


def memory_cases(suite):
    """What memory looks like before it is written, for a record with a kind."""
    size = suite.record.size
    suite.whole("empty", "Every byte is zero: never written.", ["NeverWritten"], bytes(size), "record-empty", 0)
    suite.seal_broken("erased", "Every byte is FF: erased memory.", ["NeverWritten"], b"\xff" * size)


def seal_cases(suite, older):
    """`older`: raw integers of an earlier record, for a torn write."""
    data = suite.bytes
    size = len(data)
    for byte in range(size):
        place = byte * 5 % 8
        suite.seal_broken(
            f"flip-byte-{byte}-bit-{place}",
            f"Bit {place} of byte {byte} flipped.",
            ["SealBroken"],
            data[:byte] + bytes([data[byte] ^ 1 << place]) + data[byte + 1 :],
        )
    for first in range(0, size - 2, 2):
        if data[first : first + 2] != data[first + 2 : first + 4]:
            swapped = data[:first] + data[first + 2 : first + 4] + data[first : first + 2] + data[first + 4 :]
            suite.seal_broken(
                f"swap-word-{first // 2}", f"Words {first // 2} and {first // 2 + 1} swapped.", ["SealBroken"], swapped
            )
    old = pack(suite.record, {**suite.base, **older})
    far = pack(suite.record, {**suite.base, **far_from(suite)})
    for word in range(1, size // 2):
        torn = data[: 2 * word] + old[2 * word :]
        if torn not in (data, old):
            suite.seal_broken(f"torn-after-word-{word}", f"{word} new words, then the earlier record.", ["Torn"], torn)
        torn = data[: 2 * word] + far[2 * word :]
        if torn != far:
            assert torn[2 * word : 2 * word + 2] != data[2 * word : 2 * word + 2]
            why = f"{word} new words, then a record that differs from it in every word."
            suite.seal_broken(f"torn-far-after-word-{word}", why, ["Torn"], torn)
    body = data[:-2]
    own = int.from_bytes(data[-2:], "big")
    foreign = {
        "air": checksum("air", body),
        "final-xor": own ^ 0xFFFF,
        "bytes-swapped": int.from_bytes(data[:-3:-1], "big"),
        "one-byte-short": checksum("seal", body[:-1]),
        "zero": 0,
    }
    for name, value in foreign.items():
        if value != own:
            suite.seal_broken(f"checksum-{name}", FOREIGN[name], ["ForeignChecksum"], body + value.to_bytes(2, "big"))


def far_from(suite):
    """A good record whose every number lies beside the end that is farther from the ordinary one."""
    far = {}
    for field in suite.fields:
        base = suite.base.get(field.id)
        if field.type in ("unsigned", "signed"):
            far[field.id] = field.low + 1 if 2 * base >= field.low + field.high else field.high - 1
        elif field.type == "flags":
            far[field.id] = base ^ sum(1 << bit for bit, _ in field.names)
        elif field.type == "enumeration":
            far[field.id] = next(raw for raw, _ in field.names if raw != base)
    return far


FOREIGN = {
    "air": "The Gen2 air checksum in place of the seal.",
    "final-xor": "The seal with a final XOR of FFFF.",
    "bytes-swapped": "The seal with its bytes swapped.",
    "one-byte-short": "The seal over one byte too few.",
    "zero": "Zero in place of the seal.",
}


def sealed_suite(record, base, older, skip=()):
    """All of it, for a sealed record of the USER bank."""
    suite = Suite(record, base)
    good_cases(suite, skip)
    length_cases(suite)
    memory_cases(suite)
    seal_cases(suite, older)
    value_cases(suite)
    return suite
