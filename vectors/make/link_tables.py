"""The link's messages, transcribed by hand from the specification."""

from fields import Record, enumeration, flags, number, reserved

BANK_NAMES = ((0, "reserved"), (1, "epc"), (2, "tid"), (3, "user"))
RESULT_NAMES = (
    (0, "done"),
    (1, "not_asked"),
    (60, "tag_lost"),
    (61, "tag_memory_overrun"),
    (62, "tag_memory_locked"),
    (63, "tag_power_insufficient"),
    (64, "tag_error"),
    (65, "password_wrong"),
)
POWER = {"range": (-32_768, 32_767), "scale": (1, 100), "unit": "dBm", "signed": True}


def kit_time(at):
    return (reserved("kit_time_reserved", at, 64, (63, 48)), number("kit_time", at, 64, (47, 0), unit="us"))


def bank(at):
    return enumeration("bank", at, 8, (7, 0), BANK_NAMES)


def result(at):
    return enumeration("result", at, 8, (7, 0), RESULT_NAMES)


def epc_words(at):
    return number("epc_words", at, 8, range=(0, 31), unit="word")


def word_count(at):
    return number("word_count", at, 8, unit="word")


EPC_TAIL = ("epc", 2, "epc_words")
WORD_TAIL = ("words", 2, "word_count")

ENVELOPE = Record("envelope", 3, (number("type", 0, 8), number("request", 1, 16)))


def access(id, tails):
    return Record(
        id, 9, (number("password", 0, 32), bank(4), number("pointer", 5, 16), word_count(7), epc_words(8)), tails
    )


PAYLOADS = {
    record.id: record
    for record in (
        Record(
            "hello", 2, (number("link_version", 0, 8, range=(1, 255)), number("max_outstanding", 1, 8, range=(1, 255)))
        ),
        Record(
            "welcome",
            18,
            (
                number("link_version", 0, 8, range=(1, 255)),
                number("max_outstanding", 1, 8, range=(1, 255)),
                flags(
                    "capabilities",
                    2,
                    16,
                    (15, 0),
                    ((0, "block_write"), (1, "lock"), (2, "barometer"), (3, "eu_lower"), (4, "eu_upper"), (5, "us")),
                ),
                number("power_low", 4, 16, **POWER),
                number("power_high", 6, 16, **POWER),
                number(
                    "barometer_uncertainty",
                    8,
                    16,
                    range=(0, 65_534),
                    unit="Pa",
                    sentinels=((65_535, "not_stated", "absent"),),
                ),
                *kit_time(10),
            ),
        ),
        Record("set_power", 2, (number("power", 0, 16, **POWER),)),
        Record(
            "set_channel_plan", 1, (enumeration("plan", 0, 8, (7, 0), ((1, "eu_lower"), (2, "eu_upper"), (3, "us"))),)
        ),
        Record(
            "start_inventory",
            6,
            (
                number("period", 0, 16, range=(10, 60_000), scale=(1, 1000), unit="s"),
                bank(2),
                number("pointer", 3, 16),
                word_count(5),
            ),
        ),
        Record("stop_inventory", 0, ()),
        access("read", (EPC_TAIL,)),
        access("write", (EPC_TAIL, WORD_TAIL)),
        access("block_write", (EPC_TAIL, WORD_TAIL)),
        Record(
            "lock",
            9,
            (
                number("password", 0, 32),
                reserved("lock_reserved", 4, 32, (31, 20)),
                number("mask", 4, 32, (19, 10)),
                number("action", 4, 32, (9, 0)),
                epc_words(8),
            ),
            (EPC_TAIL,),
        ),
        Record("kill", 5, (number("password", 0, 32, range=(1, 4_294_967_295)), epc_words(4)), (EPC_TAIL,)),
        Record("keep_alive", 0, ()),
        Record("done", 0, ()),
        Record("access_answer", 10, (result(0), word_count(1), *kit_time(2)), (WORD_TAIL,)),
        Record("error", 4, (number("reason", 0, 8, range=(1, 255)), number("about", 1, 8), number("byte", 2, 16))),
        Record(
            "tag_report",
            24,
            (
                *kit_time(0),
                number("pc", 8, 16),
                number("xpc", 10, 16),
                number(
                    "rssi",
                    12,
                    16,
                    range=(-32_767, 32_767),
                    scale=(1, 10),
                    unit="dBm",
                    signed=True,
                    sentinels=((-32_768, "not_measured", "absent"),),
                ),
                number("frequency", 14, 32, unit="kHz"),
                result(18),
                bank(19),
                number("pointer", 20, 16),
                word_count(22),
                epc_words(23),
            ),
            (EPC_TAIL, WORD_TAIL),
        ),
        Record(
            "ambient_report",
            14,
            (
                *kit_time(0),
                number("pressure", 8, 32, range=(3_328_000, 16_128_000), scale=(1, 128), unit="Pa"),
                number(
                    "temperature",
                    12,
                    16,
                    range=(-4000, 12_500),
                    scale=(1, 100),
                    unit="Cel",
                    signed=True,
                    sentinels=((-32_768, "not_measured", "absent"),),
                ),
            ),
        ),
    )
}

# message: (type, direction)
MESSAGES = {
    "hello": (0x01, "to-kit"),
    "set_power": (0x02, "to-kit"),
    "set_channel_plan": (0x03, "to-kit"),
    "start_inventory": (0x04, "to-kit"),
    "stop_inventory": (0x05, "to-kit"),
    "read": (0x06, "to-kit"),
    "write": (0x07, "to-kit"),
    "block_write": (0x08, "to-kit"),
    "lock": (0x09, "to-kit"),
    "keep_alive": (0x0A, "to-kit"),
    "kill": (0x0B, "to-kit"),
    "done": (0x40, "to-host"),
    "welcome": (0x41, "to-host"),
    "access_answer": (0x46, "to-host"),
    "error": (0x7F, "to-host"),
    "tag_report": (0x80, "to-host"),
    "ambient_report": (0x82, "to-host"),
}
