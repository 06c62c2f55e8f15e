/**
 * Firmware that is wrong on purpose: the same C with one edit each, compiled by the same compiler. A suite that does not
 * find every one of them by name would not find the next mistake either.
 */
import { buildFirmware, type FirmwareSources, firmwareSources } from "../../host/dev/firmware-build.ts";

export interface WrongFirmware {
  readonly name: string;
  readonly about: string;
  /** A workload that shows it by single cuts or by pairs, or a reader that comes in the middle of a commit. */
  readonly shownBy: { readonly workload: string; readonly by: "single" | "pair" } | "race";
  readonly edit: (source: string) => string;
}

/** Puts `text` in place of the one occurrence of `found`. Throws when it is not there exactly once. */
function instead(found: string, text: string): (source: string) => string {
  return (source) => {
    const parts = source.split(found);
    if (parts.length !== 2) throw new Error(`${parts.length - 1} times in the source: ${found}`);
    return parts.join(text);
  };
}

/** Puts another body into commit(); `write(i, value)` and `settle` stand for the port's functions. */
function committing(body: string): (source: string) => string {
  const head = "static uint8_t commit(uint8_t word, const uint16_t *words, uint8_t count)\n{\n";
  return (source) => {
    const from = source.indexOf(head);
    const to = source.indexOf("\n}\n", from);
    if (from < 0 || to < 0) throw new Error("commit() is not where it was");
    const code = body
      .replaceAll("settle", "(void)ply_port_bridge_settle()")
      .replaceAll(/write\(([^,]+), ([^;]+)\);/g, "(void)ply_port_bridge_write((uint8_t)(word + $1), $2);");
    return `${source.slice(0, from)}${head}    uint8_t i;\n${code}\n    return 1;${source.slice(to)}`;
  };
}

const DATA = "for (i = 2; i < count; i++) { write(i, words[i]); }";

