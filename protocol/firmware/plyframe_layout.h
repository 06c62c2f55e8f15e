/* Emitted from layout 1, fingerprint 028961a7: change protocol/spec/ and run "npm run emit". */
#ifndef PLYFRAME_LAYOUT_H
#define PLYFRAME_LAYOUT_H

#include <stdint.h>

/* Word addresses are those of a Gen2 tag's USER bank, words have 16 bits. A field of two words has its high half in
   the first. WORD is counted from the record's start; SHIFT and MASK are those of the container; MASK is not shifted. */

#define PLY_LAYOUT 1u
#define PLY_FINGERPRINT 42557863UL
#define PLY_USER_WORDS 104u

/* The seal: CRC, polynomial 0x1021, most significant bit first, no final XOR; odd-weight preset. */
#define PLY_SEAL_PRESET 0x504cu
#define PLY_SEAL_POLY 0x1021u
/* The register's change for every value of its top 4 or 8 bits, for a seal by nibble or by byte. */
#define PLY_SEAL_BY_NIBBLE { 0x0000u, 0x1021u, 0x2042u, 0x3063u, 0x4084u, 0x50a5u, 0x60c6u, 0x70e7u, 0x8108u, 0x9129u, 0xa14au, 0xb16bu, 0xc18cu, 0xd1adu, 0xe1ceu, 0xf1efu }
#define PLY_SEAL_BY_BYTE { \
    0x0000u, 0x1021u, 0x2042u, 0x3063u, 0x4084u, 0x50a5u, 0x60c6u, 0x70e7u, 0x8108u, 0x9129u, 0xa14au, 0xb16bu, 0xc18cu, 0xd1adu, 0xe1ceu, 0xf1efu, \
    0x1231u, 0x0210u, 0x3273u, 0x2252u, 0x52b5u, 0x4294u, 0x72f7u, 0x62d6u, 0x9339u, 0x8318u, 0xb37bu, 0xa35au, 0xd3bdu, 0xc39cu, 0xf3ffu, 0xe3deu, \
    0x2462u, 0x3443u, 0x0420u, 0x1401u, 0x64e6u, 0x74c7u, 0x44a4u, 0x5485u, 0xa56au, 0xb54bu, 0x8528u, 0x9509u, 0xe5eeu, 0xf5cfu, 0xc5acu, 0xd58du, \
    0x3653u, 0x2672u, 0x1611u, 0x0630u, 0x76d7u, 0x66f6u, 0x5695u, 0x46b4u, 0xb75bu, 0xa77au, 0x9719u, 0x8738u, 0xf7dfu, 0xe7feu, 0xd79du, 0xc7bcu, \
    0x48c4u, 0x58e5u, 0x6886u, 0x78a7u, 0x0840u, 0x1861u, 0x2802u, 0x3823u, 0xc9ccu, 0xd9edu, 0xe98eu, 0xf9afu, 0x8948u, 0x9969u, 0xa90au, 0xb92bu, \
    0x5af5u, 0x4ad4u, 0x7ab7u, 0x6a96u, 0x1a71u, 0x0a50u, 0x3a33u, 0x2a12u, 0xdbfdu, 0xcbdcu, 0xfbbfu, 0xeb9eu, 0x9b79u, 0x8b58u, 0xbb3bu, 0xab1au, \
    0x6ca6u, 0x7c87u, 0x4ce4u, 0x5cc5u, 0x2c22u, 0x3c03u, 0x0c60u, 0x1c41u, 0xedaeu, 0xfd8fu, 0xcdecu, 0xddcdu, 0xad2au, 0xbd0bu, 0x8d68u, 0x9d49u, \
    0x7e97u, 0x6eb6u, 0x5ed5u, 0x4ef4u, 0x3e13u, 0x2e32u, 0x1e51u, 0x0e70u, 0xff9fu, 0xefbeu, 0xdfddu, 0xcffcu, 0xbf1bu, 0xaf3au, 0x9f59u, 0x8f78u, \
    0x9188u, 0x81a9u, 0xb1cau, 0xa1ebu, 0xd10cu, 0xc12du, 0xf14eu, 0xe16fu, 0x1080u, 0x00a1u, 0x30c2u, 0x20e3u, 0x5004u, 0x4025u, 0x7046u, 0x6067u, \
    0x83b9u, 0x9398u, 0xa3fbu, 0xb3dau, 0xc33du, 0xd31cu, 0xe37fu, 0xf35eu, 0x02b1u, 0x1290u, 0x22f3u, 0x32d2u, 0x4235u, 0x5214u, 0x6277u, 0x7256u, \
    0xb5eau, 0xa5cbu, 0x95a8u, 0x8589u, 0xf56eu, 0xe54fu, 0xd52cu, 0xc50du, 0x34e2u, 0x24c3u, 0x14a0u, 0x0481u, 0x7466u, 0x6447u, 0x5424u, 0x4405u, \
    0xa7dbu, 0xb7fau, 0x8799u, 0x97b8u, 0xe75fu, 0xf77eu, 0xc71du, 0xd73cu, 0x26d3u, 0x36f2u, 0x0691u, 0x16b0u, 0x6657u, 0x7676u, 0x4615u, 0x5634u, \
    0xd94cu, 0xc96du, 0xf90eu, 0xe92fu, 0x99c8u, 0x89e9u, 0xb98au, 0xa9abu, 0x5844u, 0x4865u, 0x7806u, 0x6827u, 0x18c0u, 0x08e1u, 0x3882u, 0x28a3u, \
    0xcb7du, 0xdb5cu, 0xeb3fu, 0xfb1eu, 0x8bf9u, 0x9bd8u, 0xabbbu, 0xbb9au, 0x4a75u, 0x5a54u, 0x6a37u, 0x7a16u, 0x0af1u, 0x1ad0u, 0x2ab3u, 0x3a92u, \
    0xfd2eu, 0xed0fu, 0xdd6cu, 0xcd4du, 0xbdaau, 0xad8bu, 0x9de8u, 0x8dc9u, 0x7c26u, 0x6c07u, 0x5c64u, 0x4c45u, 0x3ca2u, 0x2c83u, 0x1ce0u, 0x0cc1u, \
    0xef1fu, 0xff3eu, 0xcf5du, 0xdf7cu, 0xaf9bu, 0xbfbau, 0x8fd9u, 0x9ff8u, 0x6e17u, 0x7e36u, 0x4e55u, 0x5e74u, 0x2e93u, 0x3eb2u, 0x0ed1u, 0x1ef0u }

