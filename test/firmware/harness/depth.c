/* How deep the stack got in STEPS steps of the duty cycle: what lies below the stack pointer is painted before each call,
   and the lowest byte that lost its paint is looked for after it. Prints one number. */
#include "board.h"
#include "console.h"
#include "plyframe.h"
#include "used-tag.h"

#define PAINTED 512u
#define PAINT 0x5Au

#if defined(__AVR__)
#include <avr/io.h>
#define STACK_POINTER(sp) (sp) = (uint8_t *)(SP + 1u)
#elif defined(__MSP430__)
#define STACK_POINTER(sp) __asm__ volatile("mov r1, %0" : "=r"(sp))
#elif defined(__riscv)
#define STACK_POINTER(sp) __asm__ volatile("mv %0, sp" : "=r"(sp))
#else
#define STACK_POINTER(sp) __asm__ volatile("mov %0, sp" : "=r"(sp))
#endif

static ply_tag tag;

__attribute__((noinline)) static uint16_t depth_of_step(uint8_t starting)
{
    uint8_t *sp;
    volatile uint8_t *byte;
    STACK_POINTER(sp);
    for (byte = sp - PAINTED; byte < sp; byte++) {
        *byte = PAINT;
    }
    if (starting) {
        ply_start(&tag);
    } else {
        (void)ply_step(&tag);
    }
    for (byte = sp - PAINTED; byte < sp && *byte == PAINT; byte++) {
    }
    return (uint16_t)(sp - byte);
}

int main(void)
{
    uint16_t deepest;
    board_with_used_tag();
    deepest = depth_of_step(1);
    for (uint16_t i = 0; i < STEPS; i++) {
        uint16_t depth = depth_of_step(0);
        if (depth > deepest) {
            deepest = depth;
        }
    }
    console_number(deepest);
    console_end_line();
    console_done();
    return 0;
}
