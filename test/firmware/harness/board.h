/* A board in memory: the nine functions of the port, with what they answer in variables. */
#ifndef BOARD_H
#define BOARD_H

#include <stdint.h>

#include "plyframe_layout.h"

typedef struct {
    uint16_t words[PLY_USER_WORDS]; /* the USER bank */
    uint32_t now_ms;
    uint32_t pressure;       /* 1/128 Pa, of the next conversion */
    uint32_t pressure_rise;  /* added after every conversion that was read */
    int16_t temperature;     /* 0.01 degrees Celsius */
    uint16_t supply_mv;
    uint8_t sensor_starts;   /* 1, or 0 for a sensor that does not answer */
    uint8_t sensor_ready;
    uint8_t sensor_reads;
    uint8_t bridge_reads;
    uint8_t writes_left;     /* writes the bridge still does before it refuses; 255: any number */
    uint8_t sleeps_short;    /* 1: a sleep ends halfway */
    uint16_t words_read;     /* traffic since it was last cleared */
    uint16_t words_written;
    uint16_t settles;
} board_state;

extern board_state board;

#endif
