# Emitted from layout 1, fingerprint 028961a7: change protocol/spec/ and run "npm run emit".
meta:
  id: "plyframe"
  title: "Memory of a plyframe pressure tag, and messages of its reader kit's link"
  ks-version: "0.10"
  endian: "be"
doc: "The root is the USER bank from word 0, or as much of it as was read. A record alone, or a message without its framing, is parsed as its type. Every record has a verdict: 0, or the number of the reason times 256 plus the index of the field (255: the record as a whole). A record that ends too soon is an end-of-stream error."
seq:
  - id: "header"
    size: 16
    type: "header"
    if: "_io.size >= 16"
    doc: "First in the bank, as the DSFID must be, and first in every Read."
  - id: "slot_a"
    size: 16
    type: "frame"
    if: "_io.size >= 32"
    doc: "Directly behind the header, so that one Read of 32 words brings header, both slots and counters."
  - id: "slot_b"
    size: 16
    type: "frame"
    if: "_io.size >= 48"
    doc: "Written in turn with slot A: a power cut spoils at most one of them."
  - id: "counters_a"
    size: 16
    type: "counters"
    if: "_io.size >= 64"
    doc: "In the same 32-word Read as the slots."
  - id: "counters_b"
    size: 16
    type: "counters"
    if: "_io.size >= 80"
    doc: "Written in turn with the first copy, so that a power cut does not lose the counts."
  - id: "calibration_1"
    size: 32
    type: "calibration"
    if: "_io.size >= 112"
    doc: "Written and verified first when a tag is calibrated."
  - id: "calibration_2"
    size: 32
    type: "calibration"
    if: "_io.size >= 144"
    doc: "Written only after the first copy verified; read when the first is not whole."
  - id: "burst"
    size: 64
    type: "burst"
    if: "_io.size >= 208"
    doc: "Exactly one Read of 32 words. Single: a torn run is rejected and taken again."
instances:
  sequence_distance:
    value: "(slot_a.sequence - slot_b.sequence + 65536) % 65536"
    if: "_io.size >= 48"
  newest_slot:
    value: "slot_a.verdict != 0 ? (slot_b.verdict != 0 ? 0 : 2) : slot_b.verdict != 0 ? 1 : (sequence_distance == 0 ? (slot_a.whole == slot_b.whole ? 1 : 0) : sequence_distance < 32768 ? 1 : sequence_distance > 32768 ? 2 : 0)"
    if: "_io.size >= 48"
    doc: "1: slot A holds the newest whole frame, 2: slot B does, 0: neither is whole or they cannot be ordered (RFC 1982)."
