"""A vector file: its head, its checks on itself, and its text (one vector a line, so that a change shows as a line)."""

import json

from defects import defects_of

RECORD_SOURCE = (
    "Field values chosen by hand and packed by whole-number arithmetic in vectors/make (Python standard library);"
    " checksums worked bit by bit from the polynomial. No codec of the project takes part."
)


def document(kind, source, notes, vectors):
    used = [flag for vector in vectors for flag in vector["flags"]]
    assert set(used) == set(notes), f"{kind}: flags and notes differ: {set(used) ^ set(notes)}"
    ids = [vector["id"] for vector in vectors]
    assert len(ids) == len(set(ids)), f"{kind}: {[id for id in ids if ids.count(id) > 1]}"
    bad = [vector for vector in vectors if vector["expected"]["verdict"] == "bad"]
    return {
        "kind": kind,
        "version": 1,
        "source": source,
        "schema": f"schema/{kind}.schema.json",
        "counts": {"good": len(vectors) - len(bad), "bad": len(bad)},
        "notes": notes,
        "defects": defects_of(kind, notes),
        "vectors": vectors,
    }


def extended(document, vector, flag, note):
    """The document with one vector more, and what its flag stands for."""
    bad = vector["expected"]["verdict"] == "bad"
    counts = document["counts"]
    notes = {**document["notes"], flag: note}
    return {
        **document,
        "counts": {**counts, "bad" if bad else "good": counts["bad" if bad else "good"] + 1},
        "notes": notes,
        "defects": defects_of(document["kind"], notes),
        "vectors": [*document["vectors"], vector],
    }


def text_of(document):
    lines = ["{"]
    for key, value in document.items():
        if key not in ("notes", "defects", "vectors"):
            lines.append(f"  {json.dumps(key)}: {compact(value)},")
    for key in ("notes", "defects"):
        lines.append(f'  "{key}": {{')
        lines += commas([f"    {json.dumps(flag)}: {compact(note)}" for flag, note in document[key].items()])
        lines.append("  },")
    lines.append('  "vectors": [')
    lines += commas([f"    {compact(vector)}" for vector in document["vectors"]])
    lines += ["  ]", "}"]
    return "\n".join(lines) + "\n"


def compact(value):
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def commas(lines):
    return [line + "," for line in lines[:-1]] + lines[-1:]


def good(id, why, flags, given, expected):
    return {"id": id, "why": why, "flags": flags, **given, "expected": {"verdict": "good", **expected}}


def bad(id, why, flags, given, reason, byte, bit, path, **more):
    expected = {"verdict": "bad", "reason": reason, "byte": byte, "bit": bit, "path": path, **more}
    return {"id": id, "why": why, "flags": flags, **given, "expected": expected}
