/** Messages of the link between host and reader kit, in the same vocabulary as the tag's memory. Big-endian throughout. */
import type {
  EnumerationField,
  FieldSpec,
  MessageSpec,
  NumberField,
  RecordSpec,
  TailArray,
} from "../model/vocabulary.ts";

/** Version of the link protocol itself, exchanged by hello. */
export const LINK_VERSION = 1;

type Count = Partial<Pick<NumberField, "unit" | "scale" | "range" | "type" | "bits" | "sentinels">>;

function number(id: string, at: number, container: 8 | 16 | 32 | 64, why: string, more: Count = {}): NumberField {
  return {
    id,
    type: "unsigned",
    at,
    container,
    bits: [container - 1, 0],
    unit: "one",
    scale: { num: 1, den: 1 },
    rounding: "half-away-from-zero",
    outOfRange: "reject",
    range: [0, 2 ** container - 1],
    why,
    ...more,
  };
}

/** Kit time, 48 bits of a 64-bit container: 8.9 years before it wraps. */
function kitTime(at: number): FieldSpec[] {
  return [
    {
      id: "kit_time_reserved",
      type: "reserved",
      at,
      container: 64,
      bits: [63, 48],
      why: "Keeps every raw value a safe integer in every language.",
    },
    number(
      "kit_time",
      at,
      64,
      "The kit's own clock: readings are ordered by it, not by when the host got round to them.",
      {
        bits: [47, 0],
        unit: "microsecond",
        range: [0, 2 ** 48 - 1],
      },
    ),
  ];
}

function bankField(at: number): EnumerationField {
  return {
    id: "bank",
    type: "enumeration",
    at,
    container: 8,
    bits: [7, 0],
    why: "Memory bank by Gen2's MemBank number.",
    names: [
      { raw: 0, id: "reserved" },
      { raw: 1, id: "epc" },
      { raw: 2, id: "tid" },
      { raw: 3, id: "user" },
    ],
  };
}

/** Result of an access: 0, or the number of a reason code. */
function resultField(at: number): EnumerationField {
  return {
    id: "result",
    type: "enumeration",
    at,
    container: 8,
    bits: [7, 0],
    why: "What came of the access; every value but the first two is the number of a reason code.",
    names: [
      { raw: 0, id: "done" },
      { raw: 1, id: "not_asked" },
      { raw: 60, id: "tag_lost" },
      { raw: 61, id: "tag_memory_overrun" },
      { raw: 62, id: "tag_memory_locked" },
      { raw: 63, id: "tag_power_insufficient" },
      { raw: 64, id: "tag_error" },
      { raw: 65, id: "password_wrong" },
    ],
  };
}

const epcTail: TailArray = { id: "epc", why: "The EPC, as many words as said.", container: 16, count: "epc_words" };
const wordTail: TailArray = {
  id: "words",
  why: "The memory words, as many as said.",
  container: 16,
  count: "word_count",
};
const epcWords = (at: number) =>
  number("epc_words", at, 8, "Words of EPC that follow; Gen2 allows 31.", { unit: "word", range: [0, 31] });
const wordCount = (at: number) => number("word_count", at, 8, "Words of memory.", { unit: "word" });

/** Password, bank, pointer, words and EPC: the part that every access request shares. */
function access(id: string, title: string, why: string, data: boolean): RecordSpec {
  return {
    id,
    title,
    why,
    bytes: 9,
    fields: [
      number("password", 0, 32, "Access password; 0 when none is needed."),
      bankField(4),
      number("pointer", 5, 16, "First word."),
      wordCount(7),
      epcWords(8),
    ],
    tails: data ? [epcTail, wordTail] : [epcTail],
  };
}

const empty = (id: string, title: string, why: string): RecordSpec => ({ id, title, why, bytes: 0, fields: [] });

