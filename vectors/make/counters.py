"""counters.json: what the tag has been through."""

from cases import NOTES, sealed_suite
from document import RECORD_SOURCE, document
from memory_tables import COUNTERS

BASE = {"reuse_cycles": 3, "cold_starts": 812, "fruitless_starts": 2, "brown_outs": 41, "frames": 150_233}
OLDER = {"reuse_cycles": 2, "cold_starts": 811, "fruitless_starts": 1, "brown_outs": 40, "frames": 149_990}


def build():
    suite = sealed_suite(COUNTERS, BASE, OLDER)
    suite.good(
        "new-tag",
        "A tag that has never been powered.",
        ["Limit"],
        reuse_cycles=0,
        cold_starts=0,
        fruitless_starts=0,
        brown_outs=0,
        frames=0,
    )
    suite.good(
        "all-saturated",
        "Every counter has stopped at its end.",
        ["Sentinel"],
        reuse_cycles=255,
        cold_starts=4_294_967_295,
        fruitless_starts=255,
        brown_outs=16_777_215,
        frames=4_294_967_295,
    )
    unused = ("Name", "Flag", "Negative", "ReservedBit", "Marker")
    return document("record", RECORD_SOURCE, {flag: NOTES[flag] for flag in NOTES if flag not in unused}, suite.vectors)
