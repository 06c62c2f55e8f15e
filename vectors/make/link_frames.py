"""link-frames.json: bodies and damage in a byte stream."""

from cobs import MAX_BODY, MAX_ENCODED, frame, stuff
from crc import checksum
from deframe import look, take_apart
from document import bad, document, good

NOTES = {
    "Ordinary": "One frame, nothing else.",
    "Stuffing": "Zeros, long runs without zeros, and block borders: what the byte stuffing is for.",
    "PaperEnding": (
        "254 bytes without a zero at the end, followed by a code 01. The paper's encoder writes it, many others leave"
        " it out; a decoder takes both."
    ),
    "LongestFrame": "A body of 1024 bytes, and one byte more.",
    "Idle": "Delimiters with nothing between them are filling and no damage.",
    "Several": "More than one frame.",
    "Splits": "The stream arrives in the chunks given (lengths); where it is cut must change nothing.",
    "NoiseBefore": "Noise with a delimiter of its own: one stretch of damage, then the frame.",
    "NoiseAttached": (
        "Noise directly before a frame, without a delimiter between. The frame must be found all the same: every place"
        " from which the stuffing's chain of codes ends exactly at the delimiter is tried, the earliest first. The"
        " damage is reported once."
    ),
    "StuffingInvalid": "A code runs past the delimiter.",
    "ChecksumMismatch": "The stuffing is whole but the CRC-32 does not fit.",
    "TooShort": "Fewer bytes than a checksum and one byte of body.",
    "TooLong": "More bytes without a delimiter than the longest frame has.",
    "DelimiterLost": "A frame lost its delimiter and runs into the next: the first is lost, the second is not.",
    "DelimiterAdded": "A zero got into a frame: both halves are damage.",
    "Truncated": "The stream ends inside a frame: the damage is known when the stream is closed.",
}

SOURCE = (
    "Stuffed by the rule of Cheshire and Baker (1999), CRC-32/ISO-HDLC bit by bit, and taken apart by trying every"
    " start (vectors/make/deframe.py), without a window or a state machine."
)


def stream(id, why, flags, wire, bodies, chunks=None, repaired=None):
    """The bodies expected are stated by the caller; the damage is what `take_apart` says, and both must agree."""
    found, faults = take_apart(wire)
    assert found == bodies, (id, [body.hex() for body in found])
    given = {"wire": wire.hex(), **({"chunks": chunks} if chunks else {})}
    expected = {"bodies": [body.hex() for body in bodies], "faults": faults}
    if not faults:
        return good(f"link-{id}", why, flags, given, expected)
    if repaired is not None:
        assert not take_apart(repaired)[1], id
        given["repaired"] = repaired.hex()
    return bad(f"link-{id}", why, flags, given, faults[0]["reason"], faults[0]["byte"], None, "link", **expected)


HELLO = bytes.fromhex("0100010104")
KEEP_ALIVE = bytes.fromhex("0a0002")
REPORT = bytes.fromhex("8000000000000000bc614e34000000fdb9000d37ec0103000000063034257bf7194e4000001a85")


def counting(length):
    """Bytes without a zero: 1 to 255, over and over."""
    return bytes(i % 255 + 1 for i in range(length))


