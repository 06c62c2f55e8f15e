/* The duty cycle on a board in memory, led by lines on standard input:
   word AT HEX...     sets words of the bank         set NAME NUMBER   sets what the port answers
   start              power has come up              steps N           takes N steps
   frames N           steps until N more frames are written, 5000 steps at most
   show               prints the time, the phase and the bank as hex */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "board.h"
#include "plyframe.h"

static ply_tag tag;

static void step(void)
{
    (void)ply_step(&tag);
}

static void frames(unsigned long wanted)
{
    for (unsigned i = 0; i < 5000u && wanted > 0u; i++) {
        uint8_t slot = tag.slot;
        uint8_t sealed = tag.phase == PLY_COMMIT_FRAME;
        step();
        if (sealed && tag.slot != slot) {
            wanted--;
        }
    }
}

static void set(const char *name, unsigned long value)
{
    if (strcmp(name, "now_ms") == 0) {
        board.now_ms = (uint32_t)value;
    } else if (strcmp(name, "pressure") == 0) {
        board.pressure = (uint32_t)value;
    } else if (strcmp(name, "pressure_rise") == 0) {
        board.pressure_rise = (uint32_t)value;
    } else if (strcmp(name, "temperature") == 0) {
        board.temperature = (int16_t)(uint16_t)value;
    } else if (strcmp(name, "supply_mv") == 0) {
        board.supply_mv = (uint16_t)value;
    } else if (strcmp(name, "sensor_starts") == 0) {
        board.sensor_starts = (uint8_t)value;
    } else if (strcmp(name, "sensor_ready") == 0) {
        board.sensor_ready = (uint8_t)value;
    } else if (strcmp(name, "sensor_reads") == 0) {
        board.sensor_reads = (uint8_t)value;
    } else if (strcmp(name, "bridge_reads") == 0) {
        board.bridge_reads = (uint8_t)value;
    } else if (strcmp(name, "writes_left") == 0) {
        board.writes_left = (uint8_t)value;
    } else if (strcmp(name, "sleeps_short") == 0) {
        board.sleeps_short = (uint8_t)value;
    } else {
        printf("no such name: %s\n", name);
        exit(2);
    }
}

int main(void)
{
    static char line[1024];
    while (fgets(line, sizeof line, stdin) != NULL) {
        const char *verb = strtok(line, " \n");
        const char *first = strtok(NULL, " \n");
        const char *second = strtok(NULL, " \n");
        unsigned long number = first != NULL ? strtoul(first, NULL, 10) : 0;
        if (verb == NULL) {
            continue;
        }
        if (strcmp(verb, "word") == 0) {
            for (; second != NULL; second = strtok(NULL, " \n")) {
                board.words[number++ % PLY_USER_WORDS] = (uint16_t)strtoul(second, NULL, 16);
            }
        } else if (strcmp(verb, "set") == 0 && second != NULL) {
            set(first, strtoul(second, NULL, 10));
        } else if (strcmp(verb, "start") == 0) {
            ply_start(&tag);
        } else if (strcmp(verb, "steps") == 0) {
            for (; number > 0u; number--) {
                step();
            }
        } else if (strcmp(verb, "frames") == 0) {
            frames(number);
        } else if (strcmp(verb, "show") == 0) {
            printf("%lu %d ", (unsigned long)board.now_ms, (int)tag.phase);
            for (unsigned i = 0; i < PLY_USER_WORDS; i++) {
                printf("%04x", board.words[i]);
            }
            printf("\n");
        } else {
            printf("no such verb: %s\n", verb);
            return 2;
        }
    }
    return 0;
}
