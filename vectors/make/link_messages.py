"""link-messages.json: every message of the link as a frame's body."""

from cases import slug
from document import document, good
from fields import elements
from link_bodies import ORDINARY, body, request_of
from link_faults import bad_messages
from link_tables import MESSAGES, PAYLOADS
from record import complete, meanings

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
    "SeveralFaults": (
        "More than one fault; `also` lists those that come later in the order of the checks and must not be named."
    ),
}

SOURCE = (
    "Field values chosen by hand and packed by whole-number arithmetic (vectors/make/link_messages.py); big-endian"
    " throughout."
)


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
                if not field.low < ORDINARY[id][0][field.id] < field.high:
                    middle = (field.low + field.high) // 2 | 1
                    yield whole(f"{name}-middle", f"{field.id} {middle}.", ["Ordinary"], id, None, {field.id: middle})
                if field.type == "signed":
                    yield whole(f"{name}-minus-one", f"{field.id} -1.", ["Negative"], id, None, {field.id: -1})
                    yield whole(f"{name}-zero", f"{field.id} 0.", ["Limit"], id, None, {field.id: 0})
                for raw, sentinel, _ in field.sentinels:
                    yield whole(
                        f"{name}-{slug(sentinel)}", f"{field.id} {sentinel}.", ["Sentinel"], id, None, {field.id: raw}
                    )
            if field.type == "flags":
                for bit, flag in field.names:
                    yield whole(
                        f"{name}-{slug(flag)}", f"{field.id}: {flag} alone.", ["Flag"], id, None, {field.id: 1 << bit}
                    )
                everything = sum(1 << bit for bit, _ in field.names)
                yield whole(f"{name}-none", f"{field.id}: no flag.", ["Flag"], id, None, {field.id: 0})
                yield whole(f"{name}-all", f"{field.id}: every flag.", ["Flag"], id, None, {field.id: everything})
            if field.type == "enumeration":
                for raw, entry in field.names:
                    yield whole(f"{name}-{slug(entry)}", f"{field.id}: {entry}.", ["Name"], id, None, {field.id: raw})
        for tail, _, count in PAYLOADS[id].tails:
            for length in (0, 1, 31 if count == "epc_words" else 255):
                tails = {**ORDINARY[id][1], tail: tuple((i * 4099 + 0xC001) % 65_536 for i in range(length))}
                yield whole(
                    f"{slug(tail)}-{length}", f"{length} words of {tail}.", ["Count"], id, None, {count: length}, tails
                )


def build():
    return document("link-messages", SOURCE, NOTES, [*good_messages(), *bad_messages()])
