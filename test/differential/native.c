/* The native C of the scanner over a file of frames: writes, for every frame, its verdict and then its fields, all as 32-bit
   integers of this machine. native FILE > answers */
#include <stdio.h>

#include "../../host/bulk/native/scan.c"

int main(int count, char **words)
{
    FILE *file = count == 2 ? fopen(words[1], "rb") : 0;
    if (file == 0) return 2;
    prepare();
    for (;;) {
        size_t frames = fread(input, 16, ROWS, file);
        if (frames == 0) return 0;
        take_frames((uint32_t)frames);
        for (size_t row = 0; row < frames; row++) {
#define FIELD(id, type) (int32_t)id##_field[row],
            int32_t answer[] = {slot_a_verdict[row], PLY_BULK_FIELDS(FIELD)};
            fwrite(answer, sizeof answer, 1, stdout);
        }
    }
}
