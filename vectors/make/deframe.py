"""Frames in a byte stream, found by trying every start: no window, no state."""

from cobs import MAX_BODY, MAX_ENCODED, unstuff
from crc import checksum


def take_apart(wire):
    """Bodies and damage of a whole stream: (bodies, faults, whether it ends inside a frame)."""
    bodies, faults = [], []
    start = 0
    pieces = wire.split(b"\0")
    for piece in pieces[:-1]:
        if piece:
            reason, _ = look(piece)
            found = next((body for body in map(whole, tails(piece)) if body is not None), None)
            if reason:
                faults.append({"reason": reason, "byte": start})
            if found is not None:
                bodies.append(found)
        start += len(piece) + 1
    if pieces[-1]:
        faults.append(
            {"reason": look(pieces[-1])[0] if len(pieces[-1]) > MAX_ENCODED else "link-stuffing-invalid", "byte": start}
        )
    return bodies, faults


def tails(piece):
    return [piece[i:] for i in range(len(piece))]


def whole(piece):
    return look(piece)[1]


def look(piece):
    """(reason it is no frame, None) or (None, body)."""
    if len(piece) > MAX_ENCODED:
        return "link-frame-too-long", None
    data = unstuff(piece)
    if data is None:
        return "link-stuffing-invalid", None
    if len(data) > MAX_BODY + 4:
        return "link-frame-too-long", None
    if len(data) < 5 or checksum("crc32", data[:-4]) != int.from_bytes(data[-4:], "big"):
        return "link-checksum-mismatch", None
    return None, data[:-4]