def good_streams():
    yield stream("hello", "One short body.", ["Ordinary"], frame(HELLO), [HELLO])
    yield stream("report", "One tag report.", ["Ordinary"], frame(REPORT), [REPORT])
    for length in (1, 3, 4, 249, 250, 251, 253, 254, 255, 503, 504, 505, 508, 1023):
        body = bytes(length)
        yield stream(f"zeros-{length}", f"{length} zeros.", ["Stuffing"], frame(body), [body])
        body = counting(length)
        yield stream(f"no-zeros-{length}", f"{length} bytes without a zero.", ["Stuffing"], frame(body), [body])
    for value in (0x00, 0x01, 0xFF):
        body = bytes([value])
        yield stream(f"one-byte-{value:02x}", f"The one byte {value:02X}h.", ["Stuffing"], frame(body), [body])
    body = ending_full()
    yield stream("full-last-block", "The last block is full: no code follows it.", ["Stuffing"], frame(body), [body])
    yield stream(
        "full-last-block-paper",
        "The last block is full and a code 01 follows.",
        ["PaperEnding"],
        frame(body)[:-1] + b"\x01\0",
        [body],
    )
    for body in (bytes(MAX_BODY), counting(MAX_BODY)):
        kind = "zeros" if body[0] == 0 else "no-zeros"
        yield stream(f"longest-{kind}", "The longest body.", ["LongestFrame"], frame(body), [body])
    yield stream("nothing", "No byte at all.", ["Idle"], b"", [])
    yield stream("idle-only", "Three delimiters.", ["Idle"], b"\0\0\0", [])
    yield stream(
        "idle-around",
        "Filling before, between and behind.",
        ["Idle", "Several"],
        b"\0\0" + frame(HELLO) + b"\0" + frame(KEEP_ALIVE) + b"\0\0",
        [HELLO, KEEP_ALIVE],
    )
    three = frame(HELLO) + frame(REPORT) + frame(KEEP_ALIVE)
    bodies = [HELLO, REPORT, KEEP_ALIVE]
    yield stream("three", "Three frames back to back.", ["Several"], three, bodies)
    yield stream("three-bytewise", "The same, byte by byte.", ["Several", "Splits"], three, bodies, [1] * len(three))
    for cut in range(1, len(three)):
        yield stream(
            f"three-cut-{cut}",
            f"The same, cut after byte {cut}.",
            ["Several", "Splits"],
            three,
            bodies,
            [cut, len(three) - cut],
        )


def ending_full():
    """A body whose 250 bytes and checksum hold no zero, so that they fill one block exactly."""
    for last in range(1, 256):
        body = counting(249) + bytes([last])
        if 0 not in checksum("crc32", body).to_bytes(4, "big"):
            return body
    raise AssertionError


NOISE = {
    "one": "55",
    "ones": "ffffff",
    "text": "6e6f697365",
    "code-chain": "0302020202",
    "high-code": "fe11223344",
    "like-a-start": "0801",
    "hundred": "a7" * 100,
    "three-hundred": "5b" * 300,
}


