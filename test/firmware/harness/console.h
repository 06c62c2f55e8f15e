/* Lines of hex numbers to whoever runs the program. */
#ifndef CONSOLE_H
#define CONSOLE_H

#include <stdint.h>

#if defined(__AVR__)
#include <avr/pgmspace.h>
#define CONSTANT_TABLE PROGMEM
#define CONSTANT_WORD(address) pgm_read_word(address)
#else
#define CONSTANT_TABLE
#define CONSTANT_WORD(address) (*(address))
#endif

void console_number(uint32_t value);
void console_end_line(void);

/* Ends the program. */
void console_done(void);

#endif
