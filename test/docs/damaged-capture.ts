/** The damaged example capture: good lines of another one, and one line of each fault a capture can have. */
import { frame, header } from "../host/readings/tag-words.ts";

type Member = string | number | null;
type Line = { [name: string]: Member };

/** Words of header, slots A and B: each slot as given. */
function words(header: readonly number[], a: readonly number[], b: readonly number[]): string {
  return Buffer.from([...header, ...a, ...b]).toString("hex");
}

/** Lines of `capture`, changed; each fault is described in vectors/captures/README.md by the number of its line. */
export function damaged(capture: string): Uint8Array {
  const lines = capture.split("\n").slice(0, -1);
  const [head, ...rest] = lines as [string, ...string[]];
  const ambient = rest.find((line) => line.includes('"ambient"'))!;
  const reads = rest.map((line) => JSON.parse(line) as Line).filter(({ word }) => word === 0);
  const read = (index: number, changes: Line = {}) => JSON.stringify({ ...reads[index], ...changes });
  const text = (index: number) => reads[index]!.words as string;
  const without = ({ epc: _, ...others }: Line) => JSON.stringify(others);

  const torn = frame({ sequence: 9 });
  torn[15]! ^= 1;
  const reserved = frame({ reserved: 1 });
  const later = frame({ layout: 2 });
  const note = '"note":"Damaged on purpose, line by line; every number is invented."';
  return Buffer.concat(
    [
      head.replace(/"note":".*"/, note),
      ambient,
      read(0),
      read(1, { words: text(1).slice(0, -1) }),
      read(1, { words: `${text(1).slice(0, 10)}x${text(1).slice(11)}` }),
      read(2).slice(0, 120),
      without(reads[2]!),
      read(2, { kit_time_us: -1 }),
      read(2, { result: "melted" }),
      read(2, { words: text(2).slice(0, 48) }),
      read(3, { words: words(header(), torn, torn) }),
      read(3, { words: words(header(), reserved, reserved) }),
      read(3, { words: words(header({ layout: 2 }), later, later) }),
      read(3, { words: words(header({ fingerprint: 0x01234567 }), frame(), frame()), epc: "30f4000000000000000000ff" }),
      Buffer.from([0x00, 0x9d, 0xff, 0xfe, 0x80, 0x13]),
      read(3, { result: "tag_lost", words: "" }),
      "",
      read(4),
    ].map((line) => Buffer.concat([typeof line === "string" ? Buffer.from(line) : line, Buffer.from("\n")])),
  );
}
