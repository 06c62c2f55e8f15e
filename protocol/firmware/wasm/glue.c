/* plyframe as a WebAssembly module: the nine functions of the port are imports of the module `env`, and the program
   exports start() and step(). The state is one static object, so a module instance is one tag. */
#include <stddef.h>

#include "../plyframe.h"
#include "../plyframe_port.h"

static ply_tag tag;

/* clang calls these for assignments of whole records; there is no C library here. Plain loops, kept plain: the compiler
   would otherwise recognise them and call the function from itself. */
__attribute__((no_builtin("memcpy"))) void *memcpy(void *to, const void *from, size_t count)
{
    uint8_t *target = to;
    const uint8_t *source = from;
    for (size_t i = 0; i < count; i++) {
        target[i] = source[i];
    }
    return to;
}

__attribute__((no_builtin("memset"))) void *memset(void *to, int value, size_t count)
{
    uint8_t *target = to;
    for (size_t i = 0; i < count; i++) {
        target[i] = (uint8_t)value;
    }
    return to;
}

/* Power came from nothing. */
__attribute__((export_name("start"))) void start(void)
{
    ply_start(&tag);
}

/* Does the phase that is due, and returns the next one. */
__attribute__((export_name("step"))) uint32_t step(void)
{
    return (uint32_t)ply_step(&tag);
}

/* Where the state lies and how many bytes it has: a test fills it with garbage to show that nothing in it survives. */
__attribute__((export_name("state_address"))) uint32_t state_address(void)
{
    return (uint32_t)(uintptr_t)&tag;
}

__attribute__((export_name("state_size"))) uint32_t state_size(void)
{
    return (uint32_t)sizeof tag;
}
