/* The same work in native C: the scanner of host/bulk/native, compiled by gcc -O2, with a loop that reads the file and keeps
   the account. rival FILE prints what it found as one line of JSON; rival --frames FILE judges raw frames and prints its rate.
   The order of members is the one our writer uses. */
#define _GNU_SOURCE
#include <stdio.h>
#include <string.h>
#include <fcntl.h>
#include <sys/resource.h>
#include <time.h>
#include <unistd.h>

#include "../../../host/bulk/native/scan.c"

static struct {
    uint64_t lines, headers, reads, ambient, blank, unreadable, good_frames;
    int64_t sequence, pressure, temperature, supply, uptime;
    double kit_time_us;
} found;

static void learn(uint32_t which, const char *const texts_of[], const uint32_t values[])
{
    uint32_t at = 0;
    for (uint32_t i = 0; texts_of[i]; i++) {
        uint32_t length = (uint32_t)strlen(texts_of[i]);
        steps[which][i] = (step){at, length, values[i]};
        memcpy(texts[which] + at, texts_of[i], length);
        memset(masks[which] + at, 0xff, length);
        at += (length + 15u) & ~15u;
    }
}

static void name_values(uint32_t list, uint32_t at, const char *text, uint8_t raw)
{
    uint32_t length = (uint32_t)strlen(text);
    memcpy(names[list][at], text, length);
    memset(name_masks[list][at], 0xff, length);
    names[list][at][NAME_BYTES - 2] = (uint8_t)length;
    names[list][at][NAME_BYTES - 1] = raw;
}

static void allow(uint32_t kind, double low, double high)
{
    limits[kind][0] = low;
    limits[kind][1] = high;
}

/* Order, limits and names, written by hand from the capture format and the memory map. */
static void set_up(void)
{
    static const char *const read_texts[] = {"{\"record\":\"read\",\"kit_time_us\":", ",\"epc\":\"", "\",\"pc\":\"",
                                             "\",\"xpc\":\"", "\",\"rssi_dbm\":", ",\"frequency_khz\":", ",\"result\":\"",
                                             "\",\"bank\":\"", "\",\"word\":", ",\"words\":\"", "\"}\n", 0};
    static const uint32_t read_values[] = {KIT_TIME, EPC, PC, XPC, RSSI, FREQUENCY, RESULT, BANK, WORD, WORDS, LINE_END};
    static const char *const ambient_texts[] = {"{\"record\":\"ambient\",\"kit_time_us\":", ",\"pressure_raw\":",
                                                ",\"temperature_cel\":", "}\n", 0};
    static const uint32_t ambient_values[] = {AMBIENT_KIT_TIME, PRESSURE, TEMPERATURE, LINE_END};
    static const char *const results[] = {"done\"", "not_asked\"", "tag_lost\"", "tag_memory_overrun\"",
                                          "tag_memory_locked\"", "tag_power_insufficient\"", "tag_error\"",
                                          "password_wrong\""};
    static const uint8_t result_raws[] = {0, 1, 60, 61, 62, 63, 64, 65};
    static const char *const banks[] = {"reserved\"", "epc\"", "tid\"", "user\""};
    prepare();
    learn(0, read_texts, read_values);
    learn(1, ambient_texts, ambient_values);
    for (uint32_t i = 0; i < 8; i++) name_values(0, i, results[i], result_raws[i]);
    for (uint32_t i = 0; i < 4; i++) name_values(1, i, banks[i], (uint8_t)i);
    allow(KIT_TIME, 0, 281474976710655.0);
    allow(AMBIENT_KIT_TIME, 0, 281474976710655.0);
    allow(EPC, 0, 62);
    allow(PC, 2, 2);
    allow(XPC, 2, 2);
    allow(RSSI, -3276.7, 3276.7);
    allow(FREQUENCY, 0, 4294967295.0);
    allow(WORD, 0, 65535);
    allow(WORDS, 0, 510);
    allow(PRESSURE, 3328000, 16128000);
    allow(TEMPERATURE, -40, 125);
}

/* Value of a member wherever it stands in the line; 0 when it is not there. */
static const uint8_t *member(const uint8_t *line, size_t length, const char *id)
{
    const uint8_t *at = memmem(line, length, id, strlen(id));
    return at ? at + strlen(id) : 0;
}

