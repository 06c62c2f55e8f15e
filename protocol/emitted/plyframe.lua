-- Emitted from layout 1, fingerprint 028961a7: change protocol/spec/ and run "npm run emit".
--
-- Wireshark dissector of plyframe's link messages and of the tag memory in them (checked with Wireshark 4.0).
--   tshark -X lua_script:plyframe.lua -V -r capture.pcapng
-- Every field has its raw integer, value and unit; plyframe.verdict says good or why not, for messages and for every
-- region that a Read brought. Link type USER0 is a link message.

local FINGERPRINT = 0x028961a7

local REASONS = {
  ["record-too-short"] = { number = 1, says = "fewer bytes than the record has" },
  ["trailing-bytes"] = { number = 2, says = "more bytes than the record has" },
  ["record-empty"] = { number = 3, says = "every byte is zero: never written" },
  ["checksum-mismatch"] = { number = 4, says = "the checksum does not fit the bytes it covers" },
  ["kind-unexpected"] = { number = 5, says = "a sealed record of another kind" },
  ["layout-unknown"] = { number = 6, says = "written with another layout than the one read with" },
  ["marker-mismatch"] = { number = 7, says = "a fixed value is not what it must be" },
  ["reserved-bit-set"] = { number = 8, says = "a bit kept for later is set" },
  ["name-unknown"] = { number = 9, says = "a value outside the closed list" },
  ["value-out-of-range"] = { number = 10, says = "a value outside its valid range" },
  ["fingerprint-mismatch"] = { number = 11, says = "same layout number, different specification" },
  ["count-mismatch"] = { number = 12, says = "a count does not fit the bytes that follow" },
  ["slots-contradict"] = { number = 20, says = "both slots are whole but cannot be ordered" },
  ["slots-both-bad"] = { number = 21, says = "neither slot holds a whole frame" },
  ["copies-both-bad"] = { number = 22, says = "neither copy of the block is whole" },
  ["epc-header-unknown"] = { number = 30, says = "not an EPC scheme this specification knows" },
  ["epc-partition-invalid"] = { number = 31, says = "partition value outside 0 to 6" },
  ["epc-field-too-large"] = { number = 32, says = "a field holds a number with too many digits" },
  ["epc-field-malformed"] = { number = 33, says = "a field of the URI is not written as the standard asks" },
  ["epc-length-invalid"] = { number = 34, says = "not the length of the scheme" },
  ["link-stuffing-invalid"] = { number = 40, says = "the byte stuffing runs past the frame's end or holds a zero" },
  ["link-frame-too-long"] = { number = 41, says = "more bytes without a delimiter than the longest frame has" },
  ["link-checksum-mismatch"] = { number = 42, says = "the link checksum does not fit" },
  ["message-unknown"] = { number = 43, says = "a message type outside the list" },
  ["message-not-now"] = { number = 44, says = "a known message that cannot be served in the present state" },
  ["request-refused"] = { number = 45, says = "a value the reader kit cannot serve" },
  ["request-timed-out"] = { number = 46, says = "no answer in time" },
  ["too-many-outstanding"] = { number = 47, says = "more requests under way than agreed" },
  ["link-closed"] = { number = 48, says = "the port closed" },
  ["tag-lost"] = { number = 60, says = "the tag did not answer" },
  ["tag-memory-overrun"] = { number = 61, says = "the words asked for do not exist" },
  ["tag-memory-locked"] = { number = 62, says = "the memory is locked" },
  ["tag-power-insufficient"] = { number = 63, says = "not enough power for the access" },
  ["tag-error"] = { number = 64, says = "the tag answered with another error" },
  ["password-wrong"] = { number = 65, says = "the access password was not accepted" },
  ["hex-odd-length"] = { number = 80, says = "an odd number of hex digits" },
  ["hex-bad-digit"] = { number = 81, says = "a character that is no hex digit" },
  ["json-invalid"] = { number = 82, says = "not a JSON object" },
  ["header-missing"] = { number = 83, says = "no header record where one must stand" },
  ["version-unknown"] = { number = 84, says = "a version this program does not know" },
  ["field-missing"] = { number = 85, says = "a field that must be there is not" },
  ["field-invalid"] = { number = 86, says = "a field whose value is not of its kind" },
  ["column-missing"] = { number = 87, says = "a column that must be there is not" },
  ["line-too-long"] = { number = 88, says = "a line longer than any record" },
  ["file-empty"] = { number = 89, says = "no record at all" },
  ["llrp-length-invalid"] = { number = 100, says = "a length that does not fit what it stands in" },
  ["llrp-parameter-unknown"] = { number = 101, says = "a parameter of unknown type that cannot be skipped" },
  ["llrp-version-unsupported"] = { number = 102, says = "a version of LLRP this program does not speak" },
  ["llrp-status"] = { number = 103, says = "the reader answered with a status other than success" },
  ["llrp-parameter-unexpected"] = { number = 104, says = "a parameter where the standard has none of its kind" },
}

local CHECKSUMS = {
  air = { poly = 0x1021, init = 0xffff, xorout = 0xffff },
  seal = { poly = 0x1021, init = 0x504c, xorout = 0x0000 },
}