/* Where the records lie. */
#define PLY_WORD_HEADER 0u /* 8 words. First in the bank, as the DSFID must be, and first in every Read. */
#define PLY_WORD_SLOT_A 8u /* 8 words. Directly behind the header, so that one Read of 32 words brings header, both slots and counters. */
#define PLY_WORD_SLOT_B 16u /* 8 words. Written in turn with slot A: a power cut spoils at most one of them. */
#define PLY_WORD_COUNTERS_A 24u /* 8 words. In the same 32-word Read as the slots. */
#define PLY_WORD_COUNTERS_B 32u /* 8 words. Written in turn with the first copy, so that a power cut does not lose the counts. */
#define PLY_WORD_CALIBRATION_1 40u /* 16 words. Written and verified first when a tag is calibrated. */
#define PLY_WORD_CALIBRATION_2 56u /* 16 words. Written only after the first copy verified; read when the first is not whole. */
#define PLY_WORD_BURST 72u /* 32 words. Exactly one Read of 32 words. Single: a torn run is rejected and taken again. */

/* Header: Says which layout and which specification wrote this tag, so that a mismatch is named and not shown as noise. */
#define PLY_HEADER_WORDS 8u
/* dsfid: word 0, bits 15..8. First octet of the bank by GS1 TDS: 00h, not formatted by ISO/IEC 15962 (from memory), so that a decoder of data elements leaves the bank alone. */
#define PLY_HEADER_DSFID_WORD 0u
#define PLY_HEADER_DSFID_SHIFT 8u
#define PLY_HEADER_DSFID_MASK 255u
#define PLY_HEADER_DSFID 0u
/* kind: word 0, bits 7..4. Tells a record of one kind from another, so that a Read at the wrong word is named. */
#define PLY_HEADER_KIND_WORD 0u
#define PLY_HEADER_KIND_SHIFT 4u
#define PLY_HEADER_KIND_MASK 15u
#define PLY_HEADER_KIND 1u
/* layout: word 0, bits 3..0. Names the layout the record was written with; the same place in every layout. */
#define PLY_HEADER_LAYOUT_WORD 0u
#define PLY_HEADER_LAYOUT_SHIFT 0u
#define PLY_HEADER_LAYOUT_MASK 15u
#define PLY_HEADER_LAYOUT 1u
/* fingerprint: words 1 and 2, bits 31..0; raw 0 to 4294967295, 0 to 4294967295. Number computed from the whole specification: catches two layouts that carry the same version. */
#define PLY_HEADER_FINGERPRINT_WORD 1u
#define PLY_HEADER_FINGERPRINT_SHIFT 0u
#define PLY_HEADER_FINGERPRINT_MASK 4294967295UL
#define PLY_HEADER_FINGERPRINT_MIN 0UL
#define PLY_HEADER_FINGERPRINT_MAX 4294967295UL
/* firmware_major: word 3, bits 15..8; raw 0 to 255, 0 to 255. Which firmware made the frames, for tracing a fault back: its major version. */
#define PLY_HEADER_FIRMWARE_MAJOR_WORD 3u
#define PLY_HEADER_FIRMWARE_MAJOR_SHIFT 8u
#define PLY_HEADER_FIRMWARE_MAJOR_MASK 255u
#define PLY_HEADER_FIRMWARE_MAJOR_MIN 0u
#define PLY_HEADER_FIRMWARE_MAJOR_MAX 255u
/* firmware_minor: word 3, bits 7..0; raw 0 to 255, 0 to 255. Which firmware made the frames, for tracing a fault back: its minor version. */
#define PLY_HEADER_FIRMWARE_MINOR_WORD 3u
#define PLY_HEADER_FIRMWARE_MINOR_SHIFT 0u
#define PLY_HEADER_FIRMWARE_MINOR_MASK 255u
#define PLY_HEADER_FIRMWARE_MINOR_MIN 0u
#define PLY_HEADER_FIRMWARE_MINOR_MAX 255u
/* sampling_period: word 4, bits 15..0; raw 10 to 60000, 0.01 to 60 s. Time between samples while powered: bounds the age of a frame that is seen for the first time. */
#define PLY_HEADER_SAMPLING_PERIOD_WORD 4u
#define PLY_HEADER_SAMPLING_PERIOD_SHIFT 0u
#define PLY_HEADER_SAMPLING_PERIOD_MASK 65535u
#define PLY_HEADER_SAMPLING_PERIOD_MIN 10u
#define PLY_HEADER_SAMPLING_PERIOD_MAX 60000u
/* sensor_serial: words 5 and 6, bits 31..0; raw 1 to 4294967295, 1 to 4294967295. Serial of the pressure sensor; a calibration block of another sensor is found by comparing the two. */
#define PLY_HEADER_SENSOR_SERIAL_WORD 5u
#define PLY_HEADER_SENSOR_SERIAL_SHIFT 0u
#define PLY_HEADER_SENSOR_SERIAL_MASK 4294967295UL
#define PLY_HEADER_SENSOR_SERIAL_MIN 1UL
#define PLY_HEADER_SENSOR_SERIAL_MAX 4294967295UL
/* seal: word 7, bits 15..0. A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one. */
#define PLY_HEADER_SEAL_WORD 7u
#define PLY_HEADER_SEAL_SHIFT 0u
#define PLY_HEADER_SEAL_MASK 65535u

