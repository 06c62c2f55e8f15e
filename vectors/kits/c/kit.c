/* Answers the requests of vectors/REPLAY.md with the firmware's own codec: a starting point for a reader in C.
   It names reasons, not places. Build and try it in the folder of the package:

       cc -std=c99 -O2 -I protocol/firmware -o kit vectors/kits/c/kit.c vectors/kits/c/reading.c protocol/firmware/plyframe.c
       plyframe replay -- ./kit
*/
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "plyframe.h"
#include "reading.h"

#define LINE 4096
#define KEYS 32

static const char *const can =
    "decode.frame,decode.counters,decode.calibration,decode.header,encode.frame,encode.counters,encode.burst,"
    "slots,header,reading";

/* One request: its keys and their texts. */
static struct {
    const char *key[KEYS];
    const char *text[KEYS];
    int count;
} given;

static const char *text_of(const char *key)
{
    for (int i = 0; i < given.count; i++) {
        if (strcmp(given.key[i], key) == 0) {
            return given.text[i];
        }
    }
    return "";
}

static int64_t number_of(const char *key)
{
    return strtoll(text_of(key), NULL, 10);
}

static int is_none(const char *key)
{
    return strcmp(text_of(key), "none") == 0;
}

/* Words of a hex text, at most `most`; a byte left over counts as a word when `record` words stand before it. */
static uint8_t words_of(const char *hex, uint16_t *words, size_t most, size_t record)
{
    size_t digits = strlen(hex);
    size_t count = digits / 4;
    if (count > most) {
        count = most;
    }
    for (size_t i = 0; i < count; i++) {
        unsigned word = 0;
        sscanf(hex + 4 * i, "%4x", &word);
        words[i] = (uint16_t)word;
    }
    if (digits % 4 != 0 && count >= record && count < most) {
        words[count++] = 0;
    }
    return (uint8_t)count;
}

static void print_words(const uint16_t *words, int count)
{
    printf("good bytes=");
    for (int i = 0; i < count; i++) {
        printf("%04x", words[i]);
    }
    printf("\n");
}

static void print_reason(uint8_t reason)
{
    static const char *const names[] = {
        [PLY_REASON_RECORD_TOO_SHORT] = "record-too-short",
        [PLY_REASON_TRAILING_BYTES] = "trailing-bytes",
        [PLY_REASON_RECORD_EMPTY] = "record-empty",
        [PLY_REASON_CHECKSUM_MISMATCH] = "checksum-mismatch",
        [PLY_REASON_KIND_UNEXPECTED] = "kind-unexpected",
        [PLY_REASON_LAYOUT_UNKNOWN] = "layout-unknown",
        [PLY_REASON_MARKER_MISMATCH] = "marker-mismatch",
        [PLY_REASON_RESERVED_BIT_SET] = "reserved-bit-set",
        [PLY_REASON_NAME_UNKNOWN] = "name-unknown",
        [PLY_REASON_VALUE_OUT_OF_RANGE] = "value-out-of-range",
        [PLY_REASON_FINGERPRINT_MISMATCH] = "fingerprint-mismatch",
        [PLY_REASON_SLOTS_CONTRADICT] = "slots-contradict",
        [PLY_REASON_SLOTS_BOTH_BAD] = "slots-both-bad",
    };
    printf("bad %s\n", names[reason]);
}

static void decode_frame(const uint16_t *words, uint8_t count)
{
    ply_frame f;
    uint8_t reason = ply_frame_decode(words, count, &f);
    if (reason != 0) {
        print_reason(reason);
        return;
    }
    printf("good status=%u sequence=%u pressure=%lu temperature=%d supply=%u uptime=%lu\n", f.status, f.sequence,
           (unsigned long)f.pressure, f.temperature, f.supply, (unsigned long)f.uptime);
}

static void decode_counters(const uint16_t *words, uint8_t count)
{
    ply_counters c;
    uint8_t reason = ply_counters_decode(words, count, &c);
    if (reason != 0) {
        print_reason(reason);
        return;
    }
    printf("good reuse_cycles=%u cold_starts=%lu fruitless_starts=%u brown_outs=%lu frames=%lu\n", c.reuse_cycles,
           (unsigned long)c.cold_starts, c.fruitless_starts, (unsigned long)c.brown_outs, (unsigned long)c.frames);
}

