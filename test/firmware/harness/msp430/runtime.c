/* The few functions the compiler calls by itself. */
#include <stddef.h>
#include <stdint.h>

extern uint16_t __variables_start;
extern uint16_t __variables_end;

void clear_variables(void)
{
    for (uint16_t *word = &__variables_start; word < &__variables_end; word++) {
        *word = 0;
    }
}

void *memcpy(void *to, const void *from, size_t count)
{
    uint8_t *out = to;
    const uint8_t *in = from;
    while (count-- != 0u) {
        *out++ = *in++;
    }
    return to;
}

void *memset(void *to, int value, size_t count)
{
    uint8_t *out = to;
    while (count-- != 0u) {
        *out++ = (uint8_t)value;
    }
    return to;
}

uint16_t __mspabi_mpyi(uint16_t a, uint16_t b)
{
    uint16_t product = 0;
    while (a != 0u) {
        product = (uint16_t)(product + ((a & 1u) != 0u ? b : 0u));
        a >>= 1;
        b = (uint16_t)(b << 1);
    }
    return product;
}
