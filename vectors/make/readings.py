"""readings.json: from the words of one tag and an ambient pressure to a calibrated pressure with its uncertainty."""

from calibration import BASE as CALIBRATION_BASE
from compensation import NOMINAL, PA_PER_MMHG
from document import document, good
from fields import elements
from frames import BASE as FRAME_BASE
from memory_tables import CALIBRATION, FRAME
from reading_faults import ambient, bad_readings, several_faults
from record import pack
from scene import Scene
from slots import flipped

NOTES = {
    "Ordinary": "A bandaged leg at rest or in motion, weather included.",
    "Weather": "The ambient pressure moves and the load does not: the gauge pressure must stay.",
    "Temperature": (
        "Above, at and below the reference temperature, below zero, or not measured (the temperature terms are left "
        "out)."
    ),
    "Coefficient": "One coefficient at an end of its range, the others ordinary.",
    "Rounding": (
        "A result that lies half way between two steps at some point: ties go away from zero, on both sides of zero."
    ),
    "Negative": "A gauge pressure below zero: an unloaded cell with an offset. It is shown, not cut to zero.",
    "AbsoluteOnly": "No ambient pressure: absolute only. A gauge pressure cannot be built.",
    "UncertaintyUnknown": (
        "Calibration or ambient states no uncertainty: the whole has none. Never a number that looks complete."
    ),
    "CalibratedRange": (
        "At and beyond the ends of what the calibration covered: its uncertainty is stated within them alone, so "
        "beyond them there is none. A temperature that was not measured is not known to be covered."
    ),
    "Doubtful": (
        "The frame's status says that the sensor failed its self-check, that the pressure is at an end of the range, or "
        "that the supply was too low: a pressure, and no uncertainty. Other flags leave the uncertainty as it is."
    ),
    "SecondCopy": (
        "The first copy of the calibration block is not whole, or of another sensor: the second is used."
    ),
    "Uncalibrated": (
        "No usable calibration block (both copies not whole, or of another sensor): offset 0, gain 1, no other term,"
        " and no uncertainty."
    ),
    "NotMeasured": "The frame says the pressure was not measured: no pressure at all, never zero.",
    "SlotChoice": "The reading comes from the newer whole slot.",
    "OtherLayout": "The header names another layout: nothing behind it is read as if it were this one.",
    "ForeignFingerprint": "The header is whole but of another specification with this layout number.",
    "BothSlotsBad": "Neither slot is whole.",
    "Contradiction": "The slots cannot be ordered.",
    "SeveralFaults": "Two faults; `also` has the one that comes later in the order header, slots, arithmetic.",
    "BeyondLimit": (
        "More than 40 kPa (300 mmHg) from ambient, before or after the gain: outside what the arithmetic is specified "
        "for."
    ),
}

SOURCE = (
    "The compensation rule in whole numbers (vectors/make/compensation.py), checked there against the coefficients'"
    " physical meaning in exact fractions; 1 mmHg = 133.322387415 Pa; U = 2 sqrt((U_calibration / 2)^2 + (U_ambient /"
    " 2)^2), k = 2; decimals to the nearest ninth place, ties away from zero."
)


def shown(id, why, flags, **scene):
    made = Scene(**scene)
    expected = made.expected()
    assert expected is not None, id
    return good(f"reading-{id}", why, flags, made.given(), expected)


