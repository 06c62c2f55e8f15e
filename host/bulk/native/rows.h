/* From one read to one row: the tag's number, the verdict on every region, the newest whole frame and its fields. */
#ifndef PLYFRAME_ROWS_H
#define PLYFRAME_ROWS_H

#include "columns.h"

/* Verdicts that are no reason of the codec: nothing read, and a whole region that is judged elsewhere. */
#define NOT_READ 0xffffu
#define UNJUDGED 0xfffeu

typedef struct {
    double kit_time_us;
    double rssi_dbm;
    uint32_t byte;
    uint32_t epc_bytes;
    uint32_t pc;
    uint32_t xpc;
    uint32_t frequency_khz;
    uint32_t result;
    uint32_t bank;
    uint32_t word;
    uint32_t data_bytes;
} read_row;

typedef uint8_t record16 __attribute__((vector_size(16)));
typedef uint32_t words4 __attribute__((vector_size(16)));

/* Sixteen bytes as four big-endian words: one shuffle, for WebAssembly has no instruction to swap bytes. */
static inline words4 big_endian(const uint8_t *at)
{
    record16 bytes;
    __builtin_memcpy(&bytes, at, 16);
    return (words4)__builtin_shufflevector(bytes, bytes, 3, 2, 1, 0, 7, 6, 5, 4, 11, 10, 9, 8, 15, 14, 13, 12);
}

/* Number of the EPC that was put behind the ones known; a new one is kept there. */
static uint32_t tag_number(uint32_t bytes)
{
    uint8_t *epc = tag_bytes + state[TAG_COUNT] * TAG_BYTES;
    uint64_t words[TAG_BYTES / 8u];
    __builtin_memset(epc + bytes, 0, 8);
    uint32_t count = (bytes + 7u) / 8u;
    uint64_t hash = bytes;
    for (uint32_t i = 0; i < count; i++) {
        __builtin_memcpy(&words[i], epc + 8u * i, 8);
        hash = (hash ^ words[i]) * 0x9e3779b97f4a7c15u;
        hash ^= hash >> 29;
    }
    for (uint32_t at = (uint32_t)(hash >> 40) % HASHES;; at = (at + 1u) % HASHES) {
        uint32_t known = tag_by_hash[at];
        if (known == 0u) {
            uint32_t number = state[TAG_COUNT]++;
            tag_by_hash[at] = (uint16_t)(number + 1u);
            tag_length[number] = bytes;
            for (uint32_t region = 0; region < REGIONS; region++) seen_verdict[number][region] = NOT_READ;
            return number;
        }
        known--;
        if (tag_length[known] != bytes) continue;
        const uint8_t *other = tag_bytes + known * TAG_BYTES;
        uint64_t difference = 0;
        for (uint32_t i = 0; i < count; i++) {
            uint64_t word;
            __builtin_memcpy(&word, other + 8u * i, 8);
            difference |= word ^ words[i];
        }
        if (difference == 0u) return known;
    }
}

/* Later of two serial numbers by RFC 1982: 1 the first (or the same), 2 the second, 0 when there is no order. */
static inline uint32_t later(uint32_t a, uint32_t b)
{
    uint32_t distance = (a - b) & 0xffffu;
    return distance == 0x8000u ? 0u : distance < 0x8000u ? 1u : 2u;
}

/* Verdict on a region of `count` words from `first`, of a read from `word` up to `end`. */
#define JUDGE(index, id, first, count, judge) \
    { \
        uint32_t verdict = NOT_READ; \
        if (word <= (first) && end >= (first) + (count)) { \
            whole |= 1u << (index); \
            verdict = judge_again(judge, bytes + 2u * ((first) - word), seen[tag][index], &seen_verdict[tag][index]); \
        } else if (word < (first) + (count) && end > (first)) { \
            part |= 1u << (index); \
            verdict = PLY_BULK_TOO_SHORT; \
        } \
        id##_verdict[row] = (uint16_t)verdict; \
    }
typedef uint16_t judge_function(uint32_t a, uint32_t b, uint32_t c, uint32_t d);

static inline __attribute__((always_inline)) uint32_t judge_words(judge_function *judge, const uint8_t *at)
{
    words4 words = big_endian(at);
    return judge(words[0], words[1], words[2], words[3]);
}

static inline int is_same_record(const uint8_t *a, const uint8_t *b)
{
    uint64_t first[2], second[2];
    __builtin_memcpy(first, a, 16);
    __builtin_memcpy(second, b, 16);
    return first[0] == second[0] && first[1] == second[1];
}

/* The verdict on a record, which need not be worked out when it is the one that was seen last. */
static inline __attribute__((always_inline)) uint32_t judge_again(judge_function *judge, const uint8_t *at, uint8_t *last,
                                                                  uint16_t *verdict)
{
    if (judge == 0) return UNJUDGED;
    if (*verdict == NOT_READ || !is_same_record(at, last)) {
        __builtin_memcpy(last, at, 16);
        *verdict = (uint16_t)judge_words(judge, at);
    }
    return *verdict;
}