/* Sensor frame: One pressure and one temperature of the same conversion, with what a reader needs to judge them. */
#define PLY_FRAME_WORDS 8u
/* kind: word 0, bits 15..12. Tells a record of one kind from another, so that a Read at the wrong word is named. */
#define PLY_FRAME_KIND_WORD 0u
#define PLY_FRAME_KIND_SHIFT 12u
#define PLY_FRAME_KIND_MASK 15u
#define PLY_FRAME_KIND 2u
/* layout: word 0, bits 11..8. Names the layout the record was written with; the same place in every layout. */
#define PLY_FRAME_LAYOUT_WORD 0u
#define PLY_FRAME_LAYOUT_SHIFT 8u
#define PLY_FRAME_LAYOUT_MASK 15u
#define PLY_FRAME_LAYOUT 1u
/* status: word 0, bits 7..0. What a reader must know before it believes the numbers beside it. */
#define PLY_FRAME_STATUS_WORD 0u
#define PLY_FRAME_STATUS_SHIFT 0u
#define PLY_FRAME_STATUS_MASK 255u
#define PLY_FRAME_STATUS_FIRST_AFTER_COLD_START 1u /* First record since power came back: the sensor may still settle. */
#define PLY_FRAME_STATUS_BROWN_OUT 2u /* Supply fell below the threshold since the last record: a sample was lost. */
#define PLY_FRAME_STATUS_SENSOR_FAULT 4u /* The sensor did not answer or failed its self-check; pressure is not measured. */
#define PLY_FRAME_STATUS_PRESSURE_AT_LIMIT 8u /* Pressure is at an end of the range: the true one may lie beyond. */
#define PLY_FRAME_STATUS_SAMPLE_LOST 16u /* A sample was lost since the last record: sensor not ready in time, or bridge busy. */
#define PLY_FRAME_STATUS_CALIBRATION_MISSING 32u /* Neither copy of the calibration block is whole. */
#define PLY_FRAME_STATUS_SUPPLY_LOW 64u /* Supply was below the level at which the sensor is specified. */
#define PLY_FRAME_STATUS_BURST_READY 128u /* The burst block was completed since the last frame: worth a second Read. */
/* sequence: word 1, bits 15..0; raw 0 to 65535, 0 to 65535. Orders the two slots by RFC 1982 arithmetic; kept over cold starts so that it never goes back. */
#define PLY_FRAME_SEQUENCE_WORD 1u
#define PLY_FRAME_SEQUENCE_SHIFT 0u
#define PLY_FRAME_SEQUENCE_MASK 65535u
#define PLY_FRAME_SEQUENCE_MIN 0u
#define PLY_FRAME_SEQUENCE_MAX 65535u
/* reserved: words 2 and 3, bits 31..24. Room for a later layout without moving a field. */
#define PLY_FRAME_RESERVED_WORD 2u
#define PLY_FRAME_RESERVED_SHIFT 24u
#define PLY_FRAME_RESERVED_MASK 255UL
/* pressure: words 2 and 3, bits 23..0; raw 3328000 to 16128000, 26000 to 126000 Pa. Absolute pressure in the air cell as the sensor gave it, before calibration: 0.0078 Pa (0.000059 mmHg) a step. */
#define PLY_FRAME_PRESSURE_WORD 2u
#define PLY_FRAME_PRESSURE_SHIFT 0u
#define PLY_FRAME_PRESSURE_MASK 16777215UL
#define PLY_FRAME_PRESSURE_MIN 3328000UL
#define PLY_FRAME_PRESSURE_MAX 16128000UL
#define PLY_FRAME_PRESSURE_NOT_MEASURED 16777215UL
/* temperature: word 4, bits 15..0; raw -4000 to 12500, -40 to 125 Cel. The air cell warms under a dressing and its pressure with it; from the same conversion as the pressure. */
#define PLY_FRAME_TEMPERATURE_WORD 4u
#define PLY_FRAME_TEMPERATURE_SHIFT 0u
#define PLY_FRAME_TEMPERATURE_MASK 65535u
#define PLY_FRAME_TEMPERATURE_MIN (-4000)
#define PLY_FRAME_TEMPERATURE_MAX 12500
#define PLY_FRAME_TEMPERATURE_NOT_MEASURED (-32767 - 1)
/* supply: words 5 and 6, bits 31..20; raw 0 to 4094, 0 to 4.094 V. Says how well the tag is being powered, before pressure is believed. */
#define PLY_FRAME_SUPPLY_WORD 5u
#define PLY_FRAME_SUPPLY_SHIFT 20u
#define PLY_FRAME_SUPPLY_MASK 4095UL
#define PLY_FRAME_SUPPLY_MIN 0UL
#define PLY_FRAME_SUPPLY_MAX 4094UL
#define PLY_FRAME_SUPPLY_NOT_MEASURED 4095UL
/* uptime: words 5 and 6, bits 19..0; raw 0 to 1048574, 0 to 104857.4 s. Time since the cold start; a battery-less tag has no clock, so it saturates after 29 hours instead of wrapping. */
#define PLY_FRAME_UPTIME_WORD 5u
#define PLY_FRAME_UPTIME_SHIFT 0u
#define PLY_FRAME_UPTIME_MASK 1048575UL
#define PLY_FRAME_UPTIME_MIN 0UL
#define PLY_FRAME_UPTIME_MAX 1048574UL
#define PLY_FRAME_UPTIME_SATURATED 1048575UL
/* seal: word 7, bits 15..0. A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one. */
#define PLY_FRAME_SEAL_WORD 7u
#define PLY_FRAME_SEAL_SHIFT 0u
#define PLY_FRAME_SEAL_MASK 65535u

