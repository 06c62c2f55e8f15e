"""quantities.json: from a physical value to the raw integer a writer must put down."""

from fractions import Fraction

from compensation import decimal
from document import bad, document, good
from fields import elements, field_of
from memory_tables import RECORDS

NOTES = {
    "Exact": "The value is a whole number of steps.",
    "Tie": "Exactly half a step: rounded away from zero, on both sides of zero.",
    "Floor": "Time since a cold start is rounded down: a tag must not claim time that has not passed.",
    "DecimalTrap": (
        "A decimal that no binary floating-point number equals: dividing by the step in floating point lands one step "
        "low. The decimal as written counts."
    ),
    "Saturates": (
        "Beyond the range of a field that saturates: the nearest end, or the sentinel that means at least that much."
    ),
    "Rejects": (
        "Outside the range of a field that rejects: nothing may be written. One step back the value would be taken."
    ),
}

SOURCE = "raw = (value * den - add) / num as an exact fraction of the decimal, rounded by the field's rule."

RECORD = {record.id: record for record in RECORDS}

GOOD = (
    ("frame", "pressure", "101325", "Exact"),
    ("frame", "pressure", "26000", "Exact"),
    ("frame", "pressure", "126000", "Exact"),
    ("frame", "pressure", "101325.0078125", "Exact"),
    ("frame", "pressure", "101325.00390625", "Tie"),
    ("frame", "pressure", "101325.00390624", "DecimalTrap"),
    ("frame", "pressure", "25999.99", "Saturates"),
    ("frame", "pressure", "-1", "Saturates"),
    ("frame", "pressure", "126000.01", "Saturates"),
    ("frame", "pressure", "1000000000000", "Saturates"),
    ("frame", "temperature", "36.52", "Exact"),
    ("frame", "temperature", "-12.34", "Exact"),
    ("frame", "temperature", "0", "Exact"),
    ("frame", "temperature", "0.005", "Tie"),
    ("frame", "temperature", "-0.005", "Tie"),
    ("frame", "temperature", "0.004", "Exact"),
    ("frame", "temperature", "8.115", "Tie"),
    ("frame", "temperature", "1.005", "DecimalTrap"),
    ("frame", "temperature", "-40.01", "Saturates"),
    ("frame", "temperature", "125.01", "Saturates"),
    ("frame", "supply", "2.147", "Exact"),
    ("frame", "supply", "4.0945", "Saturates"),
    ("frame", "supply", "-0.1", "Saturates"),
    ("frame", "supply", "1.1115", "Tie"),
    ("frame", "uptime", "12.3", "Exact"),
    ("frame", "uptime", "0.19", "Floor"),
    ("frame", "uptime", "0.3", "DecimalTrap"),
    ("frame", "uptime", "0.0999", "Floor"),
    ("frame", "uptime", "104857.4", "Exact"),
    ("frame", "uptime", "104857.49", "Floor"),
    ("frame", "uptime", "104857.5", "Saturates"),
    ("frame", "uptime", "9000000", "Saturates"),
    ("counters", "frames", "4294967294", "Exact"),
    ("counters", "frames", "4294967296", "Saturates"),
    ("counters", "reuse_cycles", "300", "Saturates"),
    ("counters", "brown_outs", "16777215", "Saturates"),
    ("burst", "samples[3]", "-44", "Exact"),
    ("burst", "samples[3]", "0.25", "Tie"),
    ("burst", "samples[3]", "-0.25", "Tie"),
    ("burst", "samples[3]", "20000", "Saturates"),
    ("burst", "samples[3]", "-20000", "Saturates"),
    ("calibration", "gain", "1.0625", "Exact"),
    ("calibration", "temperature_effect", "-12.5", "Exact"),
    ("calibration", "gain_temperature", "-0.00035", "Exact"),
    ("calibration", "curvature", "0.000002", "Exact"),
    ("calibration", "offset", "-0.00390625", "Tie"),
)

