"""slots.json: which of the two slots holds the newest whole frame."""

from document import bad, document, good
from frames import BASE
from judge import Bad, judge
from memory_tables import FRAME
from record import pack

NOTES = {
    "Newer": "Both slots are whole and one step apart: the later sequence is the newer frame.",
    "Wrap": "The sequence wrapped between the two: 0 comes after 65535.",
    "SequenceGap": (
        "Both are whole but more than one step apart: a write was lost or a slot is stale. The newer is still chosen; "
        "the gap is noted."
    ),
    "Identical": "Both slots hold the same bytes: slot A is chosen, and it is noted.",
    "SlotEmpty": "A slot was never written: the first frame of a new tag.",
    "SlotBad": (
        "A slot is not whole: the power went while it was written, or it is damaged. The other is chosen, even when it"
        " is older."
    ),
    "BothBad": "Neither slot holds a whole frame.",
    "Contradiction": (
        "Both slots are whole but cannot be ordered: the same sequence with different contents, or exactly half the "
        "number circle apart, where RFC 1982 leaves the order undefined. No frame is chosen."
    ),
}

SOURCE = (
    "Order by serial-number arithmetic, RFC 1982 section 3.2 with SERIAL_BITS = 16, worked in whole numbers by "
    "vectors/make/slots.py; frames packed as in frames.json."
)


def newer(i, j):
    """RFC 1982 section 3.2: whether serial number i is greater than j; None where it is undefined."""
    if i == j:
        return None
    if (i < j and j - i > 2**15) or (i > j and i - j < 2**15):
        return True
    if (i < j and j - i < 2**15) or (i > j and i - j > 2**15):
        return False
    return None


def frame(sequence, **changes):
    return pack(FRAME, {**BASE, "sequence": sequence, **changes})


def flipped(data, byte, bit=0):
    return data[:byte] + bytes([data[byte] ^ 1 << bit]) + data[byte + 1 :]


def torn(new, old, words):
    return new[: 2 * words] + old[2 * words :]


EMPTY = bytes(16)
BROKEN = {
    "flipped": lambda s: flipped(frame(s), 5),
    "torn": lambda s: torn(frame(s, pressure=13_700_001), frame(s - 2, pressure=13_500_002), 3),
    "erased": lambda s: b"\xff" * 16,
    "empty": lambda s: EMPTY,
    "other-kind": lambda s: pack(FRAME, {**BASE, "sequence": s, "kind": 3}),
    "other-layout": lambda s: pack(FRAME, {**BASE, "sequence": s, "layout": 2}),
    "reserved-bit": lambda s: pack(FRAME, {**BASE, "sequence": s, "reserved": 1}),
    "out-of-range": lambda s: pack(FRAME, {**BASE, "sequence": s, "temperature": 12_501}),
}
REASONS = {
    "flipped": "checksum-mismatch",
    "torn": "checksum-mismatch",
    "erased": "checksum-mismatch",
    "empty": "record-empty",
    "other-kind": "kind-unexpected",
    "other-layout": "layout-unknown",
    "reserved-bit": "reserved-bit-set",
    "out-of-range": "value-out-of-range",
}


def choose(data):
    """The answer to any two slots of 16 bytes; raises Bad when they give no frame."""
    whole, notes, faults = {}, [], {}
    for letter, slot in (("a", data[:16]), ("b", data[16:])):
        try:
            whole[letter] = judge(FRAME, slot)["sequence"]
        except Bad as found:
            faults[letter] = found.place[0]
            notes.append(f"slot-{letter}-empty" if faults[letter] == "record-empty" else f"slot-{letter}-bad")
    if not whole:
        raise Bad("slots-both-bad", 0, None, "slots", notes=notes, faults=faults)
    if faults:
        [(letter, sequence)] = whole.items()
        return {"slot": letter, "sequence": sequence, "notes": notes, "faults": faults}
    a, b = whole["a"], whole["b"]
    if data[:16] == data[16:]:
        return {"slot": "a", "sequence": a, "notes": ["slots-identical"]}
    if newer(a, b) is None:
        raise Bad("slots-contradict", 16, None, "slots", notes=[])
    first = "a" if newer(a, b) else "b"
    return {"slot": first, "sequence": whole[first], "notes": [] if (a - b) % 65_536 in (1, 65_535) else ["sequence-gap"]}


def both(a, b):
    return {"hex": (a + b).hex()}


def ordered(id, why, a, b, flags):
    first = newer(a, b)
    step = (a - b) % 65_536
    notes = ["sequence-gap"] if step not in (1, 65_535) else []
    expected = {"slot": "a" if first else "b", "sequence": a if first else b, "notes": notes}
    return good(f"slots-{id}", why, flags, both(frame(a), frame(b)), expected)


def noted(letter, how):
    return [f"slot-{letter}-empty" if how == "empty" else f"slot-{letter}-bad"]