/* Counters: What the tag has been through: power, samples, sterilisation. */
#define PLY_COUNTERS_WORDS 8u
/* kind: word 0, bits 15..12. Tells a record of one kind from another, so that a Read at the wrong word is named. */
#define PLY_COUNTERS_KIND_WORD 0u
#define PLY_COUNTERS_KIND_SHIFT 12u
#define PLY_COUNTERS_KIND_MASK 15u
#define PLY_COUNTERS_KIND 3u
/* layout: word 0, bits 11..8. Names the layout the record was written with; the same place in every layout. */
#define PLY_COUNTERS_LAYOUT_WORD 0u
#define PLY_COUNTERS_LAYOUT_SHIFT 8u
#define PLY_COUNTERS_LAYOUT_MASK 15u
#define PLY_COUNTERS_LAYOUT 1u
/* reuse_cycles: word 0, bits 7..0; raw 0 to 254, 0 to 254. Most reuse cycles firmware ever found in a calibration block: survives a block that is lost or replaced. */
#define PLY_COUNTERS_REUSE_CYCLES_WORD 0u
#define PLY_COUNTERS_REUSE_CYCLES_SHIFT 0u
#define PLY_COUNTERS_REUSE_CYCLES_MASK 255u
#define PLY_COUNTERS_REUSE_CYCLES_MIN 0u
#define PLY_COUNTERS_REUSE_CYCLES_MAX 254u
#define PLY_COUNTERS_REUSE_CYCLES_SATURATED 255u
/* cold_starts: words 1 and 2, bits 31..0; raw 0 to 4294967294, 0 to 4294967294. Times the tag started from nothing: how often the field was lost. */
#define PLY_COUNTERS_COLD_STARTS_WORD 1u
#define PLY_COUNTERS_COLD_STARTS_SHIFT 0u
#define PLY_COUNTERS_COLD_STARTS_MASK 4294967295UL
#define PLY_COUNTERS_COLD_STARTS_MIN 0UL
#define PLY_COUNTERS_COLD_STARTS_MAX 4294967294UL
#define PLY_COUNTERS_COLD_STARTS_SATURATED 4294967295UL
/* fruitless_starts: words 3 and 4, bits 31..24; raw 0 to 254, 0 to 254. Cold starts in a row that ended without a frame: a task that needs more energy than the store holds is named. */
#define PLY_COUNTERS_FRUITLESS_STARTS_WORD 3u
#define PLY_COUNTERS_FRUITLESS_STARTS_SHIFT 24u
#define PLY_COUNTERS_FRUITLESS_STARTS_MASK 255UL
#define PLY_COUNTERS_FRUITLESS_STARTS_MIN 0UL
#define PLY_COUNTERS_FRUITLESS_STARTS_MAX 254UL
#define PLY_COUNTERS_FRUITLESS_STARTS_SATURATED 255UL
/* brown_outs: words 3 and 4, bits 23..0; raw 0 to 16777214, 0 to 16777214. Times the supply fell below its threshold: says whether the store is large enough. */
#define PLY_COUNTERS_BROWN_OUTS_WORD 3u
#define PLY_COUNTERS_BROWN_OUTS_SHIFT 0u
#define PLY_COUNTERS_BROWN_OUTS_MASK 16777215UL
#define PLY_COUNTERS_BROWN_OUTS_MIN 0UL
#define PLY_COUNTERS_BROWN_OUTS_MAX 16777214UL
#define PLY_COUNTERS_BROWN_OUTS_SATURATED 16777215UL
/* frames: words 5 and 6, bits 31..0; raw 0 to 4294967294, 0 to 4294967294. Frames sealed: with the sequence it shows how many a reader missed. */
#define PLY_COUNTERS_FRAMES_WORD 5u
#define PLY_COUNTERS_FRAMES_SHIFT 0u
#define PLY_COUNTERS_FRAMES_MASK 4294967295UL
#define PLY_COUNTERS_FRAMES_MIN 0UL
#define PLY_COUNTERS_FRAMES_MAX 4294967294UL
#define PLY_COUNTERS_FRAMES_SATURATED 4294967295UL
/* seal: word 7, bits 15..0. A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one. */
#define PLY_COUNTERS_SEAL_WORD 7u
#define PLY_COUNTERS_SEAL_SHIFT 0u
#define PLY_COUNTERS_SEAL_MASK 65535u

