"""The tag's memory, transcribed by hand from the specification: records in order, then the four banks by word address."""

from fields import Field, Record, constant, enumeration, flags, number, reserved, sealed_by

LAYOUT = 1
KINDS = {"header": 1, "frame": 2, "counters": 3, "calibration": 4, "burst": 5}

STATUS = (
    (0, "first_after_cold_start"),
    (1, "brown_out"),
    (2, "sensor_fault"),
    (3, "pressure_at_limit"),
    (4, "sample_lost"),
    (5, "calibration_missing"),
    (6, "supply_low"),
    (7, "burst_ready"),
)


def kind_and_layout(name, kind_bits=(15, 12), layout_bits=(11, 8)):
    return (
        constant("kind", 0, 16, kind_bits, "kind", KINDS[name]),
        constant("layout", 0, 16, layout_bits, "layout", LAYOUT),
    )


def seal(size):
    return sealed_by("seal", "seal", size - 2, (0, size - 3))


def pressure():
    return number(
        "pressure",
        4,
        32,
        (23, 0),
        (3_328_000, 16_128_000),
        (1, 128),
        "Pa",
        out_of_range="saturate",
        sentinels=((16_777_215, "not_measured", "absent"),),
    )


def temperature(at):
    return number(
        "temperature",
        at,
        16,
        None,
        (-4000, 12_500),
        (1, 100),
        "Cel",
        signed=True,
        out_of_range="saturate",
        sentinels=((-32_768, "not_measured", "absent"),),
    )


HEADER = Record(
    "header",
    16,
    (
        constant("dsfid", 0, 16, (15, 8), "marker", 0),
        *kind_and_layout("header", (7, 4), (3, 0)),
        number("fingerprint", 2, 32),
        number("firmware_major", 6, 16, (15, 8)),
        number("firmware_minor", 6, 16, (7, 0)),
        number("sampling_period", 8, 16, None, (10, 60_000), (1, 1000), "s"),
        number("sensor_serial", 10, 32, None, (1, 4_294_967_295)),
        seal(16),
    ),
)

FRAME = Record(
    "frame",
    16,
    (
        *kind_and_layout("frame"),
        flags("status", 0, 16, (7, 0), STATUS),
        number("sequence", 2, 16),
        reserved("reserved", 4, 32, (31, 24)),
        pressure(),
        temperature(8),
        number(
            "supply",
            10,
            32,
            (31, 20),
            (0, 4094),
            (1, 1000),
            "V",
            out_of_range="saturate",
            sentinels=((4095, "not_measured", "absent"),),
        ),
        number(
            "uptime",
            10,
            32,
            (19, 0),
            (0, 1_048_574),
            (1, 10),
            "s",
            rounding="floor",
            out_of_range="saturate",
            sentinels=((1_048_575, "saturated", "saturated"),),
        ),
        seal(16),
    ),
)


def counter(id, at, container, bits, top):
    return number(
        id, at, container, bits, (0, top - 1), out_of_range="saturate", sentinels=((top, "saturated", "saturated"),)
    )


COUNTERS = Record(
    "counters",
    16,
    (
        *kind_and_layout("counters"),
        counter("reuse_cycles", 0, 16, (7, 0), 255),
        counter("cold_starts", 2, 32, None, 4_294_967_295),
        counter("fruitless_starts", 6, 32, (31, 24), 255),
        counter("brown_outs", 6, 32, (23, 0), 16_777_215),
        counter("frames", 10, 32, None, 4_294_967_295),
        seal(16),
    ),
)

METHODS = (
    (1, "bench_two_point"),
    (2, "bench_multi_point"),
    (3, "bench_with_temperature"),
    (4, "limb_form"),
    (5, "zero_only"),
)

