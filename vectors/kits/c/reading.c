/* The rule of protocol/COMPENSATION.md in whole numbers of 64 bits, and the functions a board would give the firmware. */
#include "reading.h"

#include <stdlib.h>

#include "plyframe_port.h"

#define LIMIT (40000LL * 128)

static uint32_t pair(const uint16_t *words)
{
    return (uint32_t)words[0] << 16 | words[1];
}

uint8_t header_decode(const uint16_t *words, uint8_t count, header *h)
{
    uint16_t any = 0;
    if (count < PLY_HEADER_WORDS) {
        return PLY_REASON_RECORD_TOO_SHORT;
    }
    for (uint8_t i = 0; i < PLY_HEADER_WORDS; i++) {
        any |= words[i];
    }
    if (any == 0) {
        return PLY_REASON_RECORD_EMPTY;
    }
    if (count > PLY_HEADER_WORDS) {
        return PLY_REASON_TRAILING_BYTES;
    }
    if (ply_seal(words, PLY_HEADER_SEAL_WORD) != words[PLY_HEADER_SEAL_WORD]) {
        return PLY_REASON_CHECKSUM_MISMATCH;
    }
    if ((words[0] >> PLY_HEADER_KIND_SHIFT & PLY_HEADER_KIND_MASK) != PLY_HEADER_KIND) {
        return PLY_REASON_KIND_UNEXPECTED;
    }
    if ((words[0] & PLY_HEADER_LAYOUT_MASK) != PLY_LAYOUT) {
        return PLY_REASON_LAYOUT_UNKNOWN;
    }
    if (words[0] >> PLY_HEADER_DSFID_SHIFT != PLY_HEADER_DSFID) {
        return PLY_REASON_MARKER_MISMATCH;
    }
    h->fingerprint = pair(&words[PLY_HEADER_FINGERPRINT_WORD]);
    h->firmware_major = (uint8_t)(words[PLY_HEADER_FIRMWARE_MAJOR_WORD] >> 8);
    h->firmware_minor = (uint8_t)(words[PLY_HEADER_FIRMWARE_MAJOR_WORD] & 0xFFu);
    h->sampling_period = words[PLY_HEADER_SAMPLING_PERIOD_WORD];
    h->sensor_serial = pair(&words[PLY_HEADER_SENSOR_SERIAL_WORD]);
    if (h->sampling_period < PLY_HEADER_SAMPLING_PERIOD_MIN || h->sampling_period > PLY_HEADER_SAMPLING_PERIOD_MAX ||
        h->sensor_serial < PLY_HEADER_SENSOR_SERIAL_MIN) {
        return PLY_REASON_VALUE_OUT_OF_RANGE;
    }
    return 0;
}

/* Quotient to the nearest integer, ties away from zero. */
static int64_t divided(int64_t n, int64_t d)
{
    int64_t size = n < 0 ? -n : n;
    int64_t quotient = size / d + (2 * (size % d) >= d ? 1 : 0);
    return n < 0 ? -quotient : quotient;
}

int64_t thousandths_mmhg(int64_t gauge)
{
    /* gauge * 10^12 / (128 * 133322387415), shortened by 640 so that 64 bits hold it. */
    return divided(gauge * 1562500000LL, 26664477483LL);
}

