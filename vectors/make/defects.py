"""Why each flag is there: the kind of defect, what goes wrong in an implementation that has it, and where the rule stands."""

# Kinds of defect; the list is closed and stands in schema/common.schema.json too.
KINDS = (
    "none",  # an ordinary case: whoever fails it fails everything
    "boundary",  # a comparison that is off by one, or an end of a range that was never tried
    "sign",  # a sign that is lost, or extended where there is none
    "sentinel",  # a raw integer that is no number, taken for one
    "byte-order",  # bytes or bits taken in another order
    "closed-list",  # a value outside a list, taken or guessed at
    "reserved-bits",  # bits kept for later that are not looked at
    "length",  # a length that is not compared with what is there
    "never-written",  # fresh memory taken for data
    "integrity",  # a checksum not compared, or computed over other bytes or with other parameters
    "torn-write",  # part of an older record taken together with a newer one
    "dispatch",  # a record or message of one kind read as another
    "version",  # another layout or specification read as this one
    "order",  # the older of two, or the wrong one of two faults
    "wrap",  # a counter or sequence that goes round
    "rounding",  # a step too much or too little
    "missing-value",  # a value that is missing, shown as a number
    "validity",  # a number or uncertainty stated outside what it holds for
    "framing",  # the ends of a frame found in the wrong place
    "resynchronisation",  # a good frame lost behind damage, or damage passed on
    "encoding",  # a text or number written in another form
    "specification",  # the meaning of a field changed without its shape
)

MAP = "protocol/MEMORY-MAP.md"
LINK = "protocol/LINK.md"
RULE = "protocol/COMPENSATION.md"
FINGERPRINT = "protocol/FINGERPRINT.md"
ORDER = "vectors/README.md, The order of checks"
SERIAL = "RFC 1982, section 3.2"
GEN2 = "GS1 EPC UHF Gen2 Air Interface"
TDS = "GS1 EPC Tag Data Standard 2.3"
LLRP = "GS1/EPCglobal Low Level Reader Protocol 1.0.1"
COBS = "Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999"


def cwe(number, rest=""):
    """An entry of the Common Weakness Enumeration, from memory."""
    return f"CWE-{number} (from memory)" + (f"; {rest}" if rest else "")


# Flags that mean the same in every file: (kind of defect, what goes wrong, reference).
COMMON = {
    "Ordinary": ("none", "Nothing works.", MAP),
    "Limit": (
        "boundary",
        "A good value at the end of its range is thrown away, or an impossible one just beyond it is shown as a measurement.",
        cwe(193, MAP),
    ),
    "Sentinel": (
        "sentinel",
        "Not measured is shown as a pressure or temperature, or a counter that stopped is shown as an exact number.",
        MAP,
    ),
    "Negative": (
        "sign",
        "A value just below zero is shown as the largest positive one, or the sign bits spill into the neighbour.",
        cwe(194, MAP),
    ),
    "Flag": ("byte-order", "Another flag is reported than the tag has set.", MAP),
    "Name": ("closed-list", "A value outside the list is shown under a name that was guessed, or a good one is refused.", MAP),
    "ReservedBit": (
        "reserved-bits",
        "A later specification gives the bit a meaning, and the record goes on being read as if it had none.",
        MAP,
    ),
    "Length": ("length", "Bytes behind the end of the record are read, or bytes that follow it are lost unseen.", cwe(130, ORDER)),
    "NeverWritten": ("never-written", "A tag that has measured nothing shows a pressure.", ORDER),
    "SealBroken": ("integrity", "A pressure is shown that the tag never measured.", cwe(354, MAP)),
    "Torn": (
        "torn-write",
        "Words of two measurements are shown as one: a plausible pressure that never was.",
        "protocol/firmware/DESIGN.md",
    ),
    "ForeignChecksum": (
        "integrity",
        "The comparison fails for every good record, or accepts what was sealed in another way.",
        cwe(354, MAP),
    ),
    "OtherKind": ("dispatch", "Counters or coefficients are shown as a pressure.", cwe(843, ORDER)),
    "OtherLayout": ("version", "Fields of another layout are shown as numbers of this one.", FINGERPRINT),
    "Marker": ("dispatch", "Memory that is none of this tag's is read as if it were.", MAP),
    "ForeignFingerprint": (
        "version",
        "Two specifications share a layout number, and a value is shown in the wrong scale or unit.",
        FINGERPRINT,
    ),
    "SeveralFaults": (
        "order",
        "The fault that is named sends the person who reads it to the wrong place, for instance to a damaged value in a"
        " record of another layout.",
        ORDER,
    ),
    "SequenceWrap": ("wrap", "Every 65536 frames the older of two is taken for the newer.", SERIAL),
    "Saturated": ("sentinel", "At least so much is shown as exactly so much, or a value that did not fit comes back small.", cwe(190, MAP)),
    "MadeCase": ("boundary", "What the hand-made vectors of the file do not ask goes wrong unseen.", "vectors/REPLAY.md, New cases"),
}

