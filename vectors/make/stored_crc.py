"""stored-crc.json: StoredPC, EPC words and their StoredCRC; and the first eight words of the EPC bank."""

from cases import NOTES as RECORD_NOTES
from cases import Suite, length_cases, value_cases
from crc import checksum
from document import bad, document, good
from memory_tables import EPC

# (StoredPC, EPC words, StoredCRC). Source: GS1 EPC UHF Gen2 Air Interface, Annex F, the table of EPC lengths 0 to 6.
TABLE = tuple(
    (words << 11, tuple(0x1111 * (i + 1) for i in range(words)), crc)
    for words, crc in enumerate((0xE2F0, 0xCCAE, 0x968F, 0x78F6, 0xC241, 0x2A91, 0x1835))
)
# The EPCs of epc-identity.json's worked examples under StoredPC 3000h.
EXAMPLES = (
    ("3066c4409047e14000001a85", 0xD93C),
    ("3066c4409047e140075bcd15", 0x2927),
    ("3476451fd40000000000162e", 0x3DDE),
)

NOTES = {
    "Gen2Table": "The table of GS1 EPC UHF Gen2 Air Interface, Annex F.",
    "Example": "The EPC of a worked example of the Tag Data Standard under StoredPC 3000h.",
    "Indicators": (
        "The StoredPC of this tag: user memory (bit 10) and extended protocol word (bit 9) are inside the checksum."
    ),
    "Damaged": "One bit of StoredCRC, StoredPC or EPC differs.",
    "ForeignChecksum": "Another checksum of the same width in its place.",
    **{flag: RECORD_NOTES[flag] for flag in ("Marker", "ReservedBit", "Length", "Limit")},
}

SOURCE = (
    "CRC-16 of Gen2 (polynomial 1021h, preset FFFFh, complemented; catalogue name CRC-16/GENIBUS) worked bit by bit;"
    " the table's values are the standard's."
)

ORDINARY = bytes.fromhex("30744a44a4000440000425d4")


def words_of(data):
    return [int.from_bytes(data[i : i + 2], "big") for i in range(0, len(data), 2)]


def plain(id, why, flags, pc, words, crc):
    data = b"".join(word.to_bytes(2, "big") for word in (pc, *words))
    assert checksum("air", data) == crc
    given = {"pc": f"{pc:04x}", "epc": data[2:].hex()}
    return good(f"stored-crc-{id}", why, flags, given, {"stored_crc": f"{crc:04x}"})


def raws_of(epc, indicators):
    return {"epc_length": 6, "indicators": indicators, **{f"epc[{i}]": word for i, word in enumerate(words_of(epc))}}


BANK_BASE = raws_of(ORDINARY, 3)


class Bank(Suite):
    """Memory as read: `hex` holds StoredCRC, StoredPC and EPC."""

    def bad(self, id, why, flags, data, reason, byte, bit, path, **more):
        given = {"hex": data.hex(), "repaired": self.bytes.hex()}
        self.add(bad(f"stored-crc-bank-{id}", why, flags, given, reason, byte, bit, path, **more))


def build():
    vectors = [
        plain(f"words-{len(words)}", f"{len(words)} words of EPC.", ["Gen2Table"], pc, words, crc)
        for pc, words, crc in TABLE
    ]
    vectors += [
        plain(f"example-{i + 1}", "A worked example.", ["Example"], 0x3000, words_of(bytes.fromhex(epc)), crc)
        for i, (epc, crc) in enumerate(EXAMPLES)
    ]
    for pc in (0x3000, 0x3200, 0x3400, 0x3600):
        crc = checksum("air", pc.to_bytes(2, "big") + ORDINARY)
        vectors.append(plain(f"pc-{pc:04x}", f"StoredPC {pc:04X}h.", ["Indicators"], pc, words_of(ORDINARY), crc))
    bank = Bank(EPC, BANK_BASE)
    for indicators in range(4):
        data = Suite(EPC, raws_of(ORDINARY, indicators)).bytes
        bank.add(
            good(
                f"stored-crc-bank-indicators-{indicators}",
                "The bank's first eight words.",
                ["Indicators"],
                {"hex": data.hex()},
                {"stored_crc": data[:2].hex()},
            )
        )
    for name, word in (("lowest", 0), ("highest", 0xFFFF)):
        data = Suite(EPC, {**raws_of(ORDINARY, 3), **{f"epc[{i}]": word for i in range(6)}}).bytes
        why = f"Every word of the EPC {word:04X}h."
        bank.add(good(f"stored-crc-bank-epc-{name}", why, ["Limit"], {"hex": data.hex()}, {"stored_crc": data[:2].hex()}))
    for byte in range(16):
        place = byte * 3 % 8
        damaged = bank.bytes[:byte] + bytes([bank.bytes[byte] ^ 1 << place]) + bank.bytes[byte + 1 :]
        bank.seal_broken(f"flip-byte-{byte}-bit-{place}", f"Bit {place} of byte {byte} flipped.", ["Damaged"], damaged)
    rest = bank.bytes[2:]
    own = int.from_bytes(bank.bytes[:2], "big")
    for name, crc in {
        "seal": checksum("seal", rest),
        "not-complemented": own ^ 0xFFFF,
        "epc-only": checksum("air", rest[2:]),
        "bytes-swapped": int.from_bytes(bank.bytes[1::-1], "big"),
    }.items():
        bank.seal_broken(
            f"checksum-{name}",
            f"{name.replace('-', ' ')} in place of the StoredCRC.",
            ["ForeignChecksum"],
            crc.to_bytes(2, "big") + rest,
        )
    length_cases(bank)
    value_cases(bank)
    return document("stored-crc", SOURCE, NOTES, vectors + bank.vectors)
