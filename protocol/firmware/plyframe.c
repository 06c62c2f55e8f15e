#include "plyframe.h"

#include "plyframe_port.h"

/* A rare phase with arrays of its own is not merged into ply_step, where they would deepen every phase's stack. */
#if defined(__GNUC__)
#define PLY_APART __attribute__((noinline))
#else
#define PLY_APART
#endif

/* ---- Seal ------------------------------------------------------------------------------------------------------- */

/* A target that keeps constants in a flash of its own address space defines both. */
#if defined(__AVR__)
#include <avr/pgmspace.h>
#define PLY_TABLE_MEMORY PROGMEM
#define PLY_TABLE_READ(address) pgm_read_word(address)
#elif !defined(PLY_TABLE_READ)
#define PLY_TABLE_MEMORY
#define PLY_TABLE_READ(address) (*(address))
#endif

#if PLY_SEAL_TABLE == 16
static const uint16_t seal_table[16] PLY_TABLE_MEMORY = PLY_SEAL_BY_NIBBLE;
#elif PLY_SEAL_TABLE == 256
static const uint16_t seal_table[256] PLY_TABLE_MEMORY = PLY_SEAL_BY_BYTE;
#elif PLY_SEAL_TABLE != 0
#error "PLY_SEAL_TABLE is 0, 16 or 256"
#endif

static uint16_t seal_word(uint16_t seal, uint16_t word)
{
    seal = (uint16_t)(seal ^ word);
#if PLY_SEAL_TABLE == 256
    for (uint8_t i = 0; i < 2u; i++) {
        seal = (uint16_t)((uint16_t)(seal << 8) ^ PLY_TABLE_READ(&seal_table[seal >> 8]));
    }
#elif PLY_SEAL_TABLE == 16
    for (uint8_t i = 0; i < 4u; i++) {
        seal = (uint16_t)((uint16_t)(seal << 4) ^ PLY_TABLE_READ(&seal_table[seal >> 12]));
    }
#else
    for (uint8_t i = 0; i < 16u; i++) {
        seal = (uint16_t)((uint16_t)(seal << 1) ^ ((seal & 0x8000u) != 0u ? PLY_SEAL_POLY : 0u));
    }
#endif
    return seal;
}

uint16_t ply_seal(const uint16_t *words, uint8_t count)
{
    uint16_t seal = PLY_SEAL_PRESET;
    for (uint8_t i = 0; i < count; i++) {
        seal = seal_word(seal, words[i]);
    }
    return seal;
}

/* ---- Words ------------------------------------------------------------------------------------------------------ */

static uint32_t pair(const uint16_t *words)
{
    return ((uint32_t)words[0] << 16) | words[1];
}

static void set_pair(uint16_t *words, uint32_t value)
{
    words[0] = (uint16_t)(value >> 16);
    words[1] = (uint16_t)(value & 0xFFFFu);
}

/* Two's complement without a conversion that C leaves to the implementation. */
static int16_t signed_word(uint16_t word)
{
    return word < 0x8000u ? (int16_t)word : (int16_t)(-(int16_t)(0xFFFFu - word) - 1);
}

static int8_t signed_octet(uint8_t octet)
{
    return octet < 0x80u ? (int8_t)octet : (int8_t)(-(int8_t)(0xFFu - octet) - 1);
}

static uint8_t within(int32_t value, int32_t low, int32_t high)
{
    return value >= low && value <= high;
}

static uint16_t first_word(uint16_t kind, uint8_t low)
{
    return (uint16_t)((uint16_t)(kind << PLY_FRAME_KIND_SHIFT) | (uint16_t)(PLY_LAYOUT << PLY_FRAME_LAYOUT_SHIFT) | low);
}

