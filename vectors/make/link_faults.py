"""Messages of the link with a fault: cut, of another type, with a field that is wrong, with two faults."""

from cases import slug
from document import bad
from fields import elements
from link_bodies import ORDINARY, body, request_of
from link_tables import ENVELOPE, MESSAGES, PAYLOADS
from record import arrived


def refused(name, why, flags, id, data, reason, byte, bit, path, **more):
    values, tails = ORDINARY[id]
    repaired = body(id, request_of(id), values, tails)
    given = {"direction": MESSAGES[id][1], "body": data.hex(), "repaired": repaired.hex()}
    return bad(f"message-{slug(id)}-{name}", why, flags, given, reason, byte, bit, path, **more)


def with_value(id, field, raw):
    """A message with another value in one field; what a field counts is there in that number."""
    values, tails = ORDINARY[id]
    counted = {tail: tuple(range(raw)) for tail, _, count in PAYLOADS[id].tails if count == field.id}
    return body(id, request_of(id), {**values, field.id: raw}, {**tails, **counted})


def bad_messages():
    for id, (code, direction) in MESSAGES.items():
        values, tails = ORDINARY[id]
        record = PAYLOADS[id]
        data = body(id, request_of(id), values, tails)
        for length in (0, 1, 2):
            yield refused(
                f"short-{length}",
                f"{length} bytes: not even the envelope.",
                ["TooShort"],
                id,
                data[:length],
                "record-too-short",
                length,
                None,
                "envelope",
                arrived=arrived(ENVELOPE, length),
            )
        for length in range(record.size):
            yield refused(
                f"payload-{length}",
                f"{length} of {record.size} bytes of payload.",
                ["TooShort"],
                id,
                data[: 3 + length],
                "record-too-short",
                3 + length,
                None,
                record.id,
            )
        if not record.tails:
            yield refused(
                "trailing",
                "One byte too many.",
                ["Trailing"],
                id,
                data + b"\0",
                "trailing-bytes",
                3 + record.size,
                None,
                record.id,
            )
        else:
            count = next(field for field in record.fields if field.id == record.tails[-1][2])
            place = ("count-mismatch", 3 + count.at, count.lsb, f"{record.id}.{count.id}")
            yield refused("one-byte-short", "The last tail is one byte short.", ["Count"], id, data[:-1], *place)
            yield refused("one-word-more", "One word behind the last tail.", ["Count"], id, data + b"\0\0", *place)
            yield refused("tails-missing", "The tails are missing.", ["Count"], id, data[: 3 + record.size], *place)
        for field in elements(record):
            yield from wrong_values(id, record, field)
        other = next(number for number, way in MESSAGES.values() if way != direction)
        yield refused(
            "wrong-direction",
            "Only the other side may say this.",
            ["WrongDirection"],
            id,
            bytes([other]) + data[1:],
            "message-unknown",
            0,
            0,
            "envelope.type",
        )
    yield from unknown_types()
    yield from several_faults()


def unknown_types():
    """Each type that only the other side may send, and those beside the types in the list."""
    codes = {code for code, _ in MESSAGES.values()}
    beside = {0x00, 0xFF, *(code - 1 for code in codes), *(code + 1 for code in codes)} - codes
    for id in ("keep_alive", "done"):
        own = {code for code, direction in MESSAGES.values() if direction == MESSAGES[id][1]}
        for number in sorted((codes | beside) - own):
            data = bytes([number]) + body(id, request_of(id), {}, {})[1:]
            flag = "WrongDirection" if number in codes else "MessageUnknown"
            yield refused(
                f"type-{number:02x}", f"Type {number:02X}h.", [flag], id, data, "message-unknown", 0, 0, "envelope.type"
            )


