/* Answers questions that were compiled in, for targets without files. questions_data.h holds `questions`: the question,
   the number of words and the words of each, then 0. */
#include "questions.h"

#include "console.h"
#include "questions_data.h"

int main(void)
{
    static uint16_t given[GIVEN_MAX];
    static answer told;
    uint16_t at = 0;
    uint16_t question;
    while ((question = CONSTANT_WORD(&questions[at])) != 0u) {
        uint8_t count = (uint8_t)CONSTANT_WORD(&questions[at + 1u]);
        for (uint8_t i = 0; i < count; i++) {
            given[i] = CONSTANT_WORD(&questions[at + 2u + i]);
        }
        ask(question, given, count, &told);
        console_number(told.reason);
        for (uint8_t i = 0; i < told.count; i++) {
            console_number(told.values[i]);
        }
        console_end_line();
        at = (uint16_t)(at + 2u + count);
    }
    console_done();
    return 0;
}
