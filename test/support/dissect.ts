/** LLRP messages before Wireshark's dissector. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** One message, and which way it went. */
export interface Packet {
  readonly by: "client" | "reader";
  readonly raw: Uint8Array;
}

/** Writes a pcap file, a packet for each message, between a client and LLRP's port. */
export function writePackets(file: string, packets: readonly Packet[]): void {
  const text = packets.map(({ by, raw }) => `${by === "reader" ? "I" : "O"}\n${hexDump(raw)}\n`).join("");
  execFileSync("text2pcap", ["-q", "-D", "-T", "40000,5084", "-", file], {
    input: text,
    stdio: ["pipe", "pipe", "ignore"],
  });
}

export interface Dissection {
  /** Name of every message, in order. */
  readonly names: readonly string[];
  /** Frames with an expert item of warning or worse, as tshark prints them. */
  readonly warnings: readonly string[];
}

export function dissect(packets: readonly Packet[]): Dissection {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-llrp-"));
  try {
    const file = join(folder, "llrp.pcap");
    writePackets(file, packets);
    const words = ["-n", "-r", file, "-d", "tcp.port==5084,llrp"];
    const lines = (more: readonly string[]) =>
      execFileSync("tshark", [...words, ...more], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] })
        .split("\n")
        .filter((line) => line !== "");
    const names = lines(["-T", "fields", "-e", "_ws.col.Info"]);
    const severe = "_ws.malformed or _ws.expert.severity >= 0x600000";
    const warnings = lines([
      "-Y",
      severe,
      "-T",
      "fields",
      "-e",
      "frame.number",
      "-e",
      "_ws.col.Info",
      "-e",
      "_ws.expert.message",
    ]);
    return { names, warnings };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Bytes as text2pcap reads them: an offset and 16 bytes a line. */
function hexDump(bytes: Uint8Array): string {
  const lines: string[] = [];
  for (let at = 0; at < bytes.length; at += 16) {
    const row = [...bytes.subarray(at, at + 16)].map((byte) => byte.toString(16).padStart(2, "0"));
    lines.push(`${at.toString(16).padStart(6, "0")} ${row.join(" ")}`);
  }
  return lines.join("\n");
}