def build():
    vectors = [
        ordered("b-newer", "Slot B is one step later.", 4710, 4711, ["Newer"]),
        ordered("a-newer", "Slot A is one step later.", 4712, 4711, ["Newer"]),
        ordered("first-two", "The first two frames of a tag.", 0, 1, ["Newer"]),
        ordered("wrap-b", "Slot B holds 0, slot A 65535: B is newer.", 65_535, 0, ["Wrap"]),
        ordered("wrap-a", "Slot A holds 0, slot B 65535: A is newer.", 0, 65_535, ["Wrap"]),
        ordered("gap-two", "Two steps apart.", 100, 102, ["SequenceGap"]),
        ordered("gap-wrap", "Two steps apart over the wrap.", 1, 65_535, ["SequenceGap", "Wrap"]),
        ordered("gap-widest-b", "32767 steps: the widest that can be ordered, B newer.", 0, 32_767, ["SequenceGap"]),
        ordered("gap-widest-a", "32769 steps the other way round: A newer.", 0, 32_769, ["SequenceGap", "Wrap"]),
        ordered(
            "gap-widest-high", "The widest gap that starts above the middle.", 40_000, 7231, ["SequenceGap", "Wrap"]
        ),
        ordered("gap-a", "Two steps apart, A newer.", 102, 100, ["SequenceGap"]),
        ordered("gap-wrap-b", "Three steps apart over the wrap, B newer.", 65_534, 1, ["SequenceGap", "Wrap"]),
        ordered("gap-widest-a-plain", "32767 steps: the widest that can be ordered, A newer.", 32_767, 0, ["SequenceGap"]),
        good(
            "slots-identical",
            "The same bytes in both.",
            ["Identical"],
            both(frame(9), frame(9)),
            {"slot": "a", "sequence": 9, "notes": ["slots-identical"]},
        ),
    ]
    for how, make in BROKEN.items():
        flag = "SlotEmpty" if how == "empty" else "SlotBad"
        words = how.replace("-", " ")
        vectors.append(
            good(
                f"slots-a-{how}",
                f"Slot A would be newer but is not whole ({words}).",
                [flag],
                both(make(4712), frame(4711)),
                {"slot": "b", "sequence": 4711, "notes": noted("a", how), "faults": {"a": REASONS[how]}},
            )
        )
        vectors.append(
            good(
                f"slots-b-{how}",
                f"Slot B would be newer but is not whole ({words}).",
                [flag],
                both(frame(4711), make(4712)),
                {"slot": "a", "sequence": 4711, "notes": noted("b", how), "faults": {"b": REASONS[how]}},
            )
        )
    for how, make in BROKEN.items():
        for other in BROKEN:
            if other in (how, "flipped", "empty") or not {how, other} & {"torn", "erased"}:
                notes = noted("a", how) + noted("b", other)
                vectors.append(
                    bad(
                        f"slots-both-bad-{how}-{other}",
                        f"Slot A: {how}. Slot B: {other}.",
                        ["BothBad"],
                        {**both(make(4712), BROKEN[other](4711)), "repaired": both(frame(4712), frame(4711))["hex"]},
                        "slots-both-bad",
                        0,
                        None,
                        "slots",
                        notes=notes,
                        faults={"a": REASONS[how], "b": REASONS[other]},
                    )
                )
    sound = both(frame(4712), frame(4711))["hex"]
    for length in (0, 1, 8, 15):
        vectors.append(
            good(
                f"slots-b-cut-{length}",
                f"The memory ends {length} bytes into slot B.",
                ["SlotBad"],
                {"hex": (frame(4712) + frame(4711)[:length]).hex()},
                {"slot": "a", "sequence": 4712, "notes": ["slot-b-bad"], "faults": {"b": "record-too-short"}},
            )
        )
        vectors.append(
            none_whole(f"a-cut-{length}", f"The memory ends {length} bytes into slot A.", frame(4712)[:length], sound, "a")
        )
    for how, make in BROKEN.items():
        if how not in ("torn", "erased"):
            why = f"Slot A: {how}. The memory ends before slot B."
            vectors.append(none_whole(f"{how}-cut", why, make(4712), sound, how))
    for a in (0, 1, 4711, 32_767, 32_768, 65_535):
        b = (a + 32_768) % 65_536
        assert newer(a, b) is None
        vectors.append(contradiction(f"half-{a}", f"{a} and {b}: half the number circle apart.", frame(a), frame(b), a))
    for name, change in {
        "pressure": {"pressure": 13_652_225},
        "status": {"status": 1},
        "uptime": {"uptime": 0},
    }.items():
        vectors.append(
            contradiction(
                f"same-sequence-{name}", f"The same sequence, another {name}.", frame(7), frame(7, **change), 7
            )
        )
    return document("slots", SOURCE, NOTES, vectors)


def none_whole(id, why, data, repaired, how):
    """Slot A at fault (`how`: a key of BROKEN, or "a" where it is cut), and no byte of slot B."""
    faults = {"a": REASONS.get(how, "record-too-short"), "b": "record-too-short"}
    notes = [*noted("a", how), "slot-b-bad"]
    given = {"hex": data.hex(), "repaired": repaired}
    return bad(f"slots-both-bad-{id}", why, ["BothBad"], given, "slots-both-bad", 0, None, "slots", notes=notes, faults=faults)


def contradiction(id, why, a, b, sequence):
    repaired = both(a, frame((sequence + 1) % 65_536))["hex"]
    return bad(
        f"slots-{id}",
        why,
        ["Contradiction"],
        {**both(a, b), "repaired": repaired},
        "slots-contradict",
        16,
        None,
        "slots",
        notes=[],
    )