/* Square root to the nearest integer. */
static int64_t root(int64_t square)
{
    int64_t low = 0;
    int64_t high = 3037000499LL;
    while (low < high) {
        int64_t middle = low + (high - low + 1) / 2;
        if (middle * middle <= square) {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    return square - low * low > low ? low + 1 : low;
}

/* The first whole copy that belongs to this sensor: 1 or 2; else 0 and coefficients that change nothing. */
static int find_calibration(const uint16_t *blocks, uint32_t serial, ply_calibration *c)
{
    static const ply_calibration nominal = { .gain = 1048576UL };
    for (int copy = 1; copy <= 2; copy++) {
        const uint16_t *words = copy == 1 ? blocks : blocks + PLY_CALIBRATION_WORDS;
        if (ply_calibration_decode(words, PLY_CALIBRATION_WORDS, c) == 0u && c->sensor_serial == serial) {
            return copy;
        }
    }
    *c = nominal;
    return 0;
}

/* Calibrated gauge pressure of a difference from ambient; 0 when it lies beyond what the rule is specified for. */
static int gauge_of(int64_t difference, int64_t kelvin, const ply_calibration *c, int64_t *gauge)
{
    int64_t gain = (int64_t)c->gain + divided((int64_t)c->gain * kelvin * c->gain_temperature, 100000000);
    int64_t linear;
    if (llabs(difference) > LIMIT) {
        return 0;
    }
    linear = divided(difference * gain, 1048576);
    if (llabs(linear) > LIMIT) {
        return 0;
    }
    *gauge = linear + divided(divided(linear * linear, 16384) * c->curvature * 2, 15625000);
    return 1;
}

/* Whether the calibration's uncertainty holds for this frame. */
static int covers(const ply_calibration *c, const ply_frame *f, int64_t gauge)
{
    const unsigned doubtful =
        PLY_FRAME_STATUS_SENSOR_FAULT | PLY_FRAME_STATUS_PRESSURE_AT_LIMIT | PLY_FRAME_STATUS_SUPPLY_LOW;
    return (f->status & doubtful) == 0u && f->temperature != PLY_FRAME_TEMPERATURE_NOT_MEASURED && f->temperature >= 100 * c->temperature_low &&
           f->temperature <= 100 * c->temperature_high && gauge <= (int64_t)c->span * 12800;
}

uint8_t read_pressure(const uint16_t *memory, const uint16_t *blocks, const ambient *air, result *r)
{
    header h;
    ply_frame f;
    ply_calibration c;
    int64_t kelvin = 0;
    uint8_t slot;
    uint8_t reason = header_decode(memory, PLY_HEADER_WORDS, &h);
    if (reason != 0) {
        return reason;
    }
    if (h.fingerprint != PLY_FINGERPRINT) {
        return PLY_REASON_FINGERPRINT_MISMATCH;
    }
    slot = ply_slot_choose(memory + PLY_WORD_SLOT_A, memory + PLY_WORD_SLOT_B, &f);
    if (slot > 1u) {
        return slot == PLY_SLOT_CONTRADICT ? PLY_REASON_SLOTS_CONTRADICT : PLY_REASON_SLOTS_BOTH_BAD;
    }
    r->slot = slot == 0u ? 'a' : 'b';
    r->copy = find_calibration(blocks, h.sensor_serial, &c);
    r->has_absolute = f.pressure != PLY_FRAME_PRESSURE_NOT_MEASURED;
    r->has_gauge = r->has_absolute && air->is_known;
    r->has_uncertainty = 0;
    if (f.temperature != PLY_FRAME_TEMPERATURE_NOT_MEASURED) {
        kelvin = f.temperature - c.reference_temperature;
    }
    r->absolute = (int64_t)f.pressure + c.offset - divided(kelvin * c.temperature_effect, 50);
    if (!r->has_gauge) {
        return 0;
    }
    if (!gauge_of(r->absolute - air->raw, kelvin, &c, &r->gauge)) {
        return PLY_REASON_VALUE_OUT_OF_RANGE;
    }
    if (r->copy != 0 && covers(&c, &f, r->gauge) && air->is_certain &&
        c.expanded_uncertainty != PLY_CALIBRATION_EXPANDED_UNCERTAINTY_NOT_STATED) {
        int64_t own = c.expanded_uncertainty;
        r->has_uncertainty = 1;
        r->uncertainty_thousandths_pa = root((own * own + air->uncertainty_pa * air->uncertainty_pa) * 1000000);
    }
    return 0;
}

/* What a board gives the firmware: a reader has no bridge and no sensor, and never runs the duty cycle. */
uint32_t ply_port_now_ms(void) { abort(); }
void ply_port_sleep_until(uint32_t ms) { (void)ms; abort(); }
uint16_t ply_port_supply_mv(void) { abort(); }
uint8_t ply_port_sensor_start(void) { abort(); }
uint8_t ply_port_sensor_ready(void) { abort(); }
uint8_t ply_port_sensor_read(uint32_t *p, int16_t *t) { (void)p; (void)t; abort(); }
uint8_t ply_port_bridge_read(uint8_t at, uint16_t *words, uint8_t count) { (void)at; (void)words; (void)count; abort(); }
uint8_t ply_port_bridge_write(uint8_t at, uint16_t value) { (void)at; (void)value; abort(); }
uint8_t ply_port_bridge_settle(void) { abort(); }
