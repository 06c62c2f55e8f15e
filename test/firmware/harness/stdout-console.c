/* The console on a target whose C library prints. */
#include "console.h"

#include <stdio.h>
#include <stdlib.h>

void console_number(uint32_t value)
{
    printf("%lx ", (unsigned long)value);
}

void console_end_line(void)
{
    printf("\n");
}

void console_done(void)
{
    exit(0);
}
