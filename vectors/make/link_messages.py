"""link-messages.json: every message of the link as a frame's body."""

from cases import slug
from document import bad, document, good
from fields import elements
from link_tables import ENVELOPE, MESSAGES, PAYLOADS
from record import arrived, complete, meanings, pack

EPC = (0x3034, 0x257B, 0xF719, 0x4E40, 0x0000, 0x1A85)
ACCESS = {"password": 0, "bank": 3, "pointer": 0, "word_count": 32, "epc_words": 6}

# One ordinary content for each message: raw integers and tails.
ORDINARY = {
    "hello": ({"link_version": 1, "max_outstanding": 4}, {}),
    "set_power": ({"power": 2700}, {}),
    "set_channel_plan": ({"plan": 1}, {}),
    "start_inventory": ({"period": 500, "bank": 3, "pointer": 0, "word_count": 32}, {}),
    "stop_inventory": ({}, {}),
    "read": (ACCESS, {"epc": EPC}),
    "write": ({**ACCESS, "pointer": 40, "word_count": 2}, {"epc": EPC, "words": (0x4103, 0x05F0)}),
    "block_write": (
        {**ACCESS, "password": 0x5AC3_0F17, "pointer": 40, "word_count": 3},
        {"epc": EPC, "words": (0, 0xFFFF, 0x1234)},
    ),
    "lock": ({"password": 0x5AC3_0F17, "mask": 2, "action": 2, "epc_words": 6}, {"epc": EPC}),
    "keep_alive": ({}, {}),
    "done": ({}, {}),
    "welcome": (
        {
            "link_version": 1,
            "max_outstanding": 4,
            "capabilities": 0x3F,
            "power_low": 500,
            "power_high": 3000,
            "barometer_uncertainty": 12,
            "kit_time": 12_345_678,
        },
        {},
    ),
    "access_answer": ({"result": 0, "word_count": 2, "kit_time": 12_345_678}, {"words": (0x0011, 0xDB98)}),
    "error": ({"reason": 43, "about": 0x33, "byte": 0}, {}),
    "tag_report": (
        {
            "kit_time": 12_345_678,
            "pc": 0x3600,
            "xpc": 0x0200,
            "rssi": -583,
            "frequency": 866_300,
            "result": 0,
            "bank": 3,
            "pointer": 0,
            "word_count": 2,
            "epc_words": 6,
        },
        {"epc": EPC, "words": (0x0011, 0xDB98)},
    ),
    "ambient_report": ({"kit_time": 12_345_678, "pressure": 12_969_600, "temperature": 2250}, {}),
}

NOTES = {
    "Ordinary": "One ordinary message of each type.",
    "RequestId": "The request id at its ends.",
    "Limit": "A number at its lowest or highest valid raw integer, or beyond it.",
    "Negative": "A number below zero.",
    "Sentinel": "A raw integer that stands for something other than a number.",
    "Flag": "One flag alone.",
    "Name": "A value of a closed list, or one outside it.",
    "Count": "A count and the elements that follow it: none, one, many, or not as many as it says.",
    "ReservedBit": "A bit kept for later is set.",
    "TooShort": "The body ends inside the envelope or inside the fixed part of the payload.",
    "Trailing": "Bytes behind a payload that has no tail.",
    "MessageUnknown": "A type outside the list. A kit answers it with error, never with silence.",
    "WrongDirection": "A type that only the other side may send.",
}

SOURCE = (
    "Field values chosen by hand and packed by whole-number arithmetic (vectors/make/link_messages.py); big-endian"
    " throughout."
)


def body(id, request, values, tails):
    code, _ = MESSAGES[id]
    return pack(ENVELOPE, {"type": code, "request": request}) + pack(PAYLOADS[id], values, tails)


def request_of(id):
    code, _ = MESSAGES[id]
    return 0 if code >= 0x80 else 258


