"""air.json: commands and replies of the Gen2 air interface as strings of bits, the first bit sent first."""

from crc import checksum
from document import document, good

SOURCE = (
    "Layouts of GS1 EPC UHF Gen2 2.1, from memory; fields put one behind the other by hand and checksums worked bit by bit"
    " from the polynomials. No codec of the project takes part."
)

NOTES = {
    "Command": "From reader to tag.",
    "Reply": "From tag to reader; which kind it is follows from the command.",
    "Pointer": "A pointer as an extensible bit vector (EBV) at a boundary of its length.",
    "LongPointer": "A pointer with more blocks than it needs, which is read all the same.",
    "Covered": "Data or half a password XORed with an RN16.",
    "Checksum": "One bit of the frame differs.",
    "Length": "One bit less or one more than the command has.",
    "Code": "A code that no command here has.",
    "Later": "A value that is kept for later.",
}


def crc_bits(bits, width, polynomial, preset, final):
    register = preset
    for bit in bits:
        feedback = (register >> (width - 1)) ^ int(bit)
        register = (register << 1) & ((1 << width) - 1)
        if feedback:
            register ^= polynomial
    return f"{register ^ final:0{width}b}"


def sealed(bits):
    return bits + crc_bits(bits, 16, 0x1021, 0xFFFF, 0xFFFF)


# The same parameters over whole bytes, by the module that the catalogue's check value judges.
assert int(sealed("0" * 8 + "1" * 8)[-16:], 2) == checksum("air", b"\x00\xff")


def u(value, width):
    return f"{value:0{width}b}"


def ebv(value, blocks=None):
    parts = []
    while True:
        parts.insert(0, value & 0x7F)
        value >>= 7
        if value == 0 and (blocks is None or len(parts) >= blocks):
            break
    return "".join(u((0x80 if i < len(parts) - 1 else 0) | part, 8) for i, part in enumerate(parts))


def query(dr, m, trext, sel, session, target, q):
    body = "1000" + u(dr, 1) + u(m, 2) + u(trext, 1) + u(sel, 2) + u(session, 2) + u(target, 1) + u(q, 4)
    fields = {"kind": "query", "dr": dr, "m": m, "trext": trext == 1, "sel": sel, "session": session}
    return body + crc_bits(body, 5, 0x09, 0x09, 0), {**fields, "target": "AB"[target], "q": q}


def words(values):
    return "".join(u(value, 16) for value in values)


H = 0xABCD


def commands():
    yield "query-slow", "FM0, one slot.", [], *query(0, 0, 0, 0, 0, 0, 0)
    yield "query-all-fields", "Every field at its highest.", [], *query(1, 3, 1, 3, 3, 1, 15)
    yield "query-rep", "The shortest command.", [], "00" + "10", {"kind": "query_rep", "session": 2}
    for change, bits in ((1, "110"), (0, "000"), (-1, "011")):
        fields = {"kind": "query_adjust", "session": 1, "change": change}
        yield f"query-adjust-{bits}", f"UpDn {bits}.", [], "1001" + "01" + bits, fields
    yield "ack", "An RN16 acknowledged.", [], "01" + u(0x1234, 16), {"kind": "ack", "rn": 0x1234}
    yield "nak", "No arguments.", [], "11000000", {"kind": "nak"}
    yield "req-rn", "A handle asked for.", [], sealed("11000001" + u(0x1234, 16)), {"kind": "req_rn", "rn": 0x1234}
    for pointer in (0, 127, 128, 16383, 16384):
        fields = {"kind": "read", "bank": 3, "word": pointer, "count": 4, "handle": H}
        bits = sealed("11000010" + "11" + ebv(pointer) + u(4, 8) + u(H, 16))
        yield f"read-{pointer}", f"USER word {pointer}.", ["Pointer"], bits, fields
    fields = {"kind": "read", "bank": 1, "word": 2, "count": 6, "handle": H}
    bits = sealed("11000010" + "01" + ebv(2, 3) + u(6, 8) + u(H, 16))
    yield "read-long-pointer", "Three blocks where one would do.", ["LongPointer"], bits, fields
    fields = {"kind": "write", "bank": 3, "word": 2, "covered": 0x5678 ^ 0x1111, "handle": H}
    yield "write", "5678h under RN16 1111h.", ["Covered"], sealed(
        "11000011" + "11" + ebv(2) + u(0x5678 ^ 0x1111, 16) + u(H, 16)
    ), fields
    fields = {"kind": "block_write", "bank": 3, "word": 40, "words": [1, 0xFFFF], "handle": H}
    yield "block-write", "Two words, not covered.", [], sealed(
        "11000111" + "11" + ebv(40) + u(2, 8) + words([1, 0xFFFF]) + u(H, 16)
    ), fields
    fields = {"kind": "block_erase", "bank": 3, "word": 104, "count": 2, "handle": H}
    yield "block-erase", "Two words.", [], sealed("11001000" + "11" + ebv(104) + u(2, 8) + u(H, 16)), fields
    for mask in (None, [0x8001]):
        fields = {"kind": "block_permalock", "bank": 3, "block": 0, "range": 1, "mask": mask, "handle": H}
        start = "11001001" + "00000000" + ("1" if mask else "0") + "11" + ebv(0) + u(1, 8)
        name = "lock" if mask else "read"
        yield f"block-permalock-{name}", "Sixteen blocks.", [], sealed(start + words(mask or []) + u(H, 16)), fields
    fields = {"kind": "lock", "mask": 2, "action": 2, "handle": H}
    yield "lock-user", "USER by password: payload 00802h.", [], sealed("11000101" + u(0x00802, 20) + u(H, 16)), fields
    fields = {"kind": "access", "covered": 0x6C65 ^ 0x2222, "handle": H}
    yield "access", "Upper half 6C65h under RN16 2222h.", ["Covered"], sealed(
        "11000110" + u(0x6C65 ^ 0x2222, 16) + u(H, 16)
    ), fields
    fields = {"kind": "kill", "covered": 0x00FF, "handle": H}
    yield "kill", "Half a password and three zeros.", ["Covered"], sealed(
        "11000100" + u(0x00FF, 16) + "000" + u(H, 16)
    ), fields
    mask = u(0x3066, 16)
    fields = {"kind": "select", "target": 4, "action": 0, "bank": 1, "pointer": 32, "mask": mask, "truncate": False}
    yield "select-sl", "The tags whose EPC begins with 3066h get SL.", [], sealed(
        "1010" + "100" + "000" + "01" + ebv(32) + u(16, 8) + mask + "0"
    ), fields
    fields = {"kind": "select", "target": 0, "action": 0, "bank": 1, "pointer": 0, "mask": "", "truncate": False}
    yield "select-all", "No mask: every tag, session S0 to A.", [], sealed(
        "1010" + "000" + "000" + "01" + ebv(0) + u(0, 8) + "0"
    ), fields