types:
  header:
    doc: "Header: Says which layout and which specification wrote this tag, so that a mismatch is named and not shown as noise."
    seq:
      - id: "byte_0"
        type: "u2"
        doc: "dsfid, kind, layout"
      - id: "fingerprint"
        type: "u4"
        doc: "Raw 0 to 4294967295. Number computed from the whole specification: catches two layouts that carry the same version."
      - id: "byte_6"
        type: "u2"
        doc: "firmware_major, firmware_minor"
      - id: "sampling_period_raw"
        type: "u2"
        doc: "Raw 10 to 60000, 0.01 to 60 s. Time between samples while powered: bounds the age of a frame that is seen for the first time."
      - id: "sensor_serial"
        type: "u4"
        doc: "Raw 1 to 4294967295. Serial of the pressure sensor; a calibration block of another sensor is found by comparing the two."
      - id: "seal"
        type: "u2"
        doc: "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one."
    instances:
      dsfid:
        value: "(byte_0 / 256)"
        doc: "Always 0. First octet of the bank by GS1 TDS: 00h, not formatted by ISO/IEC 15962 (from memory), so that a decoder of data elements leaves the bank alone."
      kind:
        value: "(byte_0 / 16 % 16)"
        doc: "Always 1. Tells a record of one kind from another, so that a Read at the wrong word is named."
      layout:
        value: "(byte_0 % 16)"
        doc: "Always 1. Names the layout the record was written with; the same place in every layout."
      firmware_major:
        value: "(byte_6 / 256)"
        doc: "Raw 0 to 255. Which firmware made the frames, for tracing a fault back: its major version."
      firmware_minor:
        value: "(byte_6 % 256)"
        doc: "Raw 0 to 255. Which firmware made the frames, for tracing a fault back: its minor version."
      sampling_period:
        value: "sampling_period_raw / 1000.0"
        doc: "In s."
      seal_steps:
        pos: 0
        type: "checksum_step(_index == 0 ? 20556 : seal_steps[_index - 1].after)"
        repeat: "expr"
        repeat-expr: "14"
      computed_seal:
        value: "seal_steps[13].after"
      whole:
        pos: 0
        size: 16
      is_empty:
        value: "whole == [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]"
        doc: "Never written."
      verdict:
        value: "is_empty ? 1023 : _io.size > 16 ? 767 : seal != computed_seal ? 1032 : (byte_0 / 16 % 16) != 1 ? 1281 : (byte_0 % 16) != 1 ? 1538 : (byte_0 / 256) != 0 ? 1792 : ((sampling_period_raw < 10 or sampling_period_raw > 60000)) ? 2566 : ((sensor_serial < 1)) ? 2567 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  frame:
    doc: "Sensor frame: One pressure and one temperature of the same conversion, with what a reader needs to judge them."
    seq:
      - id: "byte_0"
        type: "u2"
        doc: "kind, layout, status"
      - id: "sequence"
        type: "u2"
        doc: "Raw 0 to 65535. Orders the two slots by RFC 1982 arithmetic; kept over cold starts so that it never goes back."
      - id: "byte_4"
        type: "u4"
        doc: "reserved, pressure"
      - id: "temperature_raw"
        type: "s2"
        doc: "Raw -4000 to 12500, -40 to 125 Cel. The air cell warms under a dressing and its pressure with it; from the same conversion as the pressure."
      - id: "byte_10"
        type: "u4"
        doc: "supply, uptime"
      - id: "seal"
        type: "u2"
        doc: "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one."
    instances:
      kind:
        value: "(byte_0 / 4096)"
        doc: "Always 2. Tells a record of one kind from another, so that a Read at the wrong word is named."
      layout:
        value: "(byte_0 / 256 % 16)"
        doc: "Always 1. Names the layout the record was written with; the same place in every layout."
      status:
        value: "(byte_0 % 256)"
        doc: "What a reader must know before it believes the numbers beside it."
      status_first_after_cold_start:
        value: "(status / 1) % 2 == 1"
        doc: "First record since power came back: the sensor may still settle."
      status_brown_out:
        value: "(status / 2) % 2 == 1"
        doc: "Supply fell below the threshold since the last record: a sample was lost."
      status_sensor_fault:
        value: "(status / 4) % 2 == 1"
        doc: "The sensor did not answer or failed its self-check; pressure is not measured."
      status_pressure_at_limit:
        value: "(status / 8) % 2 == 1"
        doc: "Pressure is at an end of the range: the true one may lie beyond."
      status_sample_lost:
        value: "(status / 16) % 2 == 1"
        doc: "A sample was lost since the last record: sensor not ready in time, or bridge busy."
      status_calibration_missing:
        value: "(status / 32) % 2 == 1"
        doc: "Neither copy of the calibration block is whole."
      status_supply_low:
        value: "(status / 64) % 2 == 1"
        doc: "Supply was below the level at which the sensor is specified."
      status_burst_ready:
        value: "(status / 128) % 2 == 1"
        doc: "The burst block was completed since the last frame: worth a second Read."
      reserved:
        value: "(byte_4 / 16777216)"
        doc: "Room for a later layout without moving a field."
      pressure_raw:
        value: "(byte_4 % 16777216)"
        doc: "Raw 3328000 to 16128000, 26000 to 126000 Pa. Absolute pressure in the air cell as the sensor gave it, before calibration: 0.0078 Pa (0.000059 mmHg) a step."
      pressure:
        value: "pressure_raw / 128.0"
        if: "pressure_raw != 16777215"
        doc: "In Pa; raw 16777215: not_measured."
      temperature:
        value: "temperature_raw / 100.0"
        if: "temperature_raw != -32768"
        doc: "In Cel; raw -32768: not_measured."
      supply_raw:
        value: "(byte_10 / 1048576)"
        doc: "Raw 0 to 4094, 0 to 4.094 V. Says how well the tag is being powered, before pressure is believed."
      supply:
        value: "supply_raw / 1000.0"
        if: "supply_raw != 4095"
        doc: "In V; raw 4095: not_measured."
      uptime_raw:
        value: "(byte_10 % 1048576)"
        doc: "Raw 0 to 1048574, 0 to 104857.4 s. Time since the cold start; a battery-less tag has no clock, so it saturates after 29 hours instead of wrapping."
      uptime:
        value: "(uptime_raw == 1048575 ? 1048574 : uptime_raw) / 10.0"
        doc: "In s; raw 1048575: saturated."
      seal_steps:
        pos: 0
        type: "checksum_step(_index == 0 ? 20556 : seal_steps[_index - 1].after)"
        repeat: "expr"
        repeat-expr: "14"
      computed_seal:
        value: "seal_steps[13].after"
      whole:
        pos: 0
        size: 16
      is_empty:
        value: "whole == [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]"
        doc: "Never written."
      verdict:
        value: "is_empty ? 1023 : _io.size > 16 ? 767 : seal != computed_seal ? 1033 : (byte_0 / 4096) != 2 ? 1280 : (byte_0 / 256 % 16) != 1 ? 1537 : (byte_4 / 16777216) != 0 ? 2052 : (((byte_4 % 16777216) < 3328000 or (byte_4 % 16777216) > 16128000) and (byte_4 % 16777216) != 16777215) ? 2565 : ((temperature_raw < -4000 or temperature_raw > 12500) and temperature_raw != -32768) ? 2566 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  counters:
    doc: "Counters: What the tag has been through: power, samples, sterilisation."
    seq:
      - id: "byte_0"
        type: "u2"
        doc: "kind, layout, reuse_cycles"
      - id: "cold_starts_raw"
        type: "u4"
        doc: "Raw 0 to 4294967294. Times the tag started from nothing: how often the field was lost."
      - id: "byte_6"
        type: "u4"
        doc: "fruitless_starts, brown_outs"
      - id: "frames_raw"
        type: "u4"
        doc: "Raw 0 to 4294967294. Frames sealed: with the sequence it shows how many a reader missed."
      - id: "seal"
        type: "u2"
        doc: "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one."
    instances:
      kind:
        value: "(byte_0 / 4096)"
        doc: "Always 3. Tells a record of one kind from another, so that a Read at the wrong word is named."
      layout:
        value: "(byte_0 / 256 % 16)"
        doc: "Always 1. Names the layout the record was written with; the same place in every layout."
      reuse_cycles_raw:
        value: "(byte_0 % 256)"
        doc: "Raw 0 to 254. Most reuse cycles firmware ever found in a calibration block: survives a block that is lost or replaced."
      reuse_cycles:
        value: "(reuse_cycles_raw == 255 ? 254 : reuse_cycles_raw)"
        doc: "Number; raw 255: saturated."
      cold_starts:
        value: "(cold_starts_raw == 4294967295 ? 4294967294 : cold_starts_raw)"
        doc: "Number; raw 4294967295: saturated."
      fruitless_starts_raw:
        value: "(byte_6 / 16777216)"
        doc: "Raw 0 to 254. Cold starts in a row that ended without a frame: a task that needs more energy than the store holds is named."
      fruitless_starts:
        value: "(fruitless_starts_raw == 255 ? 254 : fruitless_starts_raw)"
        doc: "Number; raw 255: saturated."
      brown_outs_raw:
        value: "(byte_6 % 16777216)"
        doc: "Raw 0 to 16777214. Times the supply fell below its threshold: says whether the store is large enough."
      brown_outs:
        value: "(brown_outs_raw == 16777215 ? 16777214 : brown_outs_raw)"
        doc: "Number; raw 16777215: saturated."
      frames:
        value: "(frames_raw == 4294967295 ? 4294967294 : frames_raw)"
        doc: "Number; raw 4294967295: saturated."
      seal_steps:
        pos: 0
        type: "checksum_step(_index == 0 ? 20556 : seal_steps[_index - 1].after)"
        repeat: "expr"
        repeat-expr: "14"
      computed_seal:
        value: "seal_steps[13].after"
      whole:
        pos: 0
        size: 16
      is_empty:
        value: "whole == [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]"
        doc: "Never written."
      verdict:
        value: "is_empty ? 1023 : _io.size > 16 ? 767 : seal != computed_seal ? 1031 : (byte_0 / 4096) != 3 ? 1280 : (byte_0 / 256 % 16) != 1 ? 1537 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  calibration:
    doc: "Calibration block: Turns raw words into a pressure with a stated uncertainty; kept twice so that an interrupted update loses nothing."
    seq:
      - id: "byte_0"
        type: "u2"
        doc: "kind, layout, method, reuse_since"
      - id: "date_raw"
        type: "u2"
        doc: "Raw 0 to 65534, 0 to 65534 d. Day of the calibration, counted from 2020-01-01: an old one is named as such."
      - id: "sensor_serial"
        type: "u4"
        doc: "Raw 1 to 4294967295. The sensor these coefficients belong to; must equal the header's."
      - id: "byte_8"
        type: "u4"
        doc: "reuse_count, offset"
      - id: "byte_12"
        type: "u4"
        doc: "reuse_limit, gain"
      - id: "temperature_effect_raw"
        type: "s2"
        doc: "Raw -32768 to 32767, -512 to 511.984375 Pa/K. Rise of the absolute pressure per kelvin at constant load; a rigid sealed cell would show 340 Pa/K."
      - id: "gain_temperature_raw"
        type: "s2"
        doc: "Raw -32768 to 32767, -0.032768 to 0.032767 1/K. Relative change of the gain per kelvin: wall and foam soften as they warm."
      - id: "curvature_raw"
        type: "s2"
        doc: "Raw -32768 to 32767, -0.000032768 to 0.000032767 1/Pa. Relative change of the gain per pascal of load, where the data carry it."
      - id: "reference_temperature_raw"
        type: "s2"
        doc: "Raw -4000 to 12500, -40 to 125 Cel. Temperature at which the temperature terms are zero."
      - id: "expanded_uncertainty_raw"
        type: "u2"
        doc: "Raw 0 to 65534, 0 to 65534 Pa. Expanded uncertainty (k = 2) of a gauge pressure within the calibrated range, ambient excluded."
      - id: "byte_26"
        type: "u2"
        doc: "temperature_low, temperature_high"
      - id: "byte_28"
        type: "u2"
        doc: "span, validity"
      - id: "seal"
        type: "u2"
        doc: "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one."
    instances:
      kind:
        value: "(byte_0 / 4096)"
        doc: "Always 4. Tells a record of one kind from another, so that a Read at the wrong word is named."
      layout:
        value: "(byte_0 / 256 % 16)"
        doc: "Always 1. Names the layout the record was written with; the same place in every layout."
      method_raw:
        value: "(byte_0 / 16 % 16)"
        doc: "How the coefficients were found: says what they can be trusted for."
      method:
        value: "method_raw"
        enum: "method"
      reuse_since_raw:
        value: "(byte_0 % 16)"
        doc: "Raw 0 to 14. Reuse cycles since this calibration: any asks for a check, for a cell that saw steam and vacuum may have moved."
      reuse_since:
        value: "(reuse_since_raw == 15 ? 14 : reuse_since_raw)"
        doc: "Number; raw 15: saturated."
      date:
        value: "date_raw"
        if: "date_raw != 65535"
        doc: "In d; raw 65535: not_stated."
      reuse_count:
        value: "(byte_8 / 16777216)"
        doc: "Raw 0 to 254. Sterilisation and reuse cycles over the tag's life; a reader raises it, with both copies, at every cycle."
      offset_raw:
        value: "((byte_8 % 16777216) >= 8388608 ? (byte_8 % 16777216) - 16777216 : (byte_8 % 16777216))"
        doc: "Raw -8388608 to 8388607, -65536 to 65535.9921875 Pa. Added to the absolute pressure: soldering and ageing shift of the sensor."
      offset:
        value: "offset_raw / 128.0"
        doc: "In Pa."
      reuse_limit_raw:
        value: "(byte_12 / 16777216)"
        doc: "Raw 0 to 254. Reuse cycles after which the tag is to be retired."
      reuse_limit:
        value: "reuse_limit_raw"
        if: "reuse_limit_raw != 255"
        doc: "Number; raw 255: not_limited."
      gain_raw:
        value: "(byte_12 % 16777216)"
        doc: "Raw 262144 to 4194304, 0.25 to 4. Multiplies the difference from ambient: the cell's wall and foam take a share of the load."
      gain:
        value: "gain_raw / 1048576.0"
        doc: "Number."
      temperature_effect:
        value: "temperature_effect_raw / 64.0"
        doc: "In Pa/K."
      gain_temperature:
        value: "gain_temperature_raw / 1000000.0"
        doc: "In 1/K."
      curvature:
        value: "curvature_raw / 1000000000.0"
        doc: "In 1/Pa."
      reference_temperature:
        value: "reference_temperature_raw / 100.0"
        doc: "In Cel."
      expanded_uncertainty:
        value: "expanded_uncertainty_raw"
        if: "expanded_uncertainty_raw != 65535"
        doc: "In Pa; raw 65535: not_stated."
      temperature_low:
        value: "((byte_26 / 256) >= 128 ? (byte_26 / 256) - 256 : (byte_26 / 256))"
        doc: "Raw -40 to 125, -40 to 125 Cel. Lowest temperature the calibration covered: outside it a reading is marked."
      temperature_high:
        value: "((byte_26 % 256) >= 128 ? (byte_26 % 256) - 256 : (byte_26 % 256))"
        doc: "Raw -40 to 125, -40 to 125 Cel. Highest temperature the calibration covered: outside it a reading is marked."
      span:
        value: "(byte_28 / 256)"
        doc: "Raw 1 to 255, 1 to 255 hPa. Highest gauge pressure the calibration covered: beyond it a reading is marked."
      validity_raw:
        value: "(byte_28 % 256)"
        doc: "Raw 1 to 254, 1 to 254 mo. Months after which the calibration is to be repeated."
      validity:
        value: "validity_raw"
        if: "validity_raw != 255"
        doc: "In mo; raw 255: not_limited."
      seal_steps:
        pos: 0
        type: "checksum_step(_index == 0 ? 20556 : seal_steps[_index - 1].after)"
        repeat: "expr"
        repeat-expr: "30"
      computed_seal:
        value: "seal_steps[29].after"
      whole:
        pos: 0
        size: 32
      is_empty:
        value: "whole == [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]"
        doc: "Never written."
      verdict:
        value: "is_empty ? 1023 : _io.size > 32 ? 767 : seal != computed_seal ? 1043 : (byte_0 / 4096) != 4 ? 1280 : (byte_0 / 256 % 16) != 1 ? 1537 : ((byte_0 / 16 % 16) != 1 and (byte_0 / 16 % 16) != 2 and (byte_0 / 16 % 16) != 3 and (byte_0 / 16 % 16) != 4 and (byte_0 / 16 % 16) != 5) ? 2306 : ((sensor_serial < 1)) ? 2565 : (((byte_8 / 16777216) > 254)) ? 2566 : (((byte_12 % 16777216) < 262144 or (byte_12 % 16777216) > 4194304)) ? 2569 : ((reference_temperature_raw < -4000 or reference_temperature_raw > 12500)) ? 2573 : ((((byte_26 / 256) >= 128 ? (byte_26 / 256) - 256 : (byte_26 / 256)) < -40 or ((byte_26 / 256) >= 128 ? (byte_26 / 256) - 256 : (byte_26 / 256)) > 125)) ? 2575 : ((((byte_26 % 256) >= 128 ? (byte_26 % 256) - 256 : (byte_26 % 256)) < -40 or ((byte_26 % 256) >= 128 ? (byte_26 % 256) - 256 : (byte_26 % 256)) > 125)) ? 2576 : (((byte_28 / 256) < 1)) ? 2577 : (((byte_28 % 256) < 1)) ? 2578 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
    enums:
      method:
        1: "bench_two_point"
        2: "bench_multi_point"
        3: "bench_with_temperature"
        4: "limb_form"
        5: "zero_only"
  burst:
    doc: "Burst block: Gait and posture changes are faster than a reader comes round: the tag samples on its own and one Read fetches the run."
    seq:
      - id: "byte_0"
        type: "u2"
        doc: "kind, layout, status"
      - id: "sequence"
        type: "u2"
        doc: "Raw 0 to 65535. Sequence of the frame that was current when the run began: ties the waveform to its place in time."
      - id: "byte_4"
        type: "u4"
        doc: "count, pressure"
      - id: "interval_raw"
        type: "u2"
        doc: "Raw 1 to 10000, 0.001 to 10 s. Time between samples; 40 ms and 25 samples hold one gait cycle."
      - id: "temperature_raw"
        type: "s2"
        doc: "Raw -4000 to 12500, -40 to 125 Cel. The air cell warms under a dressing and its pressure with it; from the same conversion as the pressure."
      - id: "samples"
        type: "s2"
        repeat: "expr"
        repeat-expr: "25"
        doc: "Raw -32767 to 32767, -16383.5 to 16383.5 Pa. Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way."
      - id: "seal"
        type: "u2"
        doc: "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one."
    instances:
      kind:
        value: "(byte_0 / 4096)"
        doc: "Always 5. Tells a record of one kind from another, so that a Read at the wrong word is named."
      layout:
        value: "(byte_0 / 256 % 16)"
        doc: "Always 1. Names the layout the record was written with; the same place in every layout."
      status:
        value: "(byte_0 % 256)"
        doc: "What a reader must know before it believes the numbers beside it."
      status_first_after_cold_start:
        value: "(status / 1) % 2 == 1"
        doc: "First record since power came back: the sensor may still settle."
      status_brown_out:
        value: "(status / 2) % 2 == 1"
        doc: "Supply fell below the threshold since the last record: a sample was lost."
      status_sensor_fault:
        value: "(status / 4) % 2 == 1"
        doc: "The sensor did not answer or failed its self-check; pressure is not measured."
      status_pressure_at_limit:
        value: "(status / 8) % 2 == 1"
        doc: "Pressure is at an end of the range: the true one may lie beyond."
      status_sample_lost:
        value: "(status / 16) % 2 == 1"
        doc: "A sample was lost since the last record: sensor not ready in time, or bridge busy."
      status_calibration_missing:
        value: "(status / 32) % 2 == 1"
        doc: "Neither copy of the calibration block is whole."
      status_supply_low:
        value: "(status / 64) % 2 == 1"
        doc: "Supply was below the level at which the sensor is specified."
      status_burst_ready:
        value: "(status / 128) % 2 == 1"
        doc: "The burst block was completed since the last frame: worth a second Read."
      count:
        value: "(byte_4 / 16777216)"
        doc: "Raw 0 to 25. Samples taken before the run ended or the power did."
      pressure_raw:
        value: "(byte_4 % 16777216)"
        doc: "Raw 3328000 to 16128000, 26000 to 126000 Pa. Absolute pressure in the air cell as the sensor gave it, before calibration: 0.0078 Pa (0.000059 mmHg) a step."
      pressure:
        value: "pressure_raw / 128.0"
        if: "pressure_raw != 16777215"
        doc: "In Pa; raw 16777215: not_measured."
      interval:
        value: "interval_raw / 1000.0"
        doc: "In s."
      temperature:
        value: "temperature_raw / 100.0"
        if: "temperature_raw != -32768"
        doc: "In Cel; raw -32768: not_measured."
      seal_steps:
        pos: 0
        type: "checksum_step(_index == 0 ? 20556 : seal_steps[_index - 1].after)"
        repeat: "expr"
        repeat-expr: "62"
      computed_seal:
        value: "seal_steps[61].after"
      whole:
        pos: 0
        size: 64
      is_empty:
        value: "whole == [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]"
        doc: "Never written."
      verdict:
        value: "is_empty ? 1023 : _io.size > 64 ? 767 : seal != computed_seal ? 1057 : (byte_0 / 4096) != 5 ? 1280 : (byte_0 / 256 % 16) != 1 ? 1537 : (((byte_4 / 16777216) > 25)) ? 2564 : (((byte_4 % 16777216) < 3328000 or (byte_4 % 16777216) > 16128000) and (byte_4 % 16777216) != 16777215) ? 2565 : ((interval_raw < 1 or interval_raw > 10000)) ? 2566 : ((temperature_raw < -4000 or temperature_raw > 12500) and temperature_raw != -32768) ? 2567 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  passwords:
    doc: "Kill and access passwords: Gen2 keeps both in bank 00; a kill password of zero can never kill."
    seq:
      - id: "kill_password"
        type: "u4"
        doc: "Raw 0 to 4294967295. Zero in service: this tag is not to be killed."
      - id: "access_password"
        type: "u4"
        doc: "Raw 0 to 4294967295. Guards the calibration block against a chance write by another reader."
    instances:
      verdict:
        value: "_io.size > 8 ? 767 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  epc:
    doc: "EPC with StoredCRC and StoredPC: Who the tag is, by GS1 TDS; every inventory brings it back."
    seq:
      - id: "stored_crc"
        type: "u2"
        doc: "CRC-16 over StoredPC and EPC; the tag computes it at power-up."
      - id: "byte_2"
        type: "u2"
        doc: "epc_length, indicators, toggle, attributes"
      - id: "epc"
        type: "u2"
        repeat: "expr"
        repeat-expr: "6"
        doc: "Raw 0 to 65535. The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96."
    instances:
      stored_crc_steps:
        pos: 2
        type: "checksum_step(_index == 0 ? 65535 : stored_crc_steps[_index - 1].after)"
        repeat: "expr"
        repeat-expr: "14"
      computed_stored_crc:
        value: "stored_crc_steps[13].after ^ 65535"
      epc_length:
        value: "(byte_2 / 2048)"
        doc: "Raw 6, 6 word. EPC length in words: six for the 96-bit schemes this tag carries."
      indicators:
        value: "(byte_2 / 512 % 4)"
        doc: "Whether there is user memory and an extended protocol word to look at."
      indicators_user_memory:
        value: "(indicators / 2) % 2 == 1"
        doc: "UMI (RUM in Gen2 v3): user memory holds data."
      indicators_extended:
        value: "(indicators / 1) % 2 == 1"
        doc: "XI: XPC_W1 is not zero and follows the PC in the tag's reply."
      toggle:
        value: "(byte_2 / 256 % 2)"
        doc: "Always 0. T = 0: a GS1 EPC, not an ISO numbering system."
      attributes:
        value: "(byte_2 % 256)"
        doc: "RFU with T = 0: zero when the tag is commissioned."
      verdict:
        value: "_io.size > 16 ? 767 : stored_crc != computed_stored_crc ? 1024 : (((byte_2 / 2048) < 6 or (byte_2 / 2048) > 6)) ? 2561 : (byte_2 / 256 % 2) != 0 ? 1795 : (byte_2 % 256) != 0 ? 2052 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  xpc:
    doc: "XPC_W1: Tells any Gen2 reader during inventory that this tag carries a sensor."
    seq:
      - id: "xpc_w1"
        type: "u2"
        doc: "Full Function Sensor is set; the alarm bit follows the frame's sensor fault."
    instances:
      xpc_w1_xeb:
        value: "(xpc_w1 / 32768) % 2 == 1"
        doc: "XPC_W2 is not zero."
      xpc_w1_sensor_alarm:
        value: "(xpc_w1 / 2048) % 2 == 1"
        doc: "SA: a sensor reports an alarm (Gen2 v3)."
      xpc_w1_simple_sensor:
        value: "(xpc_w1 / 1024) % 2 == 1"
        doc: "SS: a Simple Sensor; never on this tag."
      xpc_w1_full_function_sensor:
        value: "(xpc_w1 / 512) % 2 == 1"
        doc: "FS: set on this tag."
      xpc_w1_snapshot_sensor:
        value: "(xpc_w1 / 256) % 2 == 1"
        doc: "SN: a Snapshot Sensor; never on this tag."
      xpc_w1_battery_assisted:
        value: "(xpc_w1 / 128) % 2 == 1"
        doc: "B: never on this tag."
      xpc_w1_computed_response:
        value: "(xpc_w1 / 64) % 2 == 1"
        doc: "C: the response buffer holds a result."
      xpc_w1_sl_indicator:
        value: "(xpc_w1 / 32) % 2 == 1"
        doc: "SLI: the SL flag is asserted."
      xpc_w1_notification:
        value: "(xpc_w1 / 16) % 2 == 1"
        doc: "TN: the tag notification bit of its maker."
      xpc_w1_untraceable:
        value: "(xpc_w1 / 8) % 2 == 1"
        doc: "U: the tag hides part of its memory."
      xpc_w1_killable:
        value: "(xpc_w1 / 4) % 2 == 1"
        doc: "K: a kill password other than zero can kill the tag."
      xpc_w1_non_removable:
        value: "(xpc_w1 / 2) % 2 == 1"
        doc: "NR: fixed to its item and not to be removed."
      xpc_w1_hazmat:
        value: "(xpc_w1 / 1) % 2 == 1"
        doc: "H: hazardous material."
      verdict:
        value: "_io.size > 2 ? 767 : ((xpc_w1 / 4096) % 2 == 1 or (xpc_w1 / 8192) % 2 == 1 or (xpc_w1 / 16384) % 2 == 1) ? 2048 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  tid:
    doc: "TID with XTID and serial: Written by the chip's maker and permanent: ties a tag to its calibration even if the EPC is rewritten."
    seq:
      - id: "byte_0"
        type: "u4"
        doc: "class, features, designer, model"
      - id: "xtid_header"
        type: "u2"
        doc: "Always 8192. XTID with a 48-bit serial and no further segment."
      - id: "serial"
        type: "u2"
        repeat: "expr"
        repeat-expr: "3"
        doc: "Raw 0 to 65535. Serial of the chip, 48 bits."
    instances:
      class_:
        value: "(byte_0 / 16777216)"
        doc: "Always 226. Allocation class by ISO/IEC 15963."
      features:
        value: "(byte_0 / 2097152 % 8)"
        doc: "What the chip can do beyond the mandatory commands."
      features_xtid:
        value: "(features / 4) % 2 == 1"
        doc: "X: an XTID follows."
      features_security:
        value: "(features / 2) % 2 == 1"
        doc: "S: Authenticate and Challenge."
      features_files:
        value: "(features / 1) % 2 == 1"
        doc: "F: FileOpen."
      designer:
        value: "(byte_0 / 4096 % 512)"
        doc: "Raw 0 to 511. Mask designer identifier (MDID)."
      model:
        value: "(byte_0 % 4096)"
        doc: "Raw 0 to 4095. Tag model number (TMN)."
      verdict:
        value: "_io.size > 12 ? 767 : (byte_0 / 16777216) != 226 ? 1792 : xtid_header != 8192 ? 1796 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  envelope:
    doc: "Start of every message: Type and request id; the payload record follows, then the link checksum."
    seq:
      - id: "type_"
        type: "u1"
        doc: "Raw 0 to 255. Which message this is."
      - id: "request"
        type: "u2"
        doc: "Raw 0 to 65535. Answers carry the id of their request; 0 where nothing was asked."
    instances:
      verdict:
        value: "_io.size > 3 ? 767 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  hello:
    doc: "Hello: First request: which link version and how many requests the host wants under way."
    seq:
      - id: "link_version"
        type: "u1"
        doc: "Raw 1 to 255. Link protocol version of the host."
      - id: "max_outstanding"
        type: "u1"
        doc: "Raw 1 to 255. Requests the host wants under way at once."
    instances:
      verdict:
        value: "_io.size > 2 ? 767 : ((link_version < 1)) ? 2560 : ((max_outstanding < 1)) ? 2561 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  welcome:
    doc: "Answer to hello: What the kit is and what it can do."
    seq:
      - id: "link_version"
        type: "u1"
        doc: "Raw 1 to 255. Link protocol version of the kit."
      - id: "max_outstanding"
        type: "u1"
        doc: "Raw 1 to 255. Requests the kit will hold at once: the lower of the two wishes."
      - id: "capabilities"
        type: "u2"
        doc: "What can be asked of this kit."
      - id: "power_low_raw"
        type: "s2"
        doc: "Raw -32768 to 32767, -327.68 to 327.67 dBm. Lowest transmit power."
      - id: "power_high_raw"
        type: "s2"
        doc: "Raw -32768 to 32767, -327.68 to 327.67 dBm. Highest transmit power."
      - id: "barometer_uncertainty_raw"
        type: "u2"
        doc: "Raw 0 to 65534, 0 to 65534 Pa. Expanded uncertainty (k = 2) of the kit's barometer."
      - id: "byte_10_high"
        type: "u4"
      - id: "byte_10_low"
        type: "u4"
    instances:
      capabilities_block_write:
        value: "(capabilities / 1) % 2 == 1"
        doc: "BlockWrite is served."
      capabilities_lock:
        value: "(capabilities / 2) % 2 == 1"
        doc: "Lock is served."
      capabilities_barometer:
        value: "(capabilities / 4) % 2 == 1"
        doc: "The kit measures ambient pressure and reports it."
      capabilities_eu_lower:
        value: "(capabilities / 8) % 2 == 1"
        doc: "Channel plan 865 to 868 MHz."
      capabilities_eu_upper:
        value: "(capabilities / 16) % 2 == 1"
        doc: "Channel plan 915 to 921 MHz."
      capabilities_us:
        value: "(capabilities / 32) % 2 == 1"
        doc: "Channel plan 902 to 928 MHz."
      power_low:
        value: "power_low_raw / 100.0"
        doc: "In dBm."
      power_high:
        value: "power_high_raw / 100.0"
        doc: "In dBm."
      barometer_uncertainty:
        value: "barometer_uncertainty_raw"
        if: "barometer_uncertainty_raw != 65535"
        doc: "In Pa; raw 65535: not_stated."
      kit_time_reserved:
        value: "(byte_10_high / 65536)"
        doc: "Keeps every raw value a safe integer in every language."
      kit_time:
        value: "((byte_10_high % 65536) * 4294967296 + (byte_10_low))"
        doc: "Raw 0 to 281474976710655, 0 to 281474976710655 us. The kit's own clock: readings are ordered by it, not by when the host got round to them."
      verdict:
        value: "_io.size > 18 ? 767 : ((link_version < 1)) ? 2560 : ((max_outstanding < 1)) ? 2561 : ((capabilities / 64) % 2 == 1 or (capabilities / 128) % 2 == 1 or (capabilities / 256) % 2 == 1 or (capabilities / 512) % 2 == 1 or (capabilities / 1024) % 2 == 1 or (capabilities / 2048) % 2 == 1 or (capabilities / 4096) % 2 == 1 or (capabilities / 8192) % 2 == 1 or (capabilities / 16384) % 2 == 1 or (capabilities / 32768) % 2 == 1) ? 2050 : (byte_10_high / 65536) != 0 ? 2054 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  set_power:
    doc: "Set transmit power: Conducted power at the antenna port."
    seq:
      - id: "power_raw"
        type: "s2"
        doc: "Raw -32768 to 32767, -327.68 to 327.67 dBm. Conducted power."
    instances:
      power:
        value: "power_raw / 100.0"
        doc: "In dBm."
      verdict:
        value: "_io.size > 2 ? 767 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  set_channel_plan:
    doc: "Set channel plan: Where the kit may transmit is a matter of the country it stands in."
    seq:
      - id: "plan_raw"
        type: "u1"
        doc: "Channel plan."
    instances:
      plan:
        value: "plan_raw"
        enum: "plan"
      verdict:
        value: "_io.size > 1 ? 767 : (plan_raw != 1 and plan_raw != 2 and plan_raw != 3) ? 2304 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
    enums:
      plan:
        1: "eu_lower"
        2: "eu_upper"
        3: "us"
  start_inventory:
    doc: "Start inventory: Round after round, with one Read on every tag that answers when words are asked for."
    seq:
      - id: "period_raw"
        type: "u2"
        doc: "Raw 10 to 60000, 0.01 to 60 s. Time from one round to the next."
      - id: "bank_raw"
        type: "u1"
        doc: "Memory bank by Gen2's MemBank number."
      - id: "pointer"
        type: "u2"
        doc: "Raw 0 to 65535. First word of the Read."
      - id: "word_count"
        type: "u1"
        doc: "Raw 0 to 255, 0 to 255 word. Words of the Read; 0 for none."
    instances:
      period:
        value: "period_raw / 1000.0"
        doc: "In s."
      bank:
        value: "bank_raw"
        enum: "bank"
      verdict:
        value: "_io.size > 6 ? 767 : ((period_raw < 10 or period_raw > 60000)) ? 2560 : (bank_raw != 0 and bank_raw != 1 and bank_raw != 2 and bank_raw != 3) ? 2305 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
    enums:
      bank:
        0: "reserved"
        1: "epc"
        2: "tid"
        3: "user"
  stop_inventory:
    doc: "Stop inventory: Ends the rounds; reports already made still arrive."
    instances:
      verdict:
        value: "_io.size > 0 ? 767 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  read:
    doc: "Read: Words of one tag."
    seq:
      - id: "password"
        type: "u4"
        doc: "Raw 0 to 4294967295. Access password; 0 when none is needed."
      - id: "bank_raw"
        type: "u1"
        doc: "Memory bank by Gen2's MemBank number."
      - id: "pointer"
        type: "u2"
        doc: "Raw 0 to 65535. First word."
      - id: "word_count"
        type: "u1"
        doc: "Raw 0 to 255, 0 to 255 word. Words of memory."
      - id: "epc_words"
        type: "u1"
        doc: "Raw 0 to 31, 0 to 31 word. Words of EPC that follow; Gen2 allows 31."
      - id: "epc"
        type: "u2"
        repeat: "expr"
        repeat-expr: "epc_words"
        if: "_io.size == announced_size"
        doc: "The EPC, as many words as said."
    instances:
      bank:
        value: "bank_raw"
        enum: "bank"
      announced_size:
        value: "9 + 2 * epc_words"
      verdict:
        value: "(bank_raw != 0 and bank_raw != 1 and bank_raw != 2 and bank_raw != 3) ? 2305 : ((epc_words > 31)) ? 2564 : _io.size != announced_size ? 3076 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
    enums:
      bank:
        0: "reserved"
        1: "epc"
        2: "tid"
        3: "user"
  write:
    doc: "Write: Words of one tag, one Write command each."
    seq:
      - id: "password"
        type: "u4"
        doc: "Raw 0 to 4294967295. Access password; 0 when none is needed."
      - id: "bank_raw"
        type: "u1"
        doc: "Memory bank by Gen2's MemBank number."
      - id: "pointer"
        type: "u2"
        doc: "Raw 0 to 65535. First word."
      - id: "word_count"
        type: "u1"
        doc: "Raw 0 to 255, 0 to 255 word. Words of memory."
      - id: "epc_words"
        type: "u1"
        doc: "Raw 0 to 31, 0 to 31 word. Words of EPC that follow; Gen2 allows 31."
      - id: "epc"
        type: "u2"
        repeat: "expr"
        repeat-expr: "epc_words"
        if: "_io.size == announced_size"
        doc: "The EPC, as many words as said."
      - id: "words"
        type: "u2"
        repeat: "expr"
        repeat-expr: "word_count"
        if: "_io.size == announced_size"
        doc: "The memory words, as many as said."
    instances:
      bank:
        value: "bank_raw"
        enum: "bank"
      announced_size:
        value: "9 + 2 * epc_words + 2 * word_count"
      first_word_at:
        value: "9 + 2 * epc_words"
      is_user_bank:
        value: "bank_raw == 3 and _io.size == announced_size"
      user_header:
        pos: "first_word_at + 2 * (0 - pointer)"
        size: 16
        type: "header"
        if: "is_user_bank and pointer <= 0 and pointer + word_count >= 8"
      user_slot_a:
        pos: "first_word_at + 2 * (8 - pointer)"
        size: 16
        type: "frame"
        if: "is_user_bank and pointer <= 8 and pointer + word_count >= 16"
      user_slot_b:
        pos: "first_word_at + 2 * (16 - pointer)"
        size: 16
        type: "frame"
        if: "is_user_bank and pointer <= 16 and pointer + word_count >= 24"
      user_counters_a:
        pos: "first_word_at + 2 * (24 - pointer)"
        size: 16
        type: "counters"
        if: "is_user_bank and pointer <= 24 and pointer + word_count >= 32"
      user_counters_b:
        pos: "first_word_at + 2 * (32 - pointer)"
        size: 16
        type: "counters"
        if: "is_user_bank and pointer <= 32 and pointer + word_count >= 40"
      user_calibration_1:
        pos: "first_word_at + 2 * (40 - pointer)"
        size: 32
        type: "calibration"
        if: "is_user_bank and pointer <= 40 and pointer + word_count >= 56"
      user_calibration_2:
        pos: "first_word_at + 2 * (56 - pointer)"
        size: 32
        type: "calibration"
        if: "is_user_bank and pointer <= 56 and pointer + word_count >= 72"
      user_burst:
        pos: "first_word_at + 2 * (72 - pointer)"
        size: 64
        type: "burst"
        if: "is_user_bank and pointer <= 72 and pointer + word_count >= 104"
      verdict:
        value: "(bank_raw != 0 and bank_raw != 1 and bank_raw != 2 and bank_raw != 3) ? 2305 : ((epc_words > 31)) ? 2564 : _io.size != announced_size ? 3075 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
    enums:
      bank:
        0: "reserved"
        1: "epc"
        2: "tid"
        3: "user"
  block_write:
    doc: "Block write: Words of one tag in one BlockWrite command."
    seq:
      - id: "password"
        type: "u4"
        doc: "Raw 0 to 4294967295. Access password; 0 when none is needed."
      - id: "bank_raw"
        type: "u1"
        doc: "Memory bank by Gen2's MemBank number."
      - id: "pointer"
        type: "u2"
        doc: "Raw 0 to 65535. First word."
      - id: "word_count"
        type: "u1"
        doc: "Raw 0 to 255, 0 to 255 word. Words of memory."
      - id: "epc_words"
        type: "u1"
        doc: "Raw 0 to 31, 0 to 31 word. Words of EPC that follow; Gen2 allows 31."
      - id: "epc"
        type: "u2"
        repeat: "expr"
        repeat-expr: "epc_words"
        if: "_io.size == announced_size"
        doc: "The EPC, as many words as said."
      - id: "words"
        type: "u2"
        repeat: "expr"
        repeat-expr: "word_count"
        if: "_io.size == announced_size"
        doc: "The memory words, as many as said."
    instances:
      bank:
        value: "bank_raw"
        enum: "bank"
      announced_size:
        value: "9 + 2 * epc_words + 2 * word_count"
      first_word_at:
        value: "9 + 2 * epc_words"
      is_user_bank:
        value: "bank_raw == 3 and _io.size == announced_size"
      user_header:
        pos: "first_word_at + 2 * (0 - pointer)"
        size: 16
        type: "header"
        if: "is_user_bank and pointer <= 0 and pointer + word_count >= 8"
      user_slot_a:
        pos: "first_word_at + 2 * (8 - pointer)"
        size: 16
        type: "frame"
        if: "is_user_bank and pointer <= 8 and pointer + word_count >= 16"
      user_slot_b:
        pos: "first_word_at + 2 * (16 - pointer)"
        size: 16
        type: "frame"
        if: "is_user_bank and pointer <= 16 and pointer + word_count >= 24"
      user_counters_a:
        pos: "first_word_at + 2 * (24 - pointer)"
        size: 16
        type: "counters"
        if: "is_user_bank and pointer <= 24 and pointer + word_count >= 32"
      user_counters_b:
        pos: "first_word_at + 2 * (32 - pointer)"
        size: 16
        type: "counters"
        if: "is_user_bank and pointer <= 32 and pointer + word_count >= 40"
      user_calibration_1:
        pos: "first_word_at + 2 * (40 - pointer)"
        size: 32
        type: "calibration"
        if: "is_user_bank and pointer <= 40 and pointer + word_count >= 56"
      user_calibration_2:
        pos: "first_word_at + 2 * (56 - pointer)"
        size: 32
        type: "calibration"
        if: "is_user_bank and pointer <= 56 and pointer + word_count >= 72"
      user_burst:
        pos: "first_word_at + 2 * (72 - pointer)"
        size: 64
        type: "burst"
        if: "is_user_bank and pointer <= 72 and pointer + word_count >= 104"
      verdict:
        value: "(bank_raw != 0 and bank_raw != 1 and bank_raw != 2 and bank_raw != 3) ? 2305 : ((epc_words > 31)) ? 2564 : _io.size != announced_size ? 3075 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
    enums:
      bank:
        0: "reserved"
        1: "epc"
        2: "tid"
        3: "user"
  lock:
    doc: "Lock: Gen2 Lock with its 20-bit payload: mask and action."
    seq:
      - id: "password"
        type: "u4"
        doc: "Raw 0 to 4294967295. Access password; Lock needs one."
      - id: "byte_4"
        type: "u4"
        doc: "lock_reserved, mask, action"
      - id: "epc_words"
        type: "u1"
        doc: "Raw 0 to 31, 0 to 31 word. Words of EPC that follow; Gen2 allows 31."
      - id: "epc"
        type: "u2"
        repeat: "expr"
        repeat-expr: "epc_words"
        if: "_io.size == announced_size"
        doc: "The EPC, as many words as said."
    instances:
      lock_reserved:
        value: "(byte_4 / 1048576)"
        doc: "The payload has 20 bits."
      mask:
        value: "(byte_4 / 1024 % 1024)"
        doc: "Raw 0 to 1023. Which of the ten lock bits to change."
      action:
        value: "(byte_4 % 1024)"
        doc: "Raw 0 to 1023. Their new values."
      announced_size:
        value: "9 + 2 * epc_words"
      verdict:
        value: "(byte_4 / 1048576) != 0 ? 2049 : ((epc_words > 31)) ? 2564 : _io.size != announced_size ? 3076 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  kill:
    doc: "Kill: Gen2 Kill: the tag never answers again. One that is given another password falls silent too: both may be tag_lost."
    seq:
      - id: "password"
        type: "u4"
        doc: "Raw 1 to 4294967295. Kill password; one of 0 never kills."
      - id: "epc_words"
        type: "u1"
        doc: "Raw 0 to 31, 0 to 31 word. Words of EPC that follow; Gen2 allows 31."
      - id: "epc"
        type: "u2"
        repeat: "expr"
        repeat-expr: "epc_words"
        if: "_io.size == announced_size"
        doc: "The EPC, as many words as said."
    instances:
      announced_size:
        value: "5 + 2 * epc_words"
      verdict:
        value: "((password < 1)) ? 2560 : ((epc_words > 31)) ? 2561 : _io.size != announced_size ? 3073 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  keep_alive:
    doc: "Keep-alive: Shows that the other side is there when nothing else is said."
    instances:
      verdict:
        value: "_io.size > 0 ? 767 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  done:
    doc: "Done: Answer to a request that brings nothing back."
    instances:
      verdict:
        value: "_io.size > 0 ? 767 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  access_answer:
    doc: "Answer to an access: Result of read, write, block write, lock or kill."
    seq:
      - id: "result_raw"
        type: "u1"
        doc: "What came of the access; every value but the first two is the number of a reason code."
      - id: "word_count"
        type: "u1"
        doc: "Raw 0 to 255, 0 to 255 word. Words of memory."
      - id: "byte_2_high"
        type: "u4"
      - id: "byte_2_low"
        type: "u4"
      - id: "words"
        type: "u2"
        repeat: "expr"
        repeat-expr: "word_count"
        if: "_io.size == announced_size"
        doc: "The memory words, as many as said."
    instances:
      result:
        value: "result_raw"
        enum: "result"
      kit_time_reserved:
        value: "(byte_2_high / 65536)"
        doc: "Keeps every raw value a safe integer in every language."
      kit_time:
        value: "((byte_2_high % 65536) * 4294967296 + (byte_2_low))"
        doc: "Raw 0 to 281474976710655, 0 to 281474976710655 us. The kit's own clock: readings are ordered by it, not by when the host got round to them."
      announced_size:
        value: "10 + 2 * word_count"
      verdict:
        value: "(result_raw != 0 and result_raw != 1 and result_raw != 60 and result_raw != 61 and result_raw != 62 and result_raw != 63 and result_raw != 64 and result_raw != 65) ? 2304 : (byte_2_high / 65536) != 0 ? 2050 : _io.size != announced_size ? 3073 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
    enums:
      result:
        0: "done"
        1: "not_asked"
        60: "tag_lost"
        61: "tag_memory_overrun"
        62: "tag_memory_locked"
        63: "tag_power_insufficient"
        64: "tag_error"
        65: "password_wrong"
  error:
    doc: "Error: Why a message could not be served; an unknown message is answered with this, never ignored."
    seq:
      - id: "reason"
        type: "u1"
        doc: "Raw 1 to 255. Number of the reason code."
      - id: "about"
        type: "u1"
        doc: "Raw 0 to 255. Type of the message it is about."
      - id: "byte"
        type: "u2"
        doc: "Raw 0 to 65535. Byte of the message at which it went wrong; 0 when it is about the whole."
    instances:
      verdict:
        value: "_io.size > 4 ? 767 : ((reason < 1)) ? 2560 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  tag_report:
    doc: "Tag report: One tag seen in one round, with the words read: everything a capture keeps."
    seq:
      - id: "byte_0_high"
        type: "u4"
      - id: "byte_0_low"
        type: "u4"
      - id: "pc"
        type: "u2"
        doc: "Raw 0 to 65535. The PC word as the tag sent it."
      - id: "xpc"
        type: "u2"
        doc: "Raw 0 to 65535. XPC_W1, 0 when the tag sent none."
      - id: "rssi_raw"
        type: "s2"
        doc: "Raw -32767 to 32767, -3276.7 to 3276.7 dBm. Strength of the tag's reply at the kit."
      - id: "frequency"
        type: "u4"
        doc: "Raw 0 to 4294967295, 0 to 4294967295 kHz. Carrier frequency."
      - id: "result_raw"
        type: "u1"
        doc: "What came of the access; every value but the first two is the number of a reason code."
      - id: "bank_raw"
        type: "u1"
        doc: "Memory bank by Gen2's MemBank number."
      - id: "pointer"
        type: "u2"
        doc: "Raw 0 to 65535. First word of the Read."
      - id: "word_count"
        type: "u1"
        doc: "Raw 0 to 255, 0 to 255 word. Words of memory."
      - id: "epc_words"
        type: "u1"
        doc: "Raw 0 to 31, 0 to 31 word. Words of EPC that follow; Gen2 allows 31."
      - id: "epc"
        type: "u2"
        repeat: "expr"
        repeat-expr: "epc_words"
        if: "_io.size == announced_size"
        doc: "The EPC, as many words as said."
      - id: "words"
        type: "u2"
        repeat: "expr"
        repeat-expr: "word_count"
        if: "_io.size == announced_size"
        doc: "The memory words, as many as said."
    instances:
      kit_time_reserved:
        value: "(byte_0_high / 65536)"
        doc: "Keeps every raw value a safe integer in every language."
      kit_time:
        value: "((byte_0_high % 65536) * 4294967296 + (byte_0_low))"
        doc: "Raw 0 to 281474976710655, 0 to 281474976710655 us. The kit's own clock: readings are ordered by it, not by when the host got round to them."
      rssi:
        value: "rssi_raw / 10.0"
        if: "rssi_raw != -32768"
        doc: "In dBm; raw -32768: not_measured."
      result:
        value: "result_raw"
        enum: "result"
      bank:
        value: "bank_raw"
        enum: "bank"
      announced_size:
        value: "24 + 2 * epc_words + 2 * word_count"
      first_word_at:
        value: "24 + 2 * epc_words"
      is_user_bank:
        value: "bank_raw == 3 and _io.size == announced_size"
      user_header:
        pos: "first_word_at + 2 * (0 - pointer)"
        size: 16
        type: "header"
        if: "is_user_bank and pointer <= 0 and pointer + word_count >= 8"
      user_slot_a:
        pos: "first_word_at + 2 * (8 - pointer)"
        size: 16
        type: "frame"
        if: "is_user_bank and pointer <= 8 and pointer + word_count >= 16"
      user_slot_b:
        pos: "first_word_at + 2 * (16 - pointer)"
        size: 16
        type: "frame"
        if: "is_user_bank and pointer <= 16 and pointer + word_count >= 24"
      user_counters_a:
        pos: "first_word_at + 2 * (24 - pointer)"
        size: 16
        type: "counters"
        if: "is_user_bank and pointer <= 24 and pointer + word_count >= 32"
      user_counters_b:
        pos: "first_word_at + 2 * (32 - pointer)"
        size: 16
        type: "counters"
        if: "is_user_bank and pointer <= 32 and pointer + word_count >= 40"
      user_calibration_1:
        pos: "first_word_at + 2 * (40 - pointer)"
        size: 32
        type: "calibration"
        if: "is_user_bank and pointer <= 40 and pointer + word_count >= 56"
      user_calibration_2:
        pos: "first_word_at + 2 * (56 - pointer)"
        size: 32
        type: "calibration"
        if: "is_user_bank and pointer <= 56 and pointer + word_count >= 72"
      user_burst:
        pos: "first_word_at + 2 * (72 - pointer)"
        size: 64
        type: "burst"
        if: "is_user_bank and pointer <= 72 and pointer + word_count >= 104"
      verdict:
        value: "(byte_0_high / 65536) != 0 ? 2048 : (result_raw != 0 and result_raw != 1 and result_raw != 60 and result_raw != 61 and result_raw != 62 and result_raw != 63 and result_raw != 64 and result_raw != 65) ? 2310 : (bank_raw != 0 and bank_raw != 1 and bank_raw != 2 and bank_raw != 3) ? 2311 : ((epc_words > 31)) ? 2570 : _io.size != announced_size ? 3081 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
    enums:
      result:
        0: "done"
        1: "not_asked"
        60: "tag_lost"
        61: "tag_memory_overrun"
        62: "tag_memory_locked"
        63: "tag_power_insufficient"
        64: "tag_error"
        65: "password_wrong"
      bank:
        0: "reserved"
        1: "epc"
        2: "tid"
        3: "user"
  ambient_report:
    doc: "Ambient report: The kit's barometer: without an ambient pressure no gauge pressure can be built."
    seq:
      - id: "byte_0_high"
        type: "u4"
      - id: "byte_0_low"
        type: "u4"
      - id: "pressure_raw"
        type: "u4"
        doc: "Raw 3328000 to 16128000, 26000 to 126000 Pa. Absolute ambient pressure."
      - id: "temperature_raw"
        type: "s2"
        doc: "Raw -4000 to 12500, -40 to 125 Cel. Temperature of the barometer."
    instances:
      kit_time_reserved:
        value: "(byte_0_high / 65536)"
        doc: "Keeps every raw value a safe integer in every language."
      kit_time:
        value: "((byte_0_high % 65536) * 4294967296 + (byte_0_low))"
        doc: "Raw 0 to 281474976710655, 0 to 281474976710655 us. The kit's own clock: readings are ordered by it, not by when the host got round to them."
      pressure:
        value: "pressure_raw / 128.0"
        doc: "In Pa."
      temperature:
        value: "temperature_raw / 100.0"
        if: "temperature_raw != -32768"
        doc: "In Cel; raw -32768: not_measured."
      verdict:
        value: "_io.size > 14 ? 767 : (byte_0_high / 65536) != 0 ? 2048 : ((pressure_raw < 3328000 or pressure_raw > 16128000)) ? 2562 : ((temperature_raw < -4000 or temperature_raw > 12500) and temperature_raw != -32768) ? 2563 : 0"
      verdict_reason:
        value: "verdict / 256"
        enum: "reason"
  message:
    doc: "Body of a link frame, without checksum and byte stuffing. An unknown message has no payload."
    params:
      - id: "to_kit"
        type: "bool"
        doc: "Sent by the host; else by the kit."
    seq:
      - id: "envelope"
        type: "envelope"
        size: 3
      - id: "payload"
        size-eos: true
        if: "is_known"
        type:
          switch-on: "envelope.type_"
          cases:
            1: "hello"
            2: "set_power"
            3: "set_channel_plan"
            4: "start_inventory"
            5: "stop_inventory"
            6: "read"
            7: "write"
            8: "block_write"
            9: "lock"
            10: "keep_alive"
            11: "kill"
            64: "done"
            65: "welcome"
            70: "access_answer"
            127: "error"
            128: "tag_report"
            130: "ambient_report"
    instances:
      is_known:
        value: "to_kit ? (envelope.type_ == 1 or envelope.type_ == 2 or envelope.type_ == 3 or envelope.type_ == 4 or envelope.type_ == 5 or envelope.type_ == 6 or envelope.type_ == 7 or envelope.type_ == 8 or envelope.type_ == 9 or envelope.type_ == 10 or envelope.type_ == 11) : (envelope.type_ == 64 or envelope.type_ == 65 or envelope.type_ == 70 or envelope.type_ == 127 or envelope.type_ == 128 or envelope.type_ == 130)"
  checksum_step:
    doc: "The register of a CRC with polynomial 1021h behind one more byte."
    params:
      - id: "before"
        type: "u2"
    seq:
      - id: "byte"
        type: "u1"
    instances:
      mixed:
        value: "(before / 256) ^ byte"
      folded:
        value: "mixed ^ (mixed / 16)"
      after:
        value: "((before % 256) * 256) ^ (folded * 4096 % 65536) ^ (folded * 32 % 65536) ^ folded"
