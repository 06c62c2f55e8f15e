/* Answers a file of questions: one a line, hex words without separators. Prints one line an answer: the reason and
   the values in hex. For targets whose C library opens a file of the machine that runs them. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "questions.h"

static int digit(int letter)
{
    return letter >= '0' && letter <= '9' ? letter - '0' : letter >= 'a' && letter <= 'f' ? letter - 'a' + 10 : -1;
}

/* Words of a line, at most `room`; -1 when it is no run of whole words. */
static int parse(const char *line, uint16_t *words, int room)
{
    int count = 0;
    while (*line != '\0' && *line != '\n') {
        unsigned word = 0;
        if (count == room) {
            return -1;
        }
        for (int i = 0; i < 4; i++) {
            int value = digit(*line);
            if (value < 0) {
                return -1;
            }
            word = word << 4 | (unsigned)value;
            line++;
        }
        words[count++] = (uint16_t)word;
    }
    return count;
}

int main(int argc, char **argv)
{
    static char line[4 * (GIVEN_MAX + 1) + 2];
    static uint16_t words[GIVEN_MAX + 1];
    FILE *file = argc > 1 ? fopen(argv[argc - 1], "r") : NULL;
    if (file == NULL) {
        puts("no file of questions");
        return 2;
    }
    while (fgets(line, sizeof line, file) != NULL) {
        answer told;
        int count = parse(line, words, (int)(GIVEN_MAX + 1));
        uint16_t *given;
        if (count < 1) {
            puts("not a question");
            return 2;
        }
        /* Exactly as many words as were given, so that a sanitizer sees a read beyond them. */
        given = malloc(count > 1 ? (size_t)(count - 1) * sizeof *given : 1);
        if (given == NULL) {
            return 2;
        }
        memcpy(given, words + 1, (size_t)(count - 1) * sizeof *given);
        ask(words[0], given, (uint8_t)(count - 1), &told);
        free(given);
        printf("%x", told.reason);
        for (int i = 0; i < told.count; i++) {
            printf(" %lx", (unsigned long)told.values[i]);
        }
        printf("\n");
    }
    fclose(file);
    return 0;
}
