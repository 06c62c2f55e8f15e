/* plyframe: the tag's records and its duty cycle, for a small microcontroller behind an SPI bridge to the RFID memory.
   C99; no heap, no recursion, no floating point, no division. Copy plyframe.c, plyframe.h, plyframe_layout.h and
   plyframe_port.h, and write the nine functions of plyframe_port.h for the board. */
#ifndef PLYFRAME_H
#define PLYFRAME_H

#include "plyframe_layout.h"

/* Version written into the header when a tag is commissioned. */
#define PLY_FIRMWARE_MAJOR 1u
#define PLY_FIRMWARE_MINOR 0u

/* Settings; define them on the command line to change them. */
#ifndef PLY_SEAL_TABLE
#define PLY_SEAL_TABLE 16 /* entries of the seal's table: 0 (bit by bit, smallest), 16 or 256 (fastest) */
#endif
#ifndef PLY_SUPPLY_START_MV
#define PLY_SUPPLY_START_MV 2000u /* a conversion and a commit are begun at or above this */
#endif
#ifndef PLY_SUPPLY_FULL_MV
#define PLY_SUPPLY_FULL_MV 2300u /* the same, after starts that ended without a frame */
#endif
#ifndef PLY_SUPPLY_LOW_MV
#define PLY_SUPPLY_LOW_MV 1800u /* below this nothing is written: the sample is given up as a brown-out */
#endif
#ifndef PLY_PERIOD_MS
#define PLY_PERIOD_MS 100u /* sampling period when no whole header says another */
#endif
#ifndef PLY_CONVERSION_MS
#define PLY_CONVERSION_MS 10u /* time from start to ready */
#endif
#ifndef PLY_FRUITLESS_LIMIT
#define PLY_FRUITLESS_LIMIT 3u /* fruitless starts in a row after which the supply must be full */
#endif
#ifndef PLY_COUNTERS_EVERY
#define PLY_COUNTERS_EVERY 16u /* frames between two writes of the counters */
#endif
#ifndef PLY_BURST_EVERY
#define PLY_BURST_EVERY 100 /* frames between two bursts; 0: no bursts */
#endif
#ifndef PLY_BURST_INTERVAL_MS
#define PLY_BURST_INTERVAL_MS 40u
#endif

PLY_ASSERT(supply_thresholds_rise, PLY_SUPPLY_LOW_MV <= PLY_SUPPLY_START_MV && PLY_SUPPLY_START_MV <= PLY_SUPPLY_FULL_MV);
PLY_ASSERT(counters_every_fits, PLY_COUNTERS_EVERY >= 1u && PLY_COUNTERS_EVERY <= 254u);

/* The sensor frame. Raw integers, as in the memory map. */
typedef struct {
    uint32_t pressure;    /* 1/128 Pa, 3328000 to 16128000, PLY_FRAME_PRESSURE_NOT_MEASURED */
    uint32_t uptime;      /* 0.1 s, saturates at PLY_FRAME_UPTIME_SATURATED */
    uint16_t sequence;
    uint16_t supply;      /* mV, 0 to 4094, PLY_FRAME_SUPPLY_NOT_MEASURED */
    int16_t temperature;  /* 0.01 degrees Celsius, -4000 to 12500, PLY_FRAME_TEMPERATURE_NOT_MEASURED */
    uint8_t status;       /* PLY_FRAME_STATUS_... */
} ply_frame;

/* The calibration block. */
typedef struct {
    int32_t offset;                /* 1/128 Pa */
    uint32_t gain;                 /* 2^-20 */
    uint32_t sensor_serial;
    int16_t temperature_effect;    /* 1/64 Pa/K */
    int16_t gain_temperature;      /* 1e-6 /K */
    int16_t curvature;             /* 1e-9 /Pa */
    int16_t reference_temperature; /* 0.01 degrees Celsius */
    uint16_t expanded_uncertainty; /* Pa, k = 2 */
    uint16_t date;                 /* days from 2020-01-01 */
    uint8_t method;
    uint8_t reuse_since;
    uint8_t reuse_count;
    uint8_t reuse_limit;
    int8_t temperature_low;        /* degrees Celsius */
    int8_t temperature_high;
    uint8_t span;                  /* hPa */
    uint8_t validity;              /* months */
} ply_calibration;

