"""The answer to a made message of the link: envelope, type, payload, tails."""

from judge import Bad, judge
from link_bodies import ORDINARY, body, request_of
from link_tables import ENVELOPE, MESSAGES, PAYLOADS
from record import arrived, complete, meanings


def message(given):
    """See found.py."""
    direction, data = given["direction"], bytes.fromhex(given["body"])
    id = next((id for id, (code, way) in MESSAGES.items() if way == direction and data[:1] == bytes([code])), None)
    like = id or ("keep_alive" if direction == "to-kit" else "done")
    sound = body(like, request_of(like), *ORDINARY[like])
    return "link-messages.json", {"direction": direction, "body": data.hex()}, sound.hex(), lambda: answer(id, data)


def answer(id, data):
    if len(data) < ENVELOPE.size:
        raise Bad("record-too-short", len(data), None, ENVELOPE.id, arrived=arrived(ENVELOPE, len(data)))
    if id is None:
        raise Bad("message-unknown", 0, 0, "envelope.type")
    record, payload = PAYLOADS[id], data[ENVELOPE.size :]
    try:
        raws = judge(record, payload)
    except Bad as found:
        reason, byte, bit, path = found.place
        raise Bad(reason, byte + ENVELOPE.size, bit, path) from found
    tails, at = {}, record.size
    for tail, size, count in record.tails:
        tails[tail] = [int.from_bytes(payload[i : i + size], "big") for i in range(at, at + size * raws[count], size)]
        at += size * raws[count]
    if at != len(payload):
        last = next(field for field in record.fields if field.id == record.tails[-1][2])
        raise Bad("count-mismatch", ENVELOPE.size + last.at, last.lsb, f"{record.id}.{last.id}")
    request = int.from_bytes(data[1:3], "big")
    assert body(id, request, raws, tails) == data
    return {
        "message": id,
        "request": request,
        "raws": complete(record, raws, payload),
        "values": meanings(record, raws),
        "tails": tails,
    }