# Flags by the kind of file they stand in.
BY_KIND = {
    "record": {
        "ColdStart": ("missing-value", "The first frame's missing pressure is shown as 0 or as the highest value.", MAP),
        "SensorFault": ("missing-value", "A sensor that does not answer shows a pressure.", MAP),
        "Partial": ("missing-value", "Samples that were not taken are drawn as zero, which makes a jump in the curve.", MAP),
    },
    "quantity": {
        "Exact": ("none", "Nothing works.", MAP),
        "Tie": ("rounding", "Values half way between two steps are rounded down, or to the even one, or towards zero below zero.", cwe(682, MAP)),
        "Floor": ("rounding", "A tag claims time that has not passed.", MAP),
        "DecimalTrap": (
            "rounding",
            "The division is done in binary floating point, and a decimal with an exact raw integer lands one step low.",
            cwe(681, "IEEE 754"),
        ),
        "Saturates": ("boundary", "The raw integer wraps: a pressure too high is written as a low one.", cwe(190, MAP)),
        "Rejects": ("boundary", "A coefficient outside its range is written, cut or wrapped, without a word.", cwe(1284, MAP)),
    },
    "record-writing": {
        "Complete": ("none", "Nothing works.", MAP),
        "FieldMissing": ("missing-value", "A value that nobody gave is written as 0.", MAP),
        "NotWhole": ("rounding", "A fraction is cut off, or a number too large for its bits is written modulo their range.", cwe(681, MAP)),
        "OwnValues": ("integrity", "A checksum, kind or reserved bit that the caller gave is written in place of the right one.", MAP),
        "Count": ("length", "A count is written that does not fit the elements, and the reader of the message loses its place.", cwe(130, MAP)),
        "ReservedBit": ("reserved-bits", "A bit without a meaning is written, and every reader must refuse the record.", MAP),
    },
    "slots": {
        "Newer": ("order", "The older frame is shown: the pressure of one sampling period ago.", SERIAL),
        "Wrap": ("wrap", "Every 65536 frames the older of two is taken for the newer.", SERIAL),
        "SequenceGap": ("order", "A lost write or a slot that can no longer be written stays unnoticed.", SERIAL),
        "Identical": ("order", "A harmless state is reported as a contradiction, and a tag that is well shows nothing.", MAP),
        "SlotEmpty": ("never-written", "A new tag's empty slot is taken for a frame, or for damage.", MAP),
        "SlotBad": ("torn-write", "The half-written slot is shown, or the whole one beside it is not.", MAP),
        "BothBad": ("torn-write", "A pressure is shown though the tag holds none that is whole.", MAP),
        "Contradiction": ("order", "One of two frames that cannot be ordered is shown as the newest.", SERIAL),
    },
    "calibrated-reading": {
        "Weather": ("validity", "Gain is applied to the absolute pressure, and a change of weather is shown as a change of load.", RULE),
        "Temperature": ("sign", "The temperature terms have the wrong sign or scale, or a temperature not measured counts as 0.", RULE),
        "Coefficient": ("boundary", "An intermediate product overflows 32 bits, or loses digits beyond 53.", cwe(190, RULE)),
        "Rounding": ("rounding", "Two implementations differ in the last step, and a comparison of their records fails.", RULE),
        "Negative": ("sign", "A cell that reads too low is shown as zero, and its offset is never seen.", RULE),
        "AbsoluteOnly": ("missing-value", "The absolute pressure, or one against an assumed 1013.25 hPa, is shown as a gauge pressure.", RULE),
        "UncertaintyUnknown": ("missing-value", "An uncertainty is shown that leaves out a part which is not known.", "JCGM 100:2008, 5.1.2"),
        "CalibratedRange": ("validity", "The uncertainty of the calibration is stated where nothing was calibrated.", RULE),
        "Doubtful": ("validity", "An uncertainty is stated for a pressure that nobody can vouch for.", "vectors/README.md, calibrated-reading"),
        "SecondCopy": ("torn-write", "A tag whose calibration was interrupted is read with half-written coefficients, or without any.", MAP),
        "Uncalibrated": ("missing-value", "A nominal reading is shown with an uncertainty, or with coefficients of another sensor.", RULE),
        "NotMeasured": ("missing-value", "A sensor that failed shows a pressure.", MAP),
        "SlotChoice": ("order", "The reading comes from the older slot.", SERIAL),
        "BothSlotsBad": ("torn-write", "A pressure is shown though the tag holds none that is whole.", MAP),
        "Contradiction": ("order", "One of two frames that cannot be ordered is shown as the newest.", SERIAL),
        "BeyondLimit": ("boundary", "Arithmetic beyond what it was specified for gives a number that looks like a pressure.", cwe(190, RULE)),
    },
    "epc-identity": {
        "WorkedExample": ("none", "Nothing works.", TDS),
        "WorkedExampleFromMemory": ("none", "Nothing works.", TDS),
        "Partition": ("framing", "The border between company prefix and reference is in the wrong place: another company's number.", TDS),
        "LeadingZero": ("encoding", "A number loses its leading zeros, and the same thing has two names.", TDS),
        "Filter": ("encoding", "The filter becomes part of the identity, or is lost on the way back.", TDS),
        "HeaderUnknown": ("dispatch", "An EPC of another scheme is read by this one's borders.", TDS),
        "PartitionInvalid": ("closed-list", "A table is read behind its end.", cwe(129, TDS)),
        "FieldTooLarge": ("boundary", "A number with too many digits is shown or packed, and runs into the next field.", cwe(1284, TDS)),
        "LengthInvalid": ("length", "Bits that are not there are read as zeros.", cwe(130, TDS)),
        "HexInvalid": ("encoding", "A character that is no digit counts as zero or ends the number.", cwe(1286)),
        "UriMalformed": ("encoding", "Two texts stand for one EPC, or one for none.", TDS),
    },
    "stored-crc": {
        "Gen2Table": ("integrity", "The checksum is computed with another preset, final XOR or bit order.", f"{GEN2}, Annex F"),
        "Example": ("integrity", "The checksum leaves out the StoredPC.", GEN2),
        "Indicators": ("integrity", "The checksum leaves out bits of the StoredPC.", GEN2),
        "Damaged": ("integrity", "A tag answers to another EPC than its own.", cwe(354, GEN2)),
    },
    "slice": {
        "ByteOrder": ("byte-order", "Bytes of a container are taken the wrong way round.", cwe(198, MAP)),
        "TwoReadings": ("byte-order", "A run of bits across bytes is read in the way the writer did not mean.", cwe(198, MAP)),
        "Sign": ("sign", "The sign is taken from the container, not from the slice.", cwe(194, MAP)),
        "Width": ("boundary", "A shift by the whole width does nothing, or by 32 and more wraps in a 32-bit operation.", cwe(1335, MAP)),
        "Neighbours": ("byte-order", "Bits of the neighbour are read along, or it is changed by a write.", MAP),
        "Offset": ("byte-order", "The container is looked for at a multiple of its size.", MAP),
    },
    "fingerprint": {
        "CanonicalText": ("specification", "Every tag is refused.", FINGERPRINT),
        "MeaningChanged": ("specification", "A change of meaning leaves the number as it was, and tags are misread.", FINGERPRINT),
        "ShapeChanged": ("specification", "A change of shape leaves the number as it was, and tags are misread.", FINGERPRINT),
        "SameFingerprint": ("version", "A tag of the reader's own specification is refused.", FINGERPRINT),
    },
    "link-frames": {
        "Stuffing": ("framing", "Bodies of certain lengths or with certain zeros come out wrong.", COBS),
        "PaperEnding": ("framing", "Frames of the other common kind of encoder are refused.", COBS),
        "LongestFrame": ("boundary", "The longest frame overruns a buffer, or is refused.", cwe(193, LINK)),
        "Idle": ("framing", "Filling is reported as damage.", LINK),
        "Several": ("framing", "Only the first frame of a chunk is found.", LINK),
        "Splits": ("framing", "A frame that arrives in pieces is lost, as it does on every real line.", LINK),
        "NoiseBefore": ("resynchronisation", "A frame behind noise is lost.", LINK),
        "NoiseAttached": ("resynchronisation", "Noise without a delimiter costs the good frame behind it: readings are lost.", LINK),
        "StuffingInvalid": ("resynchronisation", "A code is followed behind the end of the frame.", cwe(125, LINK)),
        "ChecksumMismatch": ("integrity", "A damaged message is acted on.", cwe(354, LINK)),
        "TooShort": ("length", "The length of a body becomes negative.", cwe(191, LINK)),
        "TooLong": ("length", "A line that never sends a delimiter fills the memory, or what follows it is lost.", cwe(770, LINK)),
        "DelimiterLost": ("resynchronisation", "Two frames are lost where one is.", LINK),
        "DelimiterAdded": ("resynchronisation", "Half a frame is taken for one.", LINK),
        "Truncated": ("resynchronisation", "The last, incomplete frame is passed on, or its loss is never told.", LINK),
    },
    "link-messages": {
        "RequestId": ("dispatch", "An answer is given to the wrong request.", LINK),
        "Count": ("length", "Words are read behind the end of the message, or words that came are lost.", cwe(130, LINK)),
        "TooShort": ("length", "Bytes that never came are read as zeros.", cwe(130, LINK)),
        "Trailing": ("length", "Bytes of a later version are dropped without a word.", LINK),
        "MessageUnknown": ("dispatch", "A message is ignored, and the host waits for an answer that never comes.", LINK),
        "WrongDirection": ("dispatch", "A line that echoes makes a kit answer itself.", LINK),
    },
    "link-refusal": {
        "Number": ("closed-list", "A refusal is told under another reason's name.", f"{MAP}, reasons"),
        "NumberUnknown": ("closed-list", "A reason of a later version stops the session instead of being shown by its number.", LINK),
        "About": ("dispatch", "The refusal is told about another message, or one from the wrong side.", LINK),
    },
    "llrp-messages": {
        "Published": ("none", "Nothing works.", LLRP),
        "UnknownTlv": ("dispatch", "A reader with one parameter more cannot be used at all.", LLRP),
        "Custom": ("dispatch", "A maker's own parameter stops the whole message.", LLRP),
        "Signed": ("sign", "A weak signal is shown as a strong one.", cwe(194, LLRP)),
        "Bits": ("boundary", "An array of bits is read as so many bytes.", LLRP),
        "Version11": ("version", "Readers of version 1.1 are refused.", LLRP),
        "HeaderLength": ("length", "Memory is set aside for as many bytes as a stranger says.", cwe(789, LLRP)),
        "NestedLength": ("length", "A parameter reaches into what stands behind its container, or a loop never ends.", cwe(130, LLRP)),
        "UnknownTv": ("dispatch", "A parameter without a length is passed over by a guess.", LLRP),
        "Unexpected": ("dispatch", "A parameter counts where the standard has none of its kind.", LLRP),
        "Missing": ("missing-value", "A report without an EPC is given to some tag.", LLRP),
        "CountLie": ("length", "Elements are read behind the end of the parameter.", cwe(130, LLRP)),
        "Unspoken": ("version", "A message of another version or of no known type is read all the same.", LLRP),
        "Reserved": ("reserved-bits", "A stream that has lost its place goes on being read.", LLRP),
        "Cut": ("length", "Bytes that never came are read, or those of the next message are lost.", cwe(130, LLRP)),
        "Message": ("dispatch", "A message of the standard is refused, or read as another.", LLRP),
        "Parameter": ("byte-order", "A field is read in the wrong place or width, or under another's name.", LLRP),
        "Array": ("length", "The count is taken in other units than the elements have.", LLRP),
        "Depth": ("length", "A parameter that contains itself again and again exhausts the stack.", cwe(674, LLRP)),
    },
    "llrp-stream": {
        "Splits": ("framing", "A message that arrives in pieces is lost.", LLRP),
        "Several": ("framing", "Only the first message of a chunk is found.", LLRP),
        "Refused": ("resynchronisation", "One message that is not understood costs all that follow it.", LLRP),
        "Lost": ("resynchronisation", "After a header that cannot be one, chance bytes are taken for messages.", LLRP),
        "Hostile": ("length", "Memory is set aside for as many bytes as a stranger says.", cwe(789, LLRP)),
        "Truncated": ("resynchronisation", "The last, incomplete message is passed on, or its loss is never told.", LLRP),
    },
    "air": {
        "Command": ("none", "Nothing works.", GEN2),
        "Reply": ("none", "Nothing works.", GEN2),
        "Pointer": ("encoding", "Words from 128 on cannot be addressed.", GEN2),
        "LongPointer": ("encoding", "A pointer with leading blocks of zero is refused.", GEN2),
        "Covered": ("encoding", "A password or data goes over the air as it is.", GEN2),
        "Checksum": ("integrity", "A damaged command is carried out.", cwe(354, GEN2)),
        "Length": ("length", "Bits that never came are read as zeros.", cwe(130, GEN2)),
        "Code": ("dispatch", "A command that is none is carried out as another.", GEN2),
        "Later": ("closed-list", "A value kept for later is carried out.", GEN2),
    },
}  # fmt: skip


def defects_of(kind, flags):
    """The entries of a file, by flag, in the order of its notes."""
    out = {}
    for flag in flags:
        entry = BY_KIND.get(kind, {}).get(flag) or COMMON[flag]
        assert entry[0] in KINDS, (kind, flag, entry[0])
        out[flag] = dict(zip(("kind", "effect", "reference"), entry, strict=True))
    return out
