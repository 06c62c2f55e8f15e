/* The least a program around the firmware can be: a port that answers at once. Its own size is not the firmware's. */
#include "plyframe.h"
#include "plyframe_port.h"

/* As long as the structure, for its size to be read from the object. */
uint8_t size_of_ply_tag[sizeof(ply_tag)];

uint32_t ply_port_now_ms(void)
{
    return 0;
}

void ply_port_sleep_until(uint32_t ms)
{
    (void)ms;
}

uint16_t ply_port_supply_mv(void)
{
    return 0;
}

uint8_t ply_port_sensor_start(void)
{
    return 1;
}

uint8_t ply_port_sensor_ready(void)
{
    return 1;
}

uint8_t ply_port_sensor_read(uint32_t *pressure, int16_t *temperature)
{
    *pressure = 0;
    *temperature = 0;
    return 1;
}

uint8_t ply_port_bridge_read(uint8_t word, uint16_t *words, uint8_t count)
{
    *words = (uint16_t)(word + count);
    return 1;
}

uint8_t ply_port_bridge_write(uint8_t word, uint16_t value)
{
    return word == value;
}

uint8_t ply_port_bridge_settle(void)
{
    return 1;
}

int main(void)
{
    static ply_tag tag;
    ply_start(&tag);
    for (;;) {
        (void)ply_step(&tag);
    }
}