/* A read whose members stand in another order. */
static int take_other_order(const uint8_t *line, size_t length)
{
    report to = {0};
    double number = 0;
    const uint8_t *p;
    if (line[length - 2] != '}' || !member(line, length, "\"record\":\"read\"")) return 0;
    if (!(p = member(line, length, "\"kit_time_us\":")) || !counted(p, KIT_TIME, &to.read.kit_time_us)) return 0;
    if (!(p = member(line, length, "\"epc\":\"")) ||
        !hex_words(p, EPC, tag_bytes + state[TAG_COUNT] * TAG_BYTES, &to.read.epc_bytes)) return 0;
    if (!(p = member(line, length, "\"pc\":\"")) || !hex_word(p, &to.read.pc)) return 0;
    if (!(p = member(line, length, "\"xpc\":\"")) || !hex_word(p, &to.read.xpc)) return 0;
    if (!(p = member(line, length, "\"rssi_dbm\":")) || !measured(p, RSSI, &to.read.rssi_dbm)) return 0;
    if (!(p = member(line, length, "\"frequency_khz\":")) || !counted(p, FREQUENCY, &number)) return 0;
    to.read.frequency_khz = (uint32_t)number;
    if (!(p = member(line, length, "\"result\":\"")) || !name(p, 0, &to.read.result)) return 0;
    if (!(p = member(line, length, "\"bank\":\"")) || !name(p, 1, &to.read.bank)) return 0;
    if (!(p = member(line, length, "\"word\":")) || !counted(p, WORD, &number)) return 0;
    to.read.word = (uint32_t)number;
    if (!(p = member(line, length, "\"words\":\"")) ||
        !(p = hex_words(p, WORDS, data + state[DATA_COUNT], &to.read.data_bytes)) || *p != '"') return 0;
    to.read.byte = (uint32_t)(line - input);
    add_read(&to.read);
    return 1;
}

static void take_single(const uint8_t *line, size_t length)
{
    if (take_other_order(line, length)) return;
    if (length == 1) found.blank++;
    else if (member(line, length, "{\"record\":\"capture\"") == line + 19) found.headers++;
    else found.unreadable++;
    state[LINE_COUNT]++;
}

static void account(void)
{
    uint32_t rows = state[ROW_COUNT];
    found.lines += state[LINE_COUNT];
    found.reads += rows;
    found.ambient += state[AMBIENT_COUNT];
    for (uint32_t row = 0; row < rows; row++) {
        found.kit_time_us += kit_time_us_column[row];
        if (slot_column[row] == 0 || header_verdict[row] != 0) continue;
        found.good_frames++;
        found.sequence += sequence_field[row];
        found.pressure += pressure_field[row];
        found.temperature += temperature_field[row];
        found.supply += supply_field[row];
        found.uptime += uptime_field[row];
    }
}

/* It is fastest with so many bytes at once. */
#define AT_ONCE (1024u * 1024u)

static void read_capture(int file)
{
    uint32_t held = 0;
    for (;;) {
        uint32_t room = INPUT_BYTES - held;
        ssize_t count = read(file, input + held, room < AT_ONCE ? room : AT_ONCE);
        if (count <= 0) break;
        held += (uint32_t)count;
        input[held] = 0;
        uint32_t at = 0;
        begin(0);
        for (;;) {
            at = scan(at, held);
            if (is_full()) {
                account();
                begin(at);
                continue;
            }
            if (at >= held) break;
            const uint8_t *feed = memchr(input + at, '\n', held - at);
            if (!feed) break;
            take_single(input + at, (size_t)(feed + 1 - (input + at)));
            at = (uint32_t)(feed + 1 - input);
        }
        account();
        memmove(input, input + at, held - at);
        held -= at;
    }
}

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

/* Judges the frames of a file over and over for about as long as asked, ROWS at a time. */
static void read_frames(int file)
{
    static uint8_t all[64u * 1024u * 1024u];
    ssize_t bytes = read(file, all, sizeof all);
    uint32_t frames = (uint32_t)bytes / 16u;
    double best = 1e9;
    uint64_t good = 0;
    for (int round = 0; round < 7; round++) {
        double from = seconds();
        good = 0;
        for (uint32_t at = 0; at < frames; at += ROWS) {
            uint32_t count = frames - at < ROWS ? frames - at : ROWS;
            memcpy(input, all + 16u * at, 16u * count);
            take_frames(count);
            for (uint32_t row = 0; row < count; row++) good += slot_a_verdict[row] == 0;
        }
        double took = seconds() - from;
        if (took < best) best = took;
    }
    printf("{\"frames\":%u,\"good\":%lu,\"seconds\":%.9f}\n", frames, (unsigned long)good, best);
}

int main(int count, char **words)
{
    int of_frames = count == 3 && strcmp(words[1], "--frames") == 0;
    if (count != 2 && !of_frames) return 2;
    int file = open(words[count - 1], O_RDONLY);
    if (file < 0) return 3;
    set_up();
    if (of_frames) {
        read_frames(file);
        return 0;
    }
    read_capture(file);
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf("{\"lines\":%lu,\"headers\":%lu,\"reads\":%lu,\"ambient\":%lu,\"blank\":%lu,\"unreadable\":%lu,\"goodFrames\":%lu,"
           "\"sums\":{\"kitTimeUs\":%.0f,\"sequence\":%ld,\"pressure\":%ld,\"temperature\":%ld,\"supply\":%ld,\"uptime\":%ld},"
           "\"rssKb\":%ld,\"cpuSeconds\":%.3f}\n",
           found.lines, found.headers, found.reads, found.ambient, found.blank, found.unreadable, found.good_frames,
           found.kit_time_us, found.sequence, found.pressure, found.temperature, found.supply, found.uptime,
           usage.ru_maxrss,
           (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
               (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1e6);
    return 0;
}
