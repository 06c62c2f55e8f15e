/* libFuzzer target. The first byte of an input chooses what is done with the words behind it (two bytes each, big-endian,
   bit 7: their seal is mended first, so that what lies behind the checksum is reached). What must hold is numbered; a
   broken promise aborts with its number.

   1  No decoder reads beyond the words it was given, for any number of words, or does anything C leaves undefined
      (the sanitizers watch).
   2  A decoder answers 0 or a reason of its own list.
   3  What is accepted lies within the ranges of the specification.
   4  An accepted record, encoded again, gives the same words.
   5  A rejected record leaves the caller's structure as it was.
   6  Slot choice: each slot alone decodes as it does there; changing the slots' places changes the answer and nothing else.
   7  Whatever memory, sensor, supply and bridge do, the duty cycle does only what 1 allows, and a frame it committed is
      whole, with a sequence one later than the one before.
   8  The seal of any number of words is the one that its polynomial gives bit by bit.
   9  A burst, whatever its structure holds, is encoded to the places of the memory map, each field cut to its bits. */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "board.h"
#include "plyframe.h"

#define MOST_WORDS 80u

static void promise(int number, int kept)
{
    if (!kept) {
        fprintf(stderr, "promise %d is broken\n", number);
        abort();
    }
}

static int is_untouched(const void *structure, size_t size)
{
    const uint8_t *bytes = structure;
    for (size_t i = 0; i < size; i++) {
        if (bytes[i] != 0xA5u) {
            return 0;
        }
    }
    return 1;
}

static int is_common_reason(uint8_t reason)
{
    return reason <= PLY_REASON_LAYOUT_UNKNOWN;
}

static void check_frame(const uint16_t *words, uint8_t count)
{
    ply_frame frame;
    uint16_t again[PLY_FRAME_WORDS];
    uint8_t reason;
    memset(&frame, 0xA5, sizeof frame);
    reason = ply_frame_decode(words, count, &frame);
    promise(2, is_common_reason(reason) || reason == PLY_REASON_RESERVED_BIT_SET || reason == PLY_REASON_VALUE_OUT_OF_RANGE);
    if (reason != 0u) {
        promise(5, is_untouched(&frame, sizeof frame));
        return;
    }
    promise(3, (frame.pressure >= 3328000u && frame.pressure <= 16128000u) || frame.pressure == 0xFFFFFFu);
    promise(3, (frame.temperature >= -4000 && frame.temperature <= 12500) || frame.temperature == -32768);
    promise(3, frame.supply <= 4095u && frame.uptime <= 1048575u);
    ply_frame_encode(&frame, again);
    promise(4, memcmp(words, again, sizeof again) == 0);
}

static void check_counters(const uint16_t *words, uint8_t count)
{
    ply_counters counters;
    uint16_t again[PLY_COUNTERS_WORDS];
    uint8_t reason;
    memset(&counters, 0xA5, sizeof counters);
    reason = ply_counters_decode(words, count, &counters);
    promise(2, is_common_reason(reason));
    if (reason != 0u) {
        promise(5, is_untouched(&counters, sizeof counters));
        return;
    }
    promise(3, counters.brown_outs <= 0xFFFFFFu);
    ply_counters_encode(&counters, again);
    promise(4, memcmp(words, again, sizeof again) == 0);
}

static void check_calibration(const uint16_t *words, uint8_t count)
{
    ply_calibration found;
    uint8_t reason;
    memset(&found, 0xA5, sizeof found);
    reason = ply_calibration_decode(words, count, &found);
    promise(2, is_common_reason(reason) || reason == PLY_REASON_NAME_UNKNOWN || reason == PLY_REASON_VALUE_OUT_OF_RANGE);
    if (reason != 0u) {
        promise(5, is_untouched(&found, sizeof found));
        return;
    }
    promise(3, found.method >= 1u && found.method <= 5u && found.reuse_since <= 15u);
    promise(3, found.sensor_serial >= 1u && found.reuse_count <= 254u && found.span >= 1u && found.validity >= 1u);
    promise(3, found.offset >= -8388608 && found.offset <= 8388607);
    promise(3, found.gain >= 262144u && found.gain <= 4194304u);
    promise(3, found.reference_temperature >= -4000 && found.reference_temperature <= 12500);
    promise(3, found.temperature_low >= -40 && found.temperature_low <= 125);
    promise(3, found.temperature_high >= -40 && found.temperature_high <= 125);
}

static void check_slots(const uint16_t *words, uint8_t count)
{
    const uint16_t *a = words;
    const uint16_t *b = words + PLY_FRAME_WORDS;
    ply_frame chosen;
    ply_frame alone;
    uint8_t answer;
    uint8_t swapped;
    if (count != 2u * PLY_FRAME_WORDS) {
        return;
    }
    answer = ply_slot_choose(a, b, &chosen);
    promise(6, answer <= PLY_SLOT_CONTRADICT);
    if (answer < PLY_SLOT_BOTH_BAD) {
        promise(6, ply_frame_decode(answer == 0u ? a : b, PLY_FRAME_WORDS, &alone) == 0u);
        promise(6, alone.sequence == chosen.sequence && alone.pressure == chosen.pressure);
    }
    swapped = ply_slot_choose(b, a, &alone);
    if (answer >= PLY_SLOT_BOTH_BAD || memcmp(a, b, PLY_FRAME_WORDS * sizeof *a) == 0) {
        promise(6, swapped == answer);
    } else {
        promise(6, swapped == 1u - answer);
    }
}

