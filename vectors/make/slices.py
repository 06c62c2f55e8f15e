"""slices.json: reading a slice of one container word."""

from document import document, good

NOTES = {
    "ByteOrder": "The container's byte order decides where a bit lies.",
    "TwoReadings": (
        "Little-endian 4 and 12 bits over 34 12: tools read such a pair of bit fields in two ways (4h and 123h, or 2h"
        " and 341h) because a run of bits across bytes is ambiguous. A slice of a container is not: container 1234h,"
        " bits named."
    ),
    "Sign": "Two's complement within the slice.",
    "Width": "Slices of one bit, of a whole container, and of the widest allowed.",
    "Neighbours": "All other bits of the container are ones (or the slice's are): a wrong mask shows.",
    "Offset": "The container does not start at byte 0.",
}

SOURCE = (
    "The container is read as one whole number in the byte order given; raw = (container >> lsb) mod 2^(msb - lsb + 1)."
)


def slice_of(data, at, container, order, msb, lsb, signed):
    word = int.from_bytes(data[at : at + container // 8], order)
    width = msb - lsb + 1
    raw = word // 2**lsb % 2**width
    return raw - 2**width if signed and raw >= 2 ** (width - 1) else raw


def vector(id, why, flags, hex, at, container, order, msb, lsb, signed=False):
    raw = slice_of(bytes.fromhex(hex), at, container, order, msb, lsb, signed)
    given = {"bytes": hex, "at": at, "container": container, "order": order, "bits": [msb, lsb], "signed": signed}
    return good(f"slice-{id}", why, flags, given, {"raw": raw})


def build():
    two = ["TwoReadings", "ByteOrder"]
    vectors = [
        vector(
            "little-low-nibble", "a: the low 4 bits of the little-endian container.", two, "3412", 0, 16, "little", 3, 0
        ),
        vector("little-high-twelve", "b: the high 12 bits of the same.", two, "3412", 0, 16, "little", 15, 4),
        vector(
            "little-high-nibble",
            "The high 4 bits of the little-endian container.",
            two,
            "3412",
            0,
            16,
            "little",
            15,
            12,
        ),
        vector("little-low-twelve", "The low 12 bits of the same.", two, "3412", 0, 16, "little", 11, 0),
        vector("big-low-nibble", "The same bytes big-endian: low 4 bits.", two, "3412", 0, 16, "big", 3, 0),
        vector("big-high-twelve", "The same bytes big-endian: high 12 bits.", two, "3412", 0, 16, "big", 15, 4),
        vector("big-high-nibble", "The same bytes big-endian: high 4 bits.", two, "3412", 0, 16, "big", 15, 12),
        vector("big-low-twelve", "The same bytes big-endian: low 12 bits.", two, "3412", 0, 16, "big", 11, 0),
    ]
    assert [v["expected"]["raw"] for v in vectors] == [0x4, 0x123, 0x1, 0x234, 0x2, 0x341, 0x3, 0x412]
    run = "0123456789abcdef"
    for container in (8, 16, 32, 64):
        for order in ("big", "little"):
            name = f"{container}-{order}"
            for at in (0, 8 - container // 8):
                for msb, lsb in {
                    (container - 1, max(0, container - 53)),
                    (container - 1, container - 1),
                    (0, 0),
                    (container // 2, container // 4),
                }:
                    vectors.append(
                        vector(
                            f"{name}-at-{at}-bits-{msb}-{lsb}",
                            f"Bits {msb} to {lsb} of {container}.",
                            ["Width", *(["Offset"] if at else [])],
                            run,
                            at,
                            container,
                            order,
                            msb,
                            lsb,
                        )
                    )
            size = container // 8
            for hex, what in (
                ("80" + "00" * (size - 1), "first"),
                ("00" * (size - 1) + "80", "last"),
                ("ff" * size, "ones"),
            ):
                msb, lsb = min(container - 1, 52), 0
                vectors.append(
                    vector(
                        f"{name}-signed-{what}", "A signed slice.", ["Sign"], hex, 0, container, order, msb, lsb, True
                    )
                )
    wide = "ffffffffffffffff"
    for msb, lsb in ((52, 0), (63, 11), (63, 48), (47, 0), (32, 31), (33, 30)):
        for signed in (False, True):
            kind = "signed" if signed else "unsigned"
            vectors.append(
                vector(
                    f"64-ones-bits-{msb}-{lsb}-{kind}",
                    f"Bits {msb} to {lsb} of all ones, {kind}.",
                    ["Neighbours", "Sign" if signed else "Width"],
                    wide,
                    0,
                    64,
                    "big",
                    msb,
                    lsb,
                    signed,
                )
            )
    for msb, lsb in ((23, 0), (31, 24), (19, 0), (31, 20), (11, 4), (7, 7)):
        mask = (1 << (msb - lsb + 1)) - 1 << lsb
        for signed in (False, True):
            for what, word in (("inside", mask), ("outside", mask ^ 0xFFFF_FFFF)):
                kind = "signed" if signed else "unsigned"
                vectors.append(
                    vector(
                        f"32-{what}-bits-{msb}-{lsb}-{kind}",
                        f"Ones {what} bits {msb} to {lsb}, {kind}.",
                        ["Neighbours"],
                        f"{word:08x}",
                        0,
                        32,
                        "big",
                        msb,
                        lsb,
                        signed,
                    )
                )
    minus = vector(
        "32-minus-twenty-bits",
        "-500 in 24 bits under an octet of ones.",
        ["Sign", "Neighbours"],
        "fffffe0c",
        0,
        32,
        "big",
        23,
        0,
        True,
    )
    assert minus["expected"]["raw"] == -500
    ids = set()
    unique = [v for v in [*vectors, minus] if not (v["id"] in ids or ids.add(v["id"]))]
    return document("slice", SOURCE, NOTES, sorted(unique, key=lambda v: v["id"]))