/* What every sealed record is judged by before its fields. */
static uint8_t open_record(const uint16_t *words, uint8_t count, uint8_t length, uint16_t kind)
{
    uint16_t any = 0;
    if (count < length) {
        return PLY_REASON_RECORD_TOO_SHORT;
    }
    for (uint8_t i = 0; i < length; i++) {
        any |= words[i];
    }
    if (any == 0u) {
        return PLY_REASON_RECORD_EMPTY;
    }
    if (count > length) {
        return PLY_REASON_TRAILING_BYTES;
    }
    if (ply_seal(words, (uint8_t)(length - 1u)) != words[length - 1u]) {
        return PLY_REASON_CHECKSUM_MISMATCH;
    }
    if (((uint16_t)(words[0] >> PLY_FRAME_KIND_SHIFT) & PLY_FRAME_KIND_MASK) != kind) {
        return PLY_REASON_KIND_UNEXPECTED;
    }
    if (((uint16_t)(words[0] >> PLY_FRAME_LAYOUT_SHIFT) & PLY_FRAME_LAYOUT_MASK) != PLY_LAYOUT) {
        return PLY_REASON_LAYOUT_UNKNOWN;
    }
    return 0;
}

/* ---- Frame ------------------------------------------------------------------------------------------------------ */

void ply_frame_encode(const ply_frame *frame, uint16_t words[PLY_FRAME_WORDS])
{
    words[0] = first_word(PLY_FRAME_KIND, frame->status);
    words[1] = frame->sequence;
    set_pair(&words[2], frame->pressure & PLY_FRAME_PRESSURE_MASK);
    words[4] = (uint16_t)frame->temperature;
    set_pair(&words[5], ((uint32_t)(frame->supply & PLY_FRAME_SUPPLY_MASK) << PLY_FRAME_SUPPLY_SHIFT) |
                            (frame->uptime & PLY_FRAME_UPTIME_MASK));
    words[7] = ply_seal(words, PLY_FRAME_SEAL_WORD);
}

uint8_t ply_frame_decode(const uint16_t *words, uint8_t count, ply_frame *frame)
{
    uint32_t supply_uptime;
    uint32_t pressure;
    int16_t temperature;
    uint8_t reason = open_record(words, count, PLY_FRAME_WORDS, PLY_FRAME_KIND);
    if (reason != 0u) {
        return reason;
    }
    if ((words[2] >> 8) != 0u) {
        return PLY_REASON_RESERVED_BIT_SET;
    }
    pressure = pair(&words[2]);
    if ((pressure < PLY_FRAME_PRESSURE_MIN || pressure > PLY_FRAME_PRESSURE_MAX) &&
        pressure != PLY_FRAME_PRESSURE_NOT_MEASURED) {
        return PLY_REASON_VALUE_OUT_OF_RANGE;
    }
    temperature = signed_word(words[4]);
    if (!within(temperature, PLY_FRAME_TEMPERATURE_MIN, PLY_FRAME_TEMPERATURE_MAX) &&
        temperature != PLY_FRAME_TEMPERATURE_NOT_MEASURED) {
        return PLY_REASON_VALUE_OUT_OF_RANGE;
    }
    supply_uptime = pair(&words[5]);
    frame->status = (uint8_t)(words[0] & PLY_FRAME_STATUS_MASK);
    frame->sequence = words[1];
    frame->pressure = pressure;
    frame->temperature = temperature;
    frame->supply = (uint16_t)(supply_uptime >> PLY_FRAME_SUPPLY_SHIFT);
    frame->uptime = supply_uptime & PLY_FRAME_UPTIME_MASK;
    return 0;
}

/* ---- Counters --------------------------------------------------------------------------------------------------- */

void ply_counters_encode(const ply_counters *counters, uint16_t words[PLY_COUNTERS_WORDS])
{
    words[0] = first_word(PLY_COUNTERS_KIND, counters->reuse_cycles);
    set_pair(&words[1], counters->cold_starts);
    set_pair(&words[3], ((uint32_t)counters->fruitless_starts << PLY_COUNTERS_FRUITLESS_STARTS_SHIFT) |
                            (counters->brown_outs & PLY_COUNTERS_BROWN_OUTS_MASK));
    set_pair(&words[5], counters->frames);
    words[7] = ply_seal(words, PLY_COUNTERS_SEAL_WORD);
}

uint8_t ply_counters_decode(const uint16_t *words, uint8_t count, ply_counters *counters)
{
    uint8_t reason = open_record(words, count, PLY_COUNTERS_WORDS, PLY_COUNTERS_KIND);
    if (reason != 0u) {
        return reason;
    }
    counters->reuse_cycles = (uint8_t)(words[0] & PLY_COUNTERS_REUSE_CYCLES_MASK);
    counters->cold_starts = pair(&words[1]);
    counters->fruitless_starts = (uint8_t)(words[3] >> 8);
    counters->brown_outs = pair(&words[3]) & PLY_COUNTERS_BROWN_OUTS_MASK;
    counters->frames = pair(&words[5]);
    return 0;
}

