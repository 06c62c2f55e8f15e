/* A calibrated pressure out of the words of a tag, for a reader: what the firmware has no need of. */
#ifndef READING_H
#define READING_H

#include <stdint.h>

#include "plyframe.h"

typedef struct {
    uint32_t fingerprint;
    uint32_t sensor_serial;
    uint16_t sampling_period; /* ms */
    uint8_t firmware_major;
    uint8_t firmware_minor;
} header;

/* Ambient pressure in 1/128 Pa and its expanded uncertainty (k = 2) in Pa, where there is one. */
typedef struct {
    int is_known;
    int is_certain;
    int64_t raw;
    int64_t uncertainty_pa;
} ambient;

/* Pressures in 1/128 Pa. `copy` is the calibration block used: 1, 2, or 0 for none. */
typedef struct {
    char slot;
    int copy;
    int has_absolute;
    int has_gauge;
    int has_uncertainty;
    int64_t absolute;
    int64_t gauge;
    int64_t uncertainty_thousandths_pa;
} result;

/* 0 or the reason code, in the order of the specification. */
uint8_t header_decode(const uint16_t *words, uint8_t count, header *header);

/* `memory` is words 0 to 31 of USER, `blocks` words 40 to 71. 0 or the reason why there is no reading at all. */
uint8_t read_pressure(const uint16_t *memory, const uint16_t *blocks, const ambient *ambient, result *result);

/* 1 mmHg = 133.322387415 Pa. */
int64_t thousandths_mmhg(int64_t gauge);

#endif