def whole(name, why, flags, id, request=None, changes=None, tails=None):
    values, own_tails = ORDINARY[id]
    values = {**values, **(changes or {})}
    tails = own_tails if tails is None else tails
    request = request_of(id) if request is None else request
    record = PAYLOADS[id]
    data = body(id, request, values, tails)
    raws = complete(record, values, data[3:])
    expected = {
        "message": id,
        "request": request,
        "raws": raws,
        "values": meanings(record, values),
        "tails": {key: list(value) for key, value in tails.items()},
    }
    return good(f"message-{slug(id)}-{name}", why, flags, {"direction": MESSAGES[id][1], "body": data.hex()}, expected)


def refused(name, why, flags, id, data, reason, byte, bit, path, **more):
    values, tails = ORDINARY[id]
    repaired = body(id, request_of(id), values, tails)
    given = {"direction": MESSAGES[id][1], "body": data.hex(), "repaired": repaired.hex()}
    return bad(f"message-{slug(id)}-{name}", why, flags, given, reason, byte, bit, path, **more)


def with_value(id, field, raw):
    values, tails = ORDINARY[id]
    return body(id, request_of(id), {**values, field.id: raw}, tails)


def good_messages():
    for id in MESSAGES:
        yield whole("ordinary", f"An ordinary {id}.", ["Ordinary"], id)
        yield whole("request-0", "Request id 0.", ["RequestId"], id, 0)
        yield whole("request-65535", "Request id 65535.", ["RequestId"], id, 65_535)
        counts = {count for _, _, count in PAYLOADS[id].tails}
        for field in elements(PAYLOADS[id]):
            name = slug(field.id)
            if field.type in ("unsigned", "signed") and field.id not in counts:
                yield whole(f"{name}-lowest", f"{field.id} at its lowest.", ["Limit"], id, None, {field.id: field.low})
                yield whole(
                    f"{name}-highest", f"{field.id} at its highest.", ["Limit"], id, None, {field.id: field.high}
                )
                if field.type == "signed":
                    yield whole(f"{name}-minus-one", f"{field.id} -1.", ["Negative"], id, None, {field.id: -1})
                for raw, sentinel, _ in field.sentinels:
                    yield whole(
                        f"{name}-{slug(sentinel)}", f"{field.id} {sentinel}.", ["Sentinel"], id, None, {field.id: raw}
                    )
            if field.type == "flags":
                for bit, flag in field.names:
                    yield whole(
                        f"{name}-{slug(flag)}", f"{field.id}: {flag} alone.", ["Flag"], id, None, {field.id: 1 << bit}
                    )
            if field.type == "enumeration":
                for raw, entry in field.names:
                    yield whole(f"{name}-{slug(entry)}", f"{field.id}: {entry}.", ["Name"], id, None, {field.id: raw})
        for tail, _, count in PAYLOADS[id].tails:
            for length in (0, 1, 31 if count == "epc_words" else 255):
                tails = {**ORDINARY[id][1], tail: tuple((i * 4099 + 0xC001) % 65_536 for i in range(length))}
                yield whole(
                    f"{slug(tail)}-{length}", f"{length} words of {tail}.", ["Count"], id, None, {count: length}, tails
                )


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
        for length in sorted({0, record.size // 2, record.size - 1}):
            if 0 <= length < record.size:
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
    known = {code for code, _ in MESSAGES.values()}
    for number in (0x00, 0x0B, 0x3F, 0x42, 0x7E, 0x81, 0x83, 0xFF):
        assert number not in known
        for id in ("keep_alive", "done"):
            data = bytes([number]) + body(id, request_of(id), {}, {})[1:]
            yield refused(
                f"type-{number:02x}",
                f"Type {number:02X}h.",
                ["MessageUnknown"],
                id,
                data,
                "message-unknown",
                0,
                0,
                "envelope.type",
            )


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
        for raw in sorted({0, max(known) + 1, 2, 59, 255} - known):
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


def build():
    return document("link-messages", SOURCE, NOTES, [*good_messages(), *bad_messages()])