static void run_duty_cycle(const uint16_t *words, uint8_t count)
{
    ply_tag tag;
    uint8_t at = 0;
    memset(&board, 0, sizeof board);
    for (uint8_t i = 0; i < PLY_USER_WORDS && count > 0u; i++) {
        board.words[i] = words[i % count];
    }
    ply_start(&tag);
    for (uint16_t step = 0; step < 200u && count > 0u; step++) {
        ply_phase phase = tag.phase;
        uint8_t slot = tag.slot;
        uint16_t sequence = tag.frame.sequence;
        uint16_t bits = words[at % count];
        board.sensor_starts = (bits & 7u) != 0u;
        board.sensor_ready = (bits & 0x38u) != 0u;
        board.sensor_reads = (bits & 0x1C0u) != 0u;
        board.bridge_reads = (bits & 0xE00u) != 0u;
        board.writes_left = (bits & 0x7000u) != 0u ? 255u : (uint8_t)(bits & 15u);
        board.sleeps_short = bits >> 15;
        board.supply_mv = (uint16_t)(1500u + (words[(at + 1u) % count] & 0xFFFu));
        board.pressure = (uint32_t)words[(at + 2u) % count] << 9;
        board.temperature = (int16_t)words[(at + 3u) % count];
        board.now_ms += words[(at + 4u) % count] & 0xFFu;
        at = (uint8_t)((at + 5u) % count);
        (void)ply_step(&tag);
        promise(7, tag.phase <= PLY_COMMIT_BURST && tag.slot <= 1u && tag.counters_copy <= 1u);
        if (phase == PLY_COMMIT_FRAME && tag.slot != slot) {
            ply_frame frame;
            promise(7, ply_frame_decode(&board.words[slot == 0u ? PLY_WORD_SLOT_A : PLY_WORD_SLOT_B], PLY_FRAME_WORDS, &frame) == 0u);
            promise(7, frame.sequence == sequence && tag.frame.sequence == (uint16_t)(sequence + 1u));
        }
    }
}

static uint16_t seal_by_bits(const uint16_t *words, uint8_t count)
{
    uint16_t seal = 0x504Cu;
    for (uint16_t bit = 0; bit < 16u * count; bit++) {
        uint16_t carry = (uint16_t)((seal >> 15) ^ ((words[bit / 16u] >> (15u - bit % 16u)) & 1u));
        seal = (uint16_t)((uint16_t)(seal << 1) ^ (carry != 0u ? 0x1021u : 0u));
    }
    return seal;
}

static void check_seal(const uint16_t *words, uint8_t count)
{
    promise(8, ply_seal(words, count) == seal_by_bits(words, count));
}

static void check_burst(const uint16_t *words, uint8_t count)
{
    ply_burst burst;
    size_t given = count * sizeof *words;
    uint16_t *found = malloc(PLY_BURST_WORDS * sizeof *found);
    if (found == NULL) {
        return;
    }
    memset(&burst, 0, sizeof burst);
    memcpy(&burst, words, given < sizeof burst ? given : sizeof burst);
    ply_burst_encode(&burst, found);
    promise(9, found[0] == (0x5100u | burst.status) && found[1] == burst.sequence);
    promise(9, found[2] == (burst.count << 8 | (burst.pressure >> 16 & 0xFFu)) && found[3] == (burst.pressure & 0xFFFFu));
    promise(9, found[4] == burst.interval && found[5] == (uint16_t)burst.temperature);
    for (uint8_t i = 0; i < 25u; i++) {
        promise(9, found[6u + i] == (uint16_t)burst.samples[i]);
    }
    promise(9, found[31] == seal_by_bits(found, 31));
    free(found);
}

static void mend(uint16_t *words, uint8_t at, uint8_t length, uint8_t count)
{
    if (count >= at + length) {
        words[at + length - 1u] = ply_seal(words + at, (uint8_t)(length - 1u));
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    uint8_t count;
    uint8_t mended;
    uint16_t *words;
    if (size < 1u || size > 1u + 2u * MOST_WORDS) {
        return 0;
    }
    count = (uint8_t)((size - 1u) / 2u);
    /* Exactly as long as what is given, so that a read beyond it is seen. */
    words = malloc(count > 0u ? count * sizeof *words : 1u);
    if (words == NULL) {
        return 0;
    }
    for (uint8_t i = 0; i < count; i++) {
        words[i] = (uint16_t)(data[1u + 2u * i] << 8 | data[2u + 2u * i]);
    }
    mended = data[0] >> 7;
    switch (data[0] & 7u) {
    case 0:
        if (mended) {
            mend(words, 0, PLY_FRAME_WORDS, count);
        }
        check_frame(words, count);
        break;
    case 1:
        if (mended) {
            mend(words, 0, PLY_COUNTERS_WORDS, count);
        }
        check_counters(words, count);
        break;
    case 2:
        if (mended) {
            mend(words, 0, PLY_CALIBRATION_WORDS, count);
        }
        check_calibration(words, count);
        break;
    case 3:
        if (mended) {
            mend(words, 0, PLY_FRAME_WORDS, count);
            mend(words, PLY_FRAME_WORDS, PLY_FRAME_WORDS, count);
        }
        check_slots(words, count);
        break;
    case 4: check_seal(words, count); break;
    case 5: check_burst(words, count); break;
    default: run_duty_cycle(words, count); break;
    }
    free(words);
    return 0;
}
