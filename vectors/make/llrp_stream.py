"""llrp-stream.json: messages of LLRP in a byte stream that is cut into chunks anywhere."""

from document import bad, document, good
from llrp_faults import ACK, OK, REPORT, patched
from llrp_good import STATUS
from llrp_parts import message, tlv, u
from llrp_published import PUBLISHED

NOTES = {
    "Several": "More than one message.",
    "Splits": "The stream arrives in the chunks given (lengths); where it is cut must change nothing.",
    "Refused": "A whole message that is not understood: it is passed over by its length, and the next is read.",
    "Lost": "A header with an impossible length or reserved bits: where the next message begins is not known any more.",
    "Hostile": "A length chosen to cost memory or time.",
    "Truncated": "The stream ends inside a message: the damage is known when the stream is closed.",
}

SOURCE = (
    "Streams put together from the messages of llrp.json; what becomes of each piece is stated with it"
    " (vectors/make/llrp_stream.py), not found by a parser."
)

KEEPALIVE = bytes.fromhex(PUBLISHED["keepalive"])
CLOSE = bytes.fromhex(PUBLISHED["close"])
# A whole good message: (bytes, name, id).
GOOD = (
    (KEEPALIVE, "KEEPALIVE", 200),
    (REPORT, "RO_ACCESS_REPORT", 100),
    (OK, "SET_READER_CONFIG_RESPONSE", 2),
    (CLOSE, "CLOSE_CONNECTION", 10),
)


def stream(id, why, flags, pieces, chunks=None):
    """`pieces`: bytes with what becomes of them: (name, id) of a message, or (reason, byte within the piece, whether lost)."""
    wire, messages, faults, lost = b"", [], [], False
    for data, *fate in pieces:
        if not lost and len(fate) == 2:
            messages.append({"name": fate[0], "id": fate[1], "byte": len(wire)})
        elif not lost:
            faults.append({"reason": fate[0], "byte": len(wire) + fate[1]})
            lost = fate[2]
        wire += data
    given = {"wire": wire.hex(), **({"chunks": chunks} if chunks else {})}
    expected = {"messages": messages, "faults": faults}
    if not faults:
        return good(f"llrp-stream-{id}", why, flags, given, expected)
    given["repaired"] = b"".join(data for data, *fate in pieces if len(fate) == 2).hex()
    return bad(f"llrp-stream-{id}", why, flags, given, faults[0]["reason"], faults[0]["byte"], None, "stream", **expected)


def good_streams():
    yield stream("nothing", "No byte at all.", ["Several"], [])
    for entry in GOOD:
        yield stream(entry[1].lower().replace("_", "-"), f"One {entry[1]}.", ["Several"], [entry])
    yield stream("four", "Four messages back to back.", ["Several"], GOOD)
    total = sum(len(data) for data, *_ in GOOD)
    yield stream("four-bytewise", "The same, byte by byte.", ["Several", "Splits"], GOOD, [1] * total)
    two = GOOD[2:]
    size = sum(len(data) for data, *_ in two)
    for cut in range(1, size):
        yield stream(f"two-cut-{cut}", f"Two messages, cut after byte {cut}.", ["Several", "Splits"], two, [cut, size - cut])


# Whole messages that are not understood: (bytes, reason, byte).
REFUSED = {
    "unknown-type": (patched(ACK, 0, u(1024 + 500, 2)), "message-unknown", 0),
    "version-3": (patched(ACK, 0, u(3 * 1024 + 62, 2)), "llrp-version-unsupported", 0),
    "no-status": (message(13, 2), "field-missing", 10),
    "no-epc": (message(61, 1, tlv(240, b"\x86\xff")), "field-missing", 14),
    "nested-length": (patched(OK, 12, u(0xFFFF, 2)), "llrp-length-invalid", 12),
    "nested-length-zero": (patched(OK, 12, u(0, 2)), "llrp-length-invalid", 12),
    "count": (patched(OK, 16, u(0xFFFF, 2)), "count-mismatch", 16),
    "second-status": (message(13, 2, STATUS + STATUS), "llrp-parameter-unexpected", 18),
    "unknown-tv": (patched(REPORT, 27, b"\xe3"), "llrp-parameter-unknown", 27),
    "parameter-reserved": (patched(OK, 10, b"\x05"), "reserved-bit-set", 10),
}


def bad_streams():
    first, second = GOOD[0], GOOD[1]
    for name, (data, reason, byte) in REFUSED.items():
        piece = (data, reason, byte, False)
        yield stream(f"refused-{name}", "A message that is not understood, between two that are.", ["Refused", "Several"],
                     [first, piece, second])  # fmt: skip
        yield stream(f"refused-{name}-bytewise", "The same, byte by byte.", ["Refused", "Splits"], [first, piece, second],
                     [1] * (len(first[0]) + len(data) + len(second[0])))  # fmt: skip
    for name, length in {"zero": 0, "nine": 9, "over-limit": (1 << 18) + 1, "half": 1 << 31, "all-ones": 0xFFFF_FFFF}.items():
        piece = (patched(ACK, 2, u(length, 4)), "llrp-length-invalid", 2, True)
        flags = ["Lost", "Hostile"]
        yield stream(f"length-{name}", f"A header that claims {length} bytes; nothing behind it is read.", flags,
                     [first, piece, second])  # fmt: skip
    for bit in (0x20, 0x40, 0x80):
        piece = (patched(ACK, 0, bytes([ACK[0] | bit])), "reserved-bit-set", 0, True)
        yield stream(f"reserved-{bit:02x}", "A reserved bit of a header.", ["Lost"], [first, piece, second])
    # The longest length that is taken is waited for, and the message never comes.
    waiting = patched(ACK, 2, u(1 << 18, 4))
    piece = (waiting, "record-too-short", len(waiting), True)
    yield stream("length-longest", "A header that claims the longest message, and no more comes.", ["Hostile", "Truncated"],
                 [first, piece])  # fmt: skip
    for cut in range(1, len(OK)):
        piece = (OK[:cut], "record-too-short", cut, True)
        yield stream(f"truncated-{cut}", f"The stream ends after byte {cut} of the second message.", ["Truncated"],
                     [first, piece])  # fmt: skip


def build():
    return document("llrp-stream", SOURCE, NOTES, [*good_streams(), *bad_streams()])