/* Calibration block: Turns raw words into a pressure with a stated uncertainty; kept twice so that an interrupted update loses nothing. */
#define PLY_CALIBRATION_WORDS 16u
/* kind: word 0, bits 15..12. Tells a record of one kind from another, so that a Read at the wrong word is named. */
#define PLY_CALIBRATION_KIND_WORD 0u
#define PLY_CALIBRATION_KIND_SHIFT 12u
#define PLY_CALIBRATION_KIND_MASK 15u
#define PLY_CALIBRATION_KIND 4u
/* layout: word 0, bits 11..8. Names the layout the record was written with; the same place in every layout. */
#define PLY_CALIBRATION_LAYOUT_WORD 0u
#define PLY_CALIBRATION_LAYOUT_SHIFT 8u
#define PLY_CALIBRATION_LAYOUT_MASK 15u
#define PLY_CALIBRATION_LAYOUT 1u
/* method: word 0, bits 7..4. How the coefficients were found: says what they can be trusted for. */
#define PLY_CALIBRATION_METHOD_WORD 0u
#define PLY_CALIBRATION_METHOD_SHIFT 4u
#define PLY_CALIBRATION_METHOD_MASK 15u
#define PLY_CALIBRATION_METHOD_BENCH_TWO_POINT 1u
#define PLY_CALIBRATION_METHOD_BENCH_MULTI_POINT 2u
#define PLY_CALIBRATION_METHOD_BENCH_WITH_TEMPERATURE 3u
#define PLY_CALIBRATION_METHOD_LIMB_FORM 4u
#define PLY_CALIBRATION_METHOD_ZERO_ONLY 5u
/* reuse_since: word 0, bits 3..0; raw 0 to 14, 0 to 14. Reuse cycles since this calibration: any asks for a check, for a cell that saw steam and vacuum may have moved. */
#define PLY_CALIBRATION_REUSE_SINCE_WORD 0u
#define PLY_CALIBRATION_REUSE_SINCE_SHIFT 0u
#define PLY_CALIBRATION_REUSE_SINCE_MASK 15u
#define PLY_CALIBRATION_REUSE_SINCE_MIN 0u
#define PLY_CALIBRATION_REUSE_SINCE_MAX 14u
#define PLY_CALIBRATION_REUSE_SINCE_SATURATED 15u
/* date: word 1, bits 15..0; raw 0 to 65534, 0 to 65534 d. Day of the calibration, counted from 2020-01-01: an old one is named as such. */
#define PLY_CALIBRATION_DATE_WORD 1u
#define PLY_CALIBRATION_DATE_SHIFT 0u
#define PLY_CALIBRATION_DATE_MASK 65535u
#define PLY_CALIBRATION_DATE_MIN 0u
#define PLY_CALIBRATION_DATE_MAX 65534u
#define PLY_CALIBRATION_DATE_NOT_STATED 65535u
/* sensor_serial: words 2 and 3, bits 31..0; raw 1 to 4294967295, 1 to 4294967295. The sensor these coefficients belong to; must equal the header's. */
#define PLY_CALIBRATION_SENSOR_SERIAL_WORD 2u
#define PLY_CALIBRATION_SENSOR_SERIAL_SHIFT 0u
#define PLY_CALIBRATION_SENSOR_SERIAL_MASK 4294967295UL
#define PLY_CALIBRATION_SENSOR_SERIAL_MIN 1UL
#define PLY_CALIBRATION_SENSOR_SERIAL_MAX 4294967295UL
/* reuse_count: words 4 and 5, bits 31..24; raw 0 to 254, 0 to 254. Sterilisation and reuse cycles over the tag's life; a reader raises it, with both copies, at every cycle. */
#define PLY_CALIBRATION_REUSE_COUNT_WORD 4u
#define PLY_CALIBRATION_REUSE_COUNT_SHIFT 24u
#define PLY_CALIBRATION_REUSE_COUNT_MASK 255UL
#define PLY_CALIBRATION_REUSE_COUNT_MIN 0UL
#define PLY_CALIBRATION_REUSE_COUNT_MAX 254UL
/* offset: words 4 and 5, bits 23..0; raw -8388608 to 8388607, -65536 to 65535.9921875 Pa. Added to the absolute pressure: soldering and ageing shift of the sensor. */
#define PLY_CALIBRATION_OFFSET_WORD 4u
#define PLY_CALIBRATION_OFFSET_SHIFT 0u
#define PLY_CALIBRATION_OFFSET_MASK 16777215UL
#define PLY_CALIBRATION_OFFSET_MIN (-8388608L)
#define PLY_CALIBRATION_OFFSET_MAX 8388607L
/* reuse_limit: words 6 and 7, bits 31..24; raw 0 to 254, 0 to 254. Reuse cycles after which the tag is to be retired. */
#define PLY_CALIBRATION_REUSE_LIMIT_WORD 6u
#define PLY_CALIBRATION_REUSE_LIMIT_SHIFT 24u
#define PLY_CALIBRATION_REUSE_LIMIT_MASK 255UL
#define PLY_CALIBRATION_REUSE_LIMIT_MIN 0UL
#define PLY_CALIBRATION_REUSE_LIMIT_MAX 254UL
#define PLY_CALIBRATION_REUSE_LIMIT_NOT_LIMITED 255UL
/* gain: words 6 and 7, bits 23..0; raw 262144 to 4194304, 0.25 to 4. Multiplies the difference from ambient: the cell's wall and foam take a share of the load. */
#define PLY_CALIBRATION_GAIN_WORD 6u
#define PLY_CALIBRATION_GAIN_SHIFT 0u
#define PLY_CALIBRATION_GAIN_MASK 16777215UL
#define PLY_CALIBRATION_GAIN_MIN 262144UL
#define PLY_CALIBRATION_GAIN_MAX 4194304UL
/* temperature_effect: word 8, bits 15..0; raw -32768 to 32767, -512 to 511.984375 Pa/K. Rise of the absolute pressure per kelvin at constant load; a rigid sealed cell would show 340 Pa/K. */
#define PLY_CALIBRATION_TEMPERATURE_EFFECT_WORD 8u
#define PLY_CALIBRATION_TEMPERATURE_EFFECT_SHIFT 0u
#define PLY_CALIBRATION_TEMPERATURE_EFFECT_MASK 65535u
#define PLY_CALIBRATION_TEMPERATURE_EFFECT_MIN (-32767 - 1)
#define PLY_CALIBRATION_TEMPERATURE_EFFECT_MAX 32767
/* gain_temperature: word 9, bits 15..0; raw -32768 to 32767, -0.032768 to 0.032767 1/K. Relative change of the gain per kelvin: wall and foam soften as they warm. */
#define PLY_CALIBRATION_GAIN_TEMPERATURE_WORD 9u
#define PLY_CALIBRATION_GAIN_TEMPERATURE_SHIFT 0u
#define PLY_CALIBRATION_GAIN_TEMPERATURE_MASK 65535u
#define PLY_CALIBRATION_GAIN_TEMPERATURE_MIN (-32767 - 1)
#define PLY_CALIBRATION_GAIN_TEMPERATURE_MAX 32767
/* curvature: word 10, bits 15..0; raw -32768 to 32767, -0.000032768 to 0.000032767 1/Pa. Relative change of the gain per pascal of load, where the data carry it. */
#define PLY_CALIBRATION_CURVATURE_WORD 10u
#define PLY_CALIBRATION_CURVATURE_SHIFT 0u
#define PLY_CALIBRATION_CURVATURE_MASK 65535u
#define PLY_CALIBRATION_CURVATURE_MIN (-32767 - 1)
#define PLY_CALIBRATION_CURVATURE_MAX 32767
/* reference_temperature: word 11, bits 15..0; raw -4000 to 12500, -40 to 125 Cel. Temperature at which the temperature terms are zero. */
#define PLY_CALIBRATION_REFERENCE_TEMPERATURE_WORD 11u
#define PLY_CALIBRATION_REFERENCE_TEMPERATURE_SHIFT 0u
#define PLY_CALIBRATION_REFERENCE_TEMPERATURE_MASK 65535u
#define PLY_CALIBRATION_REFERENCE_TEMPERATURE_MIN (-4000)
#define PLY_CALIBRATION_REFERENCE_TEMPERATURE_MAX 12500
/* expanded_uncertainty: word 12, bits 15..0; raw 0 to 65534, 0 to 65534 Pa. Expanded uncertainty (k = 2) of a gauge pressure within the calibrated range, ambient excluded. */
#define PLY_CALIBRATION_EXPANDED_UNCERTAINTY_WORD 12u
#define PLY_CALIBRATION_EXPANDED_UNCERTAINTY_SHIFT 0u
#define PLY_CALIBRATION_EXPANDED_UNCERTAINTY_MASK 65535u
#define PLY_CALIBRATION_EXPANDED_UNCERTAINTY_MIN 0u
#define PLY_CALIBRATION_EXPANDED_UNCERTAINTY_MAX 65534u
#define PLY_CALIBRATION_EXPANDED_UNCERTAINTY_NOT_STATED 65535u
/* temperature_low: word 13, bits 15..8; raw -40 to 125, -40 to 125 Cel. Lowest temperature the calibration covered: outside it a reading is marked. */
#define PLY_CALIBRATION_TEMPERATURE_LOW_WORD 13u
#define PLY_CALIBRATION_TEMPERATURE_LOW_SHIFT 8u
#define PLY_CALIBRATION_TEMPERATURE_LOW_MASK 255u
#define PLY_CALIBRATION_TEMPERATURE_LOW_MIN (-40)
#define PLY_CALIBRATION_TEMPERATURE_LOW_MAX 125
/* temperature_high: word 13, bits 7..0; raw -40 to 125, -40 to 125 Cel. Highest temperature the calibration covered: outside it a reading is marked. */
#define PLY_CALIBRATION_TEMPERATURE_HIGH_WORD 13u
#define PLY_CALIBRATION_TEMPERATURE_HIGH_SHIFT 0u
#define PLY_CALIBRATION_TEMPERATURE_HIGH_MASK 255u
#define PLY_CALIBRATION_TEMPERATURE_HIGH_MIN (-40)
#define PLY_CALIBRATION_TEMPERATURE_HIGH_MAX 125
/* span: word 14, bits 15..8; raw 1 to 255, 1 to 255 hPa. Highest gauge pressure the calibration covered: beyond it a reading is marked. */
#define PLY_CALIBRATION_SPAN_WORD 14u
#define PLY_CALIBRATION_SPAN_SHIFT 8u
#define PLY_CALIBRATION_SPAN_MASK 255u
#define PLY_CALIBRATION_SPAN_MIN 1u
#define PLY_CALIBRATION_SPAN_MAX 255u
/* validity: word 14, bits 7..0; raw 1 to 254, 1 to 254 mo. Months after which the calibration is to be repeated. */
#define PLY_CALIBRATION_VALIDITY_WORD 14u
#define PLY_CALIBRATION_VALIDITY_SHIFT 0u
#define PLY_CALIBRATION_VALIDITY_MASK 255u
#define PLY_CALIBRATION_VALIDITY_MIN 1u
#define PLY_CALIBRATION_VALIDITY_MAX 254u
#define PLY_CALIBRATION_VALIDITY_NOT_LIMITED 255u
/* seal: word 15, bits 15..0. A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one. */
#define PLY_CALIBRATION_SEAL_WORD 15u
#define PLY_CALIBRATION_SEAL_SHIFT 0u
#define PLY_CALIBRATION_SEAL_MASK 65535u