def replies():
    yield "rn16", "No checksum.", u(0x1234, 16), {"kind": "rn16", "rn": 0x1234}
    epc = [0x3066, 0xC440, 0x9047, 0xE140, 0x0000, 0x4B01]
    fields = {"kind": "identity", "pc": 0x3600, "xpc": 0x0200, "epc": epc}
    yield "identity-xpc", "A sensor tag: XI is set, XPC_W1 follows the PC.", sealed(words([0x3600, 0x0200, *epc])), fields
    fields = {"kind": "identity", "pc": 0x3000, "xpc": None, "epc": epc}
    yield "identity", "XI is not set.", sealed(words([0x3000, *epc])), fields
    tail = u(0x4B01, 16)
    yield "truncated", "The last word of the EPC.", sealed("00000" + tail), {"kind": "truncated", "tail": tail}
    yield "handle", "To a Req_RN.", sealed(u(H, 16)), {"kind": "handle", "handle": H}
    fields = {"kind": "words", "words": [0xBEEF], "handle": H}
    yield "words", "One word read.", sealed("0" + u(0xBEEF, 16) + u(H, 16)), fields
    yield "success", "A write done.", sealed("0" + u(H, 16)), {"kind": "success", "handle": H}
    for code in (0x03, 0x04, 0x0B):
        bits = sealed("1" + u(code, 8) + u(H, 16))
        yield f"error-{code:02x}", f"Error code {code:02X}h.", bits, {"kind": "error", "code": code, "handle": H}


def build():
    vectors = []
    spoilt = []
    for id, why, flags, bits, fields in commands():
        vectors.append(good(f"air-{id}", why, ["Command", *flags], {"bits": bits}, {"fields": fields}))
        checked = bits[:2] == "11" and id != "nak" or id.startswith(("select", "query-slow", "query-all"))
        if checked:
            at = len(bits) // 2
            wrong = bits[:at] + ("1" if bits[at] == "0" else "0") + bits[at + 1 :]
            spoilt.append(bad(f"{id}-one-bit", "A bit in the middle differs.", "Checksum", wrong, bits, "checksum-mismatch"))
        short = "checksum-mismatch" if checked else "record-too-short"
        if id not in ("query-rep",):
            spoilt.append(bad(f"{id}-short", "The last bit is missing.", "Length", bits[:-1], bits, short))
    ack = "01" + u(0x1234, 16)
    spoilt.append(bad("ack-long", "A bit too many.", "Length", ack + "0", ack, "trailing-bytes"))
    nak = "11000000"
    spoilt.append(bad("code-unknown", "Code 11001111.", "Code", sealed("11001111" + u(H, 16)), nak, "message-unknown"))
    adjust = "1001" + "01"
    spoilt.append(bad("updn-later", "UpDn 101.", "Later", adjust + "101", adjust + "110", "name-unknown"))
    kill = "11000100" + u(1, 16)
    good_kill = sealed(kill + "000" + u(H, 16))
    spoilt.append(bad("kill-later", "A bit after the half password.", "Later", sealed(kill + "001" + u(H, 16)), good_kill,
                      "reserved-bit-set"))
    for id, why, bits, fields in replies():
        vectors.append(good(f"air-reply-{id}", why, ["Reply"], {"bits": bits}, {"fields": fields}))
    return document("air", SOURCE, NOTES, vectors + spoilt)


def bad(id, why, flag, bits, repaired, reason):
    given = {"bits": bits, "repaired": repaired}
    return {"id": f"air-{id}", "why": why, "flags": ["Command", flag], **given,
            "expected": {"verdict": "bad", "reason": reason}}
