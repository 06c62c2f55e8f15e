/* Timer 1 on the core's clock: cycles, 16 bits. */
#include "clock.h"

#include <avr/io.h>

void clock_start(void)
{
    TCCR1A = 0;
    TCCR1B = 1u << CS10;
}

uint32_t clock_now(void)
{
    uint16_t now = TCNT1;
    uint8_t overflow = (uint8_t)(TIFR1 & (1u << TOV1));
    TIFR1 = 1u << TOV1;
    return (overflow != 0u ? 0x10000UL : 0UL) | now;
}

uint32_t clock_between(uint32_t from, uint32_t to)
{
    uint16_t passed = (uint16_t)(to - from);
    uint8_t wrapped = to >= 0x10000UL;
    if (wrapped && (uint16_t)to >= (uint16_t)from) {
        return 0xFFFFFFFFUL;
    }
    return passed;
}
