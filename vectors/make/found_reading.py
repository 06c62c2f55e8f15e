"""The answer to a made reading: header, slots, which copy of the calibration, then the arithmetic of scene.py."""

from fingerprint import FINGERPRINT
from judge import Bad, judge
from memory_tables import CALIBRATION, FRAME, HEADER
from scene import Scene
from slots import choose


def reading(given):
    """See found.py."""
    pressure, uncertainty = (
        None if given[name] == "none" else int(given[name]) for name in ("ambient_raw", "ambient_uncertainty_pa")
    )
    ambient = None if pressure is None else {"pressure_raw": pressure, "expanded_uncertainty_pa": uncertainty}
    members = {"user_words_0_31": given["memory"], "user_words_40_71": given["calibration"], "ambient": ambient}
    return "readings.json", members, Scene().given(), lambda: answer(members)


def answer(members):
    memory, blocks = (bytes.fromhex(members[name]) for name in ("user_words_0_31", "user_words_40_71"))
    header = judge(HEADER, memory[:16])
    if header["fingerprint"] != FINGERPRINT:
        raise Bad("fingerprint-mismatch", 2, 0, "header.fingerprint")
    try:
        slot = choose(memory[16:48])["slot"]
    except Bad as found:
        reason, byte, bit, path = found.place
        raise Bad(reason, byte + 16, bit, path) from found
    copies = {copy: whole(blocks[at : at + 32], header["sensor_serial"]) for copy, at in ((1, 0), (2, 32))}
    copy = next((copy for copy, block in copies.items() if block), None)
    scene = Scene(
        frame=judge(FRAME, memory[16:32] if slot == "a" else memory[32:48]),
        calibration=copies.get(copy),
        ambient=members["ambient"],
        slot=slot,
        copy=copy,
    )
    expected = scene.expected()
    if expected is None:
        raise Bad("value-out-of-range", None, None, "reading.gauge")
    return expected


def whole(block, serial):
    """The block when it is whole and of this sensor."""
    try:
        raws = judge(CALIBRATION, block)
    except Bad:
        return None
    return raws if raws["sensor_serial"] == serial else None
