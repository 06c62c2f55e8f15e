"""
What made cases found: `plyframe replay --rounds` prints a question, found.txt keeps it, and its answer is worked here from
the tables, without the program that found it. A line of found.txt: an id, then the request as vectors/REPLAY.md writes it.
"""

from pathlib import Path

from banks import TID_BASE
from burst import BASE as BURST_BASE
from calibration import BASE as CALIBRATION_BASE
from cobs import frame as link_frame
from counters import BASE as COUNTERS_BASE
from deframe import take_apart
from document import bad, good
from epc_identity import EXAMPLES, first_bit, whole
from epc_layout import SCHEMES, pack96, partition_of
from fingerprint import FINGERPRINT, LAYOUT
from found_message import message
from found_reading import reading
from frames import BASE as FRAME_BASE
from header import BASE as HEADER_BASE
from judge import Bad, judge
from memory_tables import BURST, CALIBRATION, COUNTERS, EPC, FRAME, HEADER, PASSWORDS, TID, XPC
from record import arrived, complete, meanings, pack
from slots import choose, frame
from stored_crc import BANK_BASE

TEXT = Path(__file__).with_name("found.txt")
FLAG = "MadeCase"
NOTE = "Made by chance, found by a reader that got it wrong, and shrunk to the smallest case."
WHY = "Found by a made case."

# Record: its file, its table, and a record of it without a fault.
RECORDS = {
    "header": ("header.json", HEADER, HEADER_BASE),
    "frame": ("frames.json", FRAME, FRAME_BASE),
    "counters": ("counters.json", COUNTERS, COUNTERS_BASE),
    "calibration": ("calibration.json", CALIBRATION, CALIBRATION_BASE),
    "burst": ("burst.json", BURST, BURST_BASE),
    "passwords": ("banks.json", PASSWORDS, {"kill_password": 0, "access_password": 1}),
    "xpc": ("banks.json", XPC, {"xpc_w1": 0x0200}),
    "tid": ("banks.json", TID, TID_BASE),
    "epc": ("banks.json", EPC, BANK_BASE),
}


def entries():
    """Name of a file and a vector for it, for each line of found.txt."""
    return [vector_of(line) for line in TEXT.read_text(encoding="utf-8").splitlines()]


def vector_of(line):
    """Name of the file and the vector. Raises ValueError for a line that is no question of a file."""
    id, verb, *pairs = line.split(" ")
    given = dict(pair.split("=", 1) for pair in pairs)
    if verb not in VERBS:
        raise ValueError(f"{verb}: questions are {', '.join(VERBS)}")
    name, members, sound, answer = VERBS[verb](given)
    try:
        return name, good(id, WHY, [FLAG], members, answer())
    except Bad as found:
        return name, bad(id, WHY, [FLAG], {**members, "repaired": sound}, *found.place, **found.more)


def decode(given):
    name, record, base = RECORDS[given["record"]]
    data = bytes.fromhex(given["bytes"])

    def answer():
        try:
            raws = judge(record, data)
        except Bad as found:
            if found.place[0] == "record-too-short":
                found.more["arrived"] = arrived(record, len(data))
            raise
        assert pack(record, raws) == data
        return {"raws": complete(record, raws, data), "values": meanings(record, raws)}

    return name, {"record": record.id, "hex": data.hex()}, pack(record, base).hex(), answer


def encode(given):
    """A record that is good both ways."""
    id = given.pop("record")
    raws = {}
    for key, text in given.items():
        numbers = [int(number) for number in text.split(",")]
        raws |= {f"{key}[{i}]": number for i, number in enumerate(numbers)} if len(numbers) > 1 else {key: numbers[0]}
    return decode({"record": id, "bytes": pack(RECORDS[id][1], raws).hex()})


def slots(given):
    data = bytes.fromhex(given["bytes"])
    return "slots.json", {"hex": data.hex()}, (frame(4710) + frame(4711)).hex(), lambda: choose(data)


def header(given):
    data = bytes.fromhex(given["bytes"])
    own = f"{FINGERPRINT:08x}"

    def answer():
        if judge(HEADER, data)["fingerprint"] != FINGERPRINT:
            raise Bad("fingerprint-mismatch", 2, 0, "header.fingerprint")
        return {"fingerprint": own}

    members = {"hex": data.hex(), "reader": {"layout": LAYOUT, "fingerprint": own}}
    return "fingerprint.json", members, pack(HEADER, HEADER_BASE).hex(), answer


def unframe(given):
    chunks = [bytes.fromhex(chunk) for chunk in given["chunks"].split(",")]
    wire = b"".join(chunks)
    bodies, faults = take_apart(wire)
    told = {"bodies": [body.hex() for body in bodies], "faults": faults}

    def answer():
        if faults:
            raise Bad(faults[0]["reason"], faults[0]["byte"], None, "link", **told)
        return told

    sound = b"".join(link_frame(body) for body in bodies or [b"\1"])
    members = {"wire": wire.hex(), "chunks": [len(chunk) for chunk in chunks]}
    return "link-frames.json", members, sound.hex(), answer


def epc(given):
    text = given["hex"]

    def answer():
        data = bytes.fromhex(text)
        scheme = next((name for name, (code, *_) in SCHEMES.items() if data[:1] == bytes([code])), None)
        if data and scheme is None:
            raise Bad("epc-header-unknown", 0, 7, "epc.header")
        if len(data) != 12:
            raise Bad("epc-length-invalid", min(len(data), 12), None, "epc")
        _, reference_name, _, serial_bits = SCHEMES[scheme]
        digits = f"{int(text, 16):096b}"
        filter, partition, room = int(digits[8:11], 2), int(digits[11:14], 2), scheme.replace("-", "_")
        if partition == 7:
            raise Bad("epc-partition-invalid", *first_bit(11), f"{room}.partition")
        prefix_bits, prefix_digits, reference_bits, reference_digits = partition_of(scheme, partition)
        end = 14 + prefix_bits + reference_bits
        prefix, reference = int(digits[14 : 14 + prefix_bits], 2), int(digits[14 + prefix_bits : end], 2)
        if prefix >= 10**prefix_digits:
            raise Bad("epc-field-too-large", *first_bit(14), f"{room}.company_prefix")
        if reference_digits is not None and reference >= 10**reference_digits:
            raise Bad("epc-field-too-large", *first_bit(14 + prefix_bits), f"{room}.{reference_name}")
        serial = int(digits[end:], 2) if serial_bits else None
        fields = (scheme, filter, partition, prefix, reference, serial)
        assert pack96(*fields) == text
        return whole("", "", [], *fields)["expected"]

    return "epc-identity.json", {"hex": text}, EXAMPLES[0][2], answer


VERBS = {
    "decode": decode,
    "encode": encode,
    "slots": slots,
    "header": header,
    "reading": reading,
    "unframe": unframe,
    "message": message,
    "epc": epc,
}
