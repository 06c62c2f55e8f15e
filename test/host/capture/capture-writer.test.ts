import { Writable } from "node:stream";
import { describe, expect, it } from "vitest";
import { CaptureWriter } from "../../../host/capture/capture-writer.ts";

const report = { kind: "ambient", kitTimeUs: 1, pressureRaw: 12_969_600, temperatureC: null } as const;
const header = {
  version: 1 as const,
  layout: 1,
  fingerprint: 0xdb984ec,
  started: "2026-03-04T09:00:00.000Z",
  source: "exec:kit",
  barometerUncertaintyPa: 12,
};

describe("CaptureWriter", () => {
  it("writes the lines of the format, each handed over before its call resolves", async () => {
    const lines: string[] = [];
    const sink = new Writable({
      write: (chunk, _encoding, done) => {
        lines.push(String(chunk));
        setImmediate(done);
      },
    });
    const writer = new CaptureWriter(sink);
    await writer.header(header);
    expect(lines).toEqual([
      '{"record":"capture","version":1,"layout":1,"fingerprint":"0db984ec","started":"2026-03-04T09:00:00.000Z","source":"exec:kit","barometer_uncertainty_pa":12}\n',
    ]);
    await writer.report(report);
    await writer.report({
      kind: "read",
      kitTimeUs: 2,
      epc: "3036",
      pc: 0x3600,
      xpc: 0,
      rssiDbm: -58.3,
      frequencyKhz: 866_300,
      result: "done",
      bank: "user",
      word: 0,
      words: [0x0011, 0xabcd],
    });
    expect(lines.slice(1)).toEqual([
      '{"record":"ambient","kit_time_us":1,"pressure_raw":12969600,"temperature_cel":null}\n',
      '{"record":"read","kit_time_us":2,"epc":"3036","pc":"3600","xpc":"0000","rssi_dbm":-58.3,"frequency_khz":866300,"result":"done","bank":"user","word":0,"words":"0011abcd"}\n',
    ]);
  });

  it("rejects with the stream's error", async () => {
    const sink = new Writable({ write: (_chunk, _encoding, done) => done(new Error("no space left")) });
    sink.on("error", () => {});
    await expect(new CaptureWriter(sink).report(report)).rejects.toThrow("no space left");
  });
});
