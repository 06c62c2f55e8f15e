"""The link, by protocol/LINK.md: frames in a byte stream, and two of its messages."""

import zlib

from records import Bad, Names, Number, Reserved, check

MAX_BODY = 1024
MAX_FRAME = 1033

KIT_TIME = [
    ("kit_time_reserved", 0, 8, 63, 48, Reserved()),
    ("kit_time", 0, 8, 47, 0, Number(0, (1 << 48) - 1)),
]
U16 = Number(0, 0xFFFF)

# message type: (id, bytes, fields, tails as (name, counting field))
MESSAGES = {
    0x80: (
        "tag_report",
        24,
        [
            *KIT_TIME,
            ("pc", 8, 2, 15, 0, U16),
            ("xpc", 10, 2, 15, 0, U16),
            ("rssi", 12, 2, 15, 0, Number(-32767, 32767, (-32768,), signed=True)),
            ("frequency", 14, 4, 31, 0, Number(0, 0xFFFFFFFF)),
            ("result", 18, 1, 7, 0, Names(0, 1, 60, 61, 62, 63, 64, 65)),
            ("bank", 19, 1, 7, 0, Names(0, 1, 2, 3)),
            ("pointer", 20, 2, 15, 0, U16),
            ("word_count", 22, 1, 7, 0, Number(0, 255)),
            ("epc_words", 23, 1, 7, 0, Number(0, 31)),
        ],
        [("epc", "epc_words"), ("words", "word_count")],
    ),
    0x82: (
        "ambient_report",
        14,
        [
            *KIT_TIME,
            ("pressure", 8, 4, 31, 0, Number(3328000, 16128000)),
            ("temperature", 12, 2, 15, 0, Number(-4000, 12500, (-32768,), signed=True)),
        ],
        [],
    ),
}


def unstuff(piece):
    """COBS undone; None when a code runs past the end."""
    data, at = bytearray(), 0
    while at < len(piece):
        code = piece[at]
        if at + code > len(piece):
            return None
        data += piece[at + 1 : at + code]
        at += code
        if code != 255 and at < len(piece):
            data.append(0)
    return bytes(data)


def body_of(piece):
    """(body, None) of the bytes before a delimiter, or (None, reason)."""
    if len(piece) > MAX_FRAME:
        return None, "link-frame-too-long"
    data = unstuff(piece)
    if data is None:
        return None, "link-stuffing-invalid"
    if len(data) > MAX_BODY + 4:
        return None, "link-frame-too-long"
    if len(data) < 5 or zlib.crc32(data[:-4]) != int.from_bytes(data[-4:], "big"):
        return None, "link-checksum-mismatch"
    return data[:-4], None


class Deframer:
    """Takes a stream in pieces of any size; `bodies` and `faults` (reason, byte) come in the order of the stream."""

    def __init__(self):
        self.bodies, self.faults = [], []
        self.waiting, self.start = bytearray(), 0

    def push(self, chunk):
        for byte in chunk:
            if byte:
                self.waiting.append(byte)
            else:
                self.delimit()

    def delimit(self):
        piece = bytes(self.waiting)
        if piece:
            body, reason = body_of(piece)
            if reason:
                self.faults.append((reason, self.start))
                # A good frame may stand directly behind noise: the earliest start that gives one is taken.
                tails = (body_of(piece[i:])[0] for i in range(max(1, len(piece) - MAX_FRAME), len(piece)))
                body = next((found for found in tails if found is not None), None)
            if body is not None:
                self.bodies.append(body)
        self.start += len(piece) + 1
        self.waiting.clear()

    def end(self):
        if self.waiting:
            long = len(self.waiting) > MAX_FRAME
            self.faults.append(("link-frame-too-long" if long else "link-stuffing-invalid", self.start))


def message(direction, body):
    """(message id, request, raws, tails) of a body on its way to the host."""
    if len(body) < 3:
        raise Bad("record-too-short", len(body), None, "envelope")
    if direction != "to-host" or body[0] not in MESSAGES:
        raise Bad("message-unknown", 0, 0, "envelope.type")
    id, size, fields, tails = MESSAGES[body[0]]
    payload = body[3:]
    try:
        if len(payload) < size:
            raise Bad("record-too-short", len(payload), None, id)
        if not tails and len(payload) > size:
            raise Bad("trailing-bytes", size, None, id)
        raws = check(id, payload, fields)
        found, at = {}, size
        for name, count in tails:
            words = payload[at : at + 2 * raws[count]]
            found[name] = [int.from_bytes(words[i : i + 2], "big") for i in range(0, len(words), 2)]
            at += 2 * raws[count]
        if at != len(payload):
            _, byte, _, _, lsb, _ = next(field for field in fields if field[0] == tails[-1][1])
            raise Bad("count-mismatch", byte, lsb, f"{id}.{tails[-1][1]}")
    except Bad as bad:
        raise Bad(bad.reason, bad.byte + 3, bad.bit, bad.path) from bad
    return id, int.from_bytes(body[1:3], "big"), raws, found
