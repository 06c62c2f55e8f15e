"""burst.json: a run of samples."""

from cases import NOTES, sealed_suite
from document import RECORD_SOURCE, document
from memory_tables import BURST

# One step of a walk: a rise of some 15 mmHg and back, half a pascal a unit.
WALK = (
    0,
    12,
    58,
    201,
    522,
    1040,
    1811,
    2630,
    3302,
    3787,
    3960,
    3871,
    3544,
    3022,
    2405,
    1760,
    1177,
    702,
    349,
    121,
    -6,
    -71,
    -88,
    -60,
    -21,
)
BASE = {
    "status": 128,
    "sequence": 4711,
    "count": 25,
    "pressure": 13_652_224,
    "interval": 40,
    "temperature": 3142,
    **{f"samples[{i}]": sample for i, sample in enumerate(WALK)},
}
OLDER = {
    "status": 0,
    "sequence": 4205,
    "pressure": 13_600_000,
    "temperature": 3011,
    **{f"samples[{i}]": -sample - 3 for i, sample in enumerate(WALK)},
}

EXTRA = {
    "Partial": "The run ended before 25 samples: the rest are not sampled. Not sampled is missing, never zero.",
    "Saturated": "A difference the 16 bits could not hold: the nearest end of the range.",
}


def build():
    middle = [f"samples[{i}]" for i in range(1, 24)]
    suite = sealed_suite(BURST, BASE, OLDER, skip=middle)
    absent = lambda first: {f"samples[{i}]": -32_768 for i in range(first, 25)}
    suite.good("empty-run", "No sample was taken.", ["Partial"], count=0, **absent(0))
    suite.good("one-sample", "The power went after the first sample.", ["Partial"], count=1, **absent(1))
    suite.good("twelve-samples", "The power went half way.", ["Partial"], count=12, **absent(12))
    every = lambda raw: {f"samples[{i}]": raw for i in range(25)}
    for name, raw, flag in (
        ("lowest", -32_767, "Limit"),
        ("minus-one", -1, "Negative"),
        ("zero", 0, "Limit"),
        ("one", 1, "Ordinary"),
        ("highest", 32_767, "Limit"),
    ):
        suite.good(f"samples-all-{name}", f"Every sample {raw}.", [flag], **every(raw))
    suite.good(
        "samples-all-different",
        "Every sample another number, so that a sample out of its place shows.",
        ["Ordinary"],
        **{f"samples[{i}]": 1301 * i - 15_000 for i in range(25)},
    )
    for i in range(25):
        suite.good(
            f"sample-{i}-alone",
            f"Sample {i} alone was taken: the others are missing, not zero.",
            ["Partial"],
            **{**absent(0), f"samples[{i}]": 4660 - i},
        )
    suite.good(
        "saturated-both-ways",
        "A blow and its rebound beyond 123 mmHg.",
        ["Saturated"],
        **{"samples[3]": 32_767, "samples[4]": -32_767},
    )
    unused = ("Name", "ReservedBit", "Marker")
    notes = {**{flag: NOTES[flag] for flag in NOTES if flag not in unused}, **EXTRA}
    return document("record", RECORD_SOURCE, notes, suite.vectors)
