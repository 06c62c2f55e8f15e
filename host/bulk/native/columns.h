/* Columns of one batch and what a decoder needs beside them: static memory that the host reads and writes by address.
   The columns are those of host/bulk/columns.ts, in the same order. */
#ifndef PLYFRAME_COLUMNS_H
#define PLYFRAME_COLUMNS_H

#include <stdint.h>

#include "../../../protocol/emitted/bulk.h"

#define INPUT_BYTES (2u * 1024u * 1024u + 65536u)
#define ROWS 8192u
#define DATA_BYTES (512u * 1024u)
/* Loads and stores of whole vectors reach beyond what is meant. */
#define SLACK 1088u
#define TAG_BYTES 64u
#define HASHES 32768u

/* What came in, and the words that were read. */
static uint8_t input[INPUT_BYTES + SLACK];
static uint8_t data[DATA_BYTES + SLACK];

/* Counts of the batch so far; ORIGIN is the place in `input` of the batch's first byte. */
enum { ROW_COUNT, AMBIENT_COUNT, TAG_COUNT, DATA_COUNT, LINE_COUNT, ORIGIN, UNJUDGED_COUNT, ODD_COUNT, STATE_COUNT };
static uint32_t state[STATE_COUNT];

/* EPCs of the batch, each in TAG_BYTES bytes. */
static uint8_t tag_bytes[(ROWS + 1u) * TAG_BYTES + SLACK];
static uint32_t tag_length[ROWS + 1u];
static uint16_t tag_by_hash[HASHES];

/* The last record seen of each tag in each region, and the verdict on it: header and counters are nearly always the same again,
   and so is the slot that was not written. NOT_READ for none yet. */
#define REGIONS 8u
static uint8_t seen[ROWS + 1u][REGIONS][16];
static uint16_t seen_verdict[ROWS + 1u][REGIONS];

/* X(type, name) for every column of a read, then those by region and by field. */
#define READ_COLUMNS(X) \
    X(uint32_t, line) X(uint32_t, byte) X(double, kit_time_us) X(uint32_t, tag) X(uint16_t, pc) X(uint16_t, xpc) \
    X(double, rssi_dbm) X(uint32_t, frequency_khz) X(uint8_t, result) X(uint8_t, bank) X(uint16_t, word) \
    X(uint16_t, words) X(uint32_t, data_at) X(uint8_t, partial) X(uint8_t, slot)
#define AMBIENT_COLUMNS(X) \
    X(uint32_t, ambient_line) X(uint32_t, ambient_byte) X(double, ambient_kit_time_us) X(uint32_t, ambient_pressure_raw) \
    X(double, ambient_temperature_c)

#define DEFINE(type, name) static type name##_column[ROWS];
READ_COLUMNS(DEFINE)
AMBIENT_COLUMNS(DEFINE)
/* Rows that are not as nearly all are: see add_read(). */
static uint16_t odd_column[ROWS];
#define DEFINE_REGION(index, id, word, words, judge) static uint16_t id##_verdict[ROWS];
PLY_BULK_REGIONS(DEFINE_REGION)
#define DEFINE_FIELD(id, type) static type id##_field[ROWS];
PLY_BULK_FIELDS(DEFINE_FIELD)

#endif
