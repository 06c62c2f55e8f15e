/* The simulator has no console: numbers are kept in memory, high word first, each line after its number of values, a 0
   behind the last. The whole is dumped once `console_done` is reached. */
#include "console.h"

#define ROOM 9216u

uint16_t console_words[ROOM] __attribute__((section(".console")));
uint16_t console_used;
static uint16_t line_start;

void console_number(uint32_t value)
{
    if (console_used == line_start) {
        console_used++;
    }
    if (console_used + 2u <= ROOM) {
        console_words[console_used] = (uint16_t)(value >> 16);
        console_words[console_used + 1u] = (uint16_t)value;
    }
    console_used = (uint16_t)(console_used + 2u);
}

void console_end_line(void)
{
    if (line_start < ROOM) {
        console_words[line_start] = (uint16_t)((console_used - line_start) >> 1);
    }
    line_start = console_used;
    if (line_start < ROOM) {
        console_words[line_start] = 0;
    }
}

__attribute__((noinline)) void console_done(void)
{
    for (;;) {
        __asm__ volatile("nop");
    }
}
