"""The 96-bit layouts of three EPC schemes, and an EPC as one whole number."""

# scheme: (header, reference, digits of company prefix and reference together, bits of the serial)
SCHEMES = {
    "sgtin-96": (0x30, "item_reference", 13, 38),
    "grai-96": (0x33, "asset_type", 12, 38),
    "giai-96": (0x34, "asset_reference", None, 0),
}
PREFIX_BITS = (40, 37, 34, 30, 27, 24, 20)


def partition_of(scheme, value):
    """(prefix bits, prefix digits, reference bits, reference digits or None)"""
    _, _, digits, serial_bits = SCHEMES[scheme]
    bits = PREFIX_BITS[value]
    return bits, 12 - value, 96 - 14 - bits - serial_bits, None if digits is None else digits - (12 - value)


def pack96(scheme, filter, partition, prefix, reference, serial):
    header, _, _, serial_bits = SCHEMES[scheme]
    prefix_bits, _, reference_bits, _ = partition_of(scheme, partition)
    number = 0
    for value, bits in (
        (header, 8),
        (filter, 3),
        (partition, 3),
        (prefix, prefix_bits),
        (reference, reference_bits),
        (serial or 0, serial_bits),
    ):
        assert 0 <= value < 1 << bits
        number = number << bits | value
    return f"{number:024x}"
