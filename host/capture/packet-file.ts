/** LLRP in a file of captured packets, pcap or pcapng; tshark puts the TCP streams together. */
import { spawn } from "node:child_process";
import { createInterface } from "node:readline";
import { kindOf } from "./file-kind.ts";
import type { Heard } from "./llrp-capture.ts";

/** Why a packet file cannot be read, in one sentence. */
export class PacketFileError extends Error {
  override readonly name = "PacketFileError";
}

/** What is said of a file that holds no LLRP. */
const NONE = "holds no TCP stream that begins with an LLRP message";

/**
 * Bytes of every TCP stream that begins with an LLRP message, stream by stream, each in the order it was heard; other
 * streams are passed over. Throws a PacketFileError without tshark, for a file it cannot read, for one without LLRP, and,
 * behind all that could be read, for one that is cut short or damaged.
 */
export async function* llrpOfPackets(file: string): AsyncGenerator<Heard> {
  const streams = new Set<string>();
  let trouble: PacketFileError | null = null;
  const lines = (words: readonly string[]) => beforeTrouble(tshark(file, words), (error) => (trouble = error));
  for await (const line of lines(["-Y", "tcp.len > 0", "-T", "fields", "-e", "tcp.stream"])) streams.add(line);
  let found = false;
  for (const stream of streams) {
    let isLlrp: boolean | null = null;
    for await (const line of lines(["-q", "-z", `follow,tcp,raw,${stream}`])) {
      const [, tab, hex] = /^(\t?)([0-9a-f]+)$/.exec(line) ?? [];
      if (hex === undefined) continue;
      const bytes = Buffer.from(hex, "hex");
      isLlrp ??= kindOf(bytes, true) === "llrp";
      if (!isLlrp) break;
      found = true;
      yield { connection: `TCP stream ${stream}`, side: tab === "" ? "first side" : "second side", bytes };
    }
  }
  if (trouble !== null) throw trouble;
  if (!found) throw new PacketFileError(`${file}: ${NONE}`);
}

/** Lines up to the trouble, which is told instead of thrown. */
async function* beforeTrouble(
  lines: AsyncIterable<string>,
  tell: (error: PacketFileError) => void,
): AsyncGenerator<string> {
  try {
    yield* lines;
  } catch (error) {
    if (!(error instanceof PacketFileError)) throw error;
    tell(error);
  }
}

async function* tshark(file: string, words: readonly string[]): AsyncGenerator<string> {
  const child = spawn("tshark", ["-n", "-r", file, ...words], { stdio: ["ignore", "pipe", "pipe"] });
  let says = "";
  child.stderr.setEncoding("utf8").on("data", (text: string) => (says = (says + text).slice(-2000)));
  const ended = new Promise<string | null>((resolve) => {
    child.once("error", (error: NodeJS.ErrnoException) => {
      const missing = "is a packet capture, and tshark, which puts its TCP streams together, is not installed";
      resolve(error.code === "ENOENT" ? missing : error.message);
    });
    child.once("close", (status) =>
      resolve(status === 0 ? null : lastLine(says) || `tshark ended with status ${status}`),
    );
  });
  try {
    for await (const line of createInterface({ input: child.stdout, crlfDelay: Number.POSITIVE_INFINITY })) yield line;
  } finally {
    // A reader that has seen enough leaves the program writing to nobody.
    if (child.exitCode === null) child.kill();
  }
  const trouble = await ended;
  if (trouble !== null) throw new PacketFileError(`${file}: ${trouble}`);
}

function lastLine(text: string): string {
  return text
    .trim()
    .split("\n")
    .at(-1)!
    .replace(/^tshark: /, "");
}
