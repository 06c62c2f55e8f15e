/* What a board gives the firmware: nine functions. Each returns 1 when it was done and 0 when it was not, unless it
   says otherwise. None may block longer than its own transfer. */
#ifndef PLYFRAME_PORT_H
#define PLYFRAME_PORT_H

#include <stdint.h>

/* Milliseconds since the cold start; never goes back while the supply lasts. */
uint32_t ply_port_now_ms(void);

/* Sleeps with the lowest current until that time, or until the supply is lost. May return early. */
void ply_port_sleep_until(uint32_t ms);

/* Supply in millivolt. */
uint16_t ply_port_supply_mv(void);

/* Starts one conversion of pressure and temperature. */
uint8_t ply_port_sensor_start(void);

/* 1 when the conversion is finished. */
uint8_t ply_port_sensor_ready(void);

/* Pressure in 1/128 Pa and temperature in 0.01 degrees Celsius of the finished conversion, both of the same one.
   A sensor that counts 1/4096 hPa needs no division: counts * 25 / 8, a multiplication and a shift. */
uint8_t ply_port_sensor_read(uint32_t *pressure, int16_t *temperature);

/* Reads `count` words of the USER bank through the bridge. */
uint8_t ply_port_bridge_read(uint8_t word, uint16_t *words, uint8_t count);

/* Writes one word of the USER bank. The bridge may still hold it when this returns. */
uint8_t ply_port_bridge_write(uint8_t word, uint16_t value);

/* Returns when every word written so far is in the memory cells. The order of writes is only kept across this call. */
uint8_t ply_port_bridge_settle(void);

#endif
