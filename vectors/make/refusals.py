"""refusals.json: what the link's error message tells, reason numbers and all."""

from cases import slug
from document import document, good
from link_bodies import body
from link_tables import MESSAGES
from reason_numbers import REASONS

NOTES = {
    "Number": "Every reason code by its number.",
    "NumberUnknown": "A number in no list: a kit of a later version. It is shown by its number.",
    "About": "The message the refusal is about, by its type; a type that no host sends has no name.",
}

SOURCE = "Packed as in link-messages.json; the names by vectors/make/reason_numbers.py and link_tables.py, by hand."


def told(id, why, flags, number, about, byte=3):
    names = {code: name for name, (code, direction) in MESSAGES.items() if direction == "to-kit"}
    data = body("error", 258, {"reason": number, "about": about, "byte": byte}, {})
    expected = {"number": number, "code": REASONS.get(number), "type": about, "about": names.get(about), "byte": byte}
    return good(f"refusal-{id}", why, flags, {"body": data.hex()}, expected)


def build():
    power = MESSAGES["set_power"][0]
    vectors = [told(f"number-{n}", f"{code}.", ["Number"], n, power) for n, code in REASONS.items()]
    beside = sorted({n + step for n in REASONS for step in (-1, 1)} - {0, *REASONS} | {255})
    vectors += [told(f"number-{n}", "A number in no list.", ["NumberUnknown"], n, power) for n in beside]
    for name, (code, direction) in MESSAGES.items():
        why = f"About {name}." if direction == "to-kit" else f"About the type of {name}, which only a kit sends."
        vectors.append(told(f"about-{slug(name)}", why, ["About"], 45, code))
    for code in (0x00, 0x33, 0xFF):
        vectors.append(told(f"about-{code:02x}", f"About type {code:02X}h, which is in no list.", ["About"], 43, code))
    for byte in (0, 65_535):
        vectors.append(told(f"byte-{byte}", f"At byte {byte}.", ["About"], 45, power, byte))
    return document("link-refusal", SOURCE, NOTES, vectors)