/* ---- Calibration block ------------------------------------------------------------------------------------------ */

uint8_t ply_calibration_decode(const uint16_t *words, uint8_t count, ply_calibration *calibration)
{
    uint8_t method;
    uint8_t reuse_count;
    uint8_t span;
    uint8_t validity;
    uint32_t sensor_serial;
    uint32_t offset;
    uint32_t gain;
    int16_t reference_temperature;
    int8_t temperature_low;
    int8_t temperature_high;
    uint8_t reason = open_record(words, count, PLY_CALIBRATION_WORDS, PLY_CALIBRATION_KIND);
    if (reason != 0u) {
        return reason;
    }
    method = (uint8_t)((words[0] >> PLY_CALIBRATION_METHOD_SHIFT) & PLY_CALIBRATION_METHOD_MASK);
    if (!within(method, PLY_CALIBRATION_METHOD_BENCH_TWO_POINT, PLY_CALIBRATION_METHOD_ZERO_ONLY)) {
        return PLY_REASON_NAME_UNKNOWN;
    }
    sensor_serial = pair(&words[2]);
    reuse_count = (uint8_t)(words[4] >> 8);
    gain = pair(&words[6]) & PLY_CALIBRATION_GAIN_MASK;
    reference_temperature = signed_word(words[11]);
    temperature_low = signed_octet((uint8_t)(words[13] >> 8));
    temperature_high = signed_octet((uint8_t)(words[13] & 0xFFu));
    span = (uint8_t)(words[14] >> 8);
    validity = (uint8_t)(words[14] & 0xFFu);
    if (sensor_serial < PLY_CALIBRATION_SENSOR_SERIAL_MIN || reuse_count > PLY_CALIBRATION_REUSE_COUNT_MAX ||
        gain < PLY_CALIBRATION_GAIN_MIN || gain > PLY_CALIBRATION_GAIN_MAX ||
        !within(reference_temperature, PLY_CALIBRATION_REFERENCE_TEMPERATURE_MIN,
                PLY_CALIBRATION_REFERENCE_TEMPERATURE_MAX) ||
        !within(temperature_low, PLY_CALIBRATION_TEMPERATURE_LOW_MIN, PLY_CALIBRATION_TEMPERATURE_LOW_MAX) ||
        !within(temperature_high, PLY_CALIBRATION_TEMPERATURE_HIGH_MIN, PLY_CALIBRATION_TEMPERATURE_HIGH_MAX) ||
        span < PLY_CALIBRATION_SPAN_MIN || validity < PLY_CALIBRATION_VALIDITY_MIN) {
        return PLY_REASON_VALUE_OUT_OF_RANGE;
    }
    offset = pair(&words[4]) & PLY_CALIBRATION_OFFSET_MASK;
    calibration->method = method;
    calibration->reuse_since = (uint8_t)(words[0] & PLY_CALIBRATION_REUSE_SINCE_MASK);
    calibration->date = words[1];
    calibration->sensor_serial = sensor_serial;
    calibration->reuse_count = reuse_count;
    calibration->offset = offset < 0x800000UL ? (int32_t)offset : (int32_t)offset - 0x1000000L;
    calibration->reuse_limit = (uint8_t)(words[6] >> 8);
    calibration->gain = gain;
    calibration->temperature_effect = signed_word(words[8]);
    calibration->gain_temperature = signed_word(words[9]);
    calibration->curvature = signed_word(words[10]);
    calibration->reference_temperature = reference_temperature;
    calibration->expanded_uncertainty = words[12];
    calibration->temperature_low = temperature_low;
    calibration->temperature_high = temperature_high;
    calibration->span = span;
    calibration->validity = validity;
    return 0;
}

/* ---- Burst block ------------------------------------------------------------------------------------------------ */

