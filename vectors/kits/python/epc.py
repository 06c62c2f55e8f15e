"""EPC identities by GS1 TDS: SGTIN-96, GRAI-96 and GIAI-96, from 96 bits to their fields and URIs."""

from records import Bad

# header: (scheme, name, reference, digits of company prefix and reference together, bits of the serial)
SCHEMES = {
    0x30: ("sgtin-96", "sgtin", "item_reference", 13, 38),
    0x33: ("grai-96", "grai", "asset_type", 12, 38),
    0x34: ("giai-96", "giai", "asset_reference", None, 0),
}
PREFIX_BITS = (40, 37, 34, 30, 27, 24, 20)


def parse_hex(text):
    for i, digit in enumerate(text):
        if digit not in "0123456789abcdefABCDEF":
            raise Bad("hex-bad-digit", i, None, "epc")
    if len(text) % 2:
        raise Bad("hex-odd-length", len(text) - 1, None, "epc")
    return bytes.fromhex(text)


def place(first):
    """Byte and bit of the most significant bit of a field that begins `first` bits into the EPC."""
    return first // 8, 7 - first % 8


def parse(text):
    data = parse_hex(text)
    if not data:
        raise Bad("epc-length-invalid", 0, None, "epc")
    if data[0] not in SCHEMES:
        raise Bad("epc-header-unknown", 0, 7, "epc.header")
    if len(data) != 12:
        raise Bad("epc-length-invalid", min(len(data), 12), None, "epc")
    scheme, name, reference_name, digits, serial_bits = SCHEMES[data[0]]
    record = scheme.replace("-", "_")
    number = int.from_bytes(data, "big")

    def bits(first, width):
        return number >> 96 - first - width & (1 << width) - 1

    filter, partition = bits(8, 3), bits(11, 3)
    if partition > 6:
        raise Bad("epc-partition-invalid", *place(11), f"{record}.partition")
    prefix_bits, prefix_digits = PREFIX_BITS[partition], 12 - partition
    reference_at = 14 + prefix_bits
    reference_bits = 96 - reference_at - serial_bits
    prefix, reference = bits(14, prefix_bits), bits(reference_at, reference_bits)
    if prefix >= 10**prefix_digits:
        raise Bad("epc-field-too-large", *place(14), f"{record}.company_prefix")
    reference_digits = None if digits is None else digits - prefix_digits
    if reference_digits is not None and reference >= 10**reference_digits:
        raise Bad("epc-field-too-large", *place(reference_at), f"{record}.{reference_name}")
    prefix_text = str(prefix).zfill(prefix_digits)
    reference_text = "" if reference_digits == 0 else str(reference).zfill(reference_digits or 1)
    fields = {"scheme": scheme, "filter": filter, "company_prefix": prefix_text, reference_name: reference_text}
    parts = [prefix_text, reference_text]
    if serial_bits:
        fields["serial"] = str(bits(reference_at + reference_bits, serial_bits))
        parts.append(fields["serial"])
    identity = ".".join(parts)
    fields["tag_uri"] = f"urn:epc:tag:{scheme}:{filter}.{identity}"
    fields["pure_uri"] = f"urn:epc:id:{name}:{identity}"
    return fields
