"""banks.json: the records of the banks that Gen2 and TDS define, apart from the EPC itself (stored-crc.json)."""

from cases import NOTES, Suite, good_cases, length_cases, value_cases
from document import RECORD_SOURCE, document
from memory_tables import PASSWORDS, TID, XPC


# Class E2h, designer and model 1FEh and 123h: test values, assigned to nobody.
TID_BASE = {"features": 4, "designer": 0x1FE, "model": 0x123, "serial[0]": 0, "serial[1]": 0, "serial[2]": 1}


def build():
    passwords = Suite(PASSWORDS, {"kill_password": 0, "access_password": 0x5AC3_0F17})
    xpc = Suite(XPC, {"xpc_w1": 0x0200})
    tid = Suite(TID, TID_BASE)
    vectors = []
    for suite in (passwords, xpc, tid):
        good_cases(suite)
        length_cases(suite)
        value_cases(suite)
        vectors += suite.vectors
    used = ("Ordinary", "Limit", "Flag", "ReservedBit", "Length", "Marker")
    return document("record", RECORD_SOURCE, {flag: NOTES[flag] for flag in used}, vectors)