def bad_streams():
    hello, report = frame(HELLO), frame(REPORT)
    for name, text in NOISE.items():
        noise = bytes.fromhex(text)
        yield stream(
            f"noise-{name}-delimited",
            "Noise, a delimiter, a frame.",
            ["NoiseBefore"],
            noise + b"\0" + hello,
            [HELLO],
            repaired=hello,
        )
        yield stream(
            f"noise-{name}-attached",
            "Noise directly before a frame.",
            ["NoiseAttached"],
            noise + hello + report,
            [HELLO, REPORT],
            repaired=hello + report,
        )
        yield stream(
            f"noise-{name}-between",
            "Noise directly before the second of two frames.",
            ["NoiseAttached", "Several"],
            hello + noise + report,
            [HELLO, REPORT],
            repaired=hello + report,
        )
    noise = bytes.fromhex(NOISE["text"])
    attached = noise + hello
    yield stream(
        "noise-attached-bytewise",
        "The same byte by byte.",
        ["NoiseAttached", "Splits"],
        attached,
        [HELLO],
        [1] * len(attached),
        hello,
    )
    for byte in range(len(hello) - 1):
        damaged = hello[:byte] + bytes([hello[byte] ^ (0x80 if byte in (0, 2) else 0x40)]) + hello[byte + 1 :]
        reason, _ = look(damaged[:-1])
        flag = {"link-stuffing-invalid": "StuffingInvalid", "link-checksum-mismatch": "ChecksumMismatch"}[reason]
        yield stream(
            f"flip-{byte}",
            f"One bit of byte {byte} flipped; the next frame is not touched.",
            [flag],
            damaged + report,
            [REPORT],
            repaired=hello + report,
        )
    own = checksum("crc32", HELLO)
    for name, value in {
        "little-endian": int.from_bytes(own.to_bytes(4, "big"), "little"),
        "complement": own ^ 0xFFFF_FFFF,
        "zero": 0,
        "off-by-one": own ^ 1,
    }.items():
        yield stream(
            f"crc-{name}",
            f"The CRC-32 {name.replace('-', ' ')}.",
            ["ChecksumMismatch"],
            stuff(HELLO + value.to_bytes(4, "big")) + b"\0",
            [],
            repaired=hello,
        )
    air = checksum("air", HELLO).to_bytes(2, "big")
    yield stream(
        "crc-16",
        "A 16-bit checksum in place of the 32-bit one.",
        ["ChecksumMismatch"],
        stuff(HELLO + air) + b"\0",
        [],
        repaired=hello,
    )
    for length in range(1, 5):
        yield stream(
            f"short-{length}",
            f"{length} bytes before the delimiter's checksum could be whole.",
            ["TooShort"],
            stuff(b"\x11" * length) + b"\0" + hello,
            [HELLO],
            repaired=hello,
        )
    yield stream(
        "empty-body",
        "Four zeros are the CRC-32 of nothing: still no frame, for a body has at least one byte.",
        ["TooShort"],
        stuff(bytes(4)) + b"\0" + hello,
        [HELLO],
        repaired=hello,
    )
    for body in (bytes(MAX_BODY + 1), counting(MAX_BODY + 1)):
        kind = "zeros" if body[0] == 0 else "no-zeros"
        yield stream(
            f"one-over-{kind}",
            "A body of 1025 bytes.",
            ["LongestFrame", "TooLong"],
            frame(body) + hello,
            [HELLO],
            repaired=frame(body[:-1]) + hello,
        )
    flood = b"\x55" * (MAX_ENCODED + 1)
    yield stream(
        "flood",
        "One byte more than the longest frame, then a delimiter.",
        ["TooLong"],
        flood + b"\0" + hello,
        [HELLO],
        repaired=hello,
    )
    yield stream(
        "flood-attached",
        "Far too many bytes, and a frame directly behind them.",
        ["TooLong", "NoiseAttached"],
        b"\x55" * 3000 + hello + report,
        [HELLO, REPORT],
        repaired=hello + report,
    )
    yield stream(
        "flood-in-chunks",
        "The same in chunks of 700.",
        ["TooLong", "NoiseAttached", "Splits"],
        b"\x55" * 2793 + hello,
        [HELLO],
        chunks(2793 + len(hello), 700),
        hello,
    )
    longest = frame(counting(MAX_BODY))
    yield stream(
        "truncated-longest",
        "The stream ends where the longest frame lacks nothing but its delimiter.",
        ["LongestFrame", "Truncated"],
        longest[:-1],
        [],
        repaired=longest,
    )
    yield stream(
        "flood-behind",
        "A frame, then one byte more than the longest frame, then a delimiter.",
        ["TooLong", "Several"],
        hello + flood + b"\0",
        [HELLO],
        repaired=hello,
    )
    yield stream(
        "code-past-end",
        "A code that points behind the delimiter, and nothing else.",
        ["StuffingInvalid"],
        b"\xfe" + hello[1:],
        [],
        repaired=hello,
    )
    yield stream(
        "flood-no-end", "Too many bytes and no delimiter at all.", ["TooLong", "Truncated"], flood, [], repaired=hello
    )
    yield stream(
        "delimiter-lost",
        "The first frame's delimiter is missing.",
        ["DelimiterLost"],
        hello[:-1] + report,
        [REPORT],
        repaired=hello + report,
    )
    for cut in range(1, len(report) - 1):
        split = report[:cut] + b"\0" + report[cut:]
        yield stream(
            f"delimiter-added-{cut}",
            f"A zero after byte {cut} of a frame.",
            ["DelimiterAdded"],
            split + hello,
            [HELLO],
            repaired=report + hello,
        )
    for cut in range(1, len(report)):
        yield stream(
            f"truncated-{cut}",
            f"The stream ends after byte {cut} of the second frame.",
            ["Truncated"],
            hello + report[:cut],
            [HELLO],
            repaired=hello + report,
        )


def chunks(total, size):
    return [min(size, total - at) for at in range(0, total, size)]


def build():
    return document("link-frames", SOURCE, NOTES, [*good_streams(), *bad_streams()])
