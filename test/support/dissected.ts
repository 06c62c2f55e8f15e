/** Packets before Wireshark with the emitted dissector: tshark is run once for all of them. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Packet } from "./vector-cases.ts";

const SCRIPT = fileURLToPath(new URL("../../protocol/emitted/plyframe.lua", import.meta.url));

/** One field as tshark shows it: `label` is the line of the tree, `shown` the value, bytes counted from the packet's first. */
export interface ShownField {
  readonly name: string;
  readonly label: string;
  readonly shown: string;
  readonly at: number;
  readonly bytes: number;
}

/** LINKTYPE_USER0 of the tcpdump group's list; fifteen more follow. */
const USER_0 = 147;

/** Everything plyframe's dissector shows of each packet, in order; nothing for a packet it was not given. */
export function dissected(packets: readonly Packet[]): ShownField[][] {
  const readers = ["link", ...new Set(packets.map((packet) => packet.as).filter((name) => name !== "link"))];
  const table = readers.flatMap((name, i) => {
    const row = `"User ${i} (DLT=${USER_0 + i})","plyframe-${name}","0","","0",""`;
    return i === 0 ? [] : ["-o", `uat:user_dlts:${row}`];
  });
  const folder = mkdtempSync(join(tmpdir(), "plyframe-dissected-"));
  try {
    const file = join(folder, "packets.pcapng");
    writeFileSync(file, pcapng(packets, readers));
    const words = ["-n", "-X", `lua_script:${SCRIPT}`, ...table, "-r", file, "-T", "pdml"];
    const stdio: ["ignore", "pipe", "pipe"] = ["ignore", "pipe", "pipe"];
    const text = execFileSync("tshark", words, { encoding: "utf8", maxBuffer: 1 << 29, stdio });
    return text.split("<packet>").slice(1).map(fieldsOf);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function fieldsOf(packet: string): ShownField[] {
  const lines = packet.matchAll(/<field name="(plyframe\.[^"]+|_ws\.lua\.error)"([^>]*)>/g);
  return [...lines].map(([, name, rest]) => {
    const part = (id: string) => plain(new RegExp(` ${id}="([^"]*)"`).exec(rest!)?.[1] ?? "");
    return {
      name: name!,
      label: part("showname"),
      shown: part("show"),
      at: Number(part("pos")),
      bytes: Number(part("size")),
    };
  });
}

function plain(text: string): string {
  return text.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&quot;", '"').replaceAll("&amp;", "&");
}

/** A file with an interface for each reader, little-endian, by the IETF draft "PCAP Next Generation Capture File Format". */
function pcapng(packets: readonly Packet[], readers: readonly string[]): Buffer {
  const words = (...values: number[]) => {
    const bytes = Buffer.alloc(4 * values.length);
    for (const [i, value] of values.entries()) bytes.writeUInt32LE(value >>> 0, 4 * i);
    return bytes;
  };
  const block = (type: number, body: Buffer) =>
    Buffer.concat([words(type, body.length + 12), body, words(body.length + 12)]);
  const section = block(0x0a0d0d0a, words(0x1a2b3c4d, 1, -1, -1));
  const interfaces = readers.map((_, i) => block(1, words(USER_0 + i, 0)));
  const blocks = packets.map(({ as, bytes, direction }) => {
    const padding = Buffer.alloc(-bytes.length & 3);
    const flags = direction === "unsaid" ? 0 : direction === "to-kit" ? 2 : 1;
    // Option 2, epb_flags, of four bytes; then the end of options.
    const options = words(2 | (4 << 16), flags, 0);
    const head = words(readers.indexOf(as), 0, 0, bytes.length, bytes.length);
    return block(6, Buffer.concat([head, bytes, padding, options]));
  });
  return Buffer.concat([section, ...interfaces, ...blocks]);
}