CALIBRATION = Record(
    "calibration",
    32,
    (
        *kind_and_layout("calibration"),
        enumeration("method", 0, 16, (7, 4), METHODS),
        number("reuse_since", 0, 16, (3, 0), (0, 14), sentinels=((15, "saturated", "saturated"),)),
        number("date", 2, 16, None, (0, 65_534), unit="d", sentinels=((65_535, "not_stated", "absent"),)),
        number("sensor_serial", 4, 32, None, (1, 4_294_967_295)),
        number("reuse_count", 8, 32, (31, 24), (0, 254)),
        number("offset", 8, 32, (23, 0), (-8_388_608, 8_388_607), (1, 128), "Pa", signed=True),
        number("reuse_limit", 12, 32, (31, 24), (0, 254), sentinels=((255, "not_limited", "absent"),)),
        number("gain", 12, 32, (23, 0), (262_144, 4_194_304), (1, 1_048_576)),
        number("temperature_effect", 16, 16, None, (-32_768, 32_767), (1, 64), "Pa/K", signed=True),
        number("gain_temperature", 18, 16, None, (-32_768, 32_767), (1, 1_000_000), "1/K", signed=True),
        number("curvature", 20, 16, None, (-32_768, 32_767), (1, 1_000_000_000), "1/Pa", signed=True),
        number("reference_temperature", 22, 16, None, (-4000, 12_500), (1, 100), "Cel", signed=True),
        number(
            "expanded_uncertainty", 24, 16, None, (0, 65_534), unit="Pa", sentinels=((65_535, "not_stated", "absent"),)
        ),
        number("temperature_low", 26, 16, (15, 8), (-40, 125), unit="Cel", signed=True),
        number("temperature_high", 26, 16, (7, 0), (-40, 125), unit="Cel", signed=True),
        number("span", 28, 16, (15, 8), (1, 255), unit="hPa"),
        number("validity", 28, 16, (7, 0), (1, 254), unit="mo", sentinels=((255, "not_limited", "absent"),)),
        seal(32),
    ),
)

BURST = Record(
    "burst",
    64,
    (
        *kind_and_layout("burst"),
        flags("status", 0, 16, (7, 0), STATUS),
        number("sequence", 2, 16),
        number("count", 4, 32, (31, 24), (0, 25)),
        pressure(),
        number("interval", 8, 16, None, (1, 10_000), (1, 1000), "s"),
        temperature(10),
        Field(
            "samples",
            "signed",
            12,
            16,
            15,
            0,
            "Pa",
            1,
            2,
            out_of_range="saturate",
            low=-32_767,
            high=32_767,
            sentinels=((-32_768, "not_sampled", "absent"),),
            count=25,
        ),
        seal(64),
    ),
)

PASSWORDS = Record("passwords", 8, (number("kill_password", 0, 32), number("access_password", 4, 32)))

EPC = Record(
    "epc",
    16,
    (
        sealed_by("air", "stored_crc", 0, (2, 15)),
        number("epc_length", 2, 16, (15, 11), (6, 6), unit="word"),
        flags("indicators", 2, 16, (10, 9), ((1, "user_memory"), (0, "extended"))),
        constant("toggle", 2, 16, (8, 8), "marker", 0),
        reserved("attributes", 2, 16, (7, 0)),
        Field("epc", "unsigned", 4, 16, 15, 0, low=0, high=65_535, count=6),
    ),
)

XPC = Record(
    "xpc",
    2,
    (
        flags(
            "xpc_w1",
            0,
            16,
            (15, 0),
            (
                (15, "xeb"),
                (11, "sensor_alarm"),
                (10, "simple_sensor"),
                (9, "full_function_sensor"),
                (8, "snapshot_sensor"),
                (7, "battery_assisted"),
                (6, "computed_response"),
                (5, "sl_indicator"),
                (4, "notification"),
                (3, "untraceable"),
                (2, "killable"),
                (1, "non_removable"),
                (0, "hazmat"),
            ),
        ),
    ),
)

TID = Record(
    "tid",
    12,
    (
        constant("class", 0, 32, (31, 24), "marker", 0xE2),
        flags("features", 0, 32, (23, 21), ((2, "xtid"), (1, "security"), (0, "files"))),
        number("designer", 0, 32, (20, 12)),
        number("model", 0, 32, (11, 0)),
        constant("xtid_header", 4, 16, (15, 0), "marker", 0x2000),
        Field("serial", "unsigned", 6, 16, 15, 0, low=0, high=65_535, count=3),
    ),
)

RECORDS = (HEADER, FRAME, COUNTERS, CALIBRATION, BURST, PASSWORDS, EPC, XPC, TID)

# (bank, number, words, regions); a region is (id, first word, words, record or None where no memory is implemented)
BANKS = (
    ("reserved", 0, 4, (("passwords", 0, 4, "passwords"),)),
    ("epc", 1, 34, (("epc", 0, 8, "epc"), ("epc_absent", 8, 25, None), ("xpc", 33, 1, "xpc"))),
    ("tid", 2, 6, (("tid", 0, 6, "tid"),)),
    (
        "user",
        3,
        104,
        (
            ("header", 0, 8, "header"),
            ("slot_a", 8, 8, "frame"),
            ("slot_b", 16, 8, "frame"),
            ("counters_a", 24, 8, "counters"),
            ("counters_b", 32, 8, "counters"),
            ("calibration_1", 40, 16, "calibration"),
            ("calibration_2", 56, 16, "calibration"),
            ("burst", 72, 32, "burst"),
        ),
    ),
)
