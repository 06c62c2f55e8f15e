/* A counter of instructions or cycles. */
#ifndef CLOCK_H
#define CLOCK_H

#include <stdint.h>

void clock_start(void);
uint32_t clock_now(void);

/* Counts from one reading to a later one; 0xFFFFFFFF when the counter went round more than it can tell. */
uint32_t clock_between(uint32_t from, uint32_t to);

#endif
