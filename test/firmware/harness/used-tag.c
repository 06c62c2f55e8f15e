#include "used-tag.h"

#include "board.h"
#include "plyframe.h"

static void seal(uint8_t word, uint8_t count)
{
    board.words[word + count - 1u] = ply_seal(&board.words[word], (uint8_t)(count - 1u));
}

void board_with_used_tag(void)
{
    static const ply_counters counters = {812, 41, 70000, 0, 2};
    static const uint16_t calibration[PLY_CALIBRATION_WORDS] = {0x4130, 0x05f0, 0x1234, 0x5678, 0x0200, 0x0bc0,
                                                                0x1411, 0x0000, 0x0320, 0xfea2, 0x07d0, 0x09c4,
                                                                0x0078, 0x0f2a, 0x850c, 0xdeee};
    ply_frame frame = {13652224, 123, 4711, 2147, 3142, 0};
    board.words[0] = (PLY_HEADER_KIND << PLY_HEADER_KIND_SHIFT) | PLY_LAYOUT;
    board.words[1] = (uint16_t)(PLY_FINGERPRINT >> 16);
    board.words[2] = (uint16_t)(PLY_FINGERPRINT & 0xFFFFu);
    board.words[PLY_HEADER_SAMPLING_PERIOD_WORD] = 100;
    board.words[6] = 1;
    seal(PLY_WORD_HEADER, PLY_HEADER_WORDS);
    ply_frame_encode(&frame, &board.words[PLY_WORD_SLOT_A]);
    frame.sequence--;
    ply_frame_encode(&frame, &board.words[PLY_WORD_SLOT_B]);
    ply_counters_encode(&counters, &board.words[PLY_WORD_COUNTERS_A]);
    ply_counters_encode(&counters, &board.words[PLY_WORD_COUNTERS_B]);
    for (uint8_t i = 0; i < PLY_CALIBRATION_WORDS; i++) {
        board.words[PLY_WORD_CALIBRATION_1 + i] = calibration[i];
        board.words[PLY_WORD_CALIBRATION_2 + i] = calibration[i];
    }
    board.pressure = 13652224;
    board.temperature = 3142;
    board.supply_mv = 2147;
    board.sensor_starts = 1;
    board.sensor_ready = 1;
    board.sensor_reads = 1;
    board.bridge_reads = 1;
    board.writes_left = 255;
}
