"""Readings that must not be made: another specification, no whole frame, slots that contradict, beyond the arithmetic."""

from compensation import NOMINAL
from document import bad
from frames import BASE as FRAME_BASE
from header import BASE as HEADER_BASE
from memory_tables import FRAME, HEADER
from record import pack
from scene import Scene
from slots import flipped


def refused(id, why, flags, reason, byte, bit, path, repaired=None, **scene):
    sound = (repaired or Scene()).given()
    return bad(f"reading-{id}", why, flags, {**Scene(**scene).given(), "repaired": sound}, reason, byte, bit, path)


def ambient(raw, uncertainty=12):
    return {"pressure_raw": raw, "expanded_uncertainty_pa": uncertainty}


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
    for field in ("status", "temperature", "supply", "uptime"):
        other = pack(FRAME, {**FRAME_BASE, field: FRAME_BASE[field] + 1})
        yield refused(
            f"slots-same-but-{field}",
            f"The same sequence and pressure, another {field}: which of the two came first is not known.",
            ["Contradiction"],
            "slots-contradict",
            32,
            None,
            "slots",
            slot_a=other,
        )
    for bit, id in ((2, "sensor-fault"), (3, "pressure-at-limit"), (6, "supply-low")):
        around = {"calibration": NOMINAL, "ambient": ambient(9_000_000)}
        frame = {"status": 1 << bit, "pressure": 9_000_000 + 5_120_001}
        assert Scene(frame=frame, **around).expected() is None
        yield refused(
            f"difference-high-{id}",
            "One step beyond the limit, in a frame that gives no uncertainty anyway.",
            ["BeyondLimit"],
            "value-out-of-range",
            None,
            None,
            "reading.gauge",
            repaired=Scene(frame={**frame, "pressure": 9_000_000 + 5_120_000}, **around),
            frame=frame,
            **around,
        )
    for name, load, calibration in (
        ("difference-high", 5_120_001, NOMINAL),
        ("difference-low", -5_120_001, NOMINAL),
        ("difference-high-half-gain", 5_120_001, {**NOMINAL, "gain": 524_288}),
        ("difference-low-half-gain", -5_120_001, {**NOMINAL, "gain": 524_288}),
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


def several_faults():
    """Two faults in one reading: header, then slots, then the arithmetic."""
    layout = pack(HEADER, {**HEADER_BASE, "layout": 2})
    other = pack(HEADER, {**HEADER_BASE, "fingerprint": HEADER_BASE["fingerprint"] ^ 1})
    both = pack(HEADER, {**HEADER_BASE, "layout": 2, "fingerprint": HEADER_BASE["fingerprint"] ^ 1})
    far = {"frame": {"pressure": 9_000_000 + 5_120_001}, "calibration": NOMINAL, "ambient": ambient(9_000_000)}
    same = pack(FRAME, {**FRAME_BASE, "pressure": 13_000_000})
    later = {
        "slots-both-bad": ({"slot_a": bytes(16), "slot_b": bytes(16)}, "slots"),
        "slots-contradict": ({"slot_a": same}, "slots"),
        "value-out-of-range": (far, "reading.gauge"),
    }
    named = {
        "layout": (layout, "layout-unknown", 0, "header.layout"),
        "fingerprint": (other, "fingerprint-mismatch", 2, "header.fingerprint"),
    }
    flags = ["SeveralFaults"]
    for name, (header, reason, byte, path) in named.items():
        for second, (scene, where) in later.items():
            vector = refused(f"both-{name}-and-{second}", "The header is judged first.", flags, reason, byte, 0, path,
                             header=header, **scene)  # fmt: skip
            vector["expected"]["also"] = [{"reason": second, "path": where}]
            yield vector
    vector = refused("both-layout-and-fingerprint", "Another layout has another fingerprint, of course.", flags,
                     "layout-unknown", 0, 0, "header.layout", header=both)  # fmt: skip
    vector["expected"]["also"] = [{"reason": "fingerprint-mismatch", "path": "header.fingerprint"}]
    yield vector
