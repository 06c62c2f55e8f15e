/* Eva's entry: decode and encode for any words, 0 to 40 of them, which is more than any record has, and 255. The words end
   where the array does, so that a read beyond them is a read of nothing. */
#include <stdint.h>

#include "__fc_builtin.h"
#include "plyframe.h"

#define MANY_WORDS 40
#define MOST_WORDS 255

static void decode_and_encode(const uint16_t *words, uint8_t count)
{
    uint16_t out[PLY_BURST_WORDS];
    ply_frame frame;
    ply_counters counters;
    ply_calibration calibration;
    if (ply_frame_decode(words, count, &frame) == 0) {
        ply_frame_encode(&frame, out);
    }
    if (ply_counters_decode(words, count, &counters) == 0) {
        ply_counters_encode(&counters, out);
    }
    (void)ply_calibration_decode(words, count, &calibration);
}

static void choose(void)
{
    uint16_t a[PLY_FRAME_WORDS];
    uint16_t b[PLY_FRAME_WORDS];
    ply_frame frame;
    Frama_C_make_unknown((char *)a, sizeof a);
    Frama_C_make_unknown((char *)b, sizeof b);
    (void)ply_slot_choose(a, b, &frame);
}

static void encode_anything(void)
{
    uint16_t out[PLY_BURST_WORDS];
    ply_frame frame;
    ply_counters counters;
    ply_burst burst;
    Frama_C_make_unknown((char *)&frame, sizeof frame);
    Frama_C_make_unknown((char *)&counters, sizeof counters);
    Frama_C_make_unknown((char *)&burst, sizeof burst);
    ply_frame_encode(&frame, out);
    ply_counters_encode(&counters, out);
    ply_burst_encode(&burst, out);
}

int main(void)
{
    uint16_t room[MOST_WORDS];
    Frama_C_make_unknown((char *)room, sizeof room);
    for (int count = 0; count <= MANY_WORDS; count++) {
        decode_and_encode(room + (MOST_WORDS - count), (uint8_t)count);
    }
    decode_and_encode(room, MOST_WORDS);
    choose();
    encode_anything();
    return 0;
}
