"""calibration.json: one copy of the calibration block."""

from cases import NOTES, sealed_suite
from document import RECORD_SOURCE, document
from memory_tables import CALIBRATION

# Offset +23.5 Pa, gain 1.0625, 12.5 Pa/K, -350e-6 1/K, 2000e-9 1/Pa, reference 25.00 °C, U = 120 Pa, 2024-02-29.
BASE = {
    "method": 3,
    "reuse_since": 0,
    "date": 1520,
    "sensor_serial": 305_419_896,
    "reuse_count": 2,
    "offset": 3008,
    "reuse_limit": 20,
    "gain": 1_114_112,
    "temperature_effect": 800,
    "gain_temperature": -350,
    "curvature": 2000,
    "reference_temperature": 2500,
    "expanded_uncertainty": 120,
    "temperature_low": 15,
    "temperature_high": 42,
    "span": 133,
    "validity": 12,
}
OLDER = {
    "method": 1,
    "reuse_since": 4,
    "date": 1155,
    "sensor_serial": 305_419_896,
    "reuse_count": 0,
    "offset": 2911,
    "reuse_limit": 25,
    "gain": 1_101_005,
    "temperature_effect": 768,
    "gain_temperature": -300,
    "curvature": 0,
    "reference_temperature": 2300,
    "expanded_uncertainty": 200,
    "temperature_low": 10,
    "temperature_high": 40,
    "span": 107,
    "validity": 6,
}


def build():
    suite = sealed_suite(CALIBRATION, BASE, OLDER)
    suite.good(
        "nominal",
        "Offset zero, gain one, no other term: the block that changes nothing.",
        ["Ordinary"],
        method=5,
        offset=0,
        gain=1_048_576,
        temperature_effect=0,
        gain_temperature=0,
        curvature=0,
        expanded_uncertainty=65_535,
    )
    suite.good("first-day", "Day 0 is 2020-01-01.", ["Limit"], date=0)
    suite.good(
        "rigid-cell",
        "The temperature effect of a rigid sealed cell, 340 Pa/K.",
        ["Ordinary"],
        temperature_effect=21_760,
    )
    unused = ("Flag", "ReservedBit", "Marker")
    return document("record", RECORD_SOURCE, {flag: NOTES[flag] for flag in NOTES if flag not in unused}, suite.vectors)
