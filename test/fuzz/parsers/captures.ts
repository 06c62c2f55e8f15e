/** Parsers of recordings: captures as JSON Lines and CSV, link bytes, pcapng, and whatever a file turns out to be. */
import { readFileSync } from "node:fs";
import { CaptureReader } from "../../../host/capture/capture-reader.ts";
import { LinkCapture } from "../../../host/capture/link-capture.ts";
import { type Heard, LlrpCapture } from "../../../host/capture/llrp-capture.ts";
import { type Block, BlockReader } from "../../../host/capture/pcapng-blocks.ts";
import { PcapngCapture } from "../../../host/capture/pcapng-capture.ts";
import { layout } from "../../../protocol/index.ts";
import { frameOf, reportBody, welcomeBody } from "../../support/link-bytes.ts";
import { type Option, PcapngBytes } from "../../support/pcapng-bytes.ts";
import { type FuzzParser, type Outcome, textOf, unequal } from "../fuzz-parser.ts";

const damaged = readFileSync(new URL("../../../vectors/captures/damaged.jsonl", import.meta.url));
const leg = readFileSync(new URL("../../../vectors/captures/training-leg.jsonl", import.meta.url), "utf8");
const lines = leg.split("\n").slice(0, 8);
const records = lines.slice(1).map((line) => JSON.parse(line) as Record<string, unknown>);

/** Columns of vectors/schema/capture.schema.json; the sign of the strength and the time are invented. */
const CSV = [
  "record,kit_time_us,epc,pc,xpc,rssi_dbm,frequency_khz,result,bank,word,words,pressure_raw,temperature_cel",
  "read,1500000,30361f9404c0004000000007,3600,0200,-58.3,866300,done,user,8,deadbeef0001,,",
  'ambient,1600000,,,,,,,,,,12969600,"22.5"',
  "",
].join("\r\n");

async function* inPieces(pieces: readonly Uint8Array[]): AsyncGenerator<Uint8Array> {
  yield* pieces;
}

async function itemsOf<Item>(capture: AsyncIterable<Item>): Promise<Item[]> {
  const items: Item[] = [];
  for await (const item of capture) items.push(item);
  return items;
}

const size = (pieces: readonly Uint8Array[]) => pieces.reduce((sum, piece) => sum + piece.length, 0);

async function text(pieces: readonly Uint8Array[]): Promise<Outcome> {
  const reader = new CaptureReader(inPieces(pieces), "walk", layout);
  const items = await itemsOf(reader);
  const { counts } = reader;
  const whole = Buffer.concat(pieces).toString("latin1");
  const rows = whole.split(/(?<=\n)/).filter((row) => row.length > 0);
  const back = new Map<number, string>();
  for (const item of items) {
    const raw = "reject" in item ? item.reject.raw : "more" in item ? item.more : "report" in item ? item.raw : null;
    if (!raw) continue;
    const { line } = item.place;
    back.set(line, (back.get(line) ?? "") + Buffer.from(raw).toString("latin1"));
  }
  const other = [...back].filter(([line, raw]) => raw !== rows[line - 1]);
  const rejected = Object.values(counts.rejected).reduce((sum, count) => sum + count, 0);
  return {
    said: textOf([items, counts]),
    broken: unequal(
      ["bytes", counts.bytes, whole.length],
      ["lines", counts.lines, rows.length],
      [
        "lines = those of each kind",
        counts.lines,
        counts.headers + counts.read + counts.ambient + counts.blank + rejected,
      ],
      ["lines given back otherwise than they came", other.length, 0],
      ["lines given back = read + ambient + rejected", back.size, counts.read + counts.ambient + rejected],
    ),
  };
}

export const jsonLines: FuzzParser = {
  name: "jsonl",
  seeds: () => [new Uint8Array(damaged), new Uint8Array(Buffer.from(lines.join("\n")))],
  run: text,
};

export const csv: FuzzParser = {
  name: "csv",
  seeds: () => [CSV, CSV.replaceAll(",", ";")].map((given) => new Uint8Array(Buffer.from(given))),
  run: text,
};

const linkBytes = Buffer.concat([welcomeBody(12), ...records.map(reportBody)].map(frameOf));

export const linkCapture: FuzzParser = {
  name: "link-capture",
  seeds: () => [new Uint8Array(linkBytes)],
  run: async (pieces) => {
    const capture = new LinkCapture(inPieces(pieces), "walk", layout);
    const items = await itemsOf(capture);
    const rejects = items.filter((item) => "reject" in item).length;
    const reports = items.filter((item) => "report" in item).length;
    const { counts } = capture;
    // What more comes of an over-long frame hangs on the pieces; that nothing of it is lost is the deframer's to show.
    const said = items.map((item) => ("more" in item ? null : "reject" in item ? item.reject.sentence : item));
    return {
      said: textOf([said.filter((item) => item !== null), counts]),
      broken: unequal(
        ["bytes", counts.bytes, size(pieces)],
        ["rejects = those counted", rejects, counts.rejected],
        ["reports = those counted", reports, counts.read + counts.ambient],
      ),
    };
  },
};

function pcapngFile(order: "little" | "big", options: readonly Option[]): Uint8Array {
  const make = new PcapngBytes(order);
  const packets = records.map((record) => make.packet(reportBody(record)));
  return Uint8Array.from(
    Buffer.concat([make.section(options), make.interface(147), make.packet(welcomeBody(12)), ...packets]),
  );
}

export const pcapng: FuzzParser = {
  name: "pcapng",
  seeds: () => [pcapngFile("little", [[1, lines[0]!]]), pcapngFile("big", [])],
  run: async (pieces) => {
    const reader = new BlockReader();
    const blocks: Block[] = [];
    for (const piece of pieces) blocks.push(...reader.push(piece));
    blocks.push(...reader.end());
    const back = blocks.map(({ raw }) => Buffer.from(raw).toString("hex")).join("");
    const capture = new PcapngCapture(inPieces(pieces), "walk", layout);
    const items = await itemsOf(capture);
    const rejects = items.filter((item) => "reject" in item).length;
    const said = items.map((item) => ("more" in item ? null : "reject" in item ? item.reject.sentence : item));
    return {
      said: textOf([said.filter((item) => item !== null), capture.counts]),
      broken: unequal(
        ["bytes of all blocks", back, Buffer.concat(pieces).toString("hex")],
        ["bytes", capture.counts.bytes, size(pieces)],
        ["rejects = those counted", rejects, capture.counts.rejected],
      ),
    };
  },
};

/** A recording of an LLRP reader, with what its reports say of tags. */
export async function llrpRecording(pieces: readonly Uint8Array[]): Promise<Outcome> {
  async function* heard(): AsyncGenerator<Heard> {
    for (const bytes of pieces) yield { connection: "", side: "", bytes };
  }
  const capture = new LlrpCapture(heard(), "walk");
  const items = await itemsOf(capture);
  const rejects = items.filter((item) => "reject" in item).length;
  return {
    said: textOf([items, capture.counts]),
    broken: unequal(
      ["bytes", capture.counts.bytes, size(pieces)],
      ["rejects = those counted", rejects, capture.counts.rejected],
    ),
  };
}
