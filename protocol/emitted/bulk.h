/* Emitted from layout 1, fingerprint 028961a7: change protocol/spec/ and run "npm run emit". */
#ifndef PLYFRAME_BULK_H
#define PLYFRAME_BULK_H

#include <stdint.h>

/* Polynomial of the seal, its preset carried through 14 zero bytes, and the bytes it covers. */
#define PLY_BULK_POLY 4129u
#define PLY_BULK_PRESET 47471u
#define PLY_BULK_SEALED 14u

/* What every byte before the seal adds to it, by its position. Filled by whoever begins. */
static uint16_t ply_bulk_table[PLY_BULK_SEALED * 256u];

static inline uint32_t ply_bulk_seal(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    return PLY_BULK_PRESET ^
        ply_bulk_table[0u + (a >> 24)] ^
        ply_bulk_table[256u + ((a >> 16) & 255)] ^
        ply_bulk_table[512u + ((a >> 8) & 255)] ^
        ply_bulk_table[768u + (a & 255)] ^
        ply_bulk_table[1024u + (b >> 24)] ^
        ply_bulk_table[1280u + ((b >> 16) & 255)] ^
        ply_bulk_table[1536u + ((b >> 8) & 255)] ^
        ply_bulk_table[1792u + (b & 255)] ^
        ply_bulk_table[2048u + (c >> 24)] ^
        ply_bulk_table[2304u + ((c >> 16) & 255)] ^
        ply_bulk_table[2560u + ((c >> 8) & 255)] ^
        ply_bulk_table[2816u + (c & 255)] ^
        ply_bulk_table[3072u + (d >> 24)] ^
        ply_bulk_table[3328u + ((d >> 16) & 255)];
}

/* Header. */
static inline uint16_t ply_judge_header(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    if ((a | b | c | d) == 0u) return 1023u; /* record-empty */
    if (ply_bulk_seal(a, b, c, d) != (d & 65535u)) return 1032u; /* seal: checksum-mismatch */
    if (((a >> 20) & 15u) != 1u) return 1281u; /* kind: kind-unexpected */
    if (((a >> 16) & 15u) != 1u) return 1538u; /* layout: layout-unknown */
    if ((a >> 24) != 0u) return 1792u; /* dsfid: marker-mismatch */
    if ((c >> 16) < 10u || (c >> 16) > 60000u) return 2566u; /* sampling_period: value-out-of-range */
    if (((c << 16) | (d >> 16)) < 1u) return 2567u; /* sensor_serial: value-out-of-range */
    if (((a << 16) | (b >> 16)) != 42557863u) return 2819u; /* fingerprint: fingerprint-mismatch */
    return 0u;
}

/* Sensor frame. */
static inline uint16_t ply_judge_frame(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    if ((a | b | c | d) == 0u) return 1023u; /* record-empty */
    if (ply_bulk_seal(a, b, c, d) != (d & 65535u)) return 1033u; /* seal: checksum-mismatch */
    if ((a >> 28) != 2u) return 1280u; /* kind: kind-unexpected */
    if (((a >> 24) & 15u) != 1u) return 1537u; /* layout: layout-unknown */
    if ((b >> 24) != 0u) return 2052u; /* reserved: reserved-bit-set */
    if (((b & 16777215u) < 3328000u || (b & 16777215u) > 16128000u) && (b & 16777215u) != 16777215u) return 2565u; /* pressure: value-out-of-range */
    if ((((int32_t)(c) >> 16) < -4000 || ((int32_t)(c) >> 16) > 12500) && ((int32_t)(c) >> 16) != -32768) return 2566u; /* temperature: value-out-of-range */
    return 0u;
}

/* Counters. */
static inline uint16_t ply_judge_counters(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    if ((a | b | c | d) == 0u) return 1023u; /* record-empty */
    if (ply_bulk_seal(a, b, c, d) != (d & 65535u)) return 1031u; /* seal: checksum-mismatch */
    if ((a >> 28) != 3u) return 1280u; /* kind: kind-unexpected */
    if (((a >> 24) & 15u) != 1u) return 1537u; /* layout: layout-unknown */
    return 0u;
}

/* Regions of the USER bank that hold a record: index, id, first word, words, and who judges it (0: not here). */
#define PLY_BULK_REGIONS(X) \
    X(0, header, 0u, 8u, ply_judge_header) \
    X(1, slot_a, 8u, 8u, ply_judge_frame) \
    X(2, slot_b, 16u, 8u, ply_judge_frame) \
    X(3, counters_a, 24u, 8u, ply_judge_counters) \
    X(4, counters_b, 32u, 8u, ply_judge_counters) \
    X(5, calibration_1, 40u, 16u, 0) \
    X(6, calibration_2, 56u, 16u, 0) \
    X(7, burst, 72u, 32u, 0)

/* Verdict on a region of which only a part was read. */
#define PLY_BULK_TOO_SHORT 511u

/* Raw values of the link: the access was done, and the bank the records lie in. */
#define PLY_BULK_DONE 0u
#define PLY_BULK_USER 3u

/* Raw values of the frame. */
static inline int32_t ply_frame_status(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    (void)b, (void)c, (void)d;
    return (int32_t)((a >> 16) & 255u);
}
static inline int32_t ply_frame_sequence(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    (void)b, (void)c, (void)d;
    return (int32_t)(a & 65535u);
}
static inline int32_t ply_frame_pressure(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    (void)a, (void)c, (void)d;
    return (int32_t)(b & 16777215u);
}
static inline int32_t ply_frame_temperature(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    (void)a, (void)b, (void)d;
    return (int32_t)((int32_t)(c) >> 16);
}
static inline int32_t ply_frame_supply(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    (void)a, (void)b;
    return (int32_t)(((c << 16) | (d >> 16)) >> 20);
}
static inline int32_t ply_frame_uptime(uint32_t a, uint32_t b, uint32_t c, uint32_t d)
{
    (void)a, (void)b;
    return (int32_t)(((c << 16) | (d >> 16)) & 1048575u);
}

/* Columns of the frame: id, C type. */
#define PLY_BULK_FIELDS(X) \
    X(status, int32_t) \
    X(sequence, int32_t) \
    X(pressure, int32_t) \
    X(temperature, int32_t) \
    X(supply, int32_t) \
    X(uptime, int32_t)

#endif
