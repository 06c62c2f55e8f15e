/** The compiled command: what it prints, what it keeps, and its exit status. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { needs } from "../../support/outside.ts";
import { complaints, linesOf, plyframe, testFolder } from "../../support/plyframe.ts";
import { program } from "./programs.ts";
import { readTap } from "./tap.ts";
import { folder, group, vectors } from "./vectors.ts";

/** With a wait that no busy machine needs. */
const replay = (words: readonly string[]) => plyframe(["replay", "--timeout", "60", ...words]);

const kit = ["--", "python3", "-B", join(folder, "kits/python/kit.py")];

/** Right but for one case. */
const oneWrong = (id: string) =>
  program(
    `const right = new Map(${JSON.stringify(
      group("frames").map(({ given, expected }) => [
        given.map((pair) => pair.join("=")).join(" "),
        [
          expected.verdict,
          expected.reason,
          ...expected.keys.filter(({ level }) => level === "must").map(({ key, text }) => `${key}=${text}`),
        ]
          .filter((word) => word !== null)
          .join(" "),
      ]),
    )});
     const asked = rest.join(" ");
     say(id + " " + (asked === ${JSON.stringify(
       group("frames")
         .find((one) => one.id === id)!
         .given.map((pair) => pair.join("="))
         .join(" "),
     )} ? "bad record-empty" : right.get(asked)));`,
  );

needs("python3", () => {
  it("judges a kit that is right, with status 0 and nothing on standard error", async () => {
    const { status, stdout, stderr } = await replay(["--group", "frames", "--group", "slots", ...kit]);
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toContain(`vectors  ${vectors.version}, sha256 ${vectors.digest}`);
    const right = group("frames").length + group("slots").length;
    expect(linesOf(stdout).at(-1)).toBe(`${right} of ${right} right.`);
  });

  it("makes cases by a seed", async () => {
    const { status, stdout } = await replay(["--group", "made:slots", "--rounds", "20", "--seed", "4", ...kit]);
    expect(status).toBe(0);
    expect(stdout).toMatch(/^made:slots +20 +20 +0 +0 +0 +0$/m);
    expect(stdout).toContain("Cases were made with --seed 4.");
  });
});

describe("a program that is wrong in one case", () => {
  const id = "frame-temperature-minus-one";

  it("is told with the field and its place in the memory map, and status 1", async () => {
    const { status, stdout } = await replay(["--group", "frames", "--", ...oneWrong(id)]);
    expect(status).toBe(1);
    expect(stdout).toContain("frame  1 failure  protocol/MEMORY-MAP.md#record-frame");
    expect(stdout).toContain(`must ${id}: temperature one step below zero.`);
    expect(stdout).toContain("verdict   expected good, came bad record-empty");
    expect(stdout).toMatch(/places not judged: the program does not declare them\.$/m);
  });

  it("is kept in every form, all with the same numbers", async () => {
    const out = testFolder();
    const [junit, tap, html] = ["r.xml", "r.tap", "r.html"].map((name) => join(out, name)) as [string, string, string];
    const files = ["--junit", junit, "--tap", tap, "--html", html];
    const { status, stdout, stderr } = await replay(["--json", "--group", "frames", ...files, "--", ...oneWrong(id)]);
    expect(status).toBe(1);
    expect(linesOf(stderr)).toEqual([`wrote ${junit}`, `wrote ${tap}`, `wrote ${html}`]);
    const records = linesOf(stdout).map((line) => JSON.parse(line));
    // The stub only decodes.
    const asked = group("frames").filter(({ verb }) => verb === "decode").length;
    expect(records.filter(({ record }) => record === "case").length).toBe(asked);
    expect(records.at(-1)).toMatchObject({ record: "total", good: false, asked, right: asked - 1, must: 1 });
    expect(records[0].vectors_sha256).toBe(vectors.digest);
    const read = readTap(readFileSync(tap, "utf8"));
    expect([read.plan, read.tests.filter(({ ok }) => !ok).map(({ name }) => name)]).toEqual([asked, [`frames: ${id}`]]);
    expect(readFileSync(junit, "utf8")).toContain(`<testsuites name="plyframe replay" tests="${asked}" failures="1"`);
    const page = readFileSync(html, "utf8");
    expect(page).toContain(id);
    expect(page).toMatch(/href="[^"]*protocol\/MEMORY-MAP\.md#record-frame"/);
  });

  it("is let through by a list of expected failures, which then must not go stale", async () => {
    const list = join(testFolder(), "known.txt");
    const ask = () => replay(["--group", "frames", "--expect-failures", list, "--", ...oneWrong(id)]);
    writeFileSync(list, `${id} # an old one\nslots-b-newer\n`);
    expect(await ask()).toMatchObject({ status: 0 });
    writeFileSync(list, `${id}\nframe-ordinary\n`);
    const stale = await ask();
    expect(stale.status).toBe(1);
    expect(stale.stdout).toContain(
      "run: line 2 of the expected failures, frame-ordinary, passes: take it off the list",
    );
    writeFileSync(list, `${id}\nframe-no-such\n`);
    expect((await ask()).stdout).toContain("frame-no-such, is no case of these vectors");
  });
});

