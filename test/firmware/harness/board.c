#include "board.h"

#include "plyframe_port.h"

board_state board;

uint32_t ply_port_now_ms(void)
{
    return board.now_ms;
}

void ply_port_sleep_until(uint32_t ms)
{
    if (ms - board.now_ms <= 0x7FFFFFFFUL) {
        board.now_ms = board.sleeps_short ? board.now_ms + (ms - board.now_ms + 1u) / 2u : ms;
    }
}

uint16_t ply_port_supply_mv(void)
{
    return board.supply_mv;
}

uint8_t ply_port_sensor_start(void)
{
    return board.sensor_starts;
}

uint8_t ply_port_sensor_ready(void)
{
    return board.sensor_ready;
}

uint8_t ply_port_sensor_read(uint32_t *pressure, int16_t *temperature)
{
    *pressure = board.pressure;
    *temperature = board.temperature;
    board.pressure += board.pressure_rise;
    return board.sensor_reads;
}

uint8_t ply_port_bridge_read(uint8_t word, uint16_t *words, uint8_t count)
{
    for (uint8_t i = 0; i < count; i++) {
        words[i] = board.words[word + i];
    }
    board.words_read = (uint16_t)(board.words_read + count);
    return board.bridge_reads;
}

uint8_t ply_port_bridge_write(uint8_t word, uint16_t value)
{
    if (board.writes_left == 0u) {
        return 0;
    }
    if (board.writes_left != 255u) {
        board.writes_left--;
    }
    board.words[word] = value;
    board.words_written++;
    return 1;
}

uint8_t ply_port_bridge_settle(void)
{
    board.settles++;
    return 1;
}
