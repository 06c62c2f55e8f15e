"""Byte stuffing of the link: Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999."""

from crc import checksum

MAX_BODY = 1024
MAX_ENCODED = MAX_BODY + 4 + (MAX_BODY + 4) // 254 + 1  # without the delimiter


def stuff(data):
    """Splits at zeros, then every stretch into blocks of at most 254; a full block carries no zero of its own."""
    out = b""
    pieces = data.split(b"\0")
    for i, piece in enumerate(pieces):
        while len(piece) > 254 or (len(piece) == 254 and i < len(pieces) - 1):
            out += b"\xff" + piece[:254]
            piece = piece[254:]
        if len(piece) == 254:
            return out + b"\xff" + piece
        out += bytes([len(piece) + 1]) + piece
    return out


def unstuff(data):
    """The bytes before stuffing, or None when a code runs past the end or a zero stands inside."""
    out = b""
    while data:
        code = data[0]
        if code == 0 or code > len(data) or 0 in data[1:code]:
            return None
        out += data[1:code]
        data = data[code:]
        if code < 255 and data:
            out += b"\0"
    return out


def frame(body):
    """A body as it goes over the wire, delimiter included."""
    return stuff(body + checksum("crc32", body).to_bytes(4, "big")) + b"\0"


# Source: examples of the paper's rule, from memory.
for _plain, _stuffed in (
    ("", "01"),
    ("00", "0101"),
    ("0000", "010101"),
    ("001100", "01021101"),
    ("11220033", "0311220233"),
    ("11223344", "0511223344"),
    ("11000000", "0211010101"),
):
    assert stuff(bytes.fromhex(_plain)).hex() == _stuffed and unstuff(bytes.fromhex(_stuffed)).hex() == _plain
assert stuff(bytes(range(1, 255))) == b"\xff" + bytes(range(1, 255))
assert stuff(bytes(range(1, 256))) == b"\xff" + bytes(range(1, 255)) + b"\x02\xff"