void ply_burst_encode(const ply_burst *burst, uint16_t words[PLY_BURST_WORDS])
{
    words[0] = first_word(PLY_BURST_KIND, burst->status);
    words[1] = burst->sequence;
    set_pair(&words[2], ((uint32_t)burst->count << PLY_BURST_COUNT_SHIFT) | (burst->pressure & PLY_BURST_PRESSURE_MASK));
    words[4] = burst->interval;
    words[5] = (uint16_t)burst->temperature;
    for (uint8_t i = 0; i < PLY_BURST_SAMPLES_COUNT; i++) {
        words[PLY_BURST_SAMPLES_WORD + i] = (uint16_t)burst->samples[i];
    }
    words[PLY_BURST_SEAL_WORD] = ply_seal(words, PLY_BURST_SEAL_WORD);
}

/* ---- Slots ------------------------------------------------------------------------------------------------------ */

uint8_t ply_slot_choose(const uint16_t *a, const uint16_t *b, ply_frame *frame)
{
    ply_frame frame_b;
    uint16_t ahead;
    uint8_t bad_a = ply_frame_decode(a, PLY_FRAME_WORDS, frame);
    uint8_t bad_b = ply_frame_decode(b, PLY_FRAME_WORDS, &frame_b);
    if (bad_b != 0u) {
        return bad_a == 0u ? 0u : PLY_SLOT_BOTH_BAD;
    }
    if (bad_a != 0u) {
        *frame = frame_b;
        return 1;
    }
    ahead = (uint16_t)(frame_b.sequence - frame->sequence);
    if (ahead == 0x8000u) {
        return PLY_SLOT_CONTRADICT;
    }
    if (ahead == 0u) {
        for (uint8_t i = 0; i < PLY_FRAME_WORDS; i++) {
            if (a[i] != b[i]) {
                return PLY_SLOT_CONTRADICT;
            }
        }
        return 0;
    }
    if (ahead < 0x8000u) {
        *frame = frame_b;
        return 1;
    }
    return 0;
}

/* ---- Commit ----------------------------------------------------------------------------------------------------- */

/* Writes a record so that no power cut and no reader can make a mixed one pass (protocol/firmware/DESIGN.md):
   word 0 to zero, which no kind has; the data and the seal; word 1; word 0 last. The first settle is for the record
   before, on which a reader depends as soon as this one is given up. */
static uint8_t commit(uint8_t word, const uint16_t *words, uint8_t count)
{
    if (!ply_port_bridge_settle() || !ply_port_bridge_write(word, 0) || !ply_port_bridge_settle()) {
        return 0;
    }
    for (uint8_t i = 2; i < count; i++) {
        if (!ply_port_bridge_write((uint8_t)(word + i), words[i])) {
            return 0;
        }
    }
    if (!ply_port_bridge_settle() || !ply_port_bridge_write((uint8_t)(word + 1u), words[1]) || !ply_port_bridge_settle()) {
        return 0;
    }
    if (!ply_port_bridge_write(word, words[0])) {
        return 0;
    }
    /* Not in the cells yet is no failure: the word is on its way, and the next commit waits for it. */
    (void)ply_port_bridge_settle();
    return 1;
}

/* ---- Recovery after a cold start -------------------------------------------------------------------------------- */

/* Both copies whole: the one with more behind it is the newer, for no count ever goes back within a start. */
static uint8_t newer(const ply_counters *a, const ply_counters *b)
{
    if (a->cold_starts != b->cold_starts) {
        return a->cold_starts > b->cold_starts;
    }
    if (a->frames != b->frames) {
        return a->frames > b->frames;
    }
    if (a->brown_outs != b->brown_outs) {
        return a->brown_outs > b->brown_outs;
    }
    return a->fruitless_starts > b->fruitless_starts;
}

/* Each recovery answers 0 when the bridge refused to read: what the memory holds is then not known. */

static uint8_t recover_counters(ply_tag *tag)
{
    ply_counters b;
    uint8_t whole_a;
    uint8_t whole_b;
    if (!ply_port_bridge_read(PLY_WORD_COUNTERS_A, tag->words, PLY_COUNTERS_WORDS)) {
        return 0;
    }
    whole_a = ply_counters_decode(tag->words, PLY_COUNTERS_WORDS, &tag->counters) == 0u;
    tag->counters_word = whole_a ? tag->words[0] : 0u;
    if (!ply_port_bridge_read(PLY_WORD_COUNTERS_B, tag->words, PLY_COUNTERS_WORDS)) {
        return 0;
    }
    whole_b = ply_counters_decode(tag->words, PLY_COUNTERS_WORDS, &b) == 0u;
    tag->counters_copy = whole_a;
    if (whole_b && (!whole_a || newer(&b, &tag->counters))) {
        tag->counters = b;
        tag->counters_copy = 0;
        tag->counters_word = tag->words[0];
    }
    return 1;
}

