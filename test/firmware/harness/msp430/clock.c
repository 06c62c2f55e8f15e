/* The simulator counts cycles itself; it stops at every reading and tells. */
#include "clock.h"

void clock_start(void)
{
}

__attribute__((noinline)) uint32_t clock_now(void)
{
    __asm__ volatile("nop");
    return 0;
}

uint32_t clock_between(uint32_t from, uint32_t to)
{
    (void)from;
    (void)to;
    return 0;
}
