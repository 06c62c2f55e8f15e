"""Checksums, bit by bit from the polynomial: no table and no library, so nothing is shared with a codec."""

# name: (width, polynomial, preset, reflected, final XOR), in the terms of the CRC catalogue
PARAMETERS = {
    "air": (16, 0x1021, 0xFFFF, False, 0xFFFF),
    "crc32": (32, 0x04C11DB7, 0xFFFFFFFF, True, 0xFFFFFFFF),
    "seal": (16, 0x1021, 0x504C, False, 0x0000),
}

# Check value: the checksum of ASCII "123456789". Source: CRC catalogue, CRC-16/GENIBUS and CRC-32/ISO-HDLC.
CATALOGUE_CHECKS = {"air": 0xD64E, "crc32": 0xCBF43926}


def checksum(name, data):
    """Checksum of the bytes `data`: feeds one message bit at a time, in the order the parameters say."""
    width, polynomial, register, reflected, final = PARAMETERS[name]
    top = 1 << (width - 1)
    for byte in data:
        for place in range(8):
            bit = (byte >> place) & 1 if reflected else (byte >> (7 - place)) & 1
            feedback = bit ^ (1 if register & top else 0)
            register = (register << 1) & ((1 << width) - 1)
            if feedback:
                register ^= polynomial
    if reflected:
        register = int(f"{register:0{width}b}"[::-1], 2)
    return register ^ final


for _name, _value in CATALOGUE_CHECKS.items():
    assert checksum(_name, b"123456789") == _value, _name
