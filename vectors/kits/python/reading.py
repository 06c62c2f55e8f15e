"""From memory words and an ambient pressure to a calibrated pressure, by protocol/COMPENSATION.md, in whole numbers."""

from math import isqrt

from records import FINGERPRINT, Bad, choose_slot, decode

LIMIT = 40_000 * 128
SENSOR_FAULT, PRESSURE_AT_LIMIT, SUPPLY_LOW = 4, 8, 64
NOMINAL = {
    "offset": 0,
    "gain": 1 << 20,
    "temperature_effect": 0,
    "gain_temperature": 0,
    "curvature": 0,
    "reference_temperature": 0,
}


def div(n, d):
    """Quotient to the nearest integer, ties away from zero."""
    quotient = (2 * abs(n) + d) // (2 * d)
    return -quotient if n < 0 else quotient


def identify(data):
    """The header, when it is of this layout and this specification."""
    header = decode("header", data[:16])
    if header["fingerprint"] != FINGERPRINT:
        raise Bad("fingerprint-mismatch", 2, 0, "header.fingerprint")
    return header


def calibration_of(blocks, serial):
    """(copy, raws): the first whole copy that belongs to this sensor; (None, nominal) when there is none."""
    for copy, at in ((1, 0), (2, 32)):
        try:
            block = decode("calibration", blocks[at : at + 32])
        except Bad:
            continue
        if block["sensor_serial"] == serial:
            return copy, block
    return None, NOMINAL


def reading(memory, blocks, ambient, ambient_u):
    """Answer pairs; `memory` holds words 0 to 31 of USER, `blocks` words 40 to 71, pressures are in 1/128 Pa, U in Pa."""
    header = identify(memory)
    try:
        slot, frame = choose_slot(memory[16:48])
    except Bad as bad:
        raise Bad(bad.reason, bad.byte + 16, None, "slots") from bad
    copy, c = calibration_of(blocks, header["sensor_serial"])
    temperature = None if frame["temperature"] == -32768 else frame["temperature"]
    absolute = gauge = uncertainty = None
    if frame["pressure"] != 16777215:
        t = 0 if temperature is None else temperature - c["reference_temperature"]
        absolute = frame["pressure"] + c["offset"] - div(t * c["temperature_effect"], 50)
        if ambient is not None:
            gauge = gauge_of(absolute - ambient, t, c)
    doubtful = frame["status"] & (SENSOR_FAULT | PRESSURE_AT_LIMIT | SUPPLY_LOW)
    if gauge is not None and copy is not None and not doubtful and covers(c, temperature, gauge):
        if 65535 != c["expanded_uncertainty"] and ambient_u is not None:
            # U in thousandths of a pascal, to the nearest one.
            square = (c["expanded_uncertainty"] ** 2 + ambient_u**2) * 1_000_000
            uncertainty = (isqrt(4 * square) + 1) // 2
    return {
        "slot": slot,
        "copy": copy,
        "absolute_raw": absolute,
        "gauge_raw": gauge,
        # 1 mmHg = 133.322387415 Pa.
        "gauge_thousandths_mmhg": None if gauge is None else div(gauge * 10**12, 128 * 133_322_387_415),
        "uncertainty_thousandths_pa": uncertainty,
    }


def gauge_of(difference, t, c):
    gain = c["gain"] + div(c["gain"] * t * c["gain_temperature"], 100_000_000)
    linear = div(difference * gain, 1_048_576)
    if abs(difference) > LIMIT or abs(linear) > LIMIT:
        raise Bad("value-out-of-range", None, None, "reading.gauge")
    square = div(linear * linear, 16_384)
    return linear + div(square * c["curvature"] * 2, 15_625_000)


def covers(c, temperature, gauge):
    """Whether the calibration reaches as far as this reading."""
    if temperature is None or not 100 * c["temperature_low"] <= temperature <= 100 * c["temperature_high"]:
        return False
    return gauge <= c["span"] * 12_800
