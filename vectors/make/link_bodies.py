"""One ordinary content for each message of the link, and the bodies made of it."""

from link_tables import ENVELOPE, MESSAGES, PAYLOADS
from record import pack

EPC = (0x3034, 0x257B, 0xF719, 0x4E40, 0x0000, 0x1A85)
ACCESS = {"password": 0, "bank": 3, "pointer": 0, "word_count": 32, "epc_words": 6}

# One ordinary content for each message: raw integers and tails.
ORDINARY = {
    "hello": ({"link_version": 1, "max_outstanding": 4}, {}),
    "set_power": ({"power": 2700}, {}),
    "set_channel_plan": ({"plan": 1}, {}),
    "start_inventory": ({"period": 500, "bank": 3, "pointer": 0, "word_count": 32}, {}),
    "stop_inventory": ({}, {}),
    "read": (ACCESS, {"epc": EPC}),
    "write": ({**ACCESS, "pointer": 40, "word_count": 2}, {"epc": EPC, "words": (0x4103, 0x05F0)}),
    "block_write": (
        {**ACCESS, "password": 0x5AC3_0F17, "pointer": 40, "word_count": 3},
        {"epc": EPC, "words": (0, 0xFFFF, 0x1234)},
    ),
    "lock": ({"password": 0x5AC3_0F17, "mask": 2, "action": 2, "epc_words": 6}, {"epc": EPC}),
    "kill": ({"password": 0x1F2E_3D4C, "epc_words": 6}, {"epc": EPC}),
    "keep_alive": ({}, {}),
    "done": ({}, {}),
    "welcome": (
        {
            "link_version": 1,
            "max_outstanding": 4,
            "capabilities": 0x3F,
            "power_low": 500,
            "power_high": 3000,
            "barometer_uncertainty": 12,
            "kit_time": 12_345_678,
        },
        {},
    ),
    "access_answer": ({"result": 0, "word_count": 2, "kit_time": 12_345_678}, {"words": (0x0011, 0xDB98)}),
    "error": ({"reason": 43, "about": 0x33, "byte": 0}, {}),
    "tag_report": (
        {
            "kit_time": 12_345_678,
            "pc": 0x3600,
            "xpc": 0x0200,
            "rssi": -583,
            "frequency": 866_300,
            "result": 0,
            "bank": 3,
            "pointer": 0,
            "word_count": 2,
            "epc_words": 6,
        },
        {"epc": EPC, "words": (0x0011, 0xDB98)},
    ),
    "ambient_report": ({"kit_time": 12_345_678, "pressure": 12_969_600, "temperature": 2250}, {}),
}


def body(id, request, values, tails):
    code, _ = MESSAGES[id]
    return pack(ENVELOPE, {"type": code, "request": request}) + pack(PAYLOADS[id], values, tails)


def request_of(id):
    code, _ = MESSAGES[id]
    return 0 if code >= 0x80 else 258