static uint8_t recover_sequence(ply_tag *tag)
{
    uint16_t slots[2u * PLY_FRAME_WORDS];
    ply_frame newest;
    uint8_t slot;
    if (!ply_port_bridge_read(PLY_WORD_SLOT_A, slots, 2u * PLY_FRAME_WORDS)) {
        return 0;
    }
    slot = ply_slot_choose(slots, &slots[PLY_FRAME_WORDS], &newest);
    tag->slot = slot == 0u;
    /* A start that brought no frame may have got as far as one that a reader saw: its sequence is not used again. */
    tag->frame.sequence = tag->counters.fruitless_starts;
    if (slot < PLY_SLOT_BOTH_BAD) {
        const uint16_t *other = &slots[tag->slot * PLY_FRAME_WORDS];
        tag->frame_word = slots[slot * PLY_FRAME_WORDS];
        tag->frame.sequence = (uint16_t)(tag->frame.sequence + newest.sequence + 1u);
        /* Neither may that of a frame which is begun in the other slot. */
        slot = ply_frame_decode(other, PLY_FRAME_WORDS, &newest);
        if (slot != 0u && slot != PLY_REASON_RECORD_EMPTY) {
            tag->frame.sequence++;
        }
    } else {
        /* With no slot to go on from, the frames counted so far keep the sequence from starting over. */
        tag->frame.sequence = (uint16_t)(tag->frame.sequence + (tag->counters.frames & 0xFFFFu));
    }
    return 1;
}

/* A word 0 in whose write the supply failed may read whole now and torn later: the two that were believed are written
   again before the copies beside them are given up. A cell that is to keep its value keeps it. */
static uint8_t confirm(const ply_tag *tag)
{
    if (tag->frame_word != 0u &&
        !ply_port_bridge_write(tag->slot == 0u ? PLY_WORD_SLOT_B : PLY_WORD_SLOT_A, tag->frame_word)) {
        return 0;
    }
    return tag->counters_word == 0u ||
           ply_port_bridge_write(tag->counters_copy == 0u ? PLY_WORD_COUNTERS_B : PLY_WORD_COUNTERS_A,
                                 tag->counters_word);
}

static uint8_t recover_period(ply_tag *tag)
{
    const uint16_t first = (PLY_HEADER_DSFID << PLY_HEADER_DSFID_SHIFT) + (PLY_HEADER_KIND << PLY_HEADER_KIND_SHIFT) +
                           (PLY_HEADER_LAYOUT << PLY_HEADER_LAYOUT_SHIFT);
    uint16_t period;
    if (!ply_port_bridge_read(PLY_WORD_HEADER, tag->words, PLY_HEADER_WORDS)) {
        return 0;
    }
    period = tag->words[PLY_HEADER_SAMPLING_PERIOD_WORD];
    if (ply_seal(tag->words, PLY_HEADER_SEAL_WORD) == tag->words[PLY_HEADER_SEAL_WORD] && tag->words[0] == first &&
        within(period, PLY_HEADER_SAMPLING_PERIOD_MIN, PLY_HEADER_SAMPLING_PERIOD_MAX)) {
        tag->period_ms = period;
    }
    return 1;
}

/* ---- Duty cycle ------------------------------------------------------------------------------------------------- */

static uint8_t is_before(uint32_t a, uint32_t b)
{
    return (uint32_t)(a - b) > 0x7FFFFFFFUL;
}

static ply_phase rest(ply_tag *tag)
{
    uint32_t now = ply_port_now_ms();
    tag->due_ms += tag->bursting ? PLY_BURST_INTERVAL_MS : tag->period_ms;
    if (is_before(tag->due_ms, now)) {
        tag->due_ms = now;
    }
    ply_port_sleep_until(tag->due_ms);
    return PLY_CHECK_SUPPLY;
}