/* Burst block: Gait and posture changes are faster than a reader comes round: the tag samples on its own and one Read fetches the run. */
#define PLY_BURST_WORDS 32u
/* kind: word 0, bits 15..12. Tells a record of one kind from another, so that a Read at the wrong word is named. */
#define PLY_BURST_KIND_WORD 0u
#define PLY_BURST_KIND_SHIFT 12u
#define PLY_BURST_KIND_MASK 15u
#define PLY_BURST_KIND 5u
/* layout: word 0, bits 11..8. Names the layout the record was written with; the same place in every layout. */
#define PLY_BURST_LAYOUT_WORD 0u
#define PLY_BURST_LAYOUT_SHIFT 8u
#define PLY_BURST_LAYOUT_MASK 15u
#define PLY_BURST_LAYOUT 1u
/* status: word 0, bits 7..0. What a reader must know before it believes the numbers beside it. */
#define PLY_BURST_STATUS_WORD 0u
#define PLY_BURST_STATUS_SHIFT 0u
#define PLY_BURST_STATUS_MASK 255u
#define PLY_BURST_STATUS_FIRST_AFTER_COLD_START 1u /* First record since power came back: the sensor may still settle. */
#define PLY_BURST_STATUS_BROWN_OUT 2u /* Supply fell below the threshold since the last record: a sample was lost. */
#define PLY_BURST_STATUS_SENSOR_FAULT 4u /* The sensor did not answer or failed its self-check; pressure is not measured. */
#define PLY_BURST_STATUS_PRESSURE_AT_LIMIT 8u /* Pressure is at an end of the range: the true one may lie beyond. */
#define PLY_BURST_STATUS_SAMPLE_LOST 16u /* A sample was lost since the last record: sensor not ready in time, or bridge busy. */
#define PLY_BURST_STATUS_CALIBRATION_MISSING 32u /* Neither copy of the calibration block is whole. */
#define PLY_BURST_STATUS_SUPPLY_LOW 64u /* Supply was below the level at which the sensor is specified. */
#define PLY_BURST_STATUS_BURST_READY 128u /* The burst block was completed since the last frame: worth a second Read. */
/* sequence: word 1, bits 15..0; raw 0 to 65535, 0 to 65535. Sequence of the frame that was current when the run began: ties the waveform to its place in time. */
#define PLY_BURST_SEQUENCE_WORD 1u
#define PLY_BURST_SEQUENCE_SHIFT 0u
#define PLY_BURST_SEQUENCE_MASK 65535u
#define PLY_BURST_SEQUENCE_MIN 0u
#define PLY_BURST_SEQUENCE_MAX 65535u
/* count: words 2 and 3, bits 31..24; raw 0 to 25, 0 to 25. Samples taken before the run ended or the power did. */
#define PLY_BURST_COUNT_WORD 2u
#define PLY_BURST_COUNT_SHIFT 24u
#define PLY_BURST_COUNT_MASK 255UL
#define PLY_BURST_COUNT_MIN 0UL
#define PLY_BURST_COUNT_MAX 25UL
/* pressure: words 2 and 3, bits 23..0; raw 3328000 to 16128000, 26000 to 126000 Pa. Absolute pressure in the air cell as the sensor gave it, before calibration: 0.0078 Pa (0.000059 mmHg) a step. */
#define PLY_BURST_PRESSURE_WORD 2u
#define PLY_BURST_PRESSURE_SHIFT 0u
#define PLY_BURST_PRESSURE_MASK 16777215UL
#define PLY_BURST_PRESSURE_MIN 3328000UL
#define PLY_BURST_PRESSURE_MAX 16128000UL
#define PLY_BURST_PRESSURE_NOT_MEASURED 16777215UL
/* interval: word 4, bits 15..0; raw 1 to 10000, 0.001 to 10 s. Time between samples; 40 ms and 25 samples hold one gait cycle. */
#define PLY_BURST_INTERVAL_WORD 4u
#define PLY_BURST_INTERVAL_SHIFT 0u
#define PLY_BURST_INTERVAL_MASK 65535u
#define PLY_BURST_INTERVAL_MIN 1u
#define PLY_BURST_INTERVAL_MAX 10000u
/* temperature: word 5, bits 15..0; raw -4000 to 12500, -40 to 125 Cel. The air cell warms under a dressing and its pressure with it; from the same conversion as the pressure. */
#define PLY_BURST_TEMPERATURE_WORD 5u
#define PLY_BURST_TEMPERATURE_SHIFT 0u
#define PLY_BURST_TEMPERATURE_MASK 65535u
#define PLY_BURST_TEMPERATURE_MIN (-4000)
#define PLY_BURST_TEMPERATURE_MAX 12500
#define PLY_BURST_TEMPERATURE_NOT_MEASURED (-32767 - 1)
/* samples: word 6, bits 15..0, 25 elements; raw -32767 to 32767, -16383.5 to 16383.5 Pa. Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way. */
#define PLY_BURST_SAMPLES_WORD 6u
#define PLY_BURST_SAMPLES_COUNT 25u
#define PLY_BURST_SAMPLES_MIN (-32767)
#define PLY_BURST_SAMPLES_MAX 32767
#define PLY_BURST_SAMPLES_NOT_SAMPLED (-32767 - 1)
/* seal: word 31, bits 15..0. A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one. */
#define PLY_BURST_SEAL_WORD 31u
#define PLY_BURST_SEAL_SHIFT 0u
#define PLY_BURST_SEAL_MASK 65535u

