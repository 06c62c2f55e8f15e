/* Scans JSON Lines whose members stand in a learned order: the text between the values is compared whole, the values are
   read in place. Compiled to WebAssembly for the host, and natively to be measured against. */
#include "rows.h"
#include "text.h"

#ifdef __wasm__
#define EXPORT(name) __attribute__((export_name(#name)))
#else
#define EXPORT(name)
#endif

#define LINE_LIMIT 65536
#define STEPS 48u
#define TEXT_BYTES 4096u
#define NAMES 16u
#define NAME_BYTES 32u

/* A text, and the kind of value behind it; the last step has no value. */
typedef struct {
    uint32_t text;
    uint32_t length;
    uint32_t value;
} step;

/* Kinds of value, in the order of host/bulk/template.ts. */
enum {
    LINE_END, KIT_TIME, EPC, PC, XPC, RSSI, FREQUENCY, RESULT, BANK, WORD, WORDS, AMBIENT_KIT_TIME, PRESSURE, TEMPERATURE,
    ANY
};

/* The learned order of a read and of an ambient report; without one the length of the first text is 0. */
static step steps[2][STEPS];
static uint8_t texts[2][TEXT_BYTES + SLACK];
static uint8_t masks[2][TEXT_BYTES + SLACK];

/* Lowest and highest value of every kind, numbers as they are and hex in bytes. */
static double limits[ANY + 1][2];

/* Names of results, then of banks, each with its closing quote and, in the last two bytes, its length and raw value. */
static uint8_t names[2][NAMES][NAME_BYTES];
static uint8_t name_masks[2][NAMES][NAME_BYTES];

typedef struct {
    read_row read;
    double pressure_raw;
    double temperature_c;
} report;

static inline const uint8_t *name(const uint8_t *p, uint32_t list, uint32_t *raw)
{
    for (uint32_t i = 0; i < NAMES; i++) {
        const uint8_t *text = names[list][i];
        uint32_t length = text[NAME_BYTES - 2u];
        if (length == 0u) return 0;
        if (!stands(p, text, name_masks[list][i], length)) continue;
        *raw = text[NAME_BYTES - 1u];
        // The closing quote belongs to the text that follows.
        return p + length - 1u;
    }
    return 0;
}

static inline const uint8_t *within(const uint8_t *p, uint32_t kind, double value)
{
    return value >= limits[kind][0] && value <= limits[kind][1] ? p : 0;
}

static inline const uint8_t *counted(const uint8_t *p, uint32_t kind, double *value)
{
    p = whole_number(p, value);
    return p ? within(p, kind, *value) : 0;
}

static inline const uint8_t *measured(const uint8_t *p, uint32_t kind, double *value)
{
    p = decimal_or_null(p, value);
    return p == 0 || *value != *value ? p : within(p, kind, *value);
}

/* Whole 16-bit words in hex. */
static inline const uint8_t *hex_words(const uint8_t *p, uint32_t kind, uint8_t *to, uint32_t *bytes)
{
    p = hex(p, to, (uint32_t)limits[kind][1], bytes);
    return p && *bytes % 2u == 0u ? within(p, kind, *bytes) : 0;
}

/* The report at `p` by a learned order, and where its line ends; 0 when it does not fit. */
static inline const uint8_t *match(uint32_t which, const uint8_t *p, report *to)
{
    double number = 0;
    for (const step *at = steps[which]; at->length != 0u; at++) {
        if (!stands(p, texts[which] + at->text, masks[which] + at->text, at->length)) return 0;
        p += at->length;
        switch (at->value) {
        case LINE_END: return p;
        case KIT_TIME:
        case AMBIENT_KIT_TIME: p = counted(p, at->value, &to->read.kit_time_us); break;
        case EPC: p = hex_words(p, EPC, tag_bytes + state[TAG_COUNT] * TAG_BYTES, &to->read.epc_bytes); break;
        case PC: p = hex_word(p, &to->read.pc); break;
        case XPC: p = hex_word(p, &to->read.xpc); break;
        case RSSI: p = measured(p, RSSI, &to->read.rssi_dbm); break;
        case FREQUENCY: p = counted(p, FREQUENCY, &number); to->read.frequency_khz = (uint32_t)number; break;
        case RESULT: p = name(p, 0, &to->read.result); break;
        case BANK: p = name(p, 1, &to->read.bank); break;
        case WORD: p = counted(p, WORD, &number); to->read.word = (uint32_t)number; break;
        case WORDS: p = hex_words(p, WORDS, data + state[DATA_COUNT], &to->read.data_bytes); break;
        case PRESSURE: p = counted(p, PRESSURE, &to->pressure_raw); break;
        case TEMPERATURE: p = measured(p, TEMPERATURE, &to->temperature_c); break;
        default: p = any_value(p);
        }
        if (p == 0) return 0;
    }
    return 0;
}

