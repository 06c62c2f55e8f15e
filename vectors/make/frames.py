"""frames.json: the sensor frame."""

from cases import NOTES, sealed_suite
from document import RECORD_SOURCE, document
from memory_tables import FRAME

# 106 658.0 Pa (40.0 mmHg above 1013.25 hPa), 31.42 °C, 2.147 V, 12.3 s after the cold start.
BASE = {"status": 0, "sequence": 4711, "pressure": 13_652_224, "temperature": 3142, "supply": 2147, "uptime": 123}
OLDER = {"status": 64, "sequence": 4710, "pressure": 13_651_007, "temperature": 3139, "supply": 1998, "uptime": 113}

EXTRA = {
    "ColdStart": "The first frame after the power came back: everything not kept has its cold-start value.",
    "SequenceWrap": "The 16-bit sequence at its ends; the wrap from 65535 to 0 is an ordinary step.",
    "Saturated": (
        "A value the tag could not hold: the nearest end of the range, or the sentinel that means at least that."
    ),
    "SensorFault": "The sensor did not answer: pressure is not measured. Not measured is missing, never zero.",
}


def build():
    suite = sealed_suite(FRAME, BASE, OLDER)
    suite.good(
        "cold-start",
        "The first frame after a cold start, before the first conversion.",
        ["ColdStart"],
        status=1,
        sequence=0,
        pressure=16_777_215,
        temperature=-32_768,
        supply=4095,
        uptime=0,
    )
    suite.good(
        "cold-start-measured",
        "The first frame after a cold start, with a measurement.",
        ["ColdStart"],
        status=1,
        uptime=0,
    )
    suite.good("sequence-before-wrap", "The last sequence before the wrap.", ["SequenceWrap"], sequence=65_535)
    suite.good("sequence-after-wrap", "The first sequence after the wrap.", ["SequenceWrap"], sequence=0)
    suite.good("sequence-half", "Half the number circle.", ["SequenceWrap"], sequence=32_768)
    suite.good(
        "pressure-saturated-low",
        "Pressure at the low limit, and the flag that says so.",
        ["Saturated"],
        status=8,
        pressure=3_328_000,
    )
    suite.good(
        "pressure-saturated-high",
        "Pressure at the high limit, and the flag that says so.",
        ["Saturated"],
        status=8,
        pressure=16_128_000,
    )
    suite.good(
        "uptime-29-hours",
        "More than 29 hours since the cold start: at least 104857.4 s.",
        ["Saturated"],
        uptime=1_048_575,
    )
    suite.good(
        "sensor-fault",
        "The sensor failed: no pressure and no temperature.",
        ["SensorFault"],
        status=4,
        pressure=16_777_215,
        temperature=-32_768,
    )
    suite.good("below-zero", "Air cell at -12.34 Cel.", ["Negative"], temperature=-1234)
    suite.good(
        "every-bit",
        "Every field at its highest raw integer, every flag set.",
        ["Limit"],
        status=255,
        sequence=65_535,
        pressure=16_777_215,
        temperature=12_500,
        supply=4095,
        uptime=1_048_575,
    )
    return document("record", RECORD_SOURCE, {**NOTES_USED, **EXTRA}, suite.vectors)


NOTES_USED = {flag: note for flag, note in NOTES.items() if flag not in ("Name", "Marker")}
