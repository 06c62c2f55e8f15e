// Released layout 1, fingerprint 028961a7: never changed, never removed.
import type { Layout } from "../../model/layout.ts";

export const layout1: Layout = {
  "name": "plyframe",
  "layout": 1,
  "fingerprint": 42557863,
  "records": [
    {
      "id": "header",
      "title": "Header",
      "why": "Says which layout and which specification wrote this tag, so that a mismatch is named and not shown as noise.",
      "bytes": 16,
      "fields": [
        {"id":"dsfid","path":"header.dsfid","type":"constant","byte":0,"bytes":2,"shift":8,"width":8,"signed":false,"why":"First octet of the bank by GS1 TDS: 00h, not formatted by ISO/IEC 15962 (from memory), so that a decoder of data elements leaves the bank alone.","coldStart":"kept","little":false,"raw":0,"role":"marker"},
        {"id":"kind","path":"header.kind","type":"constant","byte":0,"bytes":2,"shift":4,"width":4,"signed":false,"why":"Tells a record of one kind from another, so that a Read at the wrong word is named.","coldStart":"kept","little":false,"raw":1,"role":"kind"},
        {"id":"layout","path":"header.layout","type":"constant","byte":0,"bytes":2,"shift":0,"width":4,"signed":false,"why":"Names the layout the record was written with; the same place in every layout.","coldStart":"kept","little":false,"raw":1,"role":"layout"},
        {"id":"fingerprint","path":"header.fingerprint","type":"unsigned","byte":2,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Number computed from the whole specification: catches two layouts that carry the same version.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":4294967295,"sentinels":[]},
        {"id":"firmware_major","path":"header.firmware_major","type":"unsigned","byte":6,"bytes":2,"shift":8,"width":8,"signed":false,"why":"Which firmware made the frames, for tracing a fault back: its major version.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":255,"sentinels":[]},
        {"id":"firmware_minor","path":"header.firmware_minor","type":"unsigned","byte":6,"bytes":2,"shift":0,"width":8,"signed":false,"why":"Which firmware made the frames, for tracing a fault back: its minor version.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":255,"sentinels":[]},
        {"id":"sampling_period","path":"header.sampling_period","type":"unsigned","byte":8,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Time between samples while powered: bounds the age of a frame that is seen for the first time.","coldStart":"kept","little":false,"unit":"s","num":1,"den":1000,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":10,"max":60000,"sentinels":[]},
        {"id":"sensor_serial","path":"header.sensor_serial","type":"unsigned","byte":10,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Serial of the pressure sensor; a calibration block of another sensor is found by comparing the two.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":1,"max":4294967295,"sentinels":[]},
        {"id":"seal","path":"header.seal","type":"checksum","byte":14,"bytes":2,"shift":0,"width":16,"signed":false,"why":"A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one.","coldStart":"computed","little":false,"algorithm":"seal","over":[0,13]}
      ],
      "tails": []
    },
    {
      "id": "frame",
      "title": "Sensor frame",
      "why": "One pressure and one temperature of the same conversion, with what a reader needs to judge them.",
      "bytes": 16,
      "fields": [
        {"id":"kind","path":"frame.kind","type":"constant","byte":0,"bytes":2,"shift":12,"width":4,"signed":false,"why":"Tells a record of one kind from another, so that a Read at the wrong word is named.","coldStart":"kept","little":false,"raw":2,"role":"kind"},
        {"id":"layout","path":"frame.layout","type":"constant","byte":0,"bytes":2,"shift":8,"width":4,"signed":false,"why":"Names the layout the record was written with; the same place in every layout.","coldStart":"kept","little":false,"raw":1,"role":"layout"},
        {"id":"status","path":"frame.status","type":"flags","byte":0,"bytes":2,"shift":0,"width":8,"signed":false,"why":"What a reader must know before it believes the numbers beside it.","coldStart":1,"little":false,"flags":[{"bit":0,"id":"first_after_cold_start","why":"First record since power came back: the sensor may still settle."},{"bit":1,"id":"brown_out","why":"Supply fell below the threshold since the last record: a sample was lost."},{"bit":2,"id":"sensor_fault","why":"The sensor did not answer or failed its self-check; pressure is not measured."},{"bit":3,"id":"pressure_at_limit","why":"Pressure is at an end of the range: the true one may lie beyond."},{"bit":4,"id":"sample_lost","why":"A sample was lost since the last record: sensor not ready in time, or bridge busy."},{"bit":5,"id":"calibration_missing","why":"Neither copy of the calibration block is whole."},{"bit":6,"id":"supply_low","why":"Supply was below the level at which the sensor is specified."},{"bit":7,"id":"burst_ready","why":"The burst block was completed since the last frame: worth a second Read."}],"named":255},
        {"id":"sequence","path":"frame.sequence","type":"unsigned","byte":2,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Orders the two slots by RFC 1982 arithmetic; kept over cold starts so that it never goes back.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]},
        {"id":"reserved","path":"frame.reserved","type":"reserved","byte":4,"bytes":4,"shift":24,"width":8,"signed":false,"why":"Room for a later layout without moving a field.","coldStart":0,"little":false},
        {"id":"pressure","path":"frame.pressure","type":"unsigned","byte":4,"bytes":4,"shift":0,"width":24,"signed":false,"why":"Absolute pressure in the air cell as the sensor gave it, before calibration: 0.0078 Pa (0.000059 mmHg) a step.","coldStart":16777215,"little":false,"unit":"Pa","num":1,"den":128,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":3328000,"max":16128000,"sentinels":[{"raw":16777215,"id":"not_measured","means":"absent"}]},
        {"id":"temperature","path":"frame.temperature","type":"signed","byte":8,"bytes":2,"shift":0,"width":16,"signed":true,"why":"The air cell warms under a dressing and its pressure with it; from the same conversion as the pressure.","coldStart":-32768,"little":false,"unit":"Cel","num":1,"den":100,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-4000,"max":12500,"sentinels":[{"raw":-32768,"id":"not_measured","means":"absent"}]},
        {"id":"supply","path":"frame.supply","type":"unsigned","byte":10,"bytes":4,"shift":20,"width":12,"signed":false,"why":"Says how well the tag is being powered, before pressure is believed.","coldStart":4095,"little":false,"unit":"V","num":1,"den":1000,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":0,"max":4094,"sentinels":[{"raw":4095,"id":"not_measured","means":"absent"}]},
        {"id":"uptime","path":"frame.uptime","type":"unsigned","byte":10,"bytes":4,"shift":0,"width":20,"signed":false,"why":"Time since the cold start; a battery-less tag has no clock, so it saturates after 29 hours instead of wrapping.","coldStart":0,"little":false,"unit":"s","num":1,"den":10,"add":0,"rounding":"floor","outOfRange":"saturate","min":0,"max":1048574,"sentinels":[{"raw":1048575,"id":"saturated","means":"saturated"}]},
        {"id":"seal","path":"frame.seal","type":"checksum","byte":14,"bytes":2,"shift":0,"width":16,"signed":false,"why":"A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one.","coldStart":"computed","little":false,"algorithm":"seal","over":[0,13]}
      ],
      "tails": []
    },
    {
      "id": "counters",
      "title": "Counters",
      "why": "What the tag has been through: power, samples, sterilisation.",
      "bytes": 16,
      "fields": [
        {"id":"kind","path":"counters.kind","type":"constant","byte":0,"bytes":2,"shift":12,"width":4,"signed":false,"why":"Tells a record of one kind from another, so that a Read at the wrong word is named.","coldStart":"kept","little":false,"raw":3,"role":"kind"},
        {"id":"layout","path":"counters.layout","type":"constant","byte":0,"bytes":2,"shift":8,"width":4,"signed":false,"why":"Names the layout the record was written with; the same place in every layout.","coldStart":"kept","little":false,"raw":1,"role":"layout"},
        {"id":"reuse_cycles","path":"counters.reuse_cycles","type":"unsigned","byte":0,"bytes":2,"shift":0,"width":8,"signed":false,"why":"Most reuse cycles firmware ever found in a calibration block: survives a block that is lost or replaced.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":0,"max":254,"sentinels":[{"raw":255,"id":"saturated","means":"saturated"}]},
        {"id":"cold_starts","path":"counters.cold_starts","type":"unsigned","byte":2,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Times the tag started from nothing: how often the field was lost.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":0,"max":4294967294,"sentinels":[{"raw":4294967295,"id":"saturated","means":"saturated"}]},
        {"id":"fruitless_starts","path":"counters.fruitless_starts","type":"unsigned","byte":6,"bytes":4,"shift":24,"width":8,"signed":false,"why":"Cold starts in a row that ended without a frame: a task that needs more energy than the store holds is named.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":0,"max":254,"sentinels":[{"raw":255,"id":"saturated","means":"saturated"}]},
        {"id":"brown_outs","path":"counters.brown_outs","type":"unsigned","byte":6,"bytes":4,"shift":0,"width":24,"signed":false,"why":"Times the supply fell below its threshold: says whether the store is large enough.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":0,"max":16777214,"sentinels":[{"raw":16777215,"id":"saturated","means":"saturated"}]},
        {"id":"frames","path":"counters.frames","type":"unsigned","byte":10,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Frames sealed: with the sequence it shows how many a reader missed.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":0,"max":4294967294,"sentinels":[{"raw":4294967295,"id":"saturated","means":"saturated"}]},
        {"id":"seal","path":"counters.seal","type":"checksum","byte":14,"bytes":2,"shift":0,"width":16,"signed":false,"why":"A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one.","coldStart":"computed","little":false,"algorithm":"seal","over":[0,13]}
      ],
      "tails": []
    },
    {
      "id": "calibration",
      "title": "Calibration block",
      "why": "Turns raw words into a pressure with a stated uncertainty; kept twice so that an interrupted update loses nothing.",
      "bytes": 32,
      "fields": [
        {"id":"kind","path":"calibration.kind","type":"constant","byte":0,"bytes":2,"shift":12,"width":4,"signed":false,"why":"Tells a record of one kind from another, so that a Read at the wrong word is named.","coldStart":"kept","little":false,"raw":4,"role":"kind"},
        {"id":"layout","path":"calibration.layout","type":"constant","byte":0,"bytes":2,"shift":8,"width":4,"signed":false,"why":"Names the layout the record was written with; the same place in every layout.","coldStart":"kept","little":false,"raw":1,"role":"layout"},
        {"id":"method","path":"calibration.method","type":"enumeration","byte":0,"bytes":2,"shift":4,"width":4,"signed":false,"why":"How the coefficients were found: says what they can be trusted for.","coldStart":"kept","little":false,"names":[{"raw":1,"id":"bench_two_point","why":"Two pressures on the bench."},{"raw":2,"id":"bench_multi_point","why":"A run of pressures up and down on the bench."},{"raw":3,"id":"bench_with_temperature","why":"A run of pressures at several temperatures."},{"raw":4,"id":"limb_form","why":"Wrapped on a limb form with a known load."},{"raw":5,"id":"zero_only","why":"Offset only: gain is taken as designed."}]},
        {"id":"reuse_since","path":"calibration.reuse_since","type":"unsigned","byte":0,"bytes":2,"shift":0,"width":4,"signed":false,"why":"Reuse cycles since this calibration: any asks for a check, for a cell that saw steam and vacuum may have moved.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":14,"sentinels":[{"raw":15,"id":"saturated","means":"saturated"}]},
        {"id":"date","path":"calibration.date","type":"unsigned","byte":2,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Day of the calibration, counted from 2020-01-01: an old one is named as such.","coldStart":"kept","little":false,"unit":"d","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65534,"sentinels":[{"raw":65535,"id":"not_stated","means":"absent"}]},
        {"id":"sensor_serial","path":"calibration.sensor_serial","type":"unsigned","byte":4,"bytes":4,"shift":0,"width":32,"signed":false,"why":"The sensor these coefficients belong to; must equal the header's.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":1,"max":4294967295,"sentinels":[]},
        {"id":"reuse_count","path":"calibration.reuse_count","type":"unsigned","byte":8,"bytes":4,"shift":24,"width":8,"signed":false,"why":"Sterilisation and reuse cycles over the tag's life; a reader raises it, with both copies, at every cycle.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":254,"sentinels":[]},
        {"id":"offset","path":"calibration.offset","type":"signed","byte":8,"bytes":4,"shift":0,"width":24,"signed":true,"why":"Added to the absolute pressure: soldering and ageing shift of the sensor.","coldStart":"kept","little":false,"unit":"Pa","num":1,"den":128,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-8388608,"max":8388607,"sentinels":[]},
        {"id":"reuse_limit","path":"calibration.reuse_limit","type":"unsigned","byte":12,"bytes":4,"shift":24,"width":8,"signed":false,"why":"Reuse cycles after which the tag is to be retired.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":254,"sentinels":[{"raw":255,"id":"not_limited","means":"absent"}]},
        {"id":"gain","path":"calibration.gain","type":"unsigned","byte":12,"bytes":4,"shift":0,"width":24,"signed":false,"why":"Multiplies the difference from ambient: the cell's wall and foam take a share of the load.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1048576,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":262144,"max":4194304,"sentinels":[]},
        {"id":"temperature_effect","path":"calibration.temperature_effect","type":"signed","byte":16,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Rise of the absolute pressure per kelvin at constant load; a rigid sealed cell would show 340 Pa/K.","coldStart":"kept","little":false,"unit":"Pa/K","num":1,"den":64,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-32768,"max":32767,"sentinels":[]},
        {"id":"gain_temperature","path":"calibration.gain_temperature","type":"signed","byte":18,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Relative change of the gain per kelvin: wall and foam soften as they warm.","coldStart":"kept","little":false,"unit":"1/K","num":1,"den":1000000,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-32768,"max":32767,"sentinels":[]},
        {"id":"curvature","path":"calibration.curvature","type":"signed","byte":20,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Relative change of the gain per pascal of load, where the data carry it.","coldStart":"kept","little":false,"unit":"1/Pa","num":1,"den":1000000000,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-32768,"max":32767,"sentinels":[]},
        {"id":"reference_temperature","path":"calibration.reference_temperature","type":"signed","byte":22,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Temperature at which the temperature terms are zero.","coldStart":"kept","little":false,"unit":"Cel","num":1,"den":100,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-4000,"max":12500,"sentinels":[]},
        {"id":"expanded_uncertainty","path":"calibration.expanded_uncertainty","type":"unsigned","byte":24,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Expanded uncertainty (k = 2) of a gauge pressure within the calibrated range, ambient excluded.","coldStart":"kept","little":false,"unit":"Pa","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65534,"sentinels":[{"raw":65535,"id":"not_stated","means":"absent"}]},
        {"id":"temperature_low","path":"calibration.temperature_low","type":"signed","byte":26,"bytes":2,"shift":8,"width":8,"signed":true,"why":"Lowest temperature the calibration covered: outside it a reading is marked.","coldStart":"kept","little":false,"unit":"Cel","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-40,"max":125,"sentinels":[]},
        {"id":"temperature_high","path":"calibration.temperature_high","type":"signed","byte":26,"bytes":2,"shift":0,"width":8,"signed":true,"why":"Highest temperature the calibration covered: outside it a reading is marked.","coldStart":"kept","little":false,"unit":"Cel","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-40,"max":125,"sentinels":[]},
        {"id":"span","path":"calibration.span","type":"unsigned","byte":28,"bytes":2,"shift":8,"width":8,"signed":false,"why":"Highest gauge pressure the calibration covered: beyond it a reading is marked.","coldStart":"kept","little":false,"unit":"hPa","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":1,"max":255,"sentinels":[]},
        {"id":"validity","path":"calibration.validity","type":"unsigned","byte":28,"bytes":2,"shift":0,"width":8,"signed":false,"why":"Months after which the calibration is to be repeated.","coldStart":"kept","little":false,"unit":"mo","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":1,"max":254,"sentinels":[{"raw":255,"id":"not_limited","means":"absent"}]},
        {"id":"seal","path":"calibration.seal","type":"checksum","byte":30,"bytes":2,"shift":0,"width":16,"signed":false,"why":"A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one.","coldStart":"computed","little":false,"algorithm":"seal","over":[0,29]}
      ],
      "tails": []
    },
    {
      "id": "burst",
      "title": "Burst block",
      "why": "Gait and posture changes are faster than a reader comes round: the tag samples on its own and one Read fetches the run.",
      "bytes": 64,
      "fields": [
        {"id":"kind","path":"burst.kind","type":"constant","byte":0,"bytes":2,"shift":12,"width":4,"signed":false,"why":"Tells a record of one kind from another, so that a Read at the wrong word is named.","coldStart":"kept","little":false,"raw":5,"role":"kind"},
        {"id":"layout","path":"burst.layout","type":"constant","byte":0,"bytes":2,"shift":8,"width":4,"signed":false,"why":"Names the layout the record was written with; the same place in every layout.","coldStart":"kept","little":false,"raw":1,"role":"layout"},
        {"id":"status","path":"burst.status","type":"flags","byte":0,"bytes":2,"shift":0,"width":8,"signed":false,"why":"What a reader must know before it believes the numbers beside it.","coldStart":1,"little":false,"flags":[{"bit":0,"id":"first_after_cold_start","why":"First record since power came back: the sensor may still settle."},{"bit":1,"id":"brown_out","why":"Supply fell below the threshold since the last record: a sample was lost."},{"bit":2,"id":"sensor_fault","why":"The sensor did not answer or failed its self-check; pressure is not measured."},{"bit":3,"id":"pressure_at_limit","why":"Pressure is at an end of the range: the true one may lie beyond."},{"bit":4,"id":"sample_lost","why":"A sample was lost since the last record: sensor not ready in time, or bridge busy."},{"bit":5,"id":"calibration_missing","why":"Neither copy of the calibration block is whole."},{"bit":6,"id":"supply_low","why":"Supply was below the level at which the sensor is specified."},{"bit":7,"id":"burst_ready","why":"The burst block was completed since the last frame: worth a second Read."}],"named":255},
        {"id":"sequence","path":"burst.sequence","type":"unsigned","byte":2,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Sequence of the frame that was current when the run began: ties the waveform to its place in time.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]},
        {"id":"count","path":"burst.count","type":"unsigned","byte":4,"bytes":4,"shift":24,"width":8,"signed":false,"why":"Samples taken before the run ended or the power did.","coldStart":0,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":25,"sentinels":[]},
        {"id":"pressure","path":"burst.pressure","type":"unsigned","byte":4,"bytes":4,"shift":0,"width":24,"signed":false,"why":"Absolute pressure in the air cell as the sensor gave it, before calibration: 0.0078 Pa (0.000059 mmHg) a step.","coldStart":16777215,"little":false,"unit":"Pa","num":1,"den":128,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":3328000,"max":16128000,"sentinels":[{"raw":16777215,"id":"not_measured","means":"absent"}]},
        {"id":"interval","path":"burst.interval","type":"unsigned","byte":8,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Time between samples; 40 ms and 25 samples hold one gait cycle.","coldStart":"kept","little":false,"unit":"s","num":1,"den":1000,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":1,"max":10000,"sentinels":[]},
        {"id":"temperature","path":"burst.temperature","type":"signed","byte":10,"bytes":2,"shift":0,"width":16,"signed":true,"why":"The air cell warms under a dressing and its pressure with it; from the same conversion as the pressure.","coldStart":-32768,"little":false,"unit":"Cel","num":1,"den":100,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-4000,"max":12500,"sentinels":[{"raw":-32768,"id":"not_measured","means":"absent"}]},
        {"id":"samples[0]","path":"burst.samples[0]","type":"signed","byte":12,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":0},
        {"id":"samples[1]","path":"burst.samples[1]","type":"signed","byte":14,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":1},
        {"id":"samples[2]","path":"burst.samples[2]","type":"signed","byte":16,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":2},
        {"id":"samples[3]","path":"burst.samples[3]","type":"signed","byte":18,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":3},
        {"id":"samples[4]","path":"burst.samples[4]","type":"signed","byte":20,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":4},
        {"id":"samples[5]","path":"burst.samples[5]","type":"signed","byte":22,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":5},
        {"id":"samples[6]","path":"burst.samples[6]","type":"signed","byte":24,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":6},
        {"id":"samples[7]","path":"burst.samples[7]","type":"signed","byte":26,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":7},
        {"id":"samples[8]","path":"burst.samples[8]","type":"signed","byte":28,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":8},
        {"id":"samples[9]","path":"burst.samples[9]","type":"signed","byte":30,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":9},
        {"id":"samples[10]","path":"burst.samples[10]","type":"signed","byte":32,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":10},
        {"id":"samples[11]","path":"burst.samples[11]","type":"signed","byte":34,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":11},
        {"id":"samples[12]","path":"burst.samples[12]","type":"signed","byte":36,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":12},
        {"id":"samples[13]","path":"burst.samples[13]","type":"signed","byte":38,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":13},
        {"id":"samples[14]","path":"burst.samples[14]","type":"signed","byte":40,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":14},
        {"id":"samples[15]","path":"burst.samples[15]","type":"signed","byte":42,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":15},
        {"id":"samples[16]","path":"burst.samples[16]","type":"signed","byte":44,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":16},
        {"id":"samples[17]","path":"burst.samples[17]","type":"signed","byte":46,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":17},
        {"id":"samples[18]","path":"burst.samples[18]","type":"signed","byte":48,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":18},
        {"id":"samples[19]","path":"burst.samples[19]","type":"signed","byte":50,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":19},
        {"id":"samples[20]","path":"burst.samples[20]","type":"signed","byte":52,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":20},
        {"id":"samples[21]","path":"burst.samples[21]","type":"signed","byte":54,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":21},
        {"id":"samples[22]","path":"burst.samples[22]","type":"signed","byte":56,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":22},
        {"id":"samples[23]","path":"burst.samples[23]","type":"signed","byte":58,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":23},
        {"id":"samples[24]","path":"burst.samples[24]","type":"signed","byte":60,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Difference from the block's pressure, 0.5 Pa (0.004 mmHg) a step, up to 123 mmHg either way.","coldStart":-32768,"little":false,"unit":"Pa","num":1,"den":2,"add":0,"rounding":"half-away-from-zero","outOfRange":"saturate","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_sampled","means":"absent"}],"array":"samples","index":24},
        {"id":"seal","path":"burst.seal","type":"checksum","byte":62,"bytes":2,"shift":0,"width":16,"signed":false,"why":"A torn or mixed record must not be believed; the air CRC ends at the reader and can never pass as this one.","coldStart":"computed","little":false,"algorithm":"seal","over":[0,61]}
      ],
      "tails": []
    },
    {
      "id": "passwords",
      "title": "Kill and access passwords",
      "why": "Gen2 keeps both in bank 00; a kill password of zero can never kill.",
      "bytes": 8,
      "fields": [
        {"id":"kill_password","path":"passwords.kill_password","type":"unsigned","byte":0,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Zero in service: this tag is not to be killed.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":4294967295,"sentinels":[]},
        {"id":"access_password","path":"passwords.access_password","type":"unsigned","byte":4,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Guards the calibration block against a chance write by another reader.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":4294967295,"sentinels":[]}
      ],
      "tails": []
    },
    {
      "id": "epc",
      "title": "EPC with StoredCRC and StoredPC",
      "why": "Who the tag is, by GS1 TDS; every inventory brings it back.",
      "bytes": 16,
      "fields": [
        {"id":"stored_crc","path":"epc.stored_crc","type":"checksum","byte":0,"bytes":2,"shift":0,"width":16,"signed":false,"why":"CRC-16 over StoredPC and EPC; the tag computes it at power-up.","coldStart":"computed","little":false,"writer":"firmware","algorithm":"air","over":[2,15]},
        {"id":"epc_length","path":"epc.epc_length","type":"unsigned","byte":2,"bytes":2,"shift":11,"width":5,"signed":false,"why":"EPC length in words: six for the 96-bit schemes this tag carries.","coldStart":"kept","little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":6,"max":6,"sentinels":[]},
        {"id":"indicators","path":"epc.indicators","type":"flags","byte":2,"bytes":2,"shift":9,"width":2,"signed":false,"why":"Whether there is user memory and an extended protocol word to look at.","coldStart":"kept","little":false,"flags":[{"bit":1,"id":"user_memory","why":"UMI (RUM in Gen2 v3): user memory holds data."},{"bit":0,"id":"extended","why":"XI: XPC_W1 is not zero and follows the PC in the tag's reply."}],"named":3},
        {"id":"toggle","path":"epc.toggle","type":"constant","byte":2,"bytes":2,"shift":8,"width":1,"signed":false,"why":"T = 0: a GS1 EPC, not an ISO numbering system.","coldStart":"kept","little":false,"raw":0,"role":"marker"},
        {"id":"attributes","path":"epc.attributes","type":"reserved","byte":2,"bytes":2,"shift":0,"width":8,"signed":false,"why":"RFU with T = 0: zero when the tag is commissioned.","coldStart":"kept","little":false},
        {"id":"epc[0]","path":"epc.epc[0]","type":"unsigned","byte":4,"bytes":2,"shift":0,"width":16,"signed":false,"why":"The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[],"array":"epc","index":0},
        {"id":"epc[1]","path":"epc.epc[1]","type":"unsigned","byte":6,"bytes":2,"shift":0,"width":16,"signed":false,"why":"The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[],"array":"epc","index":1},
        {"id":"epc[2]","path":"epc.epc[2]","type":"unsigned","byte":8,"bytes":2,"shift":0,"width":16,"signed":false,"why":"The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[],"array":"epc","index":2},
        {"id":"epc[3]","path":"epc.epc[3]","type":"unsigned","byte":10,"bytes":2,"shift":0,"width":16,"signed":false,"why":"The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[],"array":"epc","index":3},
        {"id":"epc[4]","path":"epc.epc[4]","type":"unsigned","byte":12,"bytes":2,"shift":0,"width":16,"signed":false,"why":"The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[],"array":"epc","index":4},
        {"id":"epc[5]","path":"epc.epc[5]","type":"unsigned","byte":14,"bytes":2,"shift":0,"width":16,"signed":false,"why":"The EPC, 96 bits: SGTIN-96, GRAI-96 or GIAI-96.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[],"array":"epc","index":5}
      ],
      "tails": []
    },
    {
      "id": "xpc",
      "title": "XPC_W1",
      "why": "Tells any Gen2 reader during inventory that this tag carries a sensor.",
      "bytes": 2,
      "fields": [
        {"id":"xpc_w1","path":"xpc.xpc_w1","type":"flags","byte":0,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Full Function Sensor is set; the alarm bit follows the frame's sensor fault.","coldStart":"computed","little":false,"flags":[{"bit":15,"id":"xeb","why":"XPC_W2 is not zero."},{"bit":11,"id":"sensor_alarm","why":"SA: a sensor reports an alarm (Gen2 v3)."},{"bit":10,"id":"simple_sensor","why":"SS: a Simple Sensor; never on this tag."},{"bit":9,"id":"full_function_sensor","why":"FS: set on this tag."},{"bit":8,"id":"snapshot_sensor","why":"SN: a Snapshot Sensor; never on this tag."},{"bit":7,"id":"battery_assisted","why":"B: never on this tag."},{"bit":6,"id":"computed_response","why":"C: the response buffer holds a result."},{"bit":5,"id":"sl_indicator","why":"SLI: the SL flag is asserted."},{"bit":4,"id":"notification","why":"TN: the tag notification bit of its maker."},{"bit":3,"id":"untraceable","why":"U: the tag hides part of its memory."},{"bit":2,"id":"killable","why":"K: a kill password other than zero can kill the tag."},{"bit":1,"id":"non_removable","why":"NR: fixed to its item and not to be removed."},{"bit":0,"id":"hazmat","why":"H: hazardous material."}],"named":36863}
      ],
      "tails": []
    },
    {
      "id": "tid",
      "title": "TID with XTID and serial",
      "why": "Written by the chip's maker and permanent: ties a tag to its calibration even if the EPC is rewritten.",
      "bytes": 12,
      "fields": [
        {"id":"class","path":"tid.class","type":"constant","byte":0,"bytes":4,"shift":24,"width":8,"signed":false,"why":"Allocation class by ISO/IEC 15963.","coldStart":"kept","little":false,"raw":226,"role":"marker"},
        {"id":"features","path":"tid.features","type":"flags","byte":0,"bytes":4,"shift":21,"width":3,"signed":false,"why":"What the chip can do beyond the mandatory commands.","coldStart":"kept","little":false,"flags":[{"bit":2,"id":"xtid","why":"X: an XTID follows."},{"bit":1,"id":"security","why":"S: Authenticate and Challenge."},{"bit":0,"id":"files","why":"F: FileOpen."}],"named":7},
        {"id":"designer","path":"tid.designer","type":"unsigned","byte":0,"bytes":4,"shift":12,"width":9,"signed":false,"why":"Mask designer identifier (MDID).","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":511,"sentinels":[]},
        {"id":"model","path":"tid.model","type":"unsigned","byte":0,"bytes":4,"shift":0,"width":12,"signed":false,"why":"Tag model number (TMN).","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":4095,"sentinels":[]},
        {"id":"xtid_header","path":"tid.xtid_header","type":"constant","byte":4,"bytes":2,"shift":0,"width":16,"signed":false,"why":"XTID with a 48-bit serial and no further segment.","coldStart":"kept","little":false,"raw":8192,"role":"marker"},
        {"id":"serial[0]","path":"tid.serial[0]","type":"unsigned","byte":6,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Serial of the chip, 48 bits.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[],"array":"serial","index":0},
        {"id":"serial[1]","path":"tid.serial[1]","type":"unsigned","byte":8,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Serial of the chip, 48 bits.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[],"array":"serial","index":1},
        {"id":"serial[2]","path":"tid.serial[2]","type":"unsigned","byte":10,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Serial of the chip, 48 bits.","coldStart":"kept","little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[],"array":"serial","index":2}
      ],
      "tails": []
    },
    {
      "id": "envelope",
      "title": "Start of every message",
      "why": "Type and request id; the payload record follows, then the link checksum.",
      "bytes": 3,
      "fields": [
        {"id":"type","path":"envelope.type","type":"unsigned","byte":0,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Which message this is.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":255,"sentinels":[]},
        {"id":"request","path":"envelope.request","type":"unsigned","byte":1,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Answers carry the id of their request; 0 where nothing was asked.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]}
      ],
      "tails": []
    },
    {
      "id": "hello",
      "title": "Hello",
      "why": "First request: which link version and how many requests the host wants under way.",
      "bytes": 2,
      "fields": [
        {"id":"link_version","path":"hello.link_version","type":"unsigned","byte":0,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Link protocol version of the host.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":1,"max":255,"sentinels":[]},
        {"id":"max_outstanding","path":"hello.max_outstanding","type":"unsigned","byte":1,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Requests the host wants under way at once.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":1,"max":255,"sentinels":[]}
      ],
      "tails": []
    },
    {
      "id": "welcome",
      "title": "Answer to hello",
      "why": "What the kit is and what it can do.",
      "bytes": 18,
      "fields": [
        {"id":"link_version","path":"welcome.link_version","type":"unsigned","byte":0,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Link protocol version of the kit.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":1,"max":255,"sentinels":[]},
        {"id":"max_outstanding","path":"welcome.max_outstanding","type":"unsigned","byte":1,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Requests the kit will hold at once: the lower of the two wishes.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":1,"max":255,"sentinels":[]},
        {"id":"capabilities","path":"welcome.capabilities","type":"flags","byte":2,"bytes":2,"shift":0,"width":16,"signed":false,"why":"What can be asked of this kit.","coldStart":null,"little":false,"flags":[{"bit":0,"id":"block_write","why":"BlockWrite is served."},{"bit":1,"id":"lock","why":"Lock is served."},{"bit":2,"id":"barometer","why":"The kit measures ambient pressure and reports it."},{"bit":3,"id":"eu_lower","why":"Channel plan 865 to 868 MHz."},{"bit":4,"id":"eu_upper","why":"Channel plan 915 to 921 MHz."},{"bit":5,"id":"us","why":"Channel plan 902 to 928 MHz."}],"named":63},
        {"id":"power_low","path":"welcome.power_low","type":"signed","byte":4,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Lowest transmit power.","coldStart":null,"little":false,"unit":"dBm","num":1,"den":100,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-32768,"max":32767,"sentinels":[]},
        {"id":"power_high","path":"welcome.power_high","type":"signed","byte":6,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Highest transmit power.","coldStart":null,"little":false,"unit":"dBm","num":1,"den":100,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-32768,"max":32767,"sentinels":[]},
        {"id":"barometer_uncertainty","path":"welcome.barometer_uncertainty","type":"unsigned","byte":8,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Expanded uncertainty (k = 2) of the kit's barometer.","coldStart":null,"little":false,"unit":"Pa","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65534,"sentinels":[{"raw":65535,"id":"not_stated","means":"absent"}]},
        {"id":"kit_time_reserved","path":"welcome.kit_time_reserved","type":"reserved","byte":10,"bytes":8,"shift":48,"width":16,"signed":false,"why":"Keeps every raw value a safe integer in every language.","coldStart":null,"little":false},
        {"id":"kit_time","path":"welcome.kit_time","type":"unsigned","byte":10,"bytes":8,"shift":0,"width":48,"signed":false,"why":"The kit's own clock: readings are ordered by it, not by when the host got round to them.","coldStart":null,"little":false,"unit":"us","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":281474976710655,"sentinels":[]}
      ],
      "tails": []
    },
    {
      "id": "set_power",
      "title": "Set transmit power",
      "why": "Conducted power at the antenna port.",
      "bytes": 2,
      "fields": [
        {"id":"power","path":"set_power.power","type":"signed","byte":0,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Conducted power.","coldStart":null,"little":false,"unit":"dBm","num":1,"den":100,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-32768,"max":32767,"sentinels":[]}
      ],
      "tails": []
    },
    {
      "id": "set_channel_plan",
      "title": "Set channel plan",
      "why": "Where the kit may transmit is a matter of the country it stands in.",
      "bytes": 1,
      "fields": [
        {"id":"plan","path":"set_channel_plan.plan","type":"enumeration","byte":0,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Channel plan.","coldStart":null,"little":false,"names":[{"raw":1,"id":"eu_lower"},{"raw":2,"id":"eu_upper"},{"raw":3,"id":"us"}]}
      ],
      "tails": []
    },
    {
      "id": "start_inventory",
      "title": "Start inventory",
      "why": "Round after round, with one Read on every tag that answers when words are asked for.",
      "bytes": 6,
      "fields": [
        {"id":"period","path":"start_inventory.period","type":"unsigned","byte":0,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Time from one round to the next.","coldStart":null,"little":false,"unit":"s","num":1,"den":1000,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":10,"max":60000,"sentinels":[]},
        {"id":"bank","path":"start_inventory.bank","type":"enumeration","byte":2,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Memory bank by Gen2's MemBank number.","coldStart":null,"little":false,"names":[{"raw":0,"id":"reserved"},{"raw":1,"id":"epc"},{"raw":2,"id":"tid"},{"raw":3,"id":"user"}]},
        {"id":"pointer","path":"start_inventory.pointer","type":"unsigned","byte":3,"bytes":2,"shift":0,"width":16,"signed":false,"why":"First word of the Read.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]},
        {"id":"word_count","path":"start_inventory.word_count","type":"unsigned","byte":5,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of the Read; 0 for none.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":255,"sentinels":[]}
      ],
      "tails": []
    },
    {
      "id": "stop_inventory",
      "title": "Stop inventory",
      "why": "Ends the rounds; reports already made still arrive.",
      "bytes": 0,
      "fields": [],
      "tails": []
    },
    {
      "id": "read",
      "title": "Read",
      "why": "Words of one tag.",
      "bytes": 9,
      "fields": [
        {"id":"password","path":"read.password","type":"unsigned","byte":0,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Access password; 0 when none is needed.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":4294967295,"sentinels":[]},
        {"id":"bank","path":"read.bank","type":"enumeration","byte":4,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Memory bank by Gen2's MemBank number.","coldStart":null,"little":false,"names":[{"raw":0,"id":"reserved"},{"raw":1,"id":"epc"},{"raw":2,"id":"tid"},{"raw":3,"id":"user"}]},
        {"id":"pointer","path":"read.pointer","type":"unsigned","byte":5,"bytes":2,"shift":0,"width":16,"signed":false,"why":"First word.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]},
        {"id":"word_count","path":"read.word_count","type":"unsigned","byte":7,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of memory.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":255,"sentinels":[]},
        {"id":"epc_words","path":"read.epc_words","type":"unsigned","byte":8,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of EPC that follow; Gen2 allows 31.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":31,"sentinels":[]}
      ],
      "tails": [{"id":"epc","path":"read.epc","why":"The EPC, as many words as said.","bytes":2,"little":false,"count":4}]
    },
    {
      "id": "write",
      "title": "Write",
      "why": "Words of one tag, one Write command each.",
      "bytes": 9,
      "fields": [
        {"id":"password","path":"write.password","type":"unsigned","byte":0,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Access password; 0 when none is needed.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":4294967295,"sentinels":[]},
        {"id":"bank","path":"write.bank","type":"enumeration","byte":4,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Memory bank by Gen2's MemBank number.","coldStart":null,"little":false,"names":[{"raw":0,"id":"reserved"},{"raw":1,"id":"epc"},{"raw":2,"id":"tid"},{"raw":3,"id":"user"}]},
        {"id":"pointer","path":"write.pointer","type":"unsigned","byte":5,"bytes":2,"shift":0,"width":16,"signed":false,"why":"First word.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]},
        {"id":"word_count","path":"write.word_count","type":"unsigned","byte":7,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of memory.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":255,"sentinels":[]},
        {"id":"epc_words","path":"write.epc_words","type":"unsigned","byte":8,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of EPC that follow; Gen2 allows 31.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":31,"sentinels":[]}
      ],
      "tails": [
        {"id":"epc","path":"write.epc","why":"The EPC, as many words as said.","bytes":2,"little":false,"count":4},
        {"id":"words","path":"write.words","why":"The memory words, as many as said.","bytes":2,"little":false,"count":3}
      ]
    },
    {
      "id": "block_write",
      "title": "Block write",
      "why": "Words of one tag in one BlockWrite command.",
      "bytes": 9,
      "fields": [
        {"id":"password","path":"block_write.password","type":"unsigned","byte":0,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Access password; 0 when none is needed.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":4294967295,"sentinels":[]},
        {"id":"bank","path":"block_write.bank","type":"enumeration","byte":4,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Memory bank by Gen2's MemBank number.","coldStart":null,"little":false,"names":[{"raw":0,"id":"reserved"},{"raw":1,"id":"epc"},{"raw":2,"id":"tid"},{"raw":3,"id":"user"}]},
        {"id":"pointer","path":"block_write.pointer","type":"unsigned","byte":5,"bytes":2,"shift":0,"width":16,"signed":false,"why":"First word.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]},
        {"id":"word_count","path":"block_write.word_count","type":"unsigned","byte":7,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of memory.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":255,"sentinels":[]},
        {"id":"epc_words","path":"block_write.epc_words","type":"unsigned","byte":8,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of EPC that follow; Gen2 allows 31.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":31,"sentinels":[]}
      ],
      "tails": [
        {"id":"epc","path":"block_write.epc","why":"The EPC, as many words as said.","bytes":2,"little":false,"count":4},
        {"id":"words","path":"block_write.words","why":"The memory words, as many as said.","bytes":2,"little":false,"count":3}
      ]
    },
    {
      "id": "lock",
      "title": "Lock",
      "why": "Gen2 Lock with its 20-bit payload: mask and action.",
      "bytes": 9,
      "fields": [
        {"id":"password","path":"lock.password","type":"unsigned","byte":0,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Access password; Lock needs one.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":4294967295,"sentinels":[]},
        {"id":"lock_reserved","path":"lock.lock_reserved","type":"reserved","byte":4,"bytes":4,"shift":20,"width":12,"signed":false,"why":"The payload has 20 bits.","coldStart":null,"little":false},
        {"id":"mask","path":"lock.mask","type":"unsigned","byte":4,"bytes":4,"shift":10,"width":10,"signed":false,"why":"Which of the ten lock bits to change.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":1023,"sentinels":[]},
        {"id":"action","path":"lock.action","type":"unsigned","byte":4,"bytes":4,"shift":0,"width":10,"signed":false,"why":"Their new values.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":1023,"sentinels":[]},
        {"id":"epc_words","path":"lock.epc_words","type":"unsigned","byte":8,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of EPC that follow; Gen2 allows 31.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":31,"sentinels":[]}
      ],
      "tails": [{"id":"epc","path":"lock.epc","why":"The EPC, as many words as said.","bytes":2,"little":false,"count":4}]
    },
    {
      "id": "keep_alive",
      "title": "Keep-alive",
      "why": "Shows that the other side is there when nothing else is said.",
      "bytes": 0,
      "fields": [],
      "tails": []
    },
    {
      "id": "done",
      "title": "Done",
      "why": "Answer to a request that brings nothing back.",
      "bytes": 0,
      "fields": [],
      "tails": []
    },
    {
      "id": "access_answer",
      "title": "Answer to an access",
      "why": "Result of read, write, block write or lock.",
      "bytes": 10,
      "fields": [
        {"id":"result","path":"access_answer.result","type":"enumeration","byte":0,"bytes":1,"shift":0,"width":8,"signed":false,"why":"What came of the access; every value but the first two is the number of a reason code.","coldStart":null,"little":false,"names":[{"raw":0,"id":"done"},{"raw":1,"id":"not_asked"},{"raw":60,"id":"tag_lost"},{"raw":61,"id":"tag_memory_overrun"},{"raw":62,"id":"tag_memory_locked"},{"raw":63,"id":"tag_power_insufficient"},{"raw":64,"id":"tag_error"},{"raw":65,"id":"password_wrong"}]},
        {"id":"word_count","path":"access_answer.word_count","type":"unsigned","byte":1,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of memory.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":255,"sentinels":[]},
        {"id":"kit_time_reserved","path":"access_answer.kit_time_reserved","type":"reserved","byte":2,"bytes":8,"shift":48,"width":16,"signed":false,"why":"Keeps every raw value a safe integer in every language.","coldStart":null,"little":false},
        {"id":"kit_time","path":"access_answer.kit_time","type":"unsigned","byte":2,"bytes":8,"shift":0,"width":48,"signed":false,"why":"The kit's own clock: readings are ordered by it, not by when the host got round to them.","coldStart":null,"little":false,"unit":"us","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":281474976710655,"sentinels":[]}
      ],
      "tails": [
        {"id":"words","path":"access_answer.words","why":"The memory words, as many as said.","bytes":2,"little":false,"count":1}
      ]
    },
    {
      "id": "error",
      "title": "Error",
      "why": "Why a message could not be served; an unknown message is answered with this, never ignored.",
      "bytes": 4,
      "fields": [
        {"id":"reason","path":"error.reason","type":"unsigned","byte":0,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Number of the reason code.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":1,"max":255,"sentinels":[]},
        {"id":"about","path":"error.about","type":"unsigned","byte":1,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Type of the message it is about.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":255,"sentinels":[]},
        {"id":"byte","path":"error.byte","type":"unsigned","byte":2,"bytes":2,"shift":0,"width":16,"signed":false,"why":"Byte of the message at which it went wrong; 0 when it is about the whole.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]}
      ],
      "tails": []
    },
    {
      "id": "tag_report",
      "title": "Tag report",
      "why": "One tag seen in one round, with the words read: everything a capture keeps.",
      "bytes": 24,
      "fields": [
        {"id":"kit_time_reserved","path":"tag_report.kit_time_reserved","type":"reserved","byte":0,"bytes":8,"shift":48,"width":16,"signed":false,"why":"Keeps every raw value a safe integer in every language.","coldStart":null,"little":false},
        {"id":"kit_time","path":"tag_report.kit_time","type":"unsigned","byte":0,"bytes":8,"shift":0,"width":48,"signed":false,"why":"The kit's own clock: readings are ordered by it, not by when the host got round to them.","coldStart":null,"little":false,"unit":"us","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":281474976710655,"sentinels":[]},
        {"id":"pc","path":"tag_report.pc","type":"unsigned","byte":8,"bytes":2,"shift":0,"width":16,"signed":false,"why":"The PC word as the tag sent it.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]},
        {"id":"xpc","path":"tag_report.xpc","type":"unsigned","byte":10,"bytes":2,"shift":0,"width":16,"signed":false,"why":"XPC_W1, 0 when the tag sent none.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]},
        {"id":"rssi","path":"tag_report.rssi","type":"signed","byte":12,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Strength of the tag's reply at the kit.","coldStart":null,"little":false,"unit":"dBm","num":1,"den":10,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-32767,"max":32767,"sentinels":[{"raw":-32768,"id":"not_measured","means":"absent"}]},
        {"id":"frequency","path":"tag_report.frequency","type":"unsigned","byte":14,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Carrier frequency.","coldStart":null,"little":false,"unit":"kHz","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":4294967295,"sentinels":[]},
        {"id":"result","path":"tag_report.result","type":"enumeration","byte":18,"bytes":1,"shift":0,"width":8,"signed":false,"why":"What came of the access; every value but the first two is the number of a reason code.","coldStart":null,"little":false,"names":[{"raw":0,"id":"done"},{"raw":1,"id":"not_asked"},{"raw":60,"id":"tag_lost"},{"raw":61,"id":"tag_memory_overrun"},{"raw":62,"id":"tag_memory_locked"},{"raw":63,"id":"tag_power_insufficient"},{"raw":64,"id":"tag_error"},{"raw":65,"id":"password_wrong"}]},
        {"id":"bank","path":"tag_report.bank","type":"enumeration","byte":19,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Memory bank by Gen2's MemBank number.","coldStart":null,"little":false,"names":[{"raw":0,"id":"reserved"},{"raw":1,"id":"epc"},{"raw":2,"id":"tid"},{"raw":3,"id":"user"}]},
        {"id":"pointer","path":"tag_report.pointer","type":"unsigned","byte":20,"bytes":2,"shift":0,"width":16,"signed":false,"why":"First word of the Read.","coldStart":null,"little":false,"unit":"1","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":65535,"sentinels":[]},
        {"id":"word_count","path":"tag_report.word_count","type":"unsigned","byte":22,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of memory.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":255,"sentinels":[]},
        {"id":"epc_words","path":"tag_report.epc_words","type":"unsigned","byte":23,"bytes":1,"shift":0,"width":8,"signed":false,"why":"Words of EPC that follow; Gen2 allows 31.","coldStart":null,"little":false,"unit":"word","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":31,"sentinels":[]}
      ],
      "tails": [
        {"id":"epc","path":"tag_report.epc","why":"The EPC, as many words as said.","bytes":2,"little":false,"count":10},
        {"id":"words","path":"tag_report.words","why":"The memory words, as many as said.","bytes":2,"little":false,"count":9}
      ]
    },
    {
      "id": "ambient_report",
      "title": "Ambient report",
      "why": "The kit's barometer: without an ambient pressure no gauge pressure can be built.",
      "bytes": 14,
      "fields": [
        {"id":"kit_time_reserved","path":"ambient_report.kit_time_reserved","type":"reserved","byte":0,"bytes":8,"shift":48,"width":16,"signed":false,"why":"Keeps every raw value a safe integer in every language.","coldStart":null,"little":false},
        {"id":"kit_time","path":"ambient_report.kit_time","type":"unsigned","byte":0,"bytes":8,"shift":0,"width":48,"signed":false,"why":"The kit's own clock: readings are ordered by it, not by when the host got round to them.","coldStart":null,"little":false,"unit":"us","num":1,"den":1,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":0,"max":281474976710655,"sentinels":[]},
        {"id":"pressure","path":"ambient_report.pressure","type":"unsigned","byte":8,"bytes":4,"shift":0,"width":32,"signed":false,"why":"Absolute ambient pressure.","coldStart":null,"little":false,"unit":"Pa","num":1,"den":128,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":3328000,"max":16128000,"sentinels":[]},
        {"id":"temperature","path":"ambient_report.temperature","type":"signed","byte":12,"bytes":2,"shift":0,"width":16,"signed":true,"why":"Temperature of the barometer.","coldStart":null,"little":false,"unit":"Cel","num":1,"den":100,"add":0,"rounding":"half-away-from-zero","outOfRange":"reject","min":-4000,"max":12500,"sentinels":[{"raw":-32768,"id":"not_measured","means":"absent"}]}
      ],
      "tails": []
    }
  ],
  "banks": [
    {
      "id": "reserved",
      "number": 0,
      "title": "Reserved",
      "words": 4,
      "regions": [
        {"id":"passwords","word":0,"words":4,"record":"passwords","writer":"factory","lock":"password-read-write","why":"Set when the tag is commissioned, then unreadable without the access password."}
      ]
    },
    {
      "id": "epc",
      "number": 1,
      "title": "EPC",
      "words": 34,
      "regions": [
        {"id":"epc","word":0,"words":8,"record":"epc","writer":"factory","lock":"password-write","why":"Set when the tag is commissioned."},
        {"id":"epc_absent","word":8,"words":25,"record":null,"writer":"factory","lock":"none","why":"Not implemented: the EPC is 96 bits and a Read here reports memory overrun."},
        {"id":"xpc","word":33,"words":1,"record":"xpc","writer":"firmware","lock":"none","why":"Computed by the tag; word 21h by Gen2."}
      ]
    },
    {
      "id": "tid",
      "number": 2,
      "title": "TID",
      "words": 6,
      "regions": [
        {"id":"tid","word":0,"words":6,"record":"tid","writer":"factory","lock":"permanent","why":"Written by the chip's maker."}
      ]
    },
    {
      "id": "user",
      "number": 3,
      "title": "USER",
      "words": 104,
      "regions": [
        {"id":"header","word":0,"words":8,"record":"header","writer":"factory","lock":"password-write","why":"First in the bank, as the DSFID must be, and first in every Read."},
        {"id":"slot_a","word":8,"words":8,"record":"frame","writer":"firmware","lock":"password-write","why":"Directly behind the header, so that one Read of 32 words brings header, both slots and counters."},
        {"id":"slot_b","word":16,"words":8,"record":"frame","writer":"firmware","lock":"password-write","why":"Written in turn with slot A: a power cut spoils at most one of them."},
        {"id":"counters_a","word":24,"words":8,"record":"counters","writer":"firmware","lock":"password-write","why":"In the same 32-word Read as the slots."},
        {"id":"counters_b","word":32,"words":8,"record":"counters","writer":"firmware","lock":"password-write","why":"Written in turn with the first copy, so that a power cut does not lose the counts."},
        {"id":"calibration_1","word":40,"words":16,"record":"calibration","writer":"reader","lock":"password-write","why":"Written and verified first when a tag is calibrated."},
        {"id":"calibration_2","word":56,"words":16,"record":"calibration","writer":"reader","lock":"password-write","why":"Written only after the first copy verified; read when the first is not whole."},
        {"id":"burst","word":72,"words":32,"record":"burst","writer":"firmware","lock":"password-write","why":"Exactly one Read of 32 words. Single: a torn run is rejected and taken again."}
      ]
    }
  ],
  "messages": [
    {"id":"hello","code":1,"direction":"to-kit","answer":"welcome","record":"hello"},
    {"id":"set_power","code":2,"direction":"to-kit","answer":"done","record":"set_power"},
    {"id":"set_channel_plan","code":3,"direction":"to-kit","answer":"done","record":"set_channel_plan"},
    {"id":"start_inventory","code":4,"direction":"to-kit","answer":"done","record":"start_inventory"},
    {"id":"stop_inventory","code":5,"direction":"to-kit","answer":"done","record":"stop_inventory"},
    {"id":"read","code":6,"direction":"to-kit","answer":"access_answer","record":"read"},
    {"id":"write","code":7,"direction":"to-kit","answer":"access_answer","record":"write"},
    {"id":"block_write","code":8,"direction":"to-kit","answer":"access_answer","record":"block_write"},
    {"id":"lock","code":9,"direction":"to-kit","answer":"access_answer","record":"lock"},
    {"id":"keep_alive","code":10,"direction":"to-kit","answer":"done","record":"keep_alive"},
    {"id":"done","code":64,"direction":"to-host","record":"done"},
    {"id":"welcome","code":65,"direction":"to-host","record":"welcome"},
    {"id":"access_answer","code":70,"direction":"to-host","record":"access_answer"},
    {"id":"error","code":127,"direction":"to-host","record":"error"},
    {"id":"tag_report","code":128,"direction":"to-host","record":"tag_report"},
    {"id":"ambient_report","code":130,"direction":"to-host","record":"ambient_report"}
  ]
};