/* Gives the sample up: nothing is written, the sequence stays, and the next frame says so. */
static ply_phase give_up(ply_tag *tag, uint8_t flag)
{
    tag->status |= flag;
    tag->bursting = 0;
    return rest(tag);
}

static ply_phase brown_out(ply_tag *tag)
{
    tag->counters.brown_outs += tag->counters.brown_outs < PLY_COUNTERS_BROWN_OUTS_SATURATED;
    tag->since_counters = PLY_COUNTERS_EVERY;
    return give_up(tag, PLY_FRAME_STATUS_BROWN_OUT);
}

PLY_APART static ply_phase cold_start(ply_tag *tag)
{
    if (recover_counters(tag) && recover_sequence(tag) && recover_period(tag)) {
        return PLY_CHECK_SUPPLY;
    }
    /* A guess here could take the sequence back or write over good counters: the bridge is asked again. */
    (void)give_up(tag, PLY_FRAME_STATUS_SAMPLE_LOST);
    return PLY_COLD_START;
}

/* Tenths of a second without a division: as many steps as tenths went by since the last wake. */
static void count_uptime(ply_tag *tag, uint32_t now)
{
    while (now - tag->tenth_ms >= 100u && tag->frame.uptime < PLY_FRAME_UPTIME_SATURATED) {
        tag->tenth_ms += 100u;
        tag->frame.uptime++;
    }
}

static ply_phase check_supply(ply_tag *tag)
{
    /* After starts in which the supply did not last for one frame, a fuller store is waited for. */
    uint16_t enough = tag->counters.fruitless_starts >= PLY_FRUITLESS_LIMIT ? PLY_SUPPLY_FULL_MV : PLY_SUPPLY_START_MV;
    uint32_t now = ply_port_now_ms();
    uint16_t supply;
    if (is_before(now, tag->due_ms)) {
        ply_port_sleep_until(tag->due_ms);
        return PLY_CHECK_SUPPLY;
    }
    count_uptime(tag, now);
    supply = ply_port_supply_mv();
    if (supply < enough) {
        /* One fall is one brown-out, however often it is looked at. */
        if (supply < PLY_SUPPLY_LOW_MV && tag->start_counted && (tag->status & PLY_FRAME_STATUS_BROWN_OUT) == 0u) {
            return brown_out(tag);
        }
        return give_up(tag, 0);
    }
    if (!tag->start_counted) {
        if (!confirm(tag)) {
            return give_up(tag, PLY_FRAME_STATUS_SAMPLE_LOST);
        }
        tag->start_counted = 1;
        tag->counters.cold_starts += tag->counters.cold_starts < PLY_COUNTERS_COLD_STARTS_SATURATED;
        if (tag->counters.fruitless_starts < PLY_COUNTERS_FRUITLESS_STARTS_SATURATED) {
            tag->counters.fruitless_starts++;
        }
        return PLY_COMMIT_COUNTERS;
    }
    return PLY_START_CONVERSION;
}

static ply_phase start_conversion(ply_tag *tag)
{
    /* These three are said of one sample; the others of everything since the last record. */
    tag->status &= (uint8_t)~(PLY_FRAME_STATUS_SENSOR_FAULT | PLY_FRAME_STATUS_PRESSURE_AT_LIMIT |
                              PLY_FRAME_STATUS_SUPPLY_LOW);
    tag->sample_ms = ply_port_now_ms();
    if (ply_port_sensor_start()) {
        ply_port_sleep_until(tag->sample_ms + PLY_CONVERSION_MS);
    } else {
        tag->status |= PLY_FRAME_STATUS_SENSOR_FAULT;
    }
    return PLY_READ_SENSOR;
}

static void no_measurement(ply_tag *tag)
{
    tag->status |= PLY_FRAME_STATUS_SENSOR_FAULT;
    tag->frame.pressure = PLY_FRAME_PRESSURE_NOT_MEASURED;
    tag->frame.temperature = PLY_FRAME_TEMPERATURE_NOT_MEASURED;
}