static void decode_calibration(const uint16_t *words, uint8_t count)
{
    ply_calibration c;
    uint8_t reason = ply_calibration_decode(words, count, &c);
    if (reason != 0) {
        print_reason(reason);
        return;
    }
    printf("good method=%u reuse_since=%u date=%u sensor_serial=%lu reuse_count=%u offset=%ld reuse_limit=%u gain=%lu",
           c.method, c.reuse_since, c.date, (unsigned long)c.sensor_serial, c.reuse_count, (long)c.offset, c.reuse_limit,
           (unsigned long)c.gain);
    printf(" temperature_effect=%d gain_temperature=%d curvature=%d reference_temperature=%d expanded_uncertainty=%u",
           c.temperature_effect, c.gain_temperature, c.curvature, c.reference_temperature, c.expanded_uncertainty);
    printf(" temperature_low=%d temperature_high=%d span=%u validity=%u\n", c.temperature_low, c.temperature_high, c.span,
           c.validity);
}

static void decode_header(const uint16_t *words, uint8_t count, int ours_only)
{
    header h;
    uint8_t reason = header_decode(words, count, &h);
    if (reason == 0 && ours_only && h.fingerprint != PLY_FINGERPRINT) {
        reason = PLY_REASON_FINGERPRINT_MISMATCH;
    }
    if (reason != 0) {
        print_reason(reason);
        return;
    }
    printf("good fingerprint=%lu firmware_major=%u firmware_minor=%u sampling_period=%u sensor_serial=%lu\n",
           (unsigned long)h.fingerprint, h.firmware_major, h.firmware_minor, h.sampling_period,
           (unsigned long)h.sensor_serial);
}

static void decode(const char *record)
{
    uint16_t words[64];
    size_t length = strcmp(record, "calibration") == 0 ? PLY_CALIBRATION_WORDS : PLY_FRAME_WORDS;
    uint8_t count = words_of(text_of("bytes"), words, 64, length);
    if (strcmp(record, "frame") == 0) {
        decode_frame(words, count);
    } else if (strcmp(record, "counters") == 0) {
        decode_counters(words, count);
    } else if (strcmp(record, "calibration") == 0) {
        decode_calibration(words, count);
    } else if (strcmp(record, "header") == 0) {
        decode_header(words, count, 0);
    } else {
        printf("unsupported\n");
    }
}

static void encode_frame(void)
{
    uint16_t words[PLY_FRAME_WORDS];
    ply_frame f = { 0 };
    f.status = (uint8_t)number_of("status");
    f.sequence = (uint16_t)number_of("sequence");
    f.pressure = (uint32_t)number_of("pressure");
    f.temperature = (int16_t)number_of("temperature");
    f.supply = (uint16_t)number_of("supply");
    f.uptime = (uint32_t)number_of("uptime");
    ply_frame_encode(&f, words);
    print_words(words, PLY_FRAME_WORDS);
}

static void encode_counters(void)
{
    uint16_t words[PLY_COUNTERS_WORDS];
    ply_counters c = { 0 };
    c.reuse_cycles = (uint8_t)number_of("reuse_cycles");
    c.cold_starts = (uint32_t)number_of("cold_starts");
    c.fruitless_starts = (uint8_t)number_of("fruitless_starts");
    c.brown_outs = (uint32_t)number_of("brown_outs");
    c.frames = (uint32_t)number_of("frames");
    ply_counters_encode(&c, words);
    print_words(words, PLY_COUNTERS_WORDS);
}

static void encode_burst(void)
{
    uint16_t words[PLY_BURST_WORDS];
    ply_burst b = { 0 };
    const char *samples = text_of("samples");
    b.status = (uint8_t)number_of("status");
    b.sequence = (uint16_t)number_of("sequence");
    b.count = (uint8_t)number_of("count");
    b.pressure = (uint32_t)number_of("pressure");
    b.interval = (uint16_t)number_of("interval");
    b.temperature = (int16_t)number_of("temperature");
    for (int i = 0; i < (int)PLY_BURST_SAMPLES_COUNT; i++) {
        char *end;
        b.samples[i] = (int16_t)strtol(samples, &end, 10);
        samples = *end == ',' ? end + 1 : end;
    }
    ply_burst_encode(&b, words);
    print_words(words, PLY_BURST_WORDS);
}

