/** `plyframe write` as a person runs it, against one tag whose every access the test sees and can spoil. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { complaints, linesOf, plyframe, testFolder } from "../../support/plyframe.ts";
import { ScriptedKit } from "../../support/scripted-kit.ts";
import { ScriptedTag } from "../../support/scripted-tag.ts";
import { calibration, torn, wordsOf } from "../readings/tag-words.ts";

const EPC_WORDS = [0x3034, 0x0123, 0x4567];
const EPC = "303401234567";
const OLD = 0x11112222;

/** Where the copies lie, by the memory map. */
const [COPY_1, COPY_2, COPY_WORDS] = [40, 56, 16];

const before = calibration();
const after = calibration({ offset: -15_000, gain: 1_127_000 });

async function bench(password = OLD) {
  const tag = new ScriptedTag(EPC_WORDS, password, before);
  const kit = await new ScriptedKit([{}], tag).listen();
  const write = (words: readonly string[], input = "") =>
    plyframe(["write", "--port", kit.port, "--epc", EPC, "--password", OLD.toString(16), ...words], { input });
  const copies = () => [COPY_1, COPY_2].map((word) => tag.banks.user.slice(word, word + COPY_WORDS));
  const writes = () => kit.journal.filter((step) => !step.startsWith("read"));
  return { tag, kit, write, copies, writes };
}

/** A file with a block in hex, as --calibration takes it. */
function blockFile(bytes: readonly number[]): string {
  const file = join(testFolder(), "block.hex");
  writeFileSync(file, Buffer.from(bytes).toString("hex"));
  return file;
}

describe("an access password", () => {
  it("is written and read back with itself", async () => {
    const { tag, kit, write } = await bench();
    const { status, stdout } = await write(["--new-password", "1234abcd"]);
    expect(linesOf(stdout)).toEqual([
      "RESERVED word  before  after",
      "            2  1111    1234",
      "            3  2222    abcd",
      "The access password was written and read back with itself.",
    ]);
    expect([status, tag.accessPassword]).toEqual([0, 0x1234abcd]);
    const [last, before] = [kit.journal.at(-1), kit.journal.lastIndexOf("write reserved 2")];
    expect([last, before]).toEqual(["read reserved 2", kit.journal.length - 2]);
  });

  it("is only shown by --dry-run", async () => {
    const { tag, write, writes } = await bench();
    const { status, stdout } = await write(["--new-password", "1234abcd", "--dry-run"]);
    expect(stdout).toContain("            3  2222    abcd\nNothing was written (dry run).");
    expect([status, tag.accessPassword, writes()]).toEqual([0, OLD, []]);
  });

  it("cut between its words is said to be half written, and finished by the same command", async () => {
    const { tag, kit, write } = await bench();
    tag.locks.access.closed = true;
    kit.spoil = (_, { kind, words }) => {
      if (kind !== "write") return null;
      tag.banks.reserved[2] = words[0]!;
      return "cut";
    };
    const cut = await write(["--new-password", "1234abcd"]);
    expect(complaints(cut)).toEqual([
      expect.stringContaining(
        "the access password may be half written; give the same command again to finish it (lost",
      ),
    ]);
    expect([cut.status, tag.accessPassword]).toEqual([3, 0x12342222]);
    kit.spoil = () => null;
    const again = await write(["--new-password", "1234abcd"]);
    expect([again.status, complaints(again), tag.accessPassword]).toEqual([0, [], 0x1234abcd]);
  });

  it("that was given wrongly changes nothing", async () => {
    const { tag, write, writes } = await bench(0x99999999);
    tag.locks.access.closed = true;
    const ended = await write(["--new-password", "1234abcd"]);
    expect(complaints(ended)).toEqual([`plyframe: tag ${EPC}: the access password could not be read (password_wrong)`]);
    expect([ended.status, tag.accessPassword, writes()]).toEqual([3, 0x99999999, []]);
  });

  it("is written although the tag is lost over every second access, and not when it never comes back", async () => {
    const lossy = await bench();
    lossy.kit.spoil = (access) => (access % 2 === 0 ? { result: "tag_lost", done: access % 4 === 0 } : null);
    expect((await lossy.write(["--new-password", "1234abcd"])).status).toBe(0);
    expect(lossy.tag.accessPassword).toBe(0x1234abcd);
    const gone = await bench();
    gone.kit.spoil = (access) => (access > 0 ? { result: "tag_lost", done: false } : null);
    const ended = await gone.write(["--new-password", "1234abcd"]);
    expect(complaints(ended)).toEqual([expect.stringContaining("give the same command again to finish it (tag_lost)")]);
    expect([ended.status, gone.tag.accessPassword]).toEqual([3, OLD]);
  });
});