local RECORDS = {
  header = { id = "header", title = "Header", bytes = 16, sealed = true, in_memory = true,
    order = { 2, 3, 1, 4, 5, 6, 7, 8, 9 },
    fields = {
      { id = "dsfid", name = "Dsfid", byte = 0, bytes = 2, shift = 8, width = 8, type = "constant", raw = 0, reason = "marker-mismatch", why = "First octet of the bank by GS1 TDS: 00h, not formatted by ISO/IEC 15962 (from memory), so that a decoder of data elements leaves the bank alone." },
      { id = "kind", name = "Kind", byte = 0, bytes = 2, shift = 4, width = 4, type = "constant", raw = 1, reason = "kind-unexpected", why = "Tells a record of one kind from another, so that a Read at the wrong word is named." },
      { id = "layout", name = "Layout", byte = 0, bytes = 2, shift = 0, width = 4, type = "constant", raw = 1, reason = "layout-unknown", why = "Names the layout the record was written with; the same place in every layout." },
      { id = "fingerprint", name = "Fingerprint", byte = 2, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4294967295, why = "Number computed from the whole specification: catches two layouts that carry the same version." },
      { id = "firmware_major", name = "Firmware major", byte = 6, bytes = 2, shift = 8, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 255, why = "Which firmware made the frames, for tracing a fault back: its major version." },
      { id = "firmware_minor", name = "Firmware minor", byte = 6, bytes = 2, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 255, why = "Which firmware made the frames, for tracing a fault back: its minor version." },
      { id = "sampling_period", name = "Sampling period", byte = 8, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1000, add = 0, min = 10, max = 60000, scaled = true, unit = "s", why = "Time between samples while powered: bounds the age of a frame that is seen for the first time." },
      { id = "sensor_serial", name = "Sensor serial", byte = 10, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 1, max = 4294967295, why = "Serial of the pressure sensor; a calibration block of another sensor is found by comparing the two." },
      { id = "seal", name = "Seal", byte = 14, bytes = 2, shift = 0, width = 16, type = "checksum", algorithm = "seal", from = 0, to = 13, why = "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one." },
    },
    tails = {} },
  frame = { id = "frame", title = "Sensor frame", bytes = 16, sealed = true, in_memory = true,
    order = { 1, 2, 3, 4, 5, 6, 7, 8, 9, 10 },
    fields = {
      { id = "kind", name = "Kind", byte = 0, bytes = 2, shift = 12, width = 4, type = "constant", raw = 2, reason = "kind-unexpected", why = "Tells a record of one kind from another, so that a Read at the wrong word is named." },
      { id = "layout", name = "Layout", byte = 0, bytes = 2, shift = 8, width = 4, type = "constant", raw = 1, reason = "layout-unknown", why = "Names the layout the record was written with; the same place in every layout." },
      { id = "status", name = "Status", byte = 0, bytes = 2, shift = 0, width = 8, type = "flags", named = 0xff, flags = { { bit = 0, id = "first_after_cold_start", why = "First record since power came back: the sensor may still settle." }, { bit = 1, id = "brown_out", why = "Supply fell below the threshold since the last record: a sample was lost." }, { bit = 2, id = "sensor_fault", why = "The sensor did not answer or failed its self-check; pressure is not measured." }, { bit = 3, id = "pressure_at_limit", why = "Pressure is at an end of the range: the true one may lie beyond." }, { bit = 4, id = "sample_lost", why = "A sample was lost since the last record: sensor not ready in time, or bridge busy." }, { bit = 5, id = "calibration_missing", why = "Neither copy of the calibration block is whole." }, { bit = 6, id = "supply_low", why = "Supply was below the level at which the sensor is specified." }, { bit = 7, id = "burst_ready", why = "The burst block was completed since the last frame: worth a second Read." } }, why = "What a reader must know before it believes the numbers beside it." },
      { id = "sequence", name = "Sequence", byte = 2, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "Orders the two slots by RFC 1982 arithmetic; kept over cold starts so that it never goes back." },
      { id = "reserved", name = "Reserved", byte = 4, bytes = 4, shift = 24, width = 8, type = "reserved", why = "Room for a later layout without moving a field." },
      { id = "pressure", name = "Pressure", byte = 4, bytes = 4, shift = 0, width = 24, type = "number", num = 1, den = 128, add = 0, min = 3328000, max = 16128000, scaled = true, unit = "Pa", sentinels = { [16777215] = { id = "not_measured", means = "absent" } }, why = "Absolute pressure in the air cell as the sensor gave it, before calibration: 0.0078 Pa (0.000059 mmHg) a step." },
      { id = "temperature", name = "Temperature", byte = 8, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 100, add = 0, min = -4000, max = 12500, scaled = true, unit = "Cel", sentinels = { [-32768] = { id = "not_measured", means = "absent" } }, why = "The air cell warms under a dressing and its pressure with it; from the same conversion as the pressure." },
      { id = "supply", name = "Supply", byte = 10, bytes = 4, shift = 20, width = 12, type = "number", num = 1, den = 1000, add = 0, min = 0, max = 4094, scaled = true, unit = "V", sentinels = { [4095] = { id = "not_measured", means = "absent" } }, why = "Says how well the tag is being powered, before pressure is believed." },
      { id = "uptime", name = "Uptime", byte = 10, bytes = 4, shift = 0, width = 20, type = "number", num = 1, den = 10, add = 0, min = 0, max = 1048574, scaled = true, unit = "s", sentinels = { [1048575] = { id = "saturated", means = "saturated" } }, why = "Time since the cold start; a battery-less tag has no clock, so it saturates after 29 hours instead of wrapping." },
      { id = "seal", name = "Seal", byte = 14, bytes = 2, shift = 0, width = 16, type = "checksum", algorithm = "seal", from = 0, to = 13, why = "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one." },
    },
    tails = {} },
  counters = { id = "counters", title = "Counters", bytes = 16, sealed = true, in_memory = true,
    order = { 1, 2, 3, 4, 5, 6, 7, 8 },
    fields = {
      { id = "kind", name = "Kind", byte = 0, bytes = 2, shift = 12, width = 4, type = "constant", raw = 3, reason = "kind-unexpected", why = "Tells a record of one kind from another, so that a Read at the wrong word is named." },
      { id = "layout", name = "Layout", byte = 0, bytes = 2, shift = 8, width = 4, type = "constant", raw = 1, reason = "layout-unknown", why = "Names the layout the record was written with; the same place in every layout." },
      { id = "reuse_cycles", name = "Reuse cycles", byte = 0, bytes = 2, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 254, sentinels = { [255] = { id = "saturated", means = "saturated" } }, why = "Most reuse cycles firmware ever found in a calibration block: survives a block that is lost or replaced." },
      { id = "cold_starts", name = "Cold starts", byte = 2, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4294967294, sentinels = { [4294967295] = { id = "saturated", means = "saturated" } }, why = "Times the tag started from nothing: how often the field was lost." },
      { id = "fruitless_starts", name = "Fruitless starts", byte = 6, bytes = 4, shift = 24, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 254, sentinels = { [255] = { id = "saturated", means = "saturated" } }, why = "Cold starts in a row that ended without a frame: a task that needs more energy than the store holds is named." },
      { id = "brown_outs", name = "Brown outs", byte = 6, bytes = 4, shift = 0, width = 24, type = "number", num = 1, den = 1, add = 0, min = 0, max = 16777214, sentinels = { [16777215] = { id = "saturated", means = "saturated" } }, why = "Times the supply fell below its threshold: says whether the store is large enough." },
      { id = "frames", name = "Frames", byte = 10, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4294967294, sentinels = { [4294967295] = { id = "saturated", means = "saturated" } }, why = "Frames sealed: with the sequence it shows how many a reader missed." },
      { id = "seal", name = "Seal", byte = 14, bytes = 2, shift = 0, width = 16, type = "checksum", algorithm = "seal", from = 0, to = 13, why = "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one." },
    },
    tails = {} },
  calibration = { id = "calibration", title = "Calibration block", bytes = 32, sealed = true, in_memory = true,
    order = { 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20 },
    fields = {
      { id = "kind", name = "Kind", byte = 0, bytes = 2, shift = 12, width = 4, type = "constant", raw = 4, reason = "kind-unexpected", why = "Tells a record of one kind from another, so that a Read at the wrong word is named." },
      { id = "layout", name = "Layout", byte = 0, bytes = 2, shift = 8, width = 4, type = "constant", raw = 1, reason = "layout-unknown", why = "Names the layout the record was written with; the same place in every layout." },
      { id = "method", name = "Method", byte = 0, bytes = 2, shift = 4, width = 4, type = "enumeration", names = { [1] = "bench_two_point", [2] = "bench_multi_point", [3] = "bench_with_temperature", [4] = "limb_form", [5] = "zero_only" }, why = "How the coefficients were found: says what they can be trusted for." },
      { id = "reuse_since", name = "Reuse since", byte = 0, bytes = 2, shift = 0, width = 4, type = "number", num = 1, den = 1, add = 0, min = 0, max = 14, sentinels = { [15] = { id = "saturated", means = "saturated" } }, why = "Reuse cycles since this calibration: any asks for a check, for a cell that saw steam and vacuum may have moved." },
      { id = "date", name = "Date", byte = 2, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65534, unit = "d", sentinels = { [65535] = { id = "not_stated", means = "absent" } }, why = "Day of the calibration, counted from 2020-01-01: an old one is named as such." },
      { id = "sensor_serial", name = "Sensor serial", byte = 4, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 1, max = 4294967295, why = "The sensor these coefficients belong to; must equal the header's." },
      { id = "reuse_count", name = "Reuse count", byte = 8, bytes = 4, shift = 24, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 254, why = "Sterilisation and reuse cycles over the tag's life; a reader raises it, with both copies, at every cycle." },
      { id = "offset", name = "Offset", byte = 8, bytes = 4, shift = 0, width = 24, signed = true, type = "number", num = 1, den = 128, add = 0, min = -8388608, max = 8388607, scaled = true, unit = "Pa", why = "Added to the absolute pressure: soldering and ageing shift of the sensor." },
      { id = "reuse_limit", name = "Reuse limit", byte = 12, bytes = 4, shift = 24, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 254, sentinels = { [255] = { id = "not_limited", means = "absent" } }, why = "Reuse cycles after which the tag is to be retired." },
      { id = "gain", name = "Gain", byte = 12, bytes = 4, shift = 0, width = 24, type = "number", num = 1, den = 1048576, add = 0, min = 262144, max = 4194304, scaled = true, why = "Multiplies the difference from ambient: the cell's wall and foam take a share of the load." },
      { id = "temperature_effect", name = "Temperature effect", byte = 16, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 64, add = 0, min = -32768, max = 32767, scaled = true, unit = "Pa/K", why = "Rise of the absolute pressure per kelvin at constant load; a rigid sealed cell would show 340 Pa/K." },
      { id = "gain_temperature", name = "Gain temperature", byte = 18, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 1000000, add = 0, min = -32768, max = 32767, scaled = true, unit = "1/K", why = "Relative change of the gain per kelvin: wall and foam soften as they warm." },
      { id = "curvature", name = "Curvature", byte = 20, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 1000000000, add = 0, min = -32768, max = 32767, scaled = true, unit = "1/Pa", why = "Relative change of the gain per pascal of load, where the data carry it." },
      { id = "reference_temperature", name = "Reference temperature", byte = 22, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 100, add = 0, min = -4000, max = 12500, scaled = true, unit = "Cel", why = "Temperature at which the temperature terms are zero." },
      { id = "expanded_uncertainty", name = "Expanded uncertainty", byte = 24, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65534, unit = "Pa", sentinels = { [65535] = { id = "not_stated", means = "absent" } }, why = "Expanded uncertainty (k = 2) of a gauge pressure within the calibrated range, ambient excluded." },
      { id = "temperature_low", name = "Temperature low", byte = 26, bytes = 2, shift = 8, width = 8, signed = true, type = "number", num = 1, den = 1, add = 0, min = -40, max = 125, unit = "Cel", why = "Lowest temperature the calibration covered: outside it a reading is marked." },
      { id = "temperature_high", name = "Temperature high", byte = 26, bytes = 2, shift = 0, width = 8, signed = true, type = "number", num = 1, den = 1, add = 0, min = -40, max = 125, unit = "Cel", why = "Highest temperature the calibration covered: outside it a reading is marked." },
      { id = "span", name = "Span", byte = 28, bytes = 2, shift = 8, width = 8, type = "number", num = 1, den = 1, add = 0, min = 1, max = 255, unit = "hPa", why = "Highest gauge pressure the calibration covered: beyond it a reading is marked." },
      { id = "validity", name = "Validity", byte = 28, bytes = 2, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 1, max = 254, unit = "mo", sentinels = { [255] = { id = "not_limited", means = "absent" } }, why = "Months after which the calibration is to be repeated." },
      { id = "seal", name = "Seal", byte = 30, bytes = 2, shift = 0, width = 16, type = "checksum", algorithm = "seal", from = 0, to = 29, why = "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one." },
    },
    tails = {} },
  burst = { id = "burst", title = "Burst block", bytes = 64, sealed = true, in_memory = true,
    order = { 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34 },
    fields = {
      { id = "kind", name = "Kind", byte = 0, bytes = 2, shift = 12, width = 4, type = "constant", raw = 5, reason = "kind-unexpected", why = "Tells a record of one kind from another, so that a Read at the wrong word is named." },
      { id = "layout", name = "Layout", byte = 0, bytes = 2, shift = 8, width = 4, type = "constant", raw = 1, reason = "layout-unknown", why = "Names the layout the record was written with; the same place in every layout." },
      { id = "status", name = "Status", byte = 0, bytes = 2, shift = 0, width = 8, type = "flags", named = 0xff, flags = { { bit = 0, id = "first_after_cold_start", why = "First record since power came back: the sensor may still settle." }, { bit = 1, id = "brown_out", why = "Supply fell below the threshold since the last record: a sample was lost." }, { bit = 2, id = "sensor_fault", why = "The sensor did not answer or failed its self-check; pressure is not measured." }, { bit = 3, id = "pressure_at_limit", why = "Pressure is at an end of the range: the true one may lie beyond." }, { bit = 4, id = "sample_lost", why = "A sample was lost since the last record: sensor not ready in time, or bridge busy." }, { bit = 5, id = "calibration_missing", why = "Neither copy of the calibration block is whole." }, { bit = 6, id = "supply_low", why = "Supply was below the level at which the sensor is specified." }, { bit = 7, id = "burst_ready", why = "The burst block was completed since the last frame: worth a second Read." } }, why = "What a reader must know before it believes the numbers beside it." },
      { id = "sequence", name = "Sequence", byte = 2, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "Sequence of the frame that was current when the run began: ties the waveform to its place in time." },
      { id = "count", name = "Count", byte = 4, bytes = 4, shift = 24, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 25, why = "Samples taken before the run ended or the power did." },
      { id = "pressure", name = "Pressure", byte = 4, bytes = 4, shift = 0, width = 24, type = "number", num = 1, den = 128, add = 0, min = 3328000, max = 16128000, scaled = true, unit = "Pa", sentinels = { [16777215] = { id = "not_measured", means = "absent" } }, why = "Absolute pressure in the air cell as the sensor gave it, before calibration: 0.0078 Pa (0.000059 mmHg) a step." },
      { id = "interval", name = "Interval", byte = 8, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1000, add = 0, min = 1, max = 10000, scaled = true, unit = "s", why = "Time between samples; 40 ms and 25 samples hold one gait cycle." },
      { id = "temperature", name = "Temperature", byte = 10, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 100, add = 0, min = -4000, max = 12500, scaled = true, unit = "Cel", sentinels = { [-32768] = { id = "not_measured", means = "absent" } }, why = "The air cell warms under a dressing and its pressure with it; from the same conversion as the pressure." },
      { id = "samples[0]", name = "Samples", array = "samples", byte = 12, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[1]", name = "Samples", array = "samples", byte = 14, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[2]", name = "Samples", array = "samples", byte = 16, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[3]", name = "Samples", array = "samples", byte = 18, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[4]", name = "Samples", array = "samples", byte = 20, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[5]", name = "Samples", array = "samples", byte = 22, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[6]", name = "Samples", array = "samples", byte = 24, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[7]", name = "Samples", array = "samples", byte = 26, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[8]", name = "Samples", array = "samples", byte = 28, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[9]", name = "Samples", array = "samples", byte = 30, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[10]", name = "Samples", array = "samples", byte = 32, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[11]", name = "Samples", array = "samples", byte = 34, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[12]", name = "Samples", array = "samples", byte = 36, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[13]", name = "Samples", array = "samples", byte = 38, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[14]", name = "Samples", array = "samples", byte = 40, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[15]", name = "Samples", array = "samples", byte = 42, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[16]", name = "Samples", array = "samples", byte = 44, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[17]", name = "Samples", array = "samples", byte = 46, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[18]", name = "Samples", array = "samples", byte = 48, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[19]", name = "Samples", array = "samples", byte = 50, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[20]", name = "Samples", array = "samples", byte = 52, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[21]", name = "Samples", array = "samples", byte = 54, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[22]", name = "Samples", array = "samples", byte = 56, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[23]", name = "Samples", array = "samples", byte = 58, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "samples[24]", name = "Samples", array = "samples", byte = 60, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 2, add = 0, min = -32767, max = 32767, scaled = true, unit = "Pa", sentinels = { [-32768] = { id = "not_sampled", means = "absent" } }, why = "Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way." },
      { id = "seal", name = "Seal", byte = 62, bytes = 2, shift = 0, width = 16, type = "checksum", algorithm = "seal", from = 0, to = 61, why = "A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one." },
    },
    tails = {} },
  passwords = { id = "passwords", title = "Kill and access passwords", bytes = 8, in_memory = true,
    order = { 1, 2 },
    fields = {
      { id = "kill_password", name = "Kill password", byte = 0, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4294967295, why = "Zero in service: this tag is not to be killed." },
      { id = "access_password", name = "Access password", byte = 4, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4294967295, why = "Guards the calibration block against a chance write by another reader." },
    },
    tails = {} },
  epc = { id = "epc", title = "EPC with StoredCRC and StoredPC", bytes = 16, in_memory = true,
    order = { 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 },
    fields = {
      { id = "stored_crc", name = "Stored crc", byte = 0, bytes = 2, shift = 0, width = 16, type = "checksum", algorithm = "air", from = 2, to = 15, why = "CRC-16 over StoredPC and EPC; the tag computes it at power-up." },
      { id = "epc_length", name = "Epc length", byte = 2, bytes = 2, shift = 11, width = 5, type = "number", num = 1, den = 1, add = 0, min = 6, max = 6, unit = "word", why = "EPC length in words: six for the 96-bit schemes this tag carries." },
      { id = "indicators", name = "Indicators", byte = 2, bytes = 2, shift = 9, width = 2, type = "flags", named = 0x3, flags = { { bit = 1, id = "user_memory", why = "UMI (RUM in Gen2 v3): user memory holds data." }, { bit = 0, id = "extended", why = "XI: XPC_W1 is not zero and follows the PC in the tag's reply." } }, why = "Whether there is user memory and an extended protocol word to look at." },
      { id = "toggle", name = "Toggle", byte = 2, bytes = 2, shift = 8, width = 1, type = "constant", raw = 0, reason = "marker-mismatch", why = "T = 0: a GS1 EPC, not an ISO numbering system." },
      { id = "attributes", name = "Attributes", byte = 2, bytes = 2, shift = 0, width = 8, type = "reserved", why = "RFU with T = 0: zero when the tag is commissioned." },
      { id = "epc[0]", name = "Epc", array = "epc", byte = 4, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96." },
      { id = "epc[1]", name = "Epc", array = "epc", byte = 6, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96." },
      { id = "epc[2]", name = "Epc", array = "epc", byte = 8, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96." },
      { id = "epc[3]", name = "Epc", array = "epc", byte = 10, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96." },
      { id = "epc[4]", name = "Epc", array = "epc", byte = 12, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96." },
      { id = "epc[5]", name = "Epc", array = "epc", byte = 14, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96." },
    },
    tails = {} },
  xpc = { id = "xpc", title = "XPC_W1", bytes = 2, in_memory = true,
    order = { 1 },
    fields = {
      { id = "xpc_w1", name = "Xpc w1", byte = 0, bytes = 2, shift = 0, width = 16, type = "flags", named = 0x8fff, flags = { { bit = 15, id = "xeb", why = "XPC_W2 is not zero." }, { bit = 11, id = "sensor_alarm", why = "SA: a sensor reports an alarm (Gen2 v3)." }, { bit = 10, id = "simple_sensor", why = "SS: a Simple Sensor; never on this tag." }, { bit = 9, id = "full_function_sensor", why = "FS: set on this tag." }, { bit = 8, id = "snapshot_sensor", why = "SN: a Snapshot Sensor; never on this tag." }, { bit = 7, id = "battery_assisted", why = "B: never on this tag." }, { bit = 6, id = "computed_response", why = "C: the response buffer holds a result." }, { bit = 5, id = "sl_indicator", why = "SLI: the SL flag is asserted." }, { bit = 4, id = "notification", why = "TN: the tag notification bit of its maker." }, { bit = 3, id = "untraceable", why = "U: the tag hides part of its memory." }, { bit = 2, id = "killable", why = "K: a kill password other than zero can kill the tag." }, { bit = 1, id = "non_removable", why = "NR: fixed to its item and not to be removed." }, { bit = 0, id = "hazmat", why = "H: hazardous material." } }, why = "Full Function Sensor is set; the alarm bit follows the frame's sensor fault." },
    },
    tails = {} },
  tid = { id = "tid", title = "TID with XTID and serial", bytes = 12, in_memory = true,
    order = { 1, 2, 3, 4, 5, 6, 7, 8 },
    fields = {
      { id = "class", name = "Class", byte = 0, bytes = 4, shift = 24, width = 8, type = "constant", raw = 226, reason = "marker-mismatch", why = "Allocation class by ISO/IEC 15963." },
      { id = "features", name = "Features", byte = 0, bytes = 4, shift = 21, width = 3, type = "flags", named = 0x7, flags = { { bit = 2, id = "xtid", why = "X: an XTID follows." }, { bit = 1, id = "security", why = "S: Authenticate and Challenge." }, { bit = 0, id = "files", why = "F: FileOpen." } }, why = "What the chip can do beyond the mandatory commands." },
      { id = "designer", name = "Designer", byte = 0, bytes = 4, shift = 12, width = 9, type = "number", num = 1, den = 1, add = 0, min = 0, max = 511, why = "Mask designer identifier (MDID)." },
      { id = "model", name = "Model", byte = 0, bytes = 4, shift = 0, width = 12, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4095, why = "Tag model number (TMN)." },
      { id = "xtid_header", name = "Xtid header", byte = 4, bytes = 2, shift = 0, width = 16, type = "constant", raw = 8192, reason = "marker-mismatch", why = "XTID with a 48-bit serial and no further segment." },
      { id = "serial[0]", name = "Serial", array = "serial", byte = 6, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "Serial of the chip, 48 bits." },
      { id = "serial[1]", name = "Serial", array = "serial", byte = 8, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "Serial of the chip, 48 bits." },
      { id = "serial[2]", name = "Serial", array = "serial", byte = 10, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "Serial of the chip, 48 bits." },
    },
    tails = {} },
  envelope = { id = "envelope", title = "Start of every message", bytes = 3,
    order = { 1, 2 },
    fields = {
      { id = "type", name = "Type", byte = 0, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 255, why = "Which message this is." },
      { id = "request", name = "Request", byte = 1, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "Answers carry the id of their request; 0 where nothing was asked." },
    },
    tails = {} },
  hello = { id = "hello", title = "Hello", bytes = 2,
    order = { 1, 2 },
    fields = {
      { id = "link_version", name = "Link version", byte = 0, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 1, max = 255, why = "Link protocol version of the host." },
      { id = "max_outstanding", name = "Max outstanding", byte = 1, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 1, max = 255, why = "Requests the host wants under way at once." },
    },
    tails = {} },
  welcome = { id = "welcome", title = "Answer to hello", bytes = 18,
    order = { 1, 2, 3, 4, 5, 6, 7, 8 },
    fields = {
      { id = "link_version", name = "Link version", byte = 0, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 1, max = 255, why = "Link protocol version of the kit." },
      { id = "max_outstanding", name = "Max outstanding", byte = 1, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 1, max = 255, why = "Requests the kit will hold at once: the lower of the two wishes." },
      { id = "capabilities", name = "Capabilities", byte = 2, bytes = 2, shift = 0, width = 16, type = "flags", named = 0x3f, flags = { { bit = 0, id = "block_write", why = "BlockWrite is served." }, { bit = 1, id = "lock", why = "Lock is served." }, { bit = 2, id = "barometer", why = "The kit measures ambient pressure and reports it." }, { bit = 3, id = "eu_lower", why = "Channel plan 865 to 868 MHz." }, { bit = 4, id = "eu_upper", why = "Channel plan 915 to 921 MHz." }, { bit = 5, id = "us", why = "Channel plan 902 to 928 MHz." } }, why = "What can be asked of this kit." },
      { id = "power_low", name = "Power low", byte = 4, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 100, add = 0, min = -32768, max = 32767, scaled = true, unit = "dBm", why = "Lowest transmit power." },
      { id = "power_high", name = "Power high", byte = 6, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 100, add = 0, min = -32768, max = 32767, scaled = true, unit = "dBm", why = "Highest transmit power." },
      { id = "barometer_uncertainty", name = "Barometer uncertainty", byte = 8, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65534, unit = "Pa", sentinels = { [65535] = { id = "not_stated", means = "absent" } }, why = "Expanded uncertainty (k = 2) of the kit's barometer." },
      { id = "kit_time_reserved", name = "Kit time reserved", byte = 10, bytes = 8, shift = 48, width = 16, type = "reserved", why = "Keeps every raw value a safe integer in every language." },
      { id = "kit_time", name = "Kit time", byte = 10, bytes = 8, shift = 0, width = 48, type = "number", num = 1, den = 1, add = 0, min = 0, max = 281474976710655, unit = "us", why = "The kit's own clock: readings are ordered by it, not by when the host got round to them." },
    },
    tails = {} },
  set_power = { id = "set_power", title = "Set transmit power", bytes = 2,
    order = { 1 },
    fields = {
      { id = "power", name = "Power", byte = 0, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 100, add = 0, min = -32768, max = 32767, scaled = true, unit = "dBm", why = "Conducted power." },
    },
    tails = {} },
  set_channel_plan = { id = "set_channel_plan", title = "Set channel plan", bytes = 1,
    order = { 1 },
    fields = {
      { id = "plan", name = "Plan", byte = 0, bytes = 1, shift = 0, width = 8, type = "enumeration", names = { [1] = "eu_lower", [2] = "eu_upper", [3] = "us" }, why = "Channel plan." },
    },
    tails = {} },
  start_inventory = { id = "start_inventory", title = "Start inventory", bytes = 6,
    order = { 1, 2, 3, 4 },
    fields = {
      { id = "period", name = "Period", byte = 0, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1000, add = 0, min = 10, max = 60000, scaled = true, unit = "s", why = "Time from one round to the next." },
      { id = "bank", name = "Bank", byte = 2, bytes = 1, shift = 0, width = 8, type = "enumeration", names = { [0] = "reserved", [1] = "epc", [2] = "tid", [3] = "user" }, why = "Memory bank by Gen2's MemBank number." },
      { id = "pointer", name = "Pointer", byte = 3, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "First word of the Read." },
      { id = "word_count", name = "Word count", byte = 5, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 255, unit = "word", why = "Words of the Read; 0 for none." },
    },
    tails = {} },
  stop_inventory = { id = "stop_inventory", title = "Stop inventory", bytes = 0,
    order = {  },
    fields = {},
    tails = {} },
  read = { id = "read", title = "Read", bytes = 9,
    order = { 1, 2, 3, 4, 5 },
    fields = {
      { id = "password", name = "Password", byte = 0, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4294967295, why = "Access password; 0 when none is needed." },
      { id = "bank", name = "Bank", byte = 4, bytes = 1, shift = 0, width = 8, type = "enumeration", names = { [0] = "reserved", [1] = "epc", [2] = "tid", [3] = "user" }, why = "Memory bank by Gen2's MemBank number." },
      { id = "pointer", name = "Pointer", byte = 5, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "First word." },
      { id = "word_count", name = "Word count", byte = 7, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 255, unit = "word", why = "Words of memory." },
      { id = "epc_words", name = "Epc words", byte = 8, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 31, unit = "word", why = "Words of EPC that follow; Gen2 allows 31." },
    },
    tails = {
      { id = "epc", name = "Epc", bytes = 2, count = "epc_words", why = "The EPC, as many words as said." },
    } },
  write = { id = "write", title = "Write", bytes = 9,
    order = { 1, 2, 3, 4, 5 },
    fields = {
      { id = "password", name = "Password", byte = 0, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4294967295, why = "Access password; 0 when none is needed." },
      { id = "bank", name = "Bank", byte = 4, bytes = 1, shift = 0, width = 8, type = "enumeration", names = { [0] = "reserved", [1] = "epc", [2] = "tid", [3] = "user" }, why = "Memory bank by Gen2's MemBank number." },
      { id = "pointer", name = "Pointer", byte = 5, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "First word." },
      { id = "word_count", name = "Word count", byte = 7, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 255, unit = "word", why = "Words of memory." },
      { id = "epc_words", name = "Epc words", byte = 8, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 31, unit = "word", why = "Words of EPC that follow; Gen2 allows 31." },
    },
    tails = {
      { id = "epc", name = "Epc", bytes = 2, count = "epc_words", why = "The EPC, as many words as said." },
      { id = "words", name = "Words", bytes = 2, count = "word_count", why = "The memory words, as many as said." },
    } },
  block_write = { id = "block_write", title = "Block write", bytes = 9,
    order = { 1, 2, 3, 4, 5 },
    fields = {
      { id = "password", name = "Password", byte = 0, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4294967295, why = "Access password; 0 when none is needed." },
      { id = "bank", name = "Bank", byte = 4, bytes = 1, shift = 0, width = 8, type = "enumeration", names = { [0] = "reserved", [1] = "epc", [2] = "tid", [3] = "user" }, why = "Memory bank by Gen2's MemBank number." },
      { id = "pointer", name = "Pointer", byte = 5, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "First word." },
      { id = "word_count", name = "Word count", byte = 7, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 255, unit = "word", why = "Words of memory." },
      { id = "epc_words", name = "Epc words", byte = 8, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 31, unit = "word", why = "Words of EPC that follow; Gen2 allows 31." },
    },
    tails = {
      { id = "epc", name = "Epc", bytes = 2, count = "epc_words", why = "The EPC, as many words as said." },
      { id = "words", name = "Words", bytes = 2, count = "word_count", why = "The memory words, as many as said." },
    } },
  lock = { id = "lock", title = "Lock", bytes = 9,
    order = { 1, 2, 3, 4, 5 },
    fields = {
      { id = "password", name = "Password", byte = 0, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4294967295, why = "Access password; Lock needs one." },
      { id = "lock_reserved", name = "Lock reserved", byte = 4, bytes = 4, shift = 20, width = 12, type = "reserved", why = "The payload has 20 bits." },
      { id = "mask", name = "Mask", byte = 4, bytes = 4, shift = 10, width = 10, type = "number", num = 1, den = 1, add = 0, min = 0, max = 1023, why = "Which of the ten lock bits to change." },
      { id = "action", name = "Action", byte = 4, bytes = 4, shift = 0, width = 10, type = "number", num = 1, den = 1, add = 0, min = 0, max = 1023, why = "Their new values." },
      { id = "epc_words", name = "Epc words", byte = 8, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 31, unit = "word", why = "Words of EPC that follow; Gen2 allows 31." },
    },
    tails = {
      { id = "epc", name = "Epc", bytes = 2, count = "epc_words", why = "The EPC, as many words as said." },
    } },
  kill = { id = "kill", title = "Kill", bytes = 5,
    order = { 1, 2 },
    fields = {
      { id = "password", name = "Password", byte = 0, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 1, max = 4294967295, why = "Kill password; one of 0 never kills." },
      { id = "epc_words", name = "Epc words", byte = 4, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 31, unit = "word", why = "Words of EPC that follow; Gen2 allows 31." },
    },
    tails = {
      { id = "epc", name = "Epc", bytes = 2, count = "epc_words", why = "The EPC, as many words as said." },
    } },
  keep_alive = { id = "keep_alive", title = "Keep-alive", bytes = 0,
    order = {  },
    fields = {},
    tails = {} },
  done = { id = "done", title = "Done", bytes = 0,
    order = {  },
    fields = {},
    tails = {} },
  access_answer = { id = "access_answer", title = "Answer to an access", bytes = 10,
    order = { 1, 2, 3, 4 },
    fields = {
      { id = "result", name = "Result", byte = 0, bytes = 1, shift = 0, width = 8, type = "enumeration", names = { [0] = "done", [1] = "not_asked", [60] = "tag_lost", [61] = "tag_memory_overrun", [62] = "tag_memory_locked", [63] = "tag_power_insufficient", [64] = "tag_error", [65] = "password_wrong" }, why = "What came of the access; every value but the first two is the number of a reason code." },
      { id = "word_count", name = "Word count", byte = 1, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 255, unit = "word", why = "Words of memory." },
      { id = "kit_time_reserved", name = "Kit time reserved", byte = 2, bytes = 8, shift = 48, width = 16, type = "reserved", why = "Keeps every raw value a safe integer in every language." },
      { id = "kit_time", name = "Kit time", byte = 2, bytes = 8, shift = 0, width = 48, type = "number", num = 1, den = 1, add = 0, min = 0, max = 281474976710655, unit = "us", why = "The kit's own clock: readings are ordered by it, not by when the host got round to them." },
    },
    tails = {
      { id = "words", name = "Words", bytes = 2, count = "word_count", why = "The memory words, as many as said." },
    } },
  error = { id = "error", title = "Error", bytes = 4,
    order = { 1, 2, 3 },
    fields = {
      { id = "reason", name = "Reason", byte = 0, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 1, max = 255, why = "Number of the reason code." },
      { id = "about", name = "About", byte = 1, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 255, why = "Type of the message it is about." },
      { id = "byte", name = "Byte", byte = 2, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "Byte of the message at which it went wrong; 0 when it is about the whole." },
    },
    tails = {} },
  tag_report = { id = "tag_report", title = "Tag report", bytes = 24,
    order = { 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 },
    fields = {
      { id = "kit_time_reserved", name = "Kit time reserved", byte = 0, bytes = 8, shift = 48, width = 16, type = "reserved", why = "Keeps every raw value a safe integer in every language." },
      { id = "kit_time", name = "Kit time", byte = 0, bytes = 8, shift = 0, width = 48, type = "number", num = 1, den = 1, add = 0, min = 0, max = 281474976710655, unit = "us", why = "The kit's own clock: readings are ordered by it, not by when the host got round to them." },
      { id = "pc", name = "Pc", byte = 8, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "The PC word as the tag sent it." },
      { id = "xpc", name = "Xpc", byte = 10, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "XPC_W1, 0 when the tag sent none." },
      { id = "rssi", name = "Rssi", byte = 12, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 10, add = 0, min = -32767, max = 32767, scaled = true, unit = "dBm", sentinels = { [-32768] = { id = "not_measured", means = "absent" } }, why = "Strength of the tag's reply at the kit." },
      { id = "frequency", name = "Frequency", byte = 14, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 1, add = 0, min = 0, max = 4294967295, unit = "kHz", why = "Carrier frequency." },
      { id = "result", name = "Result", byte = 18, bytes = 1, shift = 0, width = 8, type = "enumeration", names = { [0] = "done", [1] = "not_asked", [60] = "tag_lost", [61] = "tag_memory_overrun", [62] = "tag_memory_locked", [63] = "tag_power_insufficient", [64] = "tag_error", [65] = "password_wrong" }, why = "What came of the access; every value but the first two is the number of a reason code." },
      { id = "bank", name = "Bank", byte = 19, bytes = 1, shift = 0, width = 8, type = "enumeration", names = { [0] = "reserved", [1] = "epc", [2] = "tid", [3] = "user" }, why = "Memory bank by Gen2's MemBank number." },
      { id = "pointer", name = "Pointer", byte = 20, bytes = 2, shift = 0, width = 16, type = "number", num = 1, den = 1, add = 0, min = 0, max = 65535, why = "First word of the Read." },
      { id = "word_count", name = "Word count", byte = 22, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 255, unit = "word", why = "Words of memory." },
      { id = "epc_words", name = "Epc words", byte = 23, bytes = 1, shift = 0, width = 8, type = "number", num = 1, den = 1, add = 0, min = 0, max = 31, unit = "word", why = "Words of EPC that follow; Gen2 allows 31." },
    },
    tails = {
      { id = "epc", name = "Epc", bytes = 2, count = "epc_words", why = "The EPC, as many words as said." },
      { id = "words", name = "Words", bytes = 2, count = "word_count", why = "The memory words, as many as said." },
    } },
  ambient_report = { id = "ambient_report", title = "Ambient report", bytes = 14,
    order = { 1, 2, 3, 4 },
    fields = {
      { id = "kit_time_reserved", name = "Kit time reserved", byte = 0, bytes = 8, shift = 48, width = 16, type = "reserved", why = "Keeps every raw value a safe integer in every language." },
      { id = "kit_time", name = "Kit time", byte = 0, bytes = 8, shift = 0, width = 48, type = "number", num = 1, den = 1, add = 0, min = 0, max = 281474976710655, unit = "us", why = "The kit's own clock: readings are ordered by it, not by when the host got round to them." },
      { id = "pressure", name = "Pressure", byte = 8, bytes = 4, shift = 0, width = 32, type = "number", num = 1, den = 128, add = 0, min = 3328000, max = 16128000, scaled = true, unit = "Pa", why = "Absolute ambient pressure." },
      { id = "temperature", name = "Temperature", byte = 12, bytes = 2, shift = 0, width = 16, signed = true, type = "number", num = 1, den = 100, add = 0, min = -4000, max = 12500, scaled = true, unit = "Cel", sentinels = { [-32768] = { id = "not_measured", means = "absent" } }, why = "Temperature of the barometer." },
    },
    tails = {} },
}

local BANKS = {
  [0] = { id = "reserved", title = "Reserved", regions = {
      { id = "passwords", title = "Passwords, words 0 to 3", word = 0, words = 4, record = "passwords" },
  } },
  [1] = { id = "epc", title = "EPC", regions = {
      { id = "epc", title = "Epc, words 0 to 7", word = 0, words = 8, record = "epc" },
      { id = "epc_absent", title = "Epc absent, words 8 to 32", word = 8, words = 25 },
      { id = "xpc", title = "Xpc, words 33 to 33", word = 33, words = 1, record = "xpc" },
  } },
  [2] = { id = "tid", title = "TID", regions = {
      { id = "tid", title = "Tid, words 0 to 5", word = 0, words = 6, record = "tid" },
  } },
  [3] = { id = "user", title = "USER", regions = {
      { id = "header", title = "Header, words 0 to 7", word = 0, words = 8, record = "header" },
      { id = "slot_a", title = "Slot a, words 8 to 15", word = 8, words = 8, record = "frame" },
      { id = "slot_b", title = "Slot b, words 16 to 23", word = 16, words = 8, record = "frame" },
      { id = "counters_a", title = "Counters a, words 24 to 31", word = 24, words = 8, record = "counters" },
      { id = "counters_b", title = "Counters b, words 32 to 39", word = 32, words = 8, record = "counters" },
      { id = "calibration_1", title = "Calibration 1, words 40 to 55", word = 40, words = 16, record = "calibration" },
      { id = "calibration_2", title = "Calibration 2, words 56 to 71", word = 56, words = 16, record = "calibration" },
      { id = "burst", title = "Burst, words 72 to 103", word = 72, words = 32, record = "burst" },
  } },
}

local SLOTS = { "slot_a", "slot_b" }
local COPIES = { "calibration_1", "calibration_2" }

local MESSAGES = {
  { id = "hello", code = 0x01, to_kit = true, record = "hello" },
  { id = "set_power", code = 0x02, to_kit = true, record = "set_power" },
  { id = "set_channel_plan", code = 0x03, to_kit = true, record = "set_channel_plan" },
  { id = "start_inventory", code = 0x04, to_kit = true, record = "start_inventory" },
  { id = "stop_inventory", code = 0x05, to_kit = true, record = "stop_inventory" },
  { id = "read", code = 0x06, to_kit = true, record = "read" },
  { id = "write", code = 0x07, to_kit = true, record = "write" },
  { id = "block_write", code = 0x08, to_kit = true, record = "block_write" },
  { id = "lock", code = 0x09, to_kit = true, record = "lock" },
  { id = "keep_alive", code = 0x0a, to_kit = true, record = "keep_alive" },
  { id = "kill", code = 0x0b, to_kit = true, record = "kill" },
  { id = "done", code = 0x40, to_kit = false, record = "done" },
  { id = "welcome", code = 0x41, to_kit = false, record = "welcome" },
  { id = "access_answer", code = 0x46, to_kit = false, record = "access_answer" },
  { id = "error", code = 0x7f, to_kit = false, record = "error" },
  { id = "tag_report", code = 0x80, to_kit = false, record = "tag_report" },
  { id = "ambient_report", code = 0x82, to_kit = false, record = "ambient_report" },
}

-- Lua 5.2 has the first, later versions in Wireshark the second.
local bits = bit32 or bit

local proto = Proto("plyframe", "plyframe link message")

local own = {
  message = ProtoField.string("plyframe.message", "Message"),
  verdict = ProtoField.string("plyframe.verdict", "Verdict", base.ASCII, "good, or the reason code of the first fault"),
  path = ProtoField.string("plyframe.verdict.path", "Where", base.ASCII, "Record and field of the fault"),
  byte = ProtoField.uint32("plyframe.verdict.byte", "Byte", base.DEC, nil, nil, "From the first of the message or record"),
  bit = ProtoField.uint32("plyframe.verdict.bit", "Bit", base.DEC, nil, nil, "Of the container, 0 the least significant"),
  region = ProtoField.string("plyframe.region", "Region", base.ASCII, "Part of a bank, by the memory map"),
  note = ProtoField.string("plyframe.note", "Noticed", base.ASCII, "What is no fault of a record"),
  chosen = ProtoField.string("plyframe.slots.chosen", "Newest whole frame", base.ASCII, "Slot a or b, by RFC 1982"),
  sequence = ProtoField.uint32("plyframe.slots.sequence", "Its sequence"),
  choice = ProtoField.string("plyframe.slots.verdict", "Verdict on the slots"),
  copy = ProtoField.uint32("plyframe.copies.whole", "First whole copy of the calibration block"),
  copies = ProtoField.string("plyframe.copies.verdict", "Verdict on the copies"),
}

-- What is registered with Wireshark --------------------------------------------------------------------------------

local fields, experts = {}, {}
for _, field in pairs(own) do fields[#fields + 1] = field end

for code, reason in pairs(REASONS) do
  local severity = code == "record-empty" and expert.severity.NOTE or expert.severity.ERROR
  local group = code:find("checksum") and expert.group.CHECKSUM or expert.group.PROTOCOL
  experts[code] = ProtoExpert.new("plyframe.expert." .. code, reason.says, group, severity)
end
experts.noticed = ProtoExpert.new("plyframe.expert.noticed", "Noticed", expert.group.PROTOCOL, expert.severity.NOTE)

local function register(field)
  fields[#fields + 1] = field
  return field
end

local function integer(f, abbr, name, shown, names)
  if f.width > 32 then return register(ProtoField.uint64(abbr, name, shown, nil, nil, f.why)) end
  if f.signed then return register(ProtoField.int32(abbr, name, base.DEC, nil, nil, f.why)) end
  local uint = f.width <= 8 and ProtoField.uint8 or f.width <= 16 and ProtoField.uint16 or ProtoField.uint32
  return register(uint(abbr, name, shown, names, nil, f.why))
end

local function shown_as(f, abbr)
  local made = { flags = {} }
  local decimal = f.type == "number" or f.type == "enumeration" or f.type == "constant"
  if f.scaled then made.value = register(ProtoField.double(abbr, f.name, f.why))
  else made.value = integer(f, abbr, f.name, decimal and base.DEC or base.HEX, f.names) end
  if f.scaled or f.sentinels then made.raw = integer(f, abbr .. ".raw", f.name .. ", raw", base.DEC) end
  for _, flag in ipairs(f.flags or {}) do
    made.flags[flag.bit] = register(ProtoField.bool(abbr .. "." .. flag.id, flag.id, base.NONE, nil, nil, flag.why))
  end
  return made
end

for _, record in pairs(RECORDS) do
  local known = {}
  record.shown = register(ProtoField.none("plyframe." .. record.id, record.title))
  for _, f in ipairs(record.fields) do
    local abbr = "plyframe." .. record.id .. "." .. (f.array or f.id)
    -- The elements of an array share one field.
    known[abbr] = known[abbr] or shown_as(f, abbr)
    f.shown = known[abbr]
  end
  for _, tail in ipairs(record.tails) do
    tail.shown = register(ProtoField.bytes("plyframe." .. record.id .. "." .. tail.id, tail.name, base.NONE, tail.why))
  end
end

proto.fields = fields
proto.experts = experts

-- Bits, checksums, judgement ---------------------------------------------------------------------------------------

local function read_raw(tvb, at, f)
  local raw = 0
  if f.bytes <= 4 then
    local range = tvb(at + f.byte, f.bytes)
    local container = f.little and range:le_uint() or range:uint()
    raw = math.floor(container / 2 ^ f.shift) % 2 ^ f.width
  else
    for bit = f.shift + f.width - 1, f.shift, -1 do
      local octet = math.floor(bit / 8)
      local index = f.little and octet or f.bytes - 1 - octet
      raw = raw * 2 + math.floor(tvb(at + f.byte + index, 1):uint() / 2 ^ (bit % 8)) % 2
    end
  end
  if f.signed and raw >= 2 ^ (f.width - 1) then raw = raw - 2 ^ f.width end
  return raw
end

-- Unreflected, 16 bits wide.
local function checksum(tvb, from, to, parameters)
  local register = parameters.init
  for at = from, to do
    register = bits.bxor(register, bits.lshift(tvb(at, 1):uint(), 8))
    for _ = 1, 8 do
      local carry = register >= 0x8000
      register = bits.band(bits.lshift(register, 1), 0xffff)
      if carry then register = bits.bxor(register, parameters.poly) end
    end
  end
  return bits.bxor(register, parameters.xorout)
end

local function judge(f, raw)
  if f.type == "number" then
    if raw >= f.min and raw <= f.max or f.sentinels and f.sentinels[raw] then return nil end
    return "value-out-of-range"
  elseif f.type == "flags" then
    return bits.band(raw, bits.bnot(f.named)) ~= 0 and "reserved-bit-set" or nil
  elseif f.type == "reserved" then
    return raw ~= 0 and "reserved-bit-set" or nil
  elseif f.type == "enumeration" then
    return f.names[raw] == nil and "name-unknown" or nil
  elseif f.type == "constant" then
    return raw ~= f.raw and f.reason or nil
  end
end

local function torn(tvb, at, f, raw)
  return f.type == "checksum" and checksum(tvb, at + f.from, at + f.to, CHECKSUMS[f.algorithm]) ~= raw
end

-- Lowest bit to blame, in the container.
local function bad_bit(f, raw)
  local wrong = f.type == "reserved" and raw or f.type == "flags" and bits.band(raw, bits.bnot(f.named)) or 0
  for bit = 0, f.width - 1 do
    if math.floor(wrong / 2 ^ bit) % 2 == 1 then return f.shift + bit end
  end
  return f.shift
end

local function in_field(code, record, f, raw)
  local bit, path = bad_bit(f, raw), record.id .. "." .. f.id
  if f.type == "flags" then path = path .. string.format(".bit_%d", bit - f.shift) end
  return { code = code, byte = f.byte, bit = bit, path = path, field = f }
end

local function is_empty(tvb, at, bytes)
  for index = at, at + bytes - 1 do
    if tvb(index, 1):uint() ~= 0 then return false end
  end
  return true
end

-- The first fault in the order: length, never written, checksum, kind, layout, fields, counts. Nil when there is none.
local function fault_of(tvb, at, stop, record, raws)
  local span = stop - at
  if span < record.bytes then return { code = "record-too-short", byte = math.max(span, 0), path = record.id } end
  if record.sealed and is_empty(tvb, at, record.bytes) then return { code = "record-empty", byte = 0, path = record.id } end
  if #record.tails == 0 and span > record.bytes then
    return { code = "trailing-bytes", byte = record.bytes, path = record.id }
  end
  for _, f in ipairs(record.fields) do
    if torn(tvb, at, f, raws[f.id]) then return in_field("checksum-mismatch", record, f, raws[f.id]) end
  end
  for _, index in ipairs(record.order) do
    local f = record.fields[index]
    local code = judge(f, raws[f.id])
    if code then return in_field(code, record, f, raws[f.id]) end
  end
  local wanted, counted = record.bytes, nil
  for _, tail in ipairs(record.tails) do
    wanted, counted = wanted + raws[tail.count] * tail.bytes, tail.count
  end
  if counted and wanted ~= span then
    for _, f in ipairs(record.fields) do
      if f.id == counted then
        return { code = "count-mismatch", byte = f.byte, bit = f.shift, path = record.id .. "." .. f.id }
      end
    end
  end
end

-- The tree ---------------------------------------------------------------------------------------------------------

local function add_number(tree, range, f, raw)
  local sentinel = f.sentinels and f.sentinels[raw]
  local item
  if sentinel and sentinel.means == "absent" then
    item = tree:add(range, f.name .. ": " .. sentinel.id)
  else
    local value = ((sentinel and f.max or raw) * f.num + f.add) / f.den
    if f.width > 32 then
      item = tree:add(f.shown.value, range, UInt64.new(value % 2 ^ 32, math.floor(value / 2 ^ 32)))
    else
      item = tree:add(f.shown.value, range, value)
    end
    if f.unit then item:append_text(" " .. f.unit) end
    if sentinel then item:append_text(" or more (" .. sentinel.id .. ")") end
  end
  if f.shown.raw then item:add(f.shown.raw, range, raw) end
  return item
end

local function add_field(tree, range, f, raw)
  if f.type == "number" then return add_number(tree, range, f, raw) end
  local item = tree:add(f.shown.value, range, raw)
  local set = {}
  for _, flag in ipairs(f.flags or {}) do
    local on = math.floor(raw / 2 ^ flag.bit) % 2 == 1
    item:add(f.shown.flags[flag.bit], range, on)
    if on then set[#set + 1] = flag.id end
  end
  if f.flags then item:append_text(" (" .. (#set > 0 and table.concat(set, ", ") or "none") .. ")") end
  return item
end

local function add_verdict(tree, fault, before)
  tree:add(own.verdict, fault and fault.code or "good"):set_generated()
  if not fault then return end
  tree:add(own.path, fault.path):set_generated()
  tree:add(own.byte, fault.byte + (before or 0)):set_generated()
  if fault.bit then tree:add(own.bit, fault.bit):set_generated() end
end

-- Adds the fields of the record at byte at of tvb that lie between first and stop. Returns its fault, raws and item.
local function add_record(tree, tvb, at, first, stop, record, title)
  local from = math.max(at, first)
  local item = tree:add(record.shown, tvb(from, math.min(stop, at + record.bytes) - from)):set_text(title or record.title)
  local raws, places = {}, {}
  for _, f in ipairs(record.fields) do
    if at + f.byte >= first and at + f.byte + f.bytes <= stop then raws[f.id] = read_raw(tvb, at, f) end
  end
  local fault = at < first and { code = "record-too-short", byte = 0, path = record.id }
    or fault_of(tvb, at, stop, record, raws)
  if not (fault and fault.code == "record-empty") then
    for _, f in ipairs(record.fields) do
      local raw = raws[f.id]
      if raw then
        local place = add_field(item, tvb(at + f.byte, f.bytes), f, raw)
        local covered = at >= first and stop - at >= record.bytes
        local code = covered and torn(tvb, at, f, raw) and "checksum-mismatch" or judge(f, raw)
        if code then place:add_proto_expert_info(experts[code]) end
      end
    end
  end
  if fault and not fault.field then item:add_proto_expert_info(experts[fault.code]) end
  if not fault and raws.fingerprint and raws.fingerprint ~= FINGERPRINT then
    item:add(own.note, "fingerprint-mismatch"):set_generated()
    item:add_proto_expert_info(experts["fingerprint-mismatch"])
  end
  local place = at + record.bytes
  for _, tail in ipairs(record.tails) do
    local bytes = raws[tail.count] and math.min(raws[tail.count] * tail.bytes, stop - place) or 0
    if bytes > 0 then places[tail.id] = { at = place, stop = place + bytes } end
    if bytes > 0 then item:add(tail.shown, tvb(place, bytes)) end
    place = place + math.max(bytes, 0)
  end
  return fault, raws, item, places
end

-- Memory -----------------------------------------------------------------------------------------------------------

local function note(tree, text)
  tree:add(own.note, text):set_generated()
  tree:add_proto_expert_info(experts.noticed, text)
end

local function same_bytes(tvb, one, other, bytes)
  return tvb(one, bytes):bytes() == tvb(other, bytes):bytes()
end

-- Which of two slots holds the newest whole frame: each is { at, fault, raws }.
local function choose_slot(tree, tvb, a, b, bytes)
  local item = tree:add(proto, "Choice of the slot"):set_generated()
  local notes = {}
  for id, slot in pairs({ a = a, b = b }) do
    if slot.fault then
      notes[#notes + 1] = "slot-" .. id .. (slot.fault.code == "record-empty" and "-empty" or "-bad")
    end
  end
  table.sort(notes)
  local chosen, code
  if a.fault and b.fault then code = "slots-both-bad"
  elseif a.fault then chosen = "b"
  elseif b.fault then chosen = "a"
  else
    local distance = (a.raws.sequence - b.raws.sequence) % 0x10000
    local same = distance == 0 and same_bytes(tvb, a.at, b.at, bytes)
    if distance == 0x8000 or (distance == 0 and not same) then code = "slots-contradict"
    else chosen = distance < 0x8000 and "a" or "b" end
    if same then notes[#notes + 1] = "slots-identical"
    elseif not code and distance ~= 1 and distance ~= 0xffff then notes[#notes + 1] = "sequence-gap" end
  end
  for _, text in ipairs(notes) do note(item, text) end
  item:add(own.choice, code or "good"):set_generated()
  if code then item:add_proto_expert_info(experts[code]) end
  if not chosen then return nil end
  local frame = chosen == "a" and a or b
  item:add(own.chosen, chosen):set_generated()
  item:add(own.sequence, frame.raws.sequence):set_generated()
  return string.format("slot %s, sequence %d", chosen, frame.raws.sequence)
end

local function choose_copy(tree, one, two)
  local item = tree:add(proto, "Copies of the calibration block"):set_generated()
  local copy = not one.fault and 1 or not two.fault and 2 or nil
  item:add(own.copies, copy and "good" or "copies-both-bad"):set_generated()
  if copy then item:add(own.copy, copy):set_generated() else item:add_proto_expert_info(experts["copies-both-bad"]) end
end

-- Adds what lies between at and stop of tvb, the words of a bank from a word address on. Returns a phrase or nil.
local function add_memory(tree, tvb, at, stop, bank, word, both)
  local found = {}
  for _, region in ipairs(bank.regions) do
    local from = at + (region.word - word) * 2
    local to = math.min(from + region.words * 2, stop)
    if region.record and to > at and from < stop then
      local fault, raws, item = add_record(tree, tvb, from, at, to, RECORDS[region.record], region.title)
      item:add(own.region, region.id):set_generated()
      add_verdict(item, fault)
      found[region.id] = { at = from, fault = fault, raws = raws }
    end
  end
  local phrase
  local missing = { fault = { code = "record-too-short" } }
  local a, b = found[SLOTS[1]], found[SLOTS[2]]
  if a and (b or both) then phrase = choose_slot(tree, tvb, a, b or missing, RECORDS.frame.bytes) end
  if found[COPIES[1]] and found[COPIES[2]] then choose_copy(tree, found[COPIES[1]], found[COPIES[2]]) end
  return phrase
end

-- Messages ---------------------------------------------------------------------------------------------------------

-- What a request asked for by its id, and by the number of the packet that answers it.
local asked, answered = {}, {}
function proto.init() asked, answered = {}, {} end

local function message_of(code, direction)
  for _, message in ipairs(MESSAGES) do
    local fits = direction == P2P_DIR_UNKNOWN or (message.to_kit == (direction == P2P_DIR_SENT))
    if message.code == code and fits then return message end
  end
end

local function place_of(message, raws, request, pinfo)
  if raws.bank and raws.pointer then return { bank = raws.bank, word = raws.pointer } end
  if not pinfo.visited then answered[pinfo.number] = asked[request] end
  return not message.to_kit and answered[pinfo.number] or nil
end

function proto.dissector(tvb, pinfo, tree)
  pinfo.cols.protocol = "plyframe"
  local root = tree:add(proto, tvb())
  local envelope = RECORDS.envelope
  local fault, head = add_record(root, tvb, 0, 0, math.min(tvb:len(), envelope.bytes), envelope)
  if fault then return add_verdict(root, fault) end
  local message = message_of(head.type, pinfo.p2p_dir)
  if not message then
    root:add_proto_expert_info(experts["message-unknown"])
    return add_verdict(root, { code = "message-unknown", byte = 0, bit = 0, path = "envelope.type" })
  end
  root:add(own.message, message.id):set_generated()
  root:append_text(", " .. message.id)
  local record = RECORDS[message.record]
  local fault, raws, item, places = add_record(root, tvb, envelope.bytes, envelope.bytes, tvb:len(), record)
  add_verdict(root, fault, envelope.bytes)
  local says = message.id .. (head.request > 0 and string.format(" %d", head.request) or "")
  local epc, words = places.epc, places.words
  if epc then says = says .. ", tag " .. tostring(tvb(epc.at, epc.stop - epc.at):bytes()):lower() end
  if fault then
    pinfo.cols.info = says .. " [" .. fault.code .. "]"
    return
  end
  if record.id == "error" then
    local code
    for name, reason in pairs(REASONS) do if reason.number == raws.reason then code = name end end
    item:add(own.note, code or string.format("reason %d", raws.reason)):set_generated()
    says = says .. ", " .. (code or string.format("reason %d", raws.reason))
  end
  if message.to_kit and raws.bank and raws.pointer then asked[head.request] = { bank = raws.bank, word = raws.pointer } end
  local place = place_of(message, raws, head.request, pinfo)
  if words and place and BANKS[place.bank] then
    local bank = BANKS[place.bank]
    local count = (words.stop - words.at) / 2
    says = says .. string.format(", %d words of %s from %d", count, bank.id, place.word)
    local memory = root:add(tvb(words.at, words.stop - words.at), string.format("%s from word %d", bank.title, place.word))
    local phrase = add_memory(memory, tvb, words.at, words.stop, bank, place.word, false)
    if phrase then says = says .. ", " .. phrase end
  end
  pinfo.cols.info = says
end

-- A record alone, and the two slots alone, for bytes that came another way: names for a table of user link types.
local function alone(name, title, dissect)
  local one = Proto("plyframe-" .. name, title)
  function one.dissector(tvb, pinfo, tree)
    pinfo.cols.protocol = "plyframe"
    pinfo.cols.info = title
    dissect(tvb, tree:add(proto, tvb(), title))
  end
end

for id, record in pairs(RECORDS) do
  if record.in_memory then
    alone(id, record.title, function(tvb, root)
      local fault, _, item = add_record(root, tvb, 0, 0, tvb:len(), record)
      add_verdict(item, fault)
    end)
  end
end

alone("slots", "Slot A and slot B", function(tvb, root)
  local bank
  for _, candidate in pairs(BANKS) do if candidate.id == "user" then bank = candidate end end
  for _, region in ipairs(bank.regions) do
    if region.id == SLOTS[1] then add_memory(root, tvb, 0, tvb:len(), bank, region.word, true) end
  end
end)

DissectorTable.get("wtap_encap"):add(wtap.USER0, proto)