static void keep_in_range(ply_tag *tag)
{
    ply_frame *frame = &tag->frame;
    if (frame->pressure <= PLY_FRAME_PRESSURE_MIN || frame->pressure >= PLY_FRAME_PRESSURE_MAX) {
        frame->pressure = frame->pressure <= PLY_FRAME_PRESSURE_MIN ? PLY_FRAME_PRESSURE_MIN : PLY_FRAME_PRESSURE_MAX;
        tag->status |= PLY_FRAME_STATUS_PRESSURE_AT_LIMIT;
    }
    if (frame->temperature < PLY_FRAME_TEMPERATURE_MIN) {
        frame->temperature = PLY_FRAME_TEMPERATURE_MIN;
    }
    if (frame->temperature > PLY_FRAME_TEMPERATURE_MAX) {
        frame->temperature = PLY_FRAME_TEMPERATURE_MAX;
    }
}

/* Difference of two pressures in 0.5 Pa, rounded half away from zero and kept within the sample's range. */
static int16_t burst_sample(uint32_t pressure, uint32_t base)
{
    uint32_t distance = pressure >= base ? pressure - base : base - pressure;
    uint32_t steps = (distance + 32u) >> 6;
    int16_t sample = steps > 32767u ? 32767 : (int16_t)steps;
    return pressure >= base ? sample : (int16_t)-sample;
}

static void add_to_burst(ply_tag *tag)
{
    ply_burst *burst = &tag->burst;
    if (burst->count == 0u) {
        burst->pressure = tag->frame.pressure;
        burst->temperature = tag->frame.temperature;
        burst->sequence = (uint16_t)(tag->frame.sequence - 1u);
        burst->interval = PLY_BURST_INTERVAL_MS;
        burst->status = tag->status;
        for (uint8_t i = 0; i < PLY_BURST_SAMPLES_COUNT; i++) {
            burst->samples[i] = PLY_BURST_SAMPLES_NOT_SAMPLED;
        }
    }
    if (tag->frame.pressure != PLY_FRAME_PRESSURE_NOT_MEASURED) {
        burst->samples[burst->count] = burst_sample(tag->frame.pressure, burst->pressure);
    }
    burst->status |= tag->status;
    burst->count++;
}

static ply_phase read_sensor(ply_tag *tag)
{
    uint32_t waited = ply_port_now_ms() - tag->sample_ms;
    if ((tag->status & PLY_FRAME_STATUS_SENSOR_FAULT) != 0u) {
        no_measurement(tag);
    } else if (!ply_port_sensor_ready()) {
        if (waited < 2u * PLY_CONVERSION_MS) {
            ply_port_sleep_until(tag->sample_ms + 2u * PLY_CONVERSION_MS);
            return PLY_READ_SENSOR;
        }
        return give_up(tag, PLY_FRAME_STATUS_SAMPLE_LOST);
    } else if (!ply_port_sensor_read(&tag->frame.pressure, &tag->frame.temperature)) {
        no_measurement(tag);
    } else {
        keep_in_range(tag);
    }
    /* A run without a first pressure has nothing to count from; the frame tells why. */
    if (tag->burst.count == 0u && tag->frame.pressure == PLY_FRAME_PRESSURE_NOT_MEASURED) {
        tag->bursting = 0;
    }
    if (!tag->bursting) {
        return PLY_SEAL_FRAME;
    }
    add_to_burst(tag);
    return tag->burst.count == PLY_BURST_SAMPLES_COUNT ? PLY_COMMIT_BURST : rest(tag);
}

static ply_phase seal_frame(ply_tag *tag)
{
    tag->frame.supply = ply_port_supply_mv();
    if (tag->frame.supply < PLY_SUPPLY_LOW_MV) {
        return brown_out(tag);
    }
    if (tag->frame.supply < PLY_SUPPLY_START_MV) {
        tag->status |= PLY_FRAME_STATUS_SUPPLY_LOW;
    }
    if (tag->frame.supply > PLY_FRAME_SUPPLY_MAX) {
        tag->frame.supply = PLY_FRAME_SUPPLY_MAX;
    }
    tag->frame.status = tag->status;
    ply_frame_encode(&tag->frame, tag->words);
    return PLY_COMMIT_FRAME;
}