enums:
  reason:
    0: "good"
    1: "record_too_short"
    2: "trailing_bytes"
    3: "record_empty"
    4: "checksum_mismatch"
    5: "kind_unexpected"
    6: "layout_unknown"
    7: "marker_mismatch"
    8: "reserved_bit_set"
    9: "name_unknown"
    10: "value_out_of_range"
    11: "fingerprint_mismatch"
    12: "count_mismatch"
    20: "slots_contradict"
    21: "slots_both_bad"
    22: "copies_both_bad"
    30: "epc_header_unknown"
    31: "epc_partition_invalid"
    32: "epc_field_too_large"
    33: "epc_field_malformed"
    34: "epc_length_invalid"
    40: "link_stuffing_invalid"
    41: "link_frame_too_long"
    42: "link_checksum_mismatch"
    43: "message_unknown"
    44: "message_not_now"
    45: "request_refused"
    46: "request_timed_out"
    47: "too_many_outstanding"
    48: "link_closed"
    60: "tag_lost"
    61: "tag_memory_overrun"
    62: "tag_memory_locked"
    63: "tag_power_insufficient"
    64: "tag_error"
    65: "password_wrong"
    80: "hex_odd_length"
    81: "hex_bad_digit"
    82: "json_invalid"
    83: "header_missing"
    84: "version_unknown"
    85: "field_missing"
    86: "field_invalid"
    87: "column_missing"
    88: "line_too_long"
    89: "file_empty"
    100: "llrp_length_invalid"
    101: "llrp_parameter_unknown"
    102: "llrp_version_unsupported"
    103: "llrp_status"
    104: "llrp_parameter_unexpected"