/* Reason codes; 0 is good. */
#define PLY_REASON_RECORD_TOO_SHORT 1u
#define PLY_REASON_TRAILING_BYTES 2u
#define PLY_REASON_RECORD_EMPTY 3u
#define PLY_REASON_CHECKSUM_MISMATCH 4u
#define PLY_REASON_KIND_UNEXPECTED 5u
#define PLY_REASON_LAYOUT_UNKNOWN 6u
#define PLY_REASON_MARKER_MISMATCH 7u
#define PLY_REASON_RESERVED_BIT_SET 8u
#define PLY_REASON_NAME_UNKNOWN 9u
#define PLY_REASON_VALUE_OUT_OF_RANGE 10u
#define PLY_REASON_FINGERPRINT_MISMATCH 11u
#define PLY_REASON_COUNT_MISMATCH 12u
#define PLY_REASON_SLOTS_CONTRADICT 20u
#define PLY_REASON_SLOTS_BOTH_BAD 21u
#define PLY_REASON_COPIES_BOTH_BAD 22u
#define PLY_REASON_EPC_HEADER_UNKNOWN 30u
#define PLY_REASON_EPC_PARTITION_INVALID 31u
#define PLY_REASON_EPC_FIELD_TOO_LARGE 32u
#define PLY_REASON_EPC_FIELD_MALFORMED 33u
#define PLY_REASON_EPC_LENGTH_INVALID 34u
#define PLY_REASON_LINK_STUFFING_INVALID 40u
#define PLY_REASON_LINK_FRAME_TOO_LONG 41u
#define PLY_REASON_LINK_CHECKSUM_MISMATCH 42u
#define PLY_REASON_MESSAGE_UNKNOWN 43u
#define PLY_REASON_MESSAGE_NOT_NOW 44u
#define PLY_REASON_REQUEST_REFUSED 45u
#define PLY_REASON_REQUEST_TIMED_OUT 46u
#define PLY_REASON_TOO_MANY_OUTSTANDING 47u
#define PLY_REASON_LINK_CLOSED 48u
#define PLY_REASON_TAG_LOST 60u
#define PLY_REASON_TAG_MEMORY_OVERRUN 61u
#define PLY_REASON_TAG_MEMORY_LOCKED 62u
#define PLY_REASON_TAG_POWER_INSUFFICIENT 63u
#define PLY_REASON_TAG_ERROR 64u
#define PLY_REASON_PASSWORD_WRONG 65u
#define PLY_REASON_HEX_ODD_LENGTH 80u
#define PLY_REASON_HEX_BAD_DIGIT 81u
#define PLY_REASON_JSON_INVALID 82u
#define PLY_REASON_HEADER_MISSING 83u
#define PLY_REASON_VERSION_UNKNOWN 84u
#define PLY_REASON_FIELD_MISSING 85u
#define PLY_REASON_FIELD_INVALID 86u
#define PLY_REASON_COLUMN_MISSING 87u
#define PLY_REASON_LINE_TOO_LONG 88u
#define PLY_REASON_FILE_EMPTY 89u
#define PLY_REASON_LLRP_LENGTH_INVALID 100u
#define PLY_REASON_LLRP_PARAMETER_UNKNOWN 101u
#define PLY_REASON_LLRP_VERSION_UNSUPPORTED 102u
#define PLY_REASON_LLRP_STATUS 103u
#define PLY_REASON_LLRP_PARAMETER_UNEXPECTED 104u

