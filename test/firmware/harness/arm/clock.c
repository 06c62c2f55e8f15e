/* SysTick on the core's clock, which QEMU ties to the number of instructions when it is told to count them. 24 bits. */
#include "clock.h"

#define SYST_CSR (*(volatile uint32_t *)0xE000E010u)
#define SYST_RVR (*(volatile uint32_t *)0xE000E014u)
#define SYST_CVR (*(volatile uint32_t *)0xE000E018u)
#define ENABLE 1u
#define CORE_CLOCK 4u

void clock_start(void)
{
    SYST_RVR = 0xFFFFFFu;
    SYST_CVR = 0;
    SYST_CSR = ENABLE | CORE_CLOCK;
}

uint32_t clock_now(void)
{
    return SYST_CVR;
}

uint32_t clock_between(uint32_t from, uint32_t to)
{
    return (from - to) & 0xFFFFFFu;
}