static void encode(const char *record)
{
    if (strcmp(record, "frame") == 0) {
        encode_frame();
    } else if (strcmp(record, "counters") == 0) {
        encode_counters();
    } else if (strcmp(record, "burst") == 0) {
        encode_burst();
    } else {
        printf("unsupported\n");
    }
}

/* A slot that is not all there stays zero: it was never written as far as this reader can tell. */
static void slots(void)
{
    uint16_t words[2 * PLY_FRAME_WORDS] = { 0 };
    ply_frame frame;
    uint8_t slot;
    if (words_of(text_of("bytes"), words, 2 * PLY_FRAME_WORDS, 2 * PLY_FRAME_WORDS) < 2 * PLY_FRAME_WORDS) {
        memset(words + PLY_FRAME_WORDS, 0, 2 * PLY_FRAME_WORDS);
    }
    slot = ply_slot_choose(words, words + PLY_FRAME_WORDS, &frame);
    if (slot > 1u) {
        print_reason(slot == PLY_SLOT_CONTRADICT ? PLY_REASON_SLOTS_CONTRADICT : PLY_REASON_SLOTS_BOTH_BAD);
    } else {
        printf("good slot=%c sequence=%u\n", slot == 0u ? 'a' : 'b', frame.sequence);
    }
}

static void print_or_none(const char *key, int there, int64_t value)
{
    if (there) {
        printf(" %s=%lld", key, (long long)value);
    } else {
        printf(" %s=none", key);
    }
}

static void reading(void)
{
    uint16_t memory[32] = { 0 };
    uint16_t blocks[32] = { 0 };
    ambient air = { !is_none("ambient_raw"), !is_none("ambient_uncertainty_pa"), number_of("ambient_raw"),
                    number_of("ambient_uncertainty_pa") };
    result r;
    uint8_t reason;
    words_of(text_of("memory"), memory, 32, 32);
    words_of(text_of("calibration"), blocks, 32, 32);
    reason = read_pressure(memory, blocks, &air, &r);
    if (reason != 0) {
        print_reason(reason);
        return;
    }
    printf("good slot=%c", r.slot);
    print_or_none("copy", r.copy != 0, r.copy);
    print_or_none("absolute_raw", r.has_absolute, r.absolute);
    print_or_none("gauge_raw", r.has_gauge, r.gauge);
    print_or_none("gauge_thousandths_mmhg", r.has_gauge, thousandths_mmhg(r.gauge));
    print_or_none("uncertainty_thousandths_pa", r.has_uncertainty, r.uncertainty_thousandths_pa);
    printf("\n");
}

static void answer(const char *verb)
{
    if (strcmp(verb, "hello") == 0) {
        printf("good contract=1 name=c-kit fingerprint=%08lx can=%s\n", (unsigned long)PLY_FINGERPRINT, can);
    } else if (strcmp(verb, "decode") == 0) {
        decode(text_of("record"));
    } else if (strcmp(verb, "encode") == 0) {
        encode(text_of("record"));
    } else if (strcmp(verb, "slots") == 0) {
        slots();
    } else if (strcmp(verb, "header") == 0) {
        uint16_t words[64];
        decode_header(words, words_of(text_of("bytes"), words, 64, PLY_HEADER_WORDS), 1);
    } else if (strcmp(verb, "reading") == 0) {
        reading();
    } else {
        printf("unsupported\n");
    }
}

int main(void)
{
    static char line[LINE];
    while (fgets(line, sizeof line, stdin) != NULL) {
        char *id = strtok(line, " \r\n");
        char *verb = strtok(NULL, " \r\n");
        char *word;
        if (id == NULL || verb == NULL) {
            continue;
        }
        given.count = 0;
        while ((word = strtok(NULL, " \r\n")) != NULL && given.count < KEYS) {
            char *equals = strchr(word, '=');
            if (equals != NULL) {
                *equals = '\0';
                given.key[given.count] = word;
                given.text[given.count++] = equals + 1;
            }
        }
        printf("%s ", id);
        answer(verb);
        fflush(stdout);
    }
    return 0;
}
