/* simavr prints what is written to GPIOR0, a line at each carriage return, and stops at sleep with interrupts off. */
#include "console.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>
#include <simavr/avr/avr_mcu_section.h>

AVR_MCU(F_CPU, "atmega1284p");
AVR_MCU_SIMAVR_CONSOLE(&GPIOR0);

void console_number(uint32_t value)
{
    uint8_t started = 0;
    for (uint8_t i = 0; i < 8u; i++) {
        uint8_t nibble = (uint8_t)(value >> 28);
        value <<= 4;
        if (nibble != 0u || started || i == 7u) {
            started = 1;
            GPIOR0 = (uint8_t)(nibble < 10u ? '0' + nibble : 'a' + nibble - 10);
        }
    }
    GPIOR0 = ' ';
}

void console_end_line(void)
{
    GPIOR0 = '\r';
}

void console_done(void)
{
    cli();
    sleep_mode();
}