static inline int is_full(void)
{
    return state[ROW_COUNT] >= ROWS || state[AMBIENT_COUNT] >= ROWS || state[DATA_COUNT] + 512u > DATA_BYTES;
}

/* Once, before anything else. */
EXPORT(prepare) void prepare(void)
{
    fill_hex_digits();
    for (uint32_t position = PLY_BULK_SEALED; position-- > 0u;) {
        for (uint32_t byte = 0; byte < 256u; byte++) {
            uint32_t reg = position + 1u < PLY_BULK_SEALED ? ply_bulk_table[(position + 1u) * 256u + byte] : byte << 8;
            for (uint32_t bit = 0; bit < 8u; bit++) {
                reg = ((reg << 1) ^ (reg & 0x8000u ? PLY_BULK_POLY : 0u)) & 0xffffu;
            }
            ply_bulk_table[position * 256u + byte] = (uint16_t)reg;
        }
    }
}

/* Begins a batch whose first byte is input[origin]. */
EXPORT(begin) void begin(uint32_t origin)
{
    __builtin_memset(state, 0, sizeof state);
    __builtin_memset(tag_by_hash, 0, sizeof tag_by_hash);
    state[ORIGIN] = origin;
}

/* Takes lines from input[from, to) as long as they fit and the columns hold them; gives the place of the first line that
   was not taken. input[to] must be 0. */
EXPORT(scan) uint32_t scan(uint32_t from, uint32_t to)
{
    const uint8_t *p = input + from;
    const uint8_t *end = input + to;
    report found = {0};
    while (p < end && !is_full()) {
        const uint8_t *next = match(0, p, &found);
        if (next != 0 && next - p <= LINE_LIMIT) {
            found.read.byte = (uint32_t)(p - input);
            add_read(&found.read);
        } else {
            next = match(1, p, &found);
            if (next == 0 || next - p > LINE_LIMIT) break;
            add_ambient((uint32_t)(p - input), found.read.kit_time_us, found.pressure_raw, found.temperature_c);
        }
        p = next;
    }
    return (uint32_t)(p - input);
}

/* A read that was judged line by line: its EPC and words were put where scan() would have put them. */
EXPORT(take_read)
void take_read(uint32_t byte, double kit_time_us, uint32_t epc_bytes, uint32_t pc, uint32_t xpc, double rssi_dbm,
               uint32_t frequency_khz, uint32_t result, uint32_t bank, uint32_t word, uint32_t data_bytes)
{
    read_row read = {kit_time_us, rssi_dbm, byte, epc_bytes, pc, xpc, frequency_khz, result, bank, word, data_bytes};
    add_read(&read);
}

EXPORT(take_ambient)
void take_ambient(uint32_t byte, double kit_time_us, double pressure_raw, double temperature_c)
{
    add_ambient(byte, kit_time_us, pressure_raw, temperature_c);
}

/* Judges `count` frames of 16 bytes at input[0] and stores their fields, whatever the verdict; the verdicts are slot A's. */
EXPORT(take_frames) void take_frames(uint32_t count)
{
    for (uint32_t row = 0; row < count; row++) {
        const uint8_t *at = input + 16u * row;
        slot_a_verdict[row] = (uint16_t)judge_words(ply_judge_frame, at);
        store_frame(row, at);
    }
}

/* Address of what the host reads and writes, in the order of host/bulk/wasm-engine.ts; 0 behind the last. */
#define ADDRESS_OF_COLUMN(type, name) name##_column,
#define ADDRESS_OF_VERDICT(index, id, first, count, judge) id##_verdict,
#define ADDRESS_OF_FIELD(id, type) id##_field,
EXPORT(address) void *address(uint32_t index)
{
    void *const all[] = {input, data, state, tag_bytes, tag_length, steps, texts, masks, limits, names, name_masks,
                         READ_COLUMNS(ADDRESS_OF_COLUMN) AMBIENT_COLUMNS(ADDRESS_OF_COLUMN) odd_column,
                         PLY_BULK_REGIONS(ADDRESS_OF_VERDICT) PLY_BULK_FIELDS(ADDRESS_OF_FIELD) 0};
    return all[index];
}