export const linkRecords: readonly RecordSpec[] = [
  {
    id: "envelope",
    title: "Start of every message",
    why: "Type and request id; the payload record follows, then the link checksum.",
    bytes: 3,
    fields: [
      number("type", 0, 8, "Which message this is."),
      number("request", 1, 16, "Answers carry the id of their request; 0 where nothing was asked."),
    ],
  },
  {
    id: "hello",
    title: "Hello",
    why: "First request: which link version and how many requests the host wants under way.",
    bytes: 2,
    fields: [
      number("link_version", 0, 8, "Link protocol version of the host.", { range: [1, 255] }),
      number("max_outstanding", 1, 8, "Requests the host wants under way at once.", { range: [1, 255] }),
    ],
  },
  {
    id: "welcome",
    title: "Answer to hello",
    why: "What the kit is and what it can do.",
    bytes: 18,
    fields: [
      number("link_version", 0, 8, "Link protocol version of the kit.", { range: [1, 255] }),
      number("max_outstanding", 1, 8, "Requests the kit will hold at once: the lower of the two wishes.", {
        range: [1, 255],
      }),
      {
        id: "capabilities",
        type: "flags",
        at: 2,
        container: 16,
        bits: [15, 0],
        why: "What can be asked of this kit.",
        flags: [
          { bit: 0, id: "block_write", why: "BlockWrite is served." },
          { bit: 1, id: "lock", why: "Lock is served." },
          { bit: 2, id: "barometer", why: "The kit measures ambient pressure and reports it." },
          { bit: 3, id: "eu_lower", why: "Channel plan 865 to 868 MHz." },
          { bit: 4, id: "eu_upper", why: "Channel plan 915 to 921 MHz." },
          { bit: 5, id: "us", why: "Channel plan 902 to 928 MHz." },
        ],
      },
      number("power_low", 4, 16, "Lowest transmit power.", {
        type: "signed",
        unit: "decibel_milliwatt",
        scale: { num: 1, den: 100 },
        range: [-32_768, 32_767],
      }),
      number("power_high", 6, 16, "Highest transmit power.", {
        type: "signed",
        unit: "decibel_milliwatt",
        scale: { num: 1, den: 100 },
        range: [-32_768, 32_767],
      }),
      number("barometer_uncertainty", 8, 16, "Expanded uncertainty (k = 2) of the kit's barometer.", {
        unit: "pascal",
        range: [0, 65_534],
        sentinels: [{ raw: 65_535, id: "not_stated", means: "absent" }],
      }),
      ...kitTime(10),
    ],
  },
  {
    id: "set_power",
    title: "Set transmit power",
    why: "Conducted power at the antenna port.",
    bytes: 2,
    fields: [
      number("power", 0, 16, "Conducted power.", {
        type: "signed",
        unit: "decibel_milliwatt",
        scale: { num: 1, den: 100 },
        range: [-32_768, 32_767],
      }),
    ],
  },
  {
    id: "set_channel_plan",
    title: "Set channel plan",
    why: "Where the kit may transmit is a matter of the country it stands in.",
    bytes: 1,
    fields: [
      {
        id: "plan",
        type: "enumeration",
        at: 0,
        container: 8,
        bits: [7, 0],
        why: "Channel plan.",
        names: [
          { raw: 1, id: "eu_lower" },
          { raw: 2, id: "eu_upper" },
          { raw: 3, id: "us" },
        ],
      },
    ],
  },
  {
    id: "start_inventory",
    title: "Start inventory",
    why: "Round after round, with one Read on every tag that answers when words are asked for.",
    bytes: 6,
    fields: [
      number("period", 0, 16, "Time from one round to the next.", {
        unit: "second",
        scale: { num: 1, den: 1000 },
        range: [10, 60_000],
      }),
      bankField(2),
      number("pointer", 3, 16, "First word of the Read."),
      number("word_count", 5, 8, "Words of the Read; 0 for none.", { unit: "word" }),
    ],
  },
  empty("stop_inventory", "Stop inventory", "Ends the rounds; reports already made still arrive."),
  access("read", "Read", "Words of one tag.", false),
  access("write", "Write", "Words of one tag, one Write command each.", true),
  access("block_write", "Block write", "Words of one tag in one BlockWrite command.", true),
  {
    id: "lock",
    title: "Lock",
    why: "Gen2 Lock with its 20-bit payload: mask and action.",
    bytes: 9,
    fields: [
      number("password", 0, 32, "Access password; Lock needs one."),
      { id: "lock_reserved", type: "reserved", at: 4, container: 32, bits: [31, 20], why: "The payload has 20 bits." },
      number("mask", 4, 32, "Which of the ten lock bits to change.", { bits: [19, 10], range: [0, 1023] }),
      number("action", 4, 32, "Their new values.", { bits: [9, 0], range: [0, 1023] }),
      epcWords(8),
    ],
    tails: [epcTail],
  },
  {
    id: "kill",
    title: "Kill",
    why: "Gen2 Kill: the tag never answers again. One that is given another password falls silent too: both may be tag_lost.",
    bytes: 5,
    fields: [
      number("password", 0, 32, "Kill password; one of 0 never kills.", { range: [1, 2 ** 32 - 1] }),
      epcWords(4),
    ],
    tails: [epcTail],
  },
  empty("keep_alive", "Keep-alive", "Shows that the other side is there when nothing else is said."),
  empty("done", "Done", "Answer to a request that brings nothing back."),
  {
    id: "access_answer",
    title: "Answer to an access",
    why: "Result of read, write, block write, lock or kill.",
    bytes: 10,
    fields: [resultField(0), wordCount(1), ...kitTime(2)],
    tails: [wordTail],
  },
  {
    id: "error",
    title: "Error",
    why: "Why a message could not be served; an unknown message is answered with this, never ignored.",
    bytes: 4,
    fields: [
      number("reason", 0, 8, "Number of the reason code.", { range: [1, 255] }),
      number("about", 1, 8, "Type of the message it is about."),
      number("byte", 2, 16, "Byte of the message at which it went wrong; 0 when it is about the whole."),
    ],
  },
  {
    id: "tag_report",
    title: "Tag report",
    why: "One tag seen in one round, with the words read: everything a capture keeps.",
    bytes: 24,
    fields: [
      ...kitTime(0),
      number("pc", 8, 16, "The PC word as the tag sent it."),
      number("xpc", 10, 16, "XPC_W1, 0 when the tag sent none."),
      number("rssi", 12, 16, "Strength of the tag's reply at the kit.", {
        type: "signed",
        unit: "decibel_milliwatt",
        scale: { num: 1, den: 10 },
        range: [-32_767, 32_767],
        sentinels: [{ raw: -32_768, id: "not_measured", means: "absent" }],
      }),
      number("frequency", 14, 32, "Carrier frequency.", { unit: "kilohertz", range: [0, 4_294_967_295] }),
      resultField(18),
      bankField(19),
      number("pointer", 20, 16, "First word of the Read."),
      wordCount(22),
      epcWords(23),
    ],
    tails: [epcTail, wordTail],
  },
  {
    id: "ambient_report",
    title: "Ambient report",
    why: "The kit's barometer: without an ambient pressure no gauge pressure can be built.",
    bytes: 14,
    fields: [
      ...kitTime(0),
      number("pressure", 8, 32, "Absolute ambient pressure.", {
        unit: "pascal",
        scale: { num: 1, den: 128 },
        bits: [31, 0],
        range: [3_328_000, 16_128_000],
      }),
      number("temperature", 12, 16, "Temperature of the barometer.", {
        type: "signed",
        unit: "celsius",
        scale: { num: 1, den: 100 },
        range: [-4000, 12_500],
        sentinels: [{ raw: -32_768, id: "not_measured", means: "absent" }],
      }),
    ],
  },
];

const request = (code: number, id: string, answer: string): MessageSpec => ({
  id,
  code,
  direction: "to-kit",
  answer,
  record: id,
});
const toHost = (code: number, id: string): MessageSpec => ({ id, code, direction: "to-host", record: id });

/** Types below 40h are requests, 40h to 7Fh answers, 80h and above are said unasked. */
export const messages: readonly MessageSpec[] = [
  request(0x01, "hello", "welcome"),
  request(0x02, "set_power", "done"),
  request(0x03, "set_channel_plan", "done"),
  request(0x04, "start_inventory", "done"),
  request(0x05, "stop_inventory", "done"),
  request(0x06, "read", "access_answer"),
  request(0x07, "write", "access_answer"),
  request(0x08, "block_write", "access_answer"),
  request(0x09, "lock", "access_answer"),
  request(0x0a, "keep_alive", "done"),
  request(0x0b, "kill", "access_answer"),
  toHost(0x40, "done"),
  toHost(0x41, "welcome"),
  toHost(0x46, "access_answer"),
  toHost(0x7f, "error"),
  toHost(0x80, "tag_report"),
  toHost(0x82, "ambient_report"),
];
