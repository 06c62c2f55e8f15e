/** Wireshark's programs (Debian packages tshark and wireshark-common) take the pcapng files we write, and we take theirs. */
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import * as zlib from "node:zlib";
import { describe, expect, it } from "vitest";
import { reportBody } from "../support/link-bytes.ts";
import { needs } from "../support/outside.ts";
import { complaints, LEG, legLines, plyframe, testFolder } from "../support/plyframe.ts";

const reports = legLines.slice(1).map((line) => JSON.parse(line));

async function written(name: string): Promise<string> {
  const file = join(testFolder(), name);
  expect((await plyframe(["decode", "--out", file, LEG])).status).toBe(0);
  return file;
}

/** What tshark prints, and nothing of what it says beside, which must be nothing but the warning of its user. */
function tshark(...words: readonly string[]): string[] {
  const text = execFileSync("sh", ["-c", 'tshark "$@" 2>&1', "sh", "-n", ...words], { encoding: "utf8" });
  return text.split("\n").filter((line) => line !== "" && !/^Running as user "root"/.test(line));
}

needs("tshark", () => {
  describe("tshark", () => {
    it("reads every packet: its time, direction, interface and bytes", async () => {
      const file = await written("leg.pcapng");
      const fields = [
        "frame.time_epoch",
        "frame.interface_name",
        "frame.packet_flags_direction",
        "frame.encap_type",
        "frame.len",
      ];
      const found = tshark("-r", file, "-T", "fields", ...fields.flatMap((field) => ["-e", field]));
      // 2026-03-04T09:00:00Z is 1772614800 s after 1970; the first report is at the time the capture names.
      const wanted = reports.map((report) => {
        const us = 1772614800000000 + report.kit_time_us - reports[0].kit_time_us;
        const time = `${Math.floor(us / 1e6)}.${`${us % 1e6}`.padStart(6, "0")}000`;
        return [time, "plyframe kit, simulated, seed 7", "0x00000001", "45", `${reportBody(report).length}`].join("\t");
      });
      expect(found).toEqual(wanted);
      const bytes = tshark("-r", file, "-T", "fields", "-e", "data.data");
      expect(bytes).toEqual(reports.map((report) => Buffer.from(reportBody(report)).toString("hex")));
    });

    it("reads it packed with gzip too", async () => {
      expect(tshark("-r", await written("leg.pcapng.gz")).length).toBe(reports.length);
    });

    it("complains of a file of ours that is cut short, so that its silence means something", async () => {
      const file = await written("leg.pcapng");
      writeFileSync(file, readFileSync(file).subarray(0, -10));
      expect(() => tshark("-r", file)).toThrow("Command failed");
    });
  });
});

needs("editcap", () => {
  describe("editcap", () => {
    it("writes the file anew, whole or packets of it, and it is a capture all the same", async () => {
      const file = await written("leg.pcapng");
      const copy = `${file}.copy`;
      execFileSync("editcap", ["-F", "pcapng", file, copy], { stdio: "ignore" });
      const [ours, theirs] = [await plyframe(["decode", "--json", file]), await plyframe(["decode", "--json", copy])];
      expect([theirs.status, complaints(theirs), theirs.stdout === ours.stdout]).toEqual([0, [], true]);
      execFileSync("editcap", ["-F", "pcapng", "-r", file, copy, "1-50"], { stdio: "ignore" });
      const some = await plyframe(["decode", copy]);
      expect(some.stderr).toContain("50 packets in 1 sections");
      expect(some.status).toBe(0);
    });
  });
});

it("a file packed by us is what gzip unpacks to the file that is not", async () => {
  const [plain, packed] = [await written("leg.pcapng"), await written("leg.pcapng.gz")];
  expect(zlib.gunzipSync(readFileSync(packed)).equals(readFileSync(plain))).toBe(true);
});