static ply_phase commit_frame(ply_tag *tag)
{
    if (!commit(tag->slot == 0u ? PLY_WORD_SLOT_A : PLY_WORD_SLOT_B, tag->words, PLY_FRAME_WORDS)) {
        return give_up(tag, PLY_FRAME_STATUS_SAMPLE_LOST);
    }
    tag->slot ^= 1u;
    tag->status &= PLY_FRAME_STATUS_CALIBRATION_MISSING;
    tag->frame.sequence++;
    tag->counters.frames += tag->counters.frames < PLY_COUNTERS_FRAMES_SATURATED;
    tag->since_counters++;
#if PLY_BURST_EVERY > 0
    tag->since_burst++;
    if (tag->since_burst >= PLY_BURST_EVERY) {
        tag->bursting = 1;
        tag->since_burst = 0;
        tag->burst.count = 0;
    }
#endif
    if (tag->counters.fruitless_starts != 0u) {
        tag->counters.fruitless_starts = 0;
        tag->since_counters = PLY_COUNTERS_EVERY;
    }
    return tag->since_counters >= PLY_COUNTERS_EVERY ? PLY_COMMIT_COUNTERS : rest(tag);
}

/* 1 when that copy is whole; its reuse count is then in the counters. */
static uint8_t find_calibration(ply_tag *tag, uint8_t word)
{
    uint16_t words[PLY_CALIBRATION_WORDS];
    ply_calibration calibration;
    if (!ply_port_bridge_read(word, words, PLY_CALIBRATION_WORDS) ||
        ply_calibration_decode(words, PLY_CALIBRATION_WORDS, &calibration) != 0u) {
        return 0;
    }
    if (calibration.reuse_count > tag->counters.reuse_cycles) {
        tag->counters.reuse_cycles = calibration.reuse_count;
    }
    return 1;
}

static ply_phase commit_counters(ply_tag *tag)
{
    /* A reader may have written a block since the last time. */
    if (find_calibration(tag, PLY_WORD_CALIBRATION_1) || find_calibration(tag, PLY_WORD_CALIBRATION_2)) {
        tag->status &= (uint8_t)~PLY_FRAME_STATUS_CALIBRATION_MISSING;
    } else {
        tag->status |= PLY_FRAME_STATUS_CALIBRATION_MISSING;
    }
    ply_counters_encode(&tag->counters, tag->words);
    if (commit(tag->counters_copy == 0u ? PLY_WORD_COUNTERS_A : PLY_WORD_COUNTERS_B, tag->words, PLY_COUNTERS_WORDS)) {
        tag->counters_copy ^= 1u;
        tag->since_counters = 0;
    }
    /* Until the first frame of a start the supply is not spent on waiting for the next sample. */
    return tag->counters.fruitless_starts != 0u ? PLY_CHECK_SUPPLY : rest(tag);
}

PLY_APART static ply_phase commit_burst(ply_tag *tag)
{
    uint16_t words[PLY_BURST_WORDS];
    tag->bursting = 0;
    ply_burst_encode(&tag->burst, words);
    if (!commit(PLY_WORD_BURST, words, PLY_BURST_WORDS)) {
        return give_up(tag, PLY_FRAME_STATUS_SAMPLE_LOST);
    }
    tag->status |= PLY_FRAME_STATUS_BURST_READY;
    return rest(tag);
}

void ply_start(ply_tag *tag)
{
    *tag = (ply_tag){
        .phase = PLY_COLD_START, .status = PLY_FRAME_STATUS_FIRST_AFTER_COLD_START, .period_ms = PLY_PERIOD_MS};
    tag->due_ms = ply_port_now_ms();
    tag->tenth_ms = tag->due_ms;
}

ply_phase ply_step(ply_tag *tag)
{
    switch (tag->phase) {
    case PLY_COLD_START: tag->phase = cold_start(tag); break;
    case PLY_CHECK_SUPPLY: tag->phase = check_supply(tag); break;
    case PLY_START_CONVERSION: tag->phase = start_conversion(tag); break;
    case PLY_READ_SENSOR: tag->phase = read_sensor(tag); break;
    case PLY_SEAL_FRAME: tag->phase = seal_frame(tag); break;
    case PLY_COMMIT_FRAME: tag->phase = commit_frame(tag); break;
    case PLY_COMMIT_COUNTERS: tag->phase = commit_counters(tag); break;
    case PLY_COMMIT_BURST: tag->phase = commit_burst(tag); break;
    }
    return tag->phase;
}