def good_readings():
    yield shown("ordinary", "About 40 mmHg.", ["Ordinary"])
    yield shown("ordinary-slot-a", "The newer frame is in slot A.", ["SlotChoice"], slot="a")
    for name, gain in (("unit-gain", 1_048_576), ("half-gain", 524_288)):
        yield shown(name, f"Gain {gain} / 1048576.", ["Ordinary"], calibration={"gain": gain})
    for mmhg in (0, 5, 10, 20, 30, 40, 50, 60, 80, 120):
        raw = 12_969_600 + int(mmhg * PA_PER_MMHG * 128)
        yield shown(
            f"load-{mmhg}",
            f"A load of {mmhg} mmHg, calibration that changes nothing but states U = 120 Pa.",
            ["Ordinary"],
            frame={"pressure": raw},
            calibration={**NOMINAL},
        )
    for shift in (-640_000, -1, 1, 640_000):
        yield shown(
            f"weather-{shift}".replace("--", "-minus-"),
            f"Ambient moved by {shift} / 128 Pa, and the cell with it.",
            ["Weather"],
            frame={"pressure": FRAME_BASE["pressure"] + shift},
            ambient=ambient(12_969_600 + shift),
        )
    for temperature in (-4000, -1234, -1, 0, 2499, 2500, 2501, 3700, 12_500, -32_768):
        name = f"temperature-{temperature}".replace("--", "-minus-")
        yield shown(name, f"Temperature raw {temperature}.", ["Temperature"], frame={"temperature": temperature})
    limits = {field.id: (field.low, field.high) for field in elements(CALIBRATION) if field.id in NOMINAL}
    for id, ends in limits.items():
        for end in ends:
            name = f"{id.replace('_', '-')}-{end}".replace("--", "-minus-")
            made = Scene(calibration={id: end})
            if made.expected() is not None:
                yield shown(name, f"{id} {end}.", ["Coefficient"], calibration={id: end})
    tie = {**NOMINAL, "gain": 524_288}
    for difference in (1, 3, -1, -3):
        name = f"tie-gain-{difference}".replace("--", "-minus-")
        yield shown(
            name, f"Half of {difference}.", ["Rounding"], frame={"pressure": 12_969_600 + difference}, calibration=tie
        )
    for effect in (25, -25):
        name = f"tie-temperature-{effect}".replace("--", "-minus-")
        yield shown(
            name,
            f"Half a step of temperature effect, {effect} / 50.",
            ["Rounding"],
            frame={"temperature": 1},
            calibration={**NOMINAL, "temperature_effect": effect},
        )
    for load in (-128, -12_800, -256_000):
        yield shown(
            f"below-zero-minus-{-load}",
            f"{load // 128} Pa.",
            ["Negative"],
            frame={"pressure": 12_969_600 + load},
            calibration={**NOMINAL},
        )
    for load in (5_120_000, -5_120_000):
        yield shown(
            f"at-limit-{'high' if load > 0 else 'low'}",
            "Exactly 40 kPa.",
            ["Ordinary"],
            frame={"pressure": 9_000_000 + load},
            calibration={**NOMINAL},
            ambient=ambient(9_000_000),
        )
    for temperature in (1499, 1500, 4200, 4201):
        yield shown(
            f"covered-temperature-{temperature}",
            "At, or one step beyond, an end of the calibrated temperatures.",
            ["CalibratedRange"],
            frame={"temperature": temperature},
        )
    for step in (0, 1):
        yield shown(
            f"covered-span-{step}",
            "At the end of the calibrated span, or one step beyond it.",
            ["CalibratedRange"],
            frame={"pressure": 12_969_600 + 13_300 * 128 + step},
            calibration={**NOMINAL},
        )
    yield shown("absolute-only", "No ambient pressure.", ["AbsoluteOnly"], ambient=None)
    yield shown(
        "ambient-unstated",
        "The ambient pressure states no uncertainty.",
        ["UncertaintyUnknown"],
        ambient=ambient(12_969_600, None),
    )
    yield shown(
        "calibration-unstated",
        "The calibration states no uncertainty.",
        ["UncertaintyUnknown"],
        calibration={"expanded_uncertainty": 65_535},
    )
    yield shown(
        "uncertainty-zero",
        "Both state zero.",
        ["Ordinary"],
        calibration={"expanded_uncertainty": 0},
        ambient=ambient(12_969_600, 0),
    )
    yield shown(
        "uncertainty-3-4",
        "3 Pa and 4 Pa make 5 Pa.",
        ["Ordinary"],
        calibration={"expanded_uncertainty": 3},
        ambient=ambient(12_969_600, 4),
    )
    yield shown(
        "uncertainty-highest",
        "The highest that can be stated.",
        ["Ordinary"],
        calibration={"expanded_uncertainty": 65_534},
        ambient=ambient(12_969_600, 65_534),
    )
    block = pack(CALIBRATION, CALIBRATION_BASE)
    yield shown("second-copy", "The first copy is damaged.", ["SecondCopy"], copy_1=flipped(block, 9), copy=2)
    yield shown(
        "second-copy-first-empty", "The first copy was never written.", ["SecondCopy"], copy_1=bytes(32), copy=2
    )
    yield shown(
        "first-copy-second-bad",
        "The second copy is damaged: the first is used.",
        ["Ordinary"],
        copy_2=flipped(block, 30),
    )
    foreign = pack(CALIBRATION, {**CALIBRATION_BASE, "sensor_serial": 99})
    for name, copies in {
        "second-copy": {"copy_1": flipped(block, 9), "copy": 2},
        "uncalibrated": {"copy_1": bytes(32), "copy_2": flipped(block, 2), "copy": None},
    }.items():
        flag = "SecondCopy" if copies["copy"] else "Uncalibrated"
        yield shown(f"{name}-absolute-only", "No ambient pressure.", [flag, "AbsoluteOnly"], ambient=None, **copies)
        yield shown(
            f"{name}-ambient-unstated",
            "The ambient pressure states no uncertainty.",
            [flag, "UncertaintyUnknown"],
            ambient=ambient(12_969_600, None),
            **copies,
        )
    for offset, pressure in ((-8_388_608, 16_128_000), (8_388_607, 3_328_000)):
        yield shown(
            f"offset-{offset}-taken-back".replace("--", "-minus-"),
            f"offset {offset}, and an ambient as high as what it makes of the pressure.",
            ["Coefficient"],
            frame={"pressure": pressure},
            calibration={**NOMINAL, "offset": offset},
            ambient=ambient(pressure + offset),
        )
    yield shown(
        "both-copies-empty", "Never calibrated.", ["Uncalibrated"], copy_1=bytes(32), copy_2=bytes(32), copy=None
    )
    yield shown(
        "both-copies-damaged",
        "Both copies are damaged.",
        ["Uncalibrated"],
        copy_1=flipped(block, 1),
        copy_2=flipped(block, 2),
        copy=None,
    )
    yield shown(
        "other-sensor",
        "The block belongs to another sensor.",
        ["Uncalibrated"],
        copy_1=foreign,
        copy_2=foreign,
        copy=None,
    )
    yield shown(
        "second-copy-first-of-other-sensor",
        "The first copy is whole and belongs to another sensor, the second to this one.",
        ["SecondCopy"],
        copy_1=foreign,
        copy=2,
    )
    yield shown(
        "first-copy-second-of-other-sensor",
        "The second copy is whole and belongs to another sensor: the first is used.",
        ["Ordinary"],
        copy_2=foreign,
    )
    flags = next(field for field in elements(FRAME) if field.id == "status").names
    for bit, id in sorted(flags):
        name = f"status-{id.replace('_', '-')}"
        yield shown(name, f"status: {id} alone.", ["Doubtful"], frame={"status": 1 << bit})
    yield shown("status-all", "status: every flag.", ["Doubtful"], frame={"status": 255})
    yield shown(
        "not-measured",
        "The sensor failed.",
        ["NotMeasured"],
        frame={"status": 4, "pressure": 16_777_215, "temperature": -32_768},
    )


def build():
    return document("calibrated-reading", SOURCE, NOTES, [*good_readings(), *bad_readings(), *several_faults()])
