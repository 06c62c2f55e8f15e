"""header.json: the first eight words of USER."""

from cases import NOTES, sealed_suite
from document import RECORD_SOURCE, document
from fingerprint import FINGERPRINT
from memory_tables import HEADER

BASE = {
    "fingerprint": FINGERPRINT,
    "firmware_major": 1,
    "firmware_minor": 4,
    "sampling_period": 1000,
    "sensor_serial": 305_419_896,
}
OLDER = {
    "fingerprint": 0x1234_5678,
    "firmware_major": 0,
    "firmware_minor": 9,
    "sampling_period": 500,
    "sensor_serial": 77,
}

EXTRA = {
    "ForeignFingerprint": (
        "Whole and of this layout number, but written from another specification. The record itself decodes; "
        "whoever reads on must compare the fingerprint and stop with fingerprint-mismatch (see fingerprint.json)."
    )
}


def build():
    suite = sealed_suite(HEADER, BASE, OLDER)
    suite.good(
        "foreign-fingerprint",
        "Another specification with the same layout number.",
        ["ForeignFingerprint"],
        fingerprint=FINGERPRINT ^ 1,
    )
    used = {
        flag: note
        for flag, note in NOTES.items()
        if flag not in ("Name", "Flag", "Sentinel", "Negative", "ReservedBit")
    }
    return document("record", RECORD_SOURCE, {**used, **EXTRA}, suite.vectors)
