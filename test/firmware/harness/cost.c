/* Counts what each part of the firmware costs: the frame's encoder and decoder, then every phase of the duty cycle over
   STEPS steps. Prints one line a part: its number (phases from 2 on), what the clock counted, and what the port was
   asked for: words read, words written, settles. The first two lines judge the clock: nothing, and 100 instructions that
   do nothing in one cycle each. */
#include "board.h"
#include "clock.h"
#include "console.h"
#include "plyframe.h"
#include "used-tag.h"

#define EMPTY 0xFFu
#define HUNDRED 0xFEu
#define ENCODE 0u
#define DECODE 1u
#define FIRST_PHASE 2u

#define TEN_NOPS __asm__ volatile("nop\nnop\nnop\nnop\nnop\nnop\nnop\nnop\nnop\nnop");

static uint32_t started;

static void start_count(void)
{
    board.words_read = 0;
    board.words_written = 0;
    board.settles = 0;
    started = clock_now();
}

static void tell(uint8_t part, uint32_t now)
{
    console_number(part);
    console_number(clock_between(started, now));
    console_number(board.words_read);
    console_number(board.words_written);
    console_number(board.settles);
    console_end_line();
}

int main(void)
{
    static ply_tag tag;
    static ply_frame frame;
    uint16_t words[PLY_FRAME_WORDS];
    uint32_t now;
    board_with_used_tag();
    clock_start();

    start_count();
    now = clock_now();
    tell(EMPTY, now);

    start_count();
    TEN_NOPS TEN_NOPS TEN_NOPS TEN_NOPS TEN_NOPS TEN_NOPS TEN_NOPS TEN_NOPS TEN_NOPS TEN_NOPS
    now = clock_now();
    tell(HUNDRED, now);

    (void)ply_frame_decode(&board.words[PLY_WORD_SLOT_A], PLY_FRAME_WORDS, &frame);
    start_count();
    ply_frame_encode(&frame, words);
    now = clock_now();
    tell(ENCODE, now);

    start_count();
    (void)ply_frame_decode(words, PLY_FRAME_WORDS, &frame);
    now = clock_now();
    tell(DECODE, now);

    ply_start(&tag);
    for (uint16_t i = 0; i < STEPS; i++) {
        uint8_t phase = (uint8_t)tag.phase;
        board.pressure += 640;
        start_count();
        (void)ply_step(&tag);
        now = clock_now();
        tell((uint8_t)(FIRST_PHASE + phase), now);
    }
    console_done();
    return 0;
}