#define INDEX_OF(index, id, first, count, judge) id##_index = index, id##_word = first,
enum { PLY_BULK_REGIONS(INDEX_OF) };
#define IS_JUDGED_ELSEWHERE(index, id, first, count, judge) | ((judge) == 0 ? 1u << (index) : 0u)

static inline void store_frame(uint32_t row, const uint8_t *at)
{
    words4 words = big_endian(at);
    uint32_t a = words[0], b = words[1], c = words[2], d = words[3];
#define STORE(id, type) id##_field[row] = ply_frame_##id(a, b, c, d);
    PLY_BULK_FIELDS(STORE)
}

/* 1 or 2 for the slot with the newest whole frame; 0 when neither is whole or the two cannot be ordered. */
static inline uint32_t choose(uint32_t row, const uint8_t *a, const uint8_t *b)
{
    if (slot_a_verdict[row] != 0u) return slot_b_verdict[row] == 0u ? 2u : 0u;
    if (slot_b_verdict[row] != 0u) return 1u;
    uint32_t sequence_a = (uint32_t)ply_frame_sequence(big_endian(a)[0], 0, 0, 0);
    uint32_t sequence_b = (uint32_t)ply_frame_sequence(big_endian(b)[0], 0, 0, 0);
    if (sequence_a == sequence_b && !is_same_record(a, b)) return 0u;
    return later(sequence_a, sequence_b);
}

static void judge_user(uint32_t row, uint32_t tag, uint32_t word, uint32_t words, const uint8_t *bytes)
{
    uint32_t end = word + words, whole = 0, part = 0, slot = 0;
    PLY_BULK_REGIONS(JUDGE)
    uint32_t both = 1u << slot_a_index | 1u << slot_b_index;
    uint32_t slots = (whole | part) & both;
    if ((whole & both) == both) {
        const uint8_t *a = bytes + 2u * (slot_a_word - word);
        const uint8_t *b = bytes + 2u * (slot_b_word - word);
        slot = choose(row, a, b);
        if (slot != 0u) store_frame(row, slot == 1u ? a : b);
    }
    slot_column[row] = (uint8_t)slot;
    partial_column[row] = part != 0u || words == 0u || (slots != 0u && slots != both);
    if (whole & (0u PLY_BULK_REGIONS(IS_JUDGED_ELSEWHERE))) state[UNJUDGED_COUNT]++;
}

/* One more row. The EPC stands behind the tags known, the words behind the data taken. */
static void add_read(const read_row *read)
{
    uint32_t row = state[ROW_COUNT]++;
    uint32_t words = read->data_bytes / 2u;
    line_column[row] = state[LINE_COUNT];
    byte_column[row] = read->byte - state[ORIGIN];
    kit_time_us_column[row] = read->kit_time_us;
    tag_column[row] = tag_number(read->epc_bytes);
    pc_column[row] = (uint16_t)read->pc;
    xpc_column[row] = (uint16_t)read->xpc;
    rssi_dbm_column[row] = read->rssi_dbm;
    frequency_khz_column[row] = read->frequency_khz;
    result_column[row] = (uint8_t)read->result;
    bank_column[row] = (uint8_t)read->bank;
    word_column[row] = (uint16_t)read->word;
    words_column[row] = (uint16_t)words;
    data_at_column[row] = state[DATA_COUNT];
    if (read->result == PLY_BULK_DONE && read->bank == PLY_BULK_USER) {
        judge_user(row, tag_column[row], read->word, words, data + state[DATA_COUNT]);
    } else {
#define FORGET(index, id, first, count, judge) id##_verdict[row] = NOT_READ;
        PLY_BULK_REGIONS(FORGET)
        slot_column[row] = 0;
        partial_column[row] = 0;
    }
    if (slot_column[row] == 0u) {
#define CLEAR(id, type) id##_field[row] = 0;
        PLY_BULK_FIELDS(CLEAR)
    }
    /* As nearly all are: a good header, a whole frame, nothing cut short and no burst. */
    if (slot_column[row] == 0u || partial_column[row] || header_verdict[row] != 0u || burst_verdict[row] != NOT_READ) {
        odd_column[state[ODD_COUNT]++] = (uint16_t)row;
    }
    state[DATA_COUNT] += read->data_bytes;
    state[LINE_COUNT]++;
}

static void add_ambient(uint32_t byte, double kit_time_us, double pressure_raw, double temperature_c)
{
    uint32_t row = state[AMBIENT_COUNT]++;
    ambient_line_column[row] = state[LINE_COUNT]++;
    ambient_byte_column[row] = byte - state[ORIGIN];
    ambient_kit_time_us_column[row] = kit_time_us;
    ambient_pressure_raw_column[row] = (uint32_t)pressure_raw;
    ambient_temperature_c_column[row] = temperature_c;
}

#endif
