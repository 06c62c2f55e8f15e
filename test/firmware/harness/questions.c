#include "questions.h"

#include "plyframe.h"

static uint32_t raw(const uint16_t *given, uint8_t index)
{
    return ((uint32_t)given[2u * index] << 16) | given[2u * index + 1u];
}

static void add(answer *told, uint32_t value)
{
    told->values[told->count++] = value;
}

static void add_words(answer *told, const uint16_t *words, uint8_t count)
{
    for (uint8_t i = 0; i < count; i++) {
        add(told, words[i]);
    }
}

static void add_signed(answer *told, int32_t value)
{
    add(told, (uint32_t)value);
}

static void decode_frame(const uint16_t *given, uint8_t count, answer *told)
{
    ply_frame frame;
    told->reason = ply_frame_decode(given, count, &frame);
    if (told->reason == 0u) {
        add(told, frame.status);
        add(told, frame.sequence);
        add(told, frame.pressure);
        add_signed(told, frame.temperature);
        add(told, frame.supply);
        add(told, frame.uptime);
    }
}

static void decode_counters(const uint16_t *given, uint8_t count, answer *told)
{
    ply_counters counters;
    told->reason = ply_counters_decode(given, count, &counters);
    if (told->reason == 0u) {
        add(told, counters.reuse_cycles);
        add(told, counters.cold_starts);
        add(told, counters.fruitless_starts);
        add(told, counters.brown_outs);
        add(told, counters.frames);
    }
}

static void decode_calibration(const uint16_t *given, uint8_t count, answer *told)
{
    ply_calibration found;
    told->reason = ply_calibration_decode(given, count, &found);
    if (told->reason == 0u) {
        add(told, found.method);
        add(told, found.reuse_since);
        add(told, found.date);
        add(told, found.sensor_serial);
        add(told, found.reuse_count);
        add_signed(told, found.offset);
        add(told, found.reuse_limit);
        add(told, found.gain);
        add_signed(told, found.temperature_effect);
        add_signed(told, found.gain_temperature);
        add_signed(told, found.curvature);
        add_signed(told, found.reference_temperature);
        add(told, found.expanded_uncertainty);
        add_signed(told, found.temperature_low);
        add_signed(told, found.temperature_high);
        add(told, found.span);
        add(told, found.validity);
    }
}

static void choose_slot(const uint16_t *given, answer *told)
{
    ply_frame frame;
    uint8_t slot = ply_slot_choose(given, &given[PLY_FRAME_WORDS], &frame);
    if (slot == PLY_SLOT_BOTH_BAD) {
        told->reason = PLY_REASON_SLOTS_BOTH_BAD;
    } else if (slot == PLY_SLOT_CONTRADICT) {
        told->reason = PLY_REASON_SLOTS_CONTRADICT;
    } else {
        add(told, slot);
        add(told, frame.sequence);
    }
}

static void encode_frame(const uint16_t *given, answer *told)
{
    uint16_t words[PLY_FRAME_WORDS];
    ply_frame frame;
    frame.status = (uint8_t)raw(given, 0);
    frame.sequence = (uint16_t)raw(given, 1);
    frame.pressure = raw(given, 2);
    frame.temperature = (int16_t)raw(given, 3);
    frame.supply = (uint16_t)raw(given, 4);
    frame.uptime = raw(given, 5);
    ply_frame_encode(&frame, words);
    add_words(told, words, PLY_FRAME_WORDS);
}

static void encode_counters(const uint16_t *given, answer *told)
{
    uint16_t words[PLY_COUNTERS_WORDS];
    ply_counters counters;
    counters.reuse_cycles = (uint8_t)raw(given, 0);
    counters.cold_starts = raw(given, 1);
    counters.fruitless_starts = (uint8_t)raw(given, 2);
    counters.brown_outs = raw(given, 3);
    counters.frames = raw(given, 4);
    ply_counters_encode(&counters, words);
    add_words(told, words, PLY_COUNTERS_WORDS);
}

static void encode_burst(const uint16_t *given, answer *told)
{
    uint16_t words[PLY_BURST_WORDS];
    ply_burst burst;
    burst.status = (uint8_t)raw(given, 0);
    burst.sequence = (uint16_t)raw(given, 1);
    burst.count = (uint8_t)raw(given, 2);
    burst.pressure = raw(given, 3);
    burst.interval = (uint16_t)raw(given, 4);
    burst.temperature = (int16_t)raw(given, 5);
    for (uint8_t i = 0; i < PLY_BURST_SAMPLES_COUNT; i++) {
        burst.samples[i] = (int16_t)raw(given, (uint8_t)(6u + i));
    }
    ply_burst_encode(&burst, words);
    add_words(told, words, PLY_BURST_WORDS);
}

void ask(uint16_t question, const uint16_t *given, uint8_t count, answer *told)
{
    told->reason = 0;
    told->count = 0;
    switch (question) {
    case ASK_FRAME_DECODE: decode_frame(given, count, told); break;
    case ASK_COUNTERS_DECODE: decode_counters(given, count, told); break;
    case ASK_CALIBRATION_DECODE: decode_calibration(given, count, told); break;
    case ASK_SLOTS: choose_slot(given, told); break;
    case ASK_FRAME_ENCODE: encode_frame(given, told); break;
    case ASK_COUNTERS_ENCODE: encode_counters(given, told); break;
    case ASK_BURST_ENCODE: encode_burst(given, told); break;
    default: told->reason = 255; break;
    }
}
