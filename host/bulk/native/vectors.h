/* Vectors of 16 bytes. What a machine has an instruction for is asked for by its name: of comparisons the compilers make up to
   ten instructions instead. */
#ifndef PLYFRAME_VECTORS_H
#define PLYFRAME_VECTORS_H

#include <stdint.h>
#ifdef __SSE2__
#include <emmintrin.h>
#endif

typedef uint8_t bytes16 __attribute__((vector_size(16)));
typedef uint16_t words8 __attribute__((vector_size(16)));
typedef uint64_t halves __attribute__((vector_size(16)));

static inline bytes16 load16(const uint8_t *at)
{
    bytes16 vector;
    __builtin_memcpy(&vector, at, 16);
    return vector;
}

static inline bytes16 all(uint8_t byte)
{
    return (bytes16){byte, byte, byte, byte, byte, byte, byte, byte, byte, byte, byte, byte, byte, byte, byte, byte};
}

/* The lesser of each two bytes. */
static inline bytes16 lesser(bytes16 a, bytes16 b)
{
#if defined(__wasm__)
    return __builtin_wasm_min_u_i8x16(a, b);
#elif defined(__SSE2__)
    return (bytes16)_mm_min_epu8((__m128i)a, (__m128i)b);
#else
    bytes16 is_less = (bytes16)(a < b);
    return (a & is_less) | (b & ~is_less);
#endif
}

/* By how much each byte of `a` is greater than that of `b`; 0 where it is not. */
static inline bytes16 beyond(bytes16 a, bytes16 b)
{
#if defined(__wasm__)
    return __builtin_wasm_sub_sat_u_i8x16(a, b);
#elif defined(__SSE2__)
    return (bytes16)_mm_subs_epu8((__m128i)a, (__m128i)b);
#else
    return (a - b) & (bytes16)(a > b);
#endif
}

/* Whether any byte is not 0. */
static inline int is_any(bytes16 vector)
{
#if defined(__wasm__)
    return __builtin_wasm_any_true_v128((__attribute__((vector_size(16))) signed char)vector);
#elif defined(__SSE2__)
    return _mm_movemask_epi8(_mm_cmpeq_epi8((__m128i)vector, _mm_setzero_si128())) != 0xffff;
#else
    halves both = (halves)vector;
    return (both[0] | both[1]) != 0u;
#endif
}

/* Place of the first byte that is not 0, of which there is one. */
static inline uint32_t first_of(bytes16 vector)
{
    halves both = (halves)vector;
    return (both[0] != 0u ? (uint32_t)__builtin_ctzll(both[0]) : 64u + (uint32_t)__builtin_ctzll(both[1])) / 8u;
}

#endif