/* Counters over the tag's life; each stays at its highest value instead of wrapping. */
typedef struct {
    uint32_t cold_starts;
    uint32_t brown_outs; /* 24 bits */
    uint32_t frames;
    uint8_t fruitless_starts;
    uint8_t reuse_cycles;
} ply_counters;

/* The burst block. Samples are differences from `pressure` in 0.5 Pa. */
typedef struct {
    uint32_t pressure;
    uint16_t sequence;
    uint16_t interval; /* ms */
    int16_t temperature;
    int16_t samples[PLY_BURST_SAMPLES_COUNT];
    uint8_t status;
    uint8_t count;
} ply_burst;

/* Seal of `count` words. */
uint16_t ply_seal(const uint16_t *words, uint8_t count);

/* Encoders fill a whole record, seal included. Values outside their range are the caller's mistake and are masked. */
void ply_frame_encode(const ply_frame *frame, uint16_t words[PLY_FRAME_WORDS]);
void ply_counters_encode(const ply_counters *counters, uint16_t words[PLY_COUNTERS_WORDS]);
void ply_burst_encode(const ply_burst *burst, uint16_t words[PLY_BURST_WORDS]);

/* Decoders return 0 or the reason code, in the order of the specification: length, never written, seal, kind, layout,
   fields. `count` is the number of words there are. The record is only filled when the answer is 0. */
uint8_t ply_frame_decode(const uint16_t *words, uint8_t count, ply_frame *frame);
uint8_t ply_counters_decode(const uint16_t *words, uint8_t count, ply_counters *counters);
uint8_t ply_calibration_decode(const uint16_t *words, uint8_t count, ply_calibration *calibration);

/* Which of two slots of PLY_FRAME_WORDS words holds the newest whole frame (RFC 1982): 0 for A, 1 for B, with the frame
   filled; PLY_SLOT_BOTH_BAD or PLY_SLOT_CONTRADICT otherwise. */
#define PLY_SLOT_BOTH_BAD 2u
#define PLY_SLOT_CONTRADICT 3u
uint8_t ply_slot_choose(const uint16_t *a, const uint16_t *b, ply_frame *frame);

/* What the duty cycle does next; each call of ply_step does one phase. */
typedef enum {
    PLY_COLD_START,
    PLY_CHECK_SUPPLY,
    PLY_START_CONVERSION,
    PLY_READ_SENSOR,
    PLY_SEAL_FRAME,
    PLY_COMMIT_FRAME,
    PLY_COMMIT_COUNTERS,
    PLY_COMMIT_BURST
} ply_phase;

/* Everything the firmware keeps in RAM. */
typedef struct {
    ply_phase phase;
    uint8_t slot;           /* where the next frame goes: 0 A, 1 B */
    uint8_t counters_copy;  /* where the next counters go: 0 A, 1 B */
    uint8_t status;         /* flags gathered for the next frame */
    uint8_t start_counted;  /* this cold start is in the counters */
    uint8_t since_counters; /* frames since the counters were written */
    uint8_t bursting;       /* a burst is being sampled */
    uint16_t since_burst;   /* frames since the last burst */
    uint16_t period_ms;
    uint16_t frame_word;    /* word 0 of the newest frame found at the start; 0: there was none */
    uint16_t counters_word; /* the same of the counters */
    uint16_t words[PLY_FRAME_WORDS];
    uint32_t due_ms;        /* when the next sample is due */
    uint32_t sample_ms;     /* when the conversion under way was started */
    uint32_t tenth_ms;      /* up to when the uptime is counted */
    ply_frame frame;
    ply_counters counters;
    ply_burst burst;
} ply_tag;

/* To be called once when the supply has come up. */
void ply_start(ply_tag *tag);

/* Does one phase and returns the next one. Call it for ever; it sleeps through the port. */
ply_phase ply_step(ply_tag *tag);

#endif