#ifdef PLY_WITH_NAMES
/* Name of a reason code, for a trace; leave PLY_WITH_NAMES undefined to keep the texts out of flash. */
static inline const char *ply_reason_name(uint8_t reason)
{
    switch (reason) {
    case 1u: return "record-too-short";
    case 2u: return "trailing-bytes";
    case 3u: return "record-empty";
    case 4u: return "checksum-mismatch";
    case 5u: return "kind-unexpected";
    case 6u: return "layout-unknown";
    case 7u: return "marker-mismatch";
    case 8u: return "reserved-bit-set";
    case 9u: return "name-unknown";
    case 10u: return "value-out-of-range";
    case 11u: return "fingerprint-mismatch";
    case 12u: return "count-mismatch";
    case 20u: return "slots-contradict";
    case 21u: return "slots-both-bad";
    case 22u: return "copies-both-bad";
    case 30u: return "epc-header-unknown";
    case 31u: return "epc-partition-invalid";
    case 32u: return "epc-field-too-large";
    case 33u: return "epc-field-malformed";
    case 34u: return "epc-length-invalid";
    case 40u: return "link-stuffing-invalid";
    case 41u: return "link-frame-too-long";
    case 42u: return "link-checksum-mismatch";
    case 43u: return "message-unknown";
    case 44u: return "message-not-now";
    case 45u: return "request-refused";
    case 46u: return "request-timed-out";
    case 47u: return "too-many-outstanding";
    case 48u: return "link-closed";
    case 60u: return "tag-lost";
    case 61u: return "tag-memory-overrun";
    case 62u: return "tag-memory-locked";
    case 63u: return "tag-power-insufficient";
    case 64u: return "tag-error";
    case 65u: return "password-wrong";
    case 80u: return "hex-odd-length";
    case 81u: return "hex-bad-digit";
    case 82u: return "json-invalid";
    case 83u: return "header-missing";
    case 84u: return "version-unknown";
    case 85u: return "field-missing";
    case 86u: return "field-invalid";
    case 87u: return "column-missing";
    case 88u: return "line-too-long";
    case 89u: return "file-empty";
    case 100u: return "llrp-length-invalid";
    case 101u: return "llrp-parameter-unknown";
    case 102u: return "llrp-version-unsupported";
    case 103u: return "llrp-status";
    case 104u: return "llrp-parameter-unexpected";
    default: return reason == 0u ? "good" : "unknown";
    }
}
#endif

/* A wrong layout stops the compiler: an array of negative size. */
#define PLY_ASSERT(name, holds) typedef char ply_assert_##name[(holds) ? 1 : -1]

PLY_ASSERT(slot_a_follows_header, PLY_WORD_SLOT_A == 0u + PLY_HEADER_WORDS);
PLY_ASSERT(slot_b_follows_slot_a, PLY_WORD_SLOT_B == 8u + PLY_FRAME_WORDS);
PLY_ASSERT(counters_a_follows_slot_b, PLY_WORD_COUNTERS_A == 16u + PLY_FRAME_WORDS);
PLY_ASSERT(counters_b_follows_counters_a, PLY_WORD_COUNTERS_B == 24u + PLY_COUNTERS_WORDS);
PLY_ASSERT(calibration_1_follows_counters_b, PLY_WORD_CALIBRATION_1 == 32u + PLY_COUNTERS_WORDS);
PLY_ASSERT(calibration_2_follows_calibration_1, PLY_WORD_CALIBRATION_2 == 40u + PLY_CALIBRATION_WORDS);
PLY_ASSERT(burst_follows_calibration_2, PLY_WORD_BURST == 56u + PLY_CALIBRATION_WORDS);
PLY_ASSERT(header_ends_with_seal, PLY_HEADER_SEAL_WORD + 1u == PLY_HEADER_WORDS);
PLY_ASSERT(frame_ends_with_seal, PLY_FRAME_SEAL_WORD + 1u == PLY_FRAME_WORDS);
PLY_ASSERT(counters_ends_with_seal, PLY_COUNTERS_SEAL_WORD + 1u == PLY_COUNTERS_WORDS);
PLY_ASSERT(calibration_ends_with_seal, PLY_CALIBRATION_SEAL_WORD + 1u == PLY_CALIBRATION_WORDS);
PLY_ASSERT(burst_ends_with_seal, PLY_BURST_SEAL_WORD + 1u == PLY_BURST_WORDS);
PLY_ASSERT(bank_ends_with_burst, 72u + PLY_BURST_WORDS == PLY_USER_WORDS);
PLY_ASSERT(one_read_brings_header_and_slots, 16u + PLY_FRAME_WORDS <= 32u);
PLY_ASSERT(commit_word_holds_the_kind, PLY_FRAME_KIND_WORD == 0u && PLY_FRAME_KIND != 0u);

#endif