def several_faults():
    """Two faults in one message: envelope, type, length, the fields in their order, counts."""

    def both(name, why, id, data, reason, byte, bit, path, also):
        also = [{"reason": later, "path": where} for later, where in also]
        return refused(f"both-{name}", why, ["SeveralFaults"], id, data, reason, byte, bit, path, also=also)

    def changed(id, **raws):
        values, tails = ORDINARY[id]
        return body(id, request_of(id), {**values, **raws}, tails)

    unknown = ("message-unknown", 0, 0, "envelope.type")
    done = bytes([MESSAGES["done"][0]])
    yield both("unknown-and-short", "Only a kit says this, and it is short.", "set_power", done + changed("set_power")[1:4],
               *unknown, [("record-too-short", "set_power")])  # fmt: skip
    yield both("unknown-and-trailing", "Only a kit says this, and bytes follow.", "keep_alive", done + changed("keep_alive")[1:] + b"\0",
               *unknown, [("trailing-bytes", "done")])  # fmt: skip
    yield both("unknown-and-range", "Only a kit says this, and its period is too short.", "start_inventory",
               done + changed("start_inventory", period=9)[1:], *unknown, [("value-out-of-range", "start_inventory.period")])  # fmt: skip
    yield both("unknown-and-count", "Only a kit says this, and a word is missing.", "read", done + changed("read")[1:-2],
               *unknown, [("count-mismatch", "read.epc_words")])  # fmt: skip
    for id, raws, reason, path in (
        ("lock", {"lock_reserved": 1}, "reserved-bit-set", "lock.lock_reserved"),
        ("read", {"bank": 4}, "name-unknown", "read.bank"),
        ("start_inventory", {"period": 9}, "value-out-of-range", "start_inventory.period"),
    ):
        size = PAYLOADS[id].size
        yield both(f"short-and-{reason}", "Short, and a field that arrived is wrong.", id, changed(id, **raws)[: 2 + size],
                   "record-too-short", 2 + size, None, id, [(reason, path)])  # fmt: skip
    for id, raws, reason, path in (
        ("welcome", {"kit_time_reserved": 1}, "reserved-bit-set", "welcome.kit_time_reserved"),
        ("set_channel_plan", {"plan": 0}, "name-unknown", "set_channel_plan.plan"),
        ("hello", {"link_version": 0}, "value-out-of-range", "hello.link_version"),
    ):
        size = PAYLOADS[id].size
        yield both(f"trailing-and-{reason}", "A byte too many, and a field is wrong.", id, changed(id, **raws) + b"\0",
                   "trailing-bytes", 3 + size, None, id, [(reason, path)])  # fmt: skip
    for first, second in (
        (("kit_time_reserved", 1, "reserved-bit-set", 0, 48), ("bank", 4, "name-unknown")),
        (("kit_time_reserved", 1, "reserved-bit-set", 0, 48), ("rssi", None, "count-mismatch")),
        (("kit_time_reserved", 1, "reserved-bit-set", 0, 48), ("epc_words", 32, "value-out-of-range")),
        (("result", 2, "name-unknown", 18, 0), ("epc_words", 32, "value-out-of-range")),
        (("result", 2, "name-unknown", 18, 0), ("rssi", None, "count-mismatch")),
        (("epc_words", 32, "value-out-of-range", 23, 0), ("rssi", None, "count-mismatch")),
    ):
        (field, raw, reason, byte, bit), (other, value, later) = first, second
        raws = {field: raw, **({} if value is None else {other: value})}
        data = changed("tag_report", **raws)
        where = f"tag_report.{other}" if value is not None else "tag_report.word_count"
        if later == "count-mismatch" and field != "epc_words":
            data = data[:-2]
        yield both(f"{slug(field)}-and-{later}", "Two fields are wrong, or a field and a count.", "tag_report", data,
                   reason, 3 + byte, bit, f"tag_report.{field}", [(later, where)])  # fmt: skip
    yield both("range-and-name", "A period too short and a bank that is none.", "start_inventory",
               changed("start_inventory", period=9, bank=4), "value-out-of-range", 3, 0, "start_inventory.period",
               [("name-unknown", "start_inventory.bank")])  # fmt: skip


def wrong_values(id, record, field):
    name = slug(field.id)
    place = (3 + field.at, field.lsb, f"{record.id}.{field.id}")
    if field.type in ("unsigned", "signed"):
        allowed = {raw for raw, _, _ in field.sentinels}
        for raw in sorted({field.low - 1, field.high + 1, field.lowest, field.highest} - allowed):
            if field.lowest <= raw <= field.highest and not field.low <= raw <= field.high:
                yield refused(
                    f"{name}-raw-{raw}".replace("--", "-minus-"),
                    f"{field.id} outside its range.",
                    ["Limit"],
                    id,
                    with_value(id, field, raw),
                    "value-out-of-range",
                    *place,
                )
    if field.type == "enumeration":
        known = {raw for raw, _ in field.names}
        edges = {edge for raw in known for edge in (raw - 1, raw + 1)}
        for raw in sorted({0, field.highest, *edges, 2, 59} - known - {-1}):
            yield refused(
                f"{name}-raw-{raw}",
                f"{field.id} outside the list.",
                ["Name"],
                id,
                with_value(id, field, raw),
                "name-unknown",
                *place,
            )
    if field.type == "reserved":
        for bit in range(field.width):
            yield refused(
                f"{name}-bit-{bit}",
                f"Reserved bit {field.lsb + bit}.",
                ["ReservedBit"],
                id,
                with_value(id, field, 1 << bit),
                "reserved-bit-set",
                place[0],
                field.lsb + bit,
                place[2],
            )
        yield refused(
            f"{name}-all",
            "Every reserved bit: the lowest is named.",
            ["ReservedBit"],
            id,
            with_value(id, field, field.highest),
            "reserved-bit-set",
            *place,
        )
    if field.type == "flags":
        for bit in sorted(set(range(field.width)) - {bit for bit, _ in field.names}):
            yield refused(
                f"{name}-bit-{bit}",
                f"Bit {bit} has no name.",
                ["ReservedBit"],
                id,
                with_value(id, field, 1 << bit),
                "reserved-bit-set",
                place[0],
                field.lsb + bit,
                f"{place[2]}.bit_{bit}",
            )
