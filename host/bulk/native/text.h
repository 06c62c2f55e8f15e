/* Reading of JSON values in place. Every function takes where a value begins and gives where it ends, or 0 when it is not
   of the plain kind: the line then goes to the rules for single lines, which say what is wrong, if anything is. The byte
   behind the last one in memory is 0, which no value and no text between values may hold. */
#ifndef PLYFRAME_TEXT_H
#define PLYFRAME_TEXT_H

#include "vectors.h"

/* Whether a text stands at `p`; `masks` has 0xff for every byte of it, and both are padded to vectors. */
static inline int stands(const uint8_t *p, const uint8_t *text, const uint8_t *masks, uint32_t length)
{
    bytes16 difference = {0};
    for (uint32_t i = 0; i < length; i += 16u) {
        difference |= (load16(p + i) ^ load16(text + i)) & load16(masks + i);
    }
    return !is_any(difference);
}

/* Value of each hex digit by its character, NO_DIGIT for every other. Filled by whoever begins. */
#define NO_DIGIT 0xffu
static uint8_t hex_digit[256];

static inline void fill_hex_digits(void)
{
    for (uint32_t i = 0; i < 256u; i++) {
        uint32_t letter = (i | 0x20u) - 'a';
        hex_digit[i] = (uint8_t)(i - '0' <= 9u ? i - '0' : letter <= 5u ? letter + 10u : NO_DIGIT);
    }
}

/* Bytes of sixteen hex digits in the lower half; `bad` is not 0 for every character that is no digit. */
static inline bytes16 from_hex(bytes16 text, bytes16 *bad)
{
    bytes16 digit = text - '0';
    bytes16 letter = (text | 0x20) - 'a';
    *bad = lesser(beyond(digit, all(9)), beyond(letter, all(5)));
    words8 pairs = (words8)lesser(digit, letter + 10);
    return (bytes16)(pairs << 4 | pairs >> 8);
}

/* Hex digits up to the first other character, as bytes; fails for an odd number and for more than `most` bytes. */
static inline const uint8_t *hex(const uint8_t *p, uint8_t *to, uint32_t most, uint32_t *count)
{
    const uint8_t *from = p;
    for (;;) {
        bytes16 first, second;
        bytes16 low = from_hex(load16(p), &first);
        bytes16 high = from_hex(load16(p + 16), &second);
        bytes16 packed = __builtin_shufflevector(low, high, 0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30);
        __builtin_memcpy(to, &packed, 16);
        if (!is_any(first | second)) {
            p += 32;
            to += 16;
            if ((uint32_t)(p - from) > 2u * most) return 0;
            continue;
        }
        p += is_any(first) ? first_of(first) : 16u + first_of(second);
        uint32_t digits = (uint32_t)(p - from);
        *count = digits / 2u;
        return digits % 2u == 0u && digits <= 2u * most ? p : 0;
    }
}

/* Four hex digits. */
static inline const uint8_t *hex_word(const uint8_t *p, uint32_t *word)
{
    uint32_t a = hex_digit[p[0]], b = hex_digit[p[1]], c = hex_digit[p[2]], d = hex_digit[p[3]];
    *word = a << 12 | b << 8 | c << 4 | d;
    return (a | b | c | d) <= 15u ? p + 4 : 0;
}

#define MOST_DIGITS 15

/* A whole number without sign or exponent, exact in a double. */
static inline const uint8_t *whole_number(const uint8_t *p, double *value)
{
    const uint8_t *from = p;
    uint32_t digit = (uint32_t)*p - '0';
    if (digit > 9u) return 0;
    uint64_t sum = digit;
    p++;
    if (sum != 0u) {
        while ((digit = (uint32_t)*p - '0') <= 9u) {
            sum = sum * 10u + digit;
            p++;
        }
    }
    *value = (double)sum;
    return p - from <= MOST_DIGITS ? p : 0;
}

/* A number without exponent: its digits and the power of ten are exact in doubles, so that one division rounds it right. */
static inline const uint8_t *decimal(const uint8_t *p, double *value)
{
    static const double tens[MOST_DIGITS + 1] = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    uint32_t minus = *p == '-';
    p += minus;
    const uint8_t *from = p;
    uint32_t digit = (uint32_t)*p - '0';
    if (digit > 9u) return 0;
    uint64_t sum = digit;
    p++;
    if (sum != 0u) {
        while ((digit = (uint32_t)*p - '0') <= 9u) {
            sum = sum * 10u + digit;
            p++;
        }
    }
    uint32_t behind = 0;
    if (*p == '.') {
        p++;
        while ((digit = (uint32_t)*p - '0') <= 9u) {
            sum = sum * 10u + digit;
            p++;
            behind++;
        }
        if (behind == 0u) return 0;
    }
    if (p - from - (behind > 0u) > MOST_DIGITS) return 0;
    double magnitude = (double)sum / tens[behind];
    *value = minus ? -magnitude : magnitude;
    return p;
}

static inline int is_word(const uint8_t *p, const char *word)
{
    while (*word != 0 && *p == (uint8_t)*word) {
        p++;
        word++;
    }
    return *word == 0;
}

/* `null` as not a number, else a number. */
static inline const uint8_t *decimal_or_null(const uint8_t *p, double *value)
{
    if (*p != 'n') return decimal(p, value);
    *value = __builtin_nan("");
    return is_word(p, "null") ? p + 4 : 0;
}

/* A value that does not matter: a text of plain characters, a number without exponent, true, false or null. */
static const uint8_t *any_value(const uint8_t *p)
{
    double ignored;
    if (*p == '"') {
        for (p++; *p != '"'; p++) {
            if (*p < 0x20u || *p > 0x7eu || *p == '\\') return 0;
        }
        return p + 1;
    }
    if (*p == 't') return is_word(p, "true") ? p + 4 : 0;
    if (*p == 'f') return is_word(p, "false") ? p + 5 : 0;
    return decimal_or_null(p, &ignored);
}

#endif
