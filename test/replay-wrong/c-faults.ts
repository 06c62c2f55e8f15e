/** Faults of the kit in C and of the firmware's codec in it. */
import type { Edit } from "./edit.ts";

export const cFaults: readonly Edit[] = [
  [
    "c-sign-lost",
    "does not extend the sign of an octet",
    "plyframe.c",
    "temperature_low = signed_octet((uint8_t)(words[13] >> 8));",
    "temperature_low = (int8_t)((words[13] >> 8) & 0x7Fu);",
    "calibration.temperature_low",
  ],
  [
    "c-reserved-ignored",
    "does not look at reserved bits",
    "plyframe.c",
    "if ((words[2] >> 8) != 0u) {",
    "if (0) {",
    "frame.reserved",
  ],
  [
    "c-half-circle",
    "orders sequences that are half the circle apart",
    "plyframe.c",
    "if (ahead == 0x8000u) {",
    "if (0) {",
    "frame.sequence",
  ],
  [
    "c-seal-span",
    "seals one word too few",
    "plyframe.c",
    "if (ply_seal(words, (uint8_t)(length - 1u)) != words[length - 1u]) {",
    "if (ply_seal(words, (uint8_t)(length - 2u)) != words[length - 1u]) {",
    "frame.seal",
  ],
  [
    "c-uptime-mask",
    "keeps only 16 bits of the uptime",
    "plyframe.c",
    "frame->uptime = supply_uptime & PLY_FRAME_UPTIME_MASK;",
    "frame->uptime = supply_uptime & 0xFFFFu;",
    "frame.uptime",
  ],
  [
    "c-gain-on-absolute",
    "turns weather into load: the gain acts before the ambient is taken off",
    "reading.c",
    "linear = divided(difference * gain, 1048576);",
    "linear = difference + divided(6000000 * (gain - 1048576), 1048576);",
    "calibration.gain",
  ],
];