describe("wrong use", () => {
  // Wrong use is told before anything is started.
  const stub = ["/no/such/reader"];

  it.each([
    [[], /missing required argument/],
    [["--group", "moon", "--", ...stub], /--group moon: groups are .*frames/],
    [["--group", "made:slots", "--", ...stub], /--group made:slots: groups are/],
    [["--timeout", "soon", "--", ...stub], /--timeout soon/],
    [["--rounds", "2.5", "--", ...stub], /--rounds 2\.5: give a whole number/],
    [["--seed", "3", "--", ...stub], /go with --rounds/],
    [["--rounds", "3", "--path", "1:2", "--", ...stub], /--path 1:2/],
    [["--rounds", "3", "--seed", "1", "--path", "x", "--", ...stub], /--path x/],
  ])("%j has status 2", async (words, sentence) => {
    const ended = await replay([...words]);
    expect([ended.status, ended.stdout]).toEqual([2, ""]);
    expect(complaints(ended).join("\n")).toMatch(sentence);
  });

  it("of a list of expected failures has status 2 with its line, and 3 when there is none", async () => {
    const list = join(testFolder(), "known.txt");
    writeFileSync(list, "a b\n");
    const wrong = await replay(["--expect-failures", list, "--", ...stub]);
    expect([wrong.status, complaints(wrong)]).toEqual([
      2,
      [expect.stringMatching(/known\.txt: line 1: more than one word/)],
    ]);
    const missing = await replay(["--expect-failures", `${list}.not`, "--", ...stub]);
    expect([missing.status, complaints(missing)]).toEqual([3, [expect.stringMatching(/does not exist/)]]);
  });
});

describe("a program that cannot be tested has status 3", () => {
  it.each([
    ["is not there", () => ["/no/such/reader"], /^plyframe: \/no\/such\/reader: there is no such program$/],
    ["ends at its start", () => program("", { before: "process.exit(5);" }), /ended with status 5/],
    ["prints a banner", () => program("", { before: "say('Welcome');" }), /"Welcome"/],
    [
      "does not know the contract",
      () => program("", { greeting: "good contract=9 name=x fingerprint=028961a7 can=slots" }),
      /contract=9/,
    ],
  ])("when it %s", async (_, command, sentence) => {
    const ended = await replay(["--", ...command()]);
    expect([ended.status, ended.stdout]).toEqual([3, ""]);
    expect(complaints(ended).join("\n")).toMatch(sentence);
  });

  it("and so has a file that cannot be written", async () => {
    const ended = await replay([
      "--group",
      "frames",
      "--html",
      "/no/such/folder/r.html",
      "--",
      ...oneWrong("frame-ordinary"),
    ]);
    expect(ended.status).toBe(3);
    expect(complaints(ended)).toEqual([expect.stringMatching(/r\.html: does not exist/)]);
  });
});
