"""readings.json: from the words of one tag and an ambient pressure to a calibrated pressure with its uncertainty."""

from calibration import BASE as CALIBRATION_BASE
from compensation import NOMINAL, PA_PER_MMHG
from document import bad, document, good
from fields import elements
from frames import BASE as FRAME_BASE
from header import BASE as HEADER_BASE
from memory_tables import CALIBRATION, FRAME, HEADER
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
    "SecondCopy": "The first copy of the calibration block is not whole: the second is used.",
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


def refused(id, why, flags, reason, byte, bit, path, repaired=None, **scene):
    sound = (repaired or Scene()).given()
    return bad(f"reading-{id}", why, flags, {**Scene(**scene).given(), "repaired": sound}, reason, byte, bit, path)


def ambient(raw, uncertainty=12):
    return {"pressure_raw": raw, "expanded_uncertainty_pa": uncertainty}


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
        "not-measured",
        "The sensor failed.",
        ["NotMeasured"],
        frame={"status": 4, "pressure": 16_777_215, "temperature": -32_768},
    )


def bad_readings():
    for layout in (0, *range(2, 16)):
        yield refused(
            f"layout-{layout}",
            f"Written with layout {layout}.",
            ["OtherLayout"],
            "layout-unknown",
            0,
            0,
            "header.layout",
            header=pack(HEADER, {**HEADER_BASE, "layout": layout}),
        )
    for bit in range(32):
        header = pack(HEADER, {**HEADER_BASE, "fingerprint": HEADER_BASE["fingerprint"] ^ 1 << bit})
        yield refused(
            f"fingerprint-bit-{bit}",
            "Another fingerprint.",
            ["ForeignFingerprint"],
            "fingerprint-mismatch",
            2,
            0,
            "header.fingerprint",
            header=header,
        )
    a, b = pack(FRAME, {**FRAME_BASE, "sequence": 4710}), pack(FRAME, FRAME_BASE)
    broken = {
        "empty": (bytes(16), bytes(16)),
        "flipped": (flipped(a, 3), flipped(b, 12)),
        "mixed": (flipped(a, 15), bytes(16)),
        "erased": (b"\xff" * 16, b"\xff" * 16),
        "other-kind": (pack(FRAME, {**FRAME_BASE, "kind": 3}), bytes(16)),
        "reserved-bits": (pack(FRAME, {**FRAME_BASE, "reserved": 1}), pack(FRAME, {**FRAME_BASE, "reserved": 128})),
        "torn-and-old-layout": (a[:6] + b[6:15] + b"\1", pack(FRAME, {**FRAME_BASE, "layout": 2})),
    }
    for words in range(1, 8):
        broken[f"first-write-torn-after-word-{words}"] = (a[: 2 * words] + bytes(16 - 2 * words), bytes(16))
    for name, (slot_a, slot_b) in broken.items():
        yield refused(
            f"slots-{name}",
            "Neither slot is whole.",
            ["BothSlotsBad"],
            "slots-both-bad",
            16,
            None,
            "slots",
            slot_a=slot_a,
            slot_b=slot_b,
        )
    for name, sequence in (("half", (4711 + 32_768) % 65_536), ("same", 4711)):
        other = pack(FRAME, {**FRAME_BASE, "sequence": sequence, "pressure": 13_000_000})
        yield refused(
            f"slots-{name}",
            "The slots cannot be ordered.",
            ["Contradiction"],
            "slots-contradict",
            32,
            None,
            "slots",
            slot_a=other,
        )
    for name, load, calibration in (
        ("difference-high", 5_120_001, NOMINAL),
        ("difference-low", -5_120_001, NOMINAL),
        ("linear-high", 2_560_001, {**NOMINAL, "gain": 2_097_152}),
        ("linear-low", -2_560_001, {**NOMINAL, "gain": 2_097_152}),
        ("offset-high", 5_120_000, {**NOMINAL, "offset": 1}),
        ("offset-low", -5_120_000, {**NOMINAL, "offset": -1}),
    ):
        frame, around = {"pressure": 9_000_000 + load}, ambient(9_000_000)
        assert Scene(frame=frame, calibration=calibration, ambient=around).expected() is None
        inside = {"pressure": 9_000_000 + load - (1 if load > 0 else -1)}
        sound = Scene(frame=inside, calibration=calibration, ambient=around)
        assert sound.expected() is not None
        yield refused(
            name,
            "One step beyond the limit.",
            ["BeyondLimit"],
            "value-out-of-range",
            None,
            None,
            "reading.gauge",
            repaired=sound,
            frame=frame,
            calibration=calibration,
            ambient=around,
        )


def build():
    return document("calibrated-reading", SOURCE, NOTES, [*good_readings(), *bad_readings()])