export const wrongFirmware: readonly WrongFirmware[] = [
  {
    name: "commit-word-first",
    about: "word 0 and word 1 before the data",
    shownBy: { workload: "matching-frame-0123", by: "single" },
    edit: committing(`settle; write(0, words[0]); settle; write(1, words[1]); settle; ${DATA} settle;`),
  },
  {
    name: "in-memory-order",
    about: "word after word from 0 on, as one copies a record",
    shownBy: { workload: "matching-frame-0123", by: "single" },
    edit: committing("settle; for (i = 0; i < count; i++) { write(i, words[i]); settle; }"),
  },
  {
    name: "no-invalidation",
    about: "the old kind stays while the data change",
    shownBy: { workload: "matching-burst", by: "single" },
    edit: committing(`settle; ${DATA} settle; write(1, words[1]); settle; write(0, words[0]); settle;`),
  },
  {
    name: "no-settle",
    about: "the bridge may write a record's words in any order",
    shownBy: { workload: "matching-frame-017", by: "single" },
    edit: committing(`write(0, 0); ${DATA} write(1, words[1]); write(0, words[0]); settle;`),
  },
  {
    name: "no-settle-after-invalidation",
    about: "data may arrive before the old kind is gone",
    shownBy: { workload: "matching-burst", by: "single" },
    edit: committing(`settle; write(0, 0); ${DATA} settle; write(1, words[1]); settle; write(0, words[0]); settle;`),
  },
  {
    name: "no-settle-before-commit-word",
    about: "the new kind may arrive before the data",
    shownBy: { workload: "matching-frame-017", by: "single" },
    edit: committing(`settle; write(0, 0); settle; ${DATA} write(1, words[1]); write(0, words[0]); settle;`),
  },
  {
    name: "no-settle-before-word-1",
    about: "word 1 may arrive before the data",
    shownBy: "race",
    edit: committing(`settle; write(0, 0); settle; ${DATA} write(1, words[1]); settle; write(0, words[0]); settle;`),
  },
  {
    name: "seal-before-data",
    about: "seal and commit word before the data they speak for",
    shownBy: { workload: "matching-frame-017", by: "single" },
    edit: committing(
      "settle; write(0, 0); settle; write(count - 1, words[count - 1]); write(1, words[1]); settle; write(0, words[0]); " +
        "settle; for (i = 2; i < count - 1; i++) { write(i, words[i]); } settle;",
    ),
  },
  {
    name: "single-slot",
    about: "every frame into slot A",
    shownBy: { workload: "frames", by: "single" },
    edit: (source) => instead("tag->slot = slot == 0u;", "tag->slot = 0;")(instead("tag->slot ^= 1u;", "")(source)),
  },
  {
    name: "counters-in-one-place",
    about: "every count into the first copy",
    shownBy: { workload: "frames", by: "single" },
    edit: (source) =>
      instead(
        "tag->counters_copy = whole_a;",
        "tag->counters_copy = 0;",
      )(instead("tag->counters_copy ^= 1u;", "")(source)),
  },
  {
    name: "recovery-by-sequence-only",
    about: "the slot with the later sequence is taken for the newest, whole or not",
    shownBy: { workload: "sequence-wrap", by: "single" },
    edit: instead(
      "tag->slot = slot == 0u;",
      "slot = (uint16_t)(slots[1] - slots[PLY_FRAME_WORDS + 1u]) >= 0x8000u;\n    newest.sequence = slots[slot * PLY_FRAME_WORDS + 1u];\n    tag->slot = slot == 0u;",
    ),
  },
  {
    name: "seal-not-checked",
    about: "recovery believes a record by its kind",
    shownBy: { workload: "frames", by: "single" },
    edit: instead("if (ply_seal(words, (uint8_t)(length - 1u)) != words[length - 1u]) {", "if (0) {"),
  },
  {
    name: "sequence-starts-over",
    about: "the first frame of a start has sequence 0",
    shownBy: { workload: "frames", by: "single" },
    edit: instead(
      "    return tag->counters_word == 0u ||",
      "    ((ply_tag *)tag)->frame.sequence = 0;\n    return tag->counters_word == 0u ||",
    ),
  },
  {
    name: "frame-begun-is-forgotten",
    about: "the sequence of a frame whose commit was cut is used again",
    shownBy: { workload: "frames", by: "single" },
    edit: instead("slot != PLY_REASON_RECORD_EMPTY", "0"),
  },
  {
    name: "fruitless-start-is-forgotten",
    about: "the sequence that a start without a frame got to is used again",
    shownBy: { workload: "cold-start", by: "single" },
    edit: instead("tag->frame.sequence = tag->counters.fruitless_starts;", "tag->frame.sequence = 0;"),
  },
  {
    name: "no-confirm",
    about: "what reads whole after a cut is relied on although it may read torn later",
    shownBy: { workload: "frames", by: "pair" },
    edit: instead("if (!confirm(tag)) {", "if (tag == (void *)0 && !confirm(tag)) {"),
  },
  {
    name: "confirm-not-settled",
    about: "the other copy is given up while the confirmed one is still on its way",
    shownBy: { workload: "frames", by: "pair" },
    edit: instead(
      "if (!ply_port_bridge_settle() || !ply_port_bridge_write(word, 0)",
      "if (!ply_port_bridge_write(word, 0)",
    ),
  },
  {
    name: "counters-not-compared",
    about: "the first copy of the counters that is whole is taken for the newer",
    shownBy: { workload: "counters", by: "single" },
    edit: instead("(!whole_a || newer(&b, &tag->counters))", "(!whole_a || (newer(&b, &tag->counters) && 0))"),
  },
];

/** Edits that were tried and do no harm, each with the reason why. */
export const harmlessFirmware: readonly (Omit<WrongFirmware, "shownBy"> & { readonly why: string })[] = [
  {
    name: "no-settle-after-word-1",
    about: "word 0 may arrive before word 1",
    why: "a record with one word of an older one differs by one run of at most 16 bits, which the seal always finds",
    edit: committing(`settle; write(0, 0); settle; ${DATA} settle; write(1, words[1]); write(0, words[0]); settle;`),
  },
];

/** The module with that edit. Throws when the edit no longer fits the source. */
export function buildWrong({ edit }: Pick<WrongFirmware, "edit">): WebAssembly.Module {
  const sources = firmwareSources();
  const edited: FirmwareSources = { ...sources, "plyframe.c": edit(sources["plyframe.c"]) };
  if (edited["plyframe.c"] === sources["plyframe.c"]) throw new Error("the edit changes nothing");
  return new WebAssembly.Module(buildFirmware(edited));
}
