/* What a vector asks of the firmware, and the answer, on every target the same. */
#ifndef QUESTIONS_H
#define QUESTIONS_H

#include <stdint.h>

/* First word of a question. Of a decoder the record's words are asked; of an encoder the raw values, two words each with
   the high half first, in the order of the fields that the firmware sets; of the slots both, A first. */
#define ASK_FRAME_DECODE 1u
#define ASK_COUNTERS_DECODE 2u
#define ASK_CALIBRATION_DECODE 3u
#define ASK_SLOTS 4u
#define ASK_FRAME_ENCODE 5u
#define ASK_COUNTERS_ENCODE 6u
#define ASK_BURST_ENCODE 7u

#define GIVEN_MAX 64u   /* words: 31 raw values of a burst */
#define ANSWERS_MAX 32u /* values: the words of a burst */

typedef struct {
    uint8_t reason;               /* 0 or a reason code */
    uint8_t count;                /* values that follow */
    uint32_t values[ANSWERS_MAX]; /* raw values, or words of an encoder; a negative one in two's complement */
} answer;

/* Answers one question. `count` words are given. */
void ask(uint16_t question, const uint16_t *given, uint8_t count, answer *told);

#endif