# (record, field, rejected value, the nearest value that is taken)
REJECTED = (
    ("header", "sampling_period", "0.009", "0.01"),
    ("header", "sampling_period", "60.001", "60"),
    ("header", "sampling_period", "-1", "0.01"),
    ("header", "firmware_major", "256", "255"),
    ("header", "firmware_minor", "-1", "0"),
    ("header", "sensor_serial", "0", "1"),
    ("header", "sensor_serial", "4294967296", "4294967295"),
    ("header", "fingerprint", "-1", "0"),
    ("frame", "sequence", "65536", "65535"),
    ("frame", "sequence", "-1", "0"),
    ("burst", "count", "26", "25"),
    ("burst", "count", "-1", "0"),
    ("burst", "interval", "0", "0.001"),
    ("burst", "interval", "10.001", "10"),
    ("burst", "interval", "0.0004", "0.0005"),
    ("calibration", "date", "65535", "65534"),
    ("calibration", "date", "-1", "0"),
    ("calibration", "reuse_count", "255", "254"),
    ("calibration", "reuse_limit", "255", "254"),
    ("calibration", "sensor_serial", "0", "1"),
    ("calibration", "reuse_since", "15", "14"),
    ("calibration", "offset", "65536", "65535.9921875"),
    ("calibration", "offset", "-65536.0078125", "-65536"),
    ("calibration", "gain", "0.2499", "0.25"),
    ("calibration", "gain", "4.000001", "4"),
    ("calibration", "gain", "0", "0.25"),
    ("calibration", "gain", "-1", "1"),
    ("calibration", "temperature_effect", "512", "511.984375"),
    ("calibration", "temperature_effect", "-512.015625", "-512"),
    ("calibration", "gain_temperature", "0.032768", "0.032767"),
    ("calibration", "gain_temperature", "-0.032769", "-0.032768"),
    ("calibration", "curvature", "0.000032768", "0.000032767"),
    ("calibration", "curvature", "-0.000032769", "-0.000032768"),
    ("calibration", "reference_temperature", "125.01", "125"),
    ("calibration", "reference_temperature", "-40.01", "-40"),
    ("calibration", "expanded_uncertainty", "65535", "65534"),
    ("calibration", "expanded_uncertainty", "-1", "0"),
    ("calibration", "temperature_low", "-41", "-40"),
    ("calibration", "temperature_low", "126", "125"),
    ("calibration", "temperature_high", "-41", "-40"),
    ("calibration", "temperature_high", "126", "125"),
    ("calibration", "span", "0", "1"),
    ("calibration", "span", "256", "255"),
    ("calibration", "validity", "0", "1"),
    ("calibration", "validity", "255", "254"),
    ("epc", "epc_length", "5", "6"),
    ("epc", "epc_length", "7", "6"),
    ("tid", "designer", "512", "511"),
    ("tid", "model", "4096", "4095"),
    ("passwords", "kill_password", "4294967296", "0"),
)


def raw_of(field, text):
    """(raw, whether it lay in the range): raw is None where the field rejects."""
    exact = (Fraction(text) * field.den - field.add) / field.num
    if field.rounding == "floor":
        raw = exact.numerator // exact.denominator
    else:
        size = abs(exact)
        raw = (2 * size.numerator + size.denominator) // (2 * size.denominator)
        raw = -raw if exact < 0 else raw
    if field.low <= raw <= field.high:
        return raw, True
    if field.out_of_range == "reject":
        return None, False
    if raw < field.low:
        return field.low, False
    return next((raw for raw, _, means in field.sentinels if means == "saturated"), field.high), False


def slug(record, field, text):
    name = f"{record}-{field}-{text}".replace("_", "-").replace("[", "-").replace("]", "")
    return "quantity-" + name.replace("--", "-minus-").replace(".", "p")


def text_of(value):
    """An exact fraction as a decimal; every step of the memory is one."""
    places = next(n for n in range(40) if (value * 10**n).denominator == 1)
    return decimal(value, places) if places else str(value.numerator)


def around():
    """Each number of the memory in the middle, at half a step, and beyond either end."""
    for record in RECORDS:
        for field in elements(record):
            if field.type not in ("unsigned", "signed") or (field.id.endswith("]") and not field.id.endswith("[0]")):
                continue
            value = lambda raw: text_of((Fraction(raw) * field.num + field.add) / field.den)
            middle = (field.low + field.high) // 2
            half = Fraction(middle) + (Fraction(1, 2) if field.low < field.high else Fraction(-1, 2))
            yield record.id, field.id, value(middle), "Exact", None
            # More digits than a double names for sure would ask for an arithmetic that few have.
            if sum(c.isdigit() for c in value(half)) <= 15:
                yield record.id, field.id, value(half), "Floor" if field.rounding == "floor" else "Tie", None
            for beyond, end, way in ((field.low - 1, field.low, -1), (field.high + 1, field.high, 1)):
                # Farther out by what the bits hold, a writer that wraps puts down a number from the middle.
                for far in (beyond, middle + way * 2**field.width):
                    if field.out_of_range == "reject":
                        yield record.id, field.id, value(far), None, value(end)
                    else:
                        yield record.id, field.id, value(far), "Saturates", None


def build():
    known = {entry[:3] for entry in (*GOOD, *REJECTED)}
    made = [entry for entry in around() if entry[:3] not in known]
    taken = GOOD + tuple(entry[:4] for entry in made if entry[3])
    refused = REJECTED + tuple((*entry[:3], entry[4]) for entry in made if not entry[3])
    return document("quantity", SOURCE, NOTES, [*good_values(taken), *rejected_values(refused)])


def good_values(entries):
    for record, name, text, flag in entries:
        raw, inside = raw_of(field_of(RECORD[record], name), text)
        assert raw is not None and inside == (flag != "Saturates"), (record, name, text)
        given = {"record": record, "field": name, "value": text}
        yield good(slug(record, name, text), f"{record}.{name} {text}.", [flag], given, {"raw": raw})


def rejected_values(entries):
    for record, name, text, taken in entries:
        field = field_of(RECORD[record], name)
        assert raw_of(field, text) == (None, False) and raw_of(field, taken)[1], (record, name, text)
        yield bad(
            slug(record, name, text),
            f"{record}.{name} {text} is outside the range.",
            ["Rejects"],
            {"record": record, "field": name, "value": text, "repaired": taken},
            "value-out-of-range",
            field.at,
            field.lsb,
            f"{record}.{name}",
        )
