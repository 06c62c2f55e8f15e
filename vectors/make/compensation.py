"""From raw integers to calibrated pressure: the rule of protocol/COMPENSATION.md in whole numbers, and exactly."""

from fractions import Fraction
from math import isqrt

GAUGE_LIMIT = 40_000 * 128  # 40 kPa in 1/128 Pa
PA_PER_MMHG = Fraction("133.322387415")  # conventional millimetre of mercury: 13595.1 kg/m3 * 9.80665 m/s2 * 1 mm
assert PA_PER_MMHG == Fraction("13595.1") * Fraction("9.80665") / 1000

NOMINAL = {
    "offset": 0,
    "gain": 1_048_576,
    "temperature_effect": 0,
    "gain_temperature": 0,
    "curvature": 0,
    "reference_temperature": 0,
}


def rounded(value):
    """Nearest whole number, ties away from zero."""
    whole = (2 * abs(value.numerator) + value.denominator) // (2 * value.denominator)
    return -whole if value < 0 else whole


def absolute(pressure, temperature, c):
    """1/128 Pa; `temperature` in 0.01 °C or None, which leaves the temperature term out."""
    rise = 0
    if temperature is not None:
        rise = rounded(Fraction((temperature - c["reference_temperature"]) * c["temperature_effect"], 50))
    return pressure + c["offset"] - rise


def gauge(calibrated, ambient, temperature, c):
    """1/128 Pa, or None beyond the limit."""
    difference = calibrated - ambient
    if abs(difference) > GAUGE_LIMIT:
        return None
    kelvin = 0 if temperature is None else temperature - c["reference_temperature"]
    gain = c["gain"] + rounded(Fraction(c["gain"] * kelvin * c["gain_temperature"], 10**8))
    linear = rounded(Fraction(difference * gain, 2**20))
    if abs(linear) > GAUGE_LIMIT:
        return None
    square = rounded(Fraction(linear**2, 16_384))
    value = linear + rounded(Fraction(square * c["curvature"] * 2, 15_625_000))
    check_meaning(value, calibrated, ambient, temperature, c)
    return value


def check_meaning(value, calibrated, ambient, temperature, c):
    """The whole numbers against the coefficients' meaning, unrounded: p' = p·g·(1 + k·dT), result p' + curvature·p'²."""
    kelvin = Fraction(0 if temperature is None else temperature - c["reference_temperature"], 100)
    load = Fraction(calibrated - ambient, 128)
    linear = load * Fraction(c["gain"], 2**20) * (1 + kelvin * Fraction(c["gain_temperature"], 10**6))
    exact = linear + Fraction(c["curvature"], 10**9) * linear**2
    # Four roundings of half a unit; the gain's is magnified by the load, the linear term's by the curvature's slope.
    slope = 1 + abs(2 * linear * Fraction(c["curvature"], 10**9))
    bound = (Fraction(1, 256) + abs(load) / 2**21) * slope + Fraction(1, 128)
    assert abs(Fraction(value, 128) - exact) <= bound, float(Fraction(value, 128) - exact)


def decimal(value, places):
    """An exact fraction as decimal text, ties away from zero."""
    number = rounded(value * 10**places)
    sign = "-" if number < 0 else ""
    digits = str(abs(number)).rjust(places + 1, "0")
    return f"{sign}{digits[:-places]}.{digits[-places:]}"


def root(value, places):
    """Square root of an exact fraction as decimal text, to the nearest last place."""
    scaled = value * 10 ** (2 * places)
    floor = isqrt(scaled.numerator // scaled.denominator)
    up = 4 * scaled >= (2 * floor + 1) ** 2
    return decimal(Fraction(floor + up, 10**places), places)
