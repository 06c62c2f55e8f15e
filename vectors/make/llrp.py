"""llrp.json: messages of LLRP as bytes, packed by hand from the standard's tables; no table of the project takes part."""

from document import document
from llrp_faults import bad_messages, each_message, hostile, several_faults
from llrp_good import answer, arrays, good_messages, nested, other_messages
from llrp_parameters import samples
from llrp_parts import message, whole

NOTES = {
    "Published": "Message layouts worked out beforehand from the open definition file and shown to Wireshark's dissector.",
    "UnknownTlv": "A TLV parameter of unknown type is skipped by its length and changes nothing else.",
    "Custom": "A maker's own parameter may stand anywhere.",
    "Signed": "Signal strengths and powers are signed.",
    "Bits": "Bit arrays count bits; their last byte is filled up with zeros.",
    "Version11": "Version 1.1 is written as 2.",
    "HeaderLength": "The length in the header cannot be.",
    "NestedLength": "A parameter claims more bytes than what it stands in has left, or fewer than its own header.",
    "UnknownTv": "A TV parameter of unknown type has no length, so nothing behind it can be read.",
    "Unexpected": "A known parameter where the standard has none of its kind, or one too many.",
    "Missing": "A parameter that must be there is not.",
    "CountLie": "An array claims more elements than its parameter has bytes.",
    "Unspoken": "A version that is not spoken, or a message that is not known.",
    "Reserved": "Reserved bits of a header that must be 0.",
    "Cut": "Fewer bytes, or more, than the header says.",
    "Message": "One of each message that is not among the published ones.",
    "Parameter": "Each parameter in a place where it may stand, with another number in each field.",
    "Array": "An array with no element, one, and many.",
    "Depth": "Parameters one in the other: sixteen are taken, more are not.",
    "SeveralFaults": "Two faults; `also` has the one that comes later in the order of the checks.",
}

SOURCE = (
    "GS1/EPCglobal Low Level Reader Protocol 1.0.1, its open definition file; the messages flagged Published were dissected"
    " by Wireshark 4.0 without an expert warning. The others are packed by hand in vectors/make/llrp.py."
)


def build():
    good_ones = [*good_messages(), *other_messages(), *arrays()]
    for levels in (2, 16):
        data, element = nested(levels)
        good_ones.append(answer(f"depth-{levels}", f"{levels} parameters one in the other.", ["Depth"], message(13, 2, data),
                                whole("SET_READER_CONFIG_RESPONSE", 2, {}, [element])))  # fmt: skip
    for name, data, expected in samples():
        good_ones.append(answer(name, "Each of its fields another number.", ["Parameter"], data, expected))
    bad_ones = [*bad_messages(), *hostile(), *each_message(), *several_faults()]
    return document("llrp-messages", SOURCE, NOTES, [*good_ones, *bad_ones])