describe("a calibration block", () => {
  it("goes into the second copy only after the first was read back", async () => {
    const { kit, write, copies } = await bench();
    const { status, stdout } = await write(["--calibration", blockFile(after)]);
    expect([status, copies()]).toEqual([0, [wordsOf(after), wordsOf(after)]]);
    expect(stdout).toMatch(/Both copies written in \d+ writes and read back\.\n$/);
    const { journal } = kit;
    const inCopy = (step: string, copy: number, kind: string) => {
      const [, word] = new RegExp(`^${kind} user (\\d+)$`).exec(step) ?? [];
      return word !== undefined && Number(word) >= copy && Number(word) < copy + COPY_WORDS;
    };
    const lastOfFirst = journal.map((step) => inCopy(step, COPY_1, "write")).lastIndexOf(true);
    const readBack = journal.findIndex((step, i) => i > lastOfFirst && inCopy(step, COPY_1, "read"));
    const body = journal.findIndex((step) => inCopy(step, COPY_2 + 1, "write"));
    expect(lastOfFirst).toBeGreaterThan(0);
    expect(readBack).toBeGreaterThan(lastOfFirst);
    expect(body).toBeGreaterThan(readBack);
  });

  it("whose first copy does not keep what was written leaves the second as it was", async () => {
    const { tag, kit, write, copies } = await bench();
    kit.spoil = () => {
      tag.banks.user[COPY_1 + 5] = 0x1234;
      return null;
    };
    const ended = await write(["--calibration", blockFile(after)]);
    expect([ended.status, copies()[1]]).toEqual([3, wordsOf(before)]);
    expect(ended.stderr).toContain("a copy does not read back as it was written");
    expect(complaints(ended).at(-1)).toMatch(/the update was interrupted after \d+ writes: .*same command again/);
  });

  it("is only shown by --dry-run, word by word and field by field", async () => {
    const { write, copies, writes } = await bench();
    const { status, stdout } = await write(["--calibration", blockFile(after), "--dry-run"]);
    expect([status, copies(), writes()]).toEqual([0, [wordsOf(before), wordsOf(before)], []]);
    const rows = linesOf(stdout).filter((line) => line.endsWith("*"));
    const [old, next] = [wordsOf(before), wordsOf(after)];
    const hex = (word: number) => word.toString(16).padStart(4, "0");
    const expected = next.flatMap((word, i) =>
      word === old[i] ? [] : [[`${i}`, hex(old[i]!), hex(old[i]!), hex(word), "*"]],
    );
    expect(rows.map((row) => row.trim().split(/\s+/))).toEqual(expected);
    expect(stdout).toMatch(/^ {2}offset .* -> /m);
    expect(stdout.endsWith("Nothing was written (dry run); a write brings both copies to the new words.\n")).toBe(true);
  });

  it.each([5, 15, 25, 38])("cut at access %i leaves a whole copy, and the same command finishes it", async (at) => {
    const { kit, write, copies } = await bench();
    const file = blockFile(after);
    kit.spoil = (access) => (access === at ? "cut" : null);
    const cut = await write(["--calibration", file]);
    expect(cut.status).toBe(3);
    expect(complaints(cut).at(-1)).toMatch(/interrupted after \d+ writes: .*Give the same command again to finish it$/);
    expect(
      [wordsOf(before), wordsOf(after)].some((whole) => copies().some((copy) => copy.join() === whole.join())),
    ).toBe(true);
    const again = await write(["--calibration", file]);
    expect([again.status, copies()]).toEqual([0, [wordsOf(after), wordsOf(after)]]);
  });

  it("of another sensor, or damaged, is wrong use and is not written", async () => {
    const { write, writes } = await bench();
    const other = await write(["--calibration", blockFile(calibration({ serial: 7 }))]);
    expect(complaints(other).at(-1)).toContain("has sensor 4711, the calibration is of sensor 7; nothing was written");
    const damaged = await write(["--calibration", blockFile(torn(after))]);
    expect(complaints(damaged)).toEqual([expect.stringMatching(/block\.hex: [^[]*\[checksum-mismatch\]$/)]);
    expect([other.status, damaged.status, writes()]).toEqual([2, 2, []]);
  });

  it("is refused by a locked tag whose password is another", async () => {
    const { tag, write, writes } = await bench(0x99999999);
    tag.locks.user.closed = true;
    const ended = await write(["--calibration", blockFile(after)]);
    expect(ended.status).toBe(3);
    expect(complaints(ended).at(-1)).toContain("gave password_wrong; it takes the tag's access password");
    expect(writes()).toEqual([]);
  });
});

describe("a lock", () => {
  it("is set and tried out without the password", async () => {
    const { tag, write } = await bench();
    const { status, stdout } = await write(["--lock", "user=password", "--lock", "access=password"]);
    expect([status, tag.locks.user, tag.locks.access]).toEqual([
      0,
      { closed: true, fixed: false },
      { closed: true, fixed: false },
    ]);
    expect(linesOf(stdout)).toEqual([
      "user -> password",
      "access -> password",
      "user is password: tried without the password.",
      "access is password: tried without the password.",
    ]);
  });

  it("that the tag says it set but does not hold is found out", async () => {
    const { kit, write } = await bench();
    kit.spoil = (_, { kind }) => (kind === "lock" ? { result: "done", done: false } : null);
    const ended = await write(["--lock", "user=password"]);
    expect(complaints(ended)).toEqual([
      `plyframe: tag ${EPC}: user is not password although the tag said it was done (open)`,
    ]);
    expect(ended.status).toBe(3);
  });

  it("is only shown by --dry-run, which asks for no confirmation", async () => {
    const { tag, write, writes } = await bench();
    const { status, stdout, stderr } = await write(["--lock", "user=never", "--dry-run"]);
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toBe("user -> never\nNothing was locked (dry run).\n");
    expect([writes(), tag.locks.user.fixed]).toEqual([[], false]);
  });

  it.each([
    ["the wrong digits", "01234568\n"],
    ["an empty line", "\n"],
    ["nothing", ""],
    ["yes", "yes\n"],
  ])("for good is not set when %s were typed", async (_, input) => {
    const { kit, write } = await bench();
    const ended = await write(["--lock", "user=never"], input);
    expect(ended.stderr).toContain(`This cannot be undone on tag ${EPC}: user never.`);
    expect(complaints(ended)).toEqual(["plyframe: not confirmed: nothing was written"]);
    expect([ended.status, kit.connections]).toEqual([2, 0]);
  });

  it("for good is set when the end of the EPC was typed", async () => {
    const { tag, write } = await bench();
    const ended = await write(["--lock", "user=never"], "01234567\n");
    expect([ended.status, tag.locks.user]).toEqual([0, { closed: true, fixed: true }]);
    expect(ended.stdout).toContain("user is never: tried without the password.");
  });

  it("is not set with a wrong password, and says so", async () => {
    const { tag, write } = await bench(0x99999999);
    const ended = await write(["--lock", "user=password"]);
    expect(complaints(ended)).toEqual([`plyframe: tag ${EPC}: the lock was not set (password_wrong)`]);
    expect([ended.status, tag.locks.user.closed]).toEqual([3, false]);
  });

  it("of a reader that goes away may be set or not, and that is said", async () => {
    const { kit, write } = await bench();
    kit.spoil = (_, { kind }) => (kind === "lock" ? "cut" : null);
    const ended = await write(["--lock", "user=password"]);
    expect(complaints(ended)).toEqual([
      expect.stringContaining("the lock may be set or not; give the same command again"),
    ]);
    expect(ended.status).toBe(3);
  });
});

describe("wrong use of write", () => {
  it.each([
    [["--lock", "user"], "--lock user: give AREA=STATE"],
    [["--lock", "moon=open"], "--lock moon=open: give AREA=STATE"],
    [["--new-password", "123456789"], "--new-password: give up to eight hex digits"],
    [["--calibration", "no-such-file"], "no-such-file: does not exist"],
  ])("%j", async (words, says) => {
    const { kit, write } = await bench();
    const ended = await write(words);
    expect(complaints(ended)).toEqual([expect.stringContaining(says)]);
    expect([ended.status, kit.connections]).toEqual([says.includes("exist") ? 3 : 2, 0]);
  });

  it("nothing to write, half an EPC, a port that is not there", async () => {
    const nothing = await plyframe(["write", "--port", "tcp:127.0.0.1:1", "--epc", EPC]);
    expect(complaints(nothing)[0]).toMatch(/^plyframe: nothing to write: give --calibration, --new-password/);
    const half = await plyframe(["write", "--port", "tcp:127.0.0.1:1", "--epc", "30340", "--lock", "user=open"]);
    expect(complaints(half)).toEqual(["plyframe: --epc 30340: give whole words of hex digits"]);
    const away = await plyframe(["write", "--port", "tcp:127.0.0.1:1", "--epc", EPC, "--lock", "user=open"]);
    expect(complaints(away)).toEqual(["plyframe: cannot open tcp:127.0.0.1:1: nothing listens there"]);
    expect([nothing.status, half.status, away.status]).toEqual([2, 2, 3]);
  });
});
