/** `plyframe calibrate` as a person uses it: the compiled program, files, a kit. */
import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { complaints, linesOf, plyframe, tcpKit, testFolder } from "../../support/plyframe.ts";

const RUN = resolve(import.meta.dirname, "../../../vectors/examples/bench-run.csv");
const lines = linesOf(readFileSync(RUN, "utf8"));
const B1 = "3066c4409047e14000004b01";
const B1_PASSWORD = "6c656701";

async function certificate(): Promise<{ folder: string; file: string; json: ReturnType<typeof JSON.parse> }> {
  const folder = testFolder();
  const file = join(folder, "certificate.json");
  const { status, stderr } = await plyframe([
    "calibrate",
    "fit",
    "--reuse-count",
    "1",
    "--validity",
    "none",
    "--out",
    file,
    RUN,
  ]);
  expect([status, stderr.split("\n")[0]]).toEqual([0, expect.stringContaining("not a medical device")]);
  return { folder, file, json: JSON.parse(readFileSync(file, "utf8")) };
}

describe("fit", () => {
  it("writes certificate, page and one JSON line that agree", async () => {
    const folder = testFolder();
    const [out, html] = [join(folder, "c.json"), join(folder, "c.html")];
    const ended = await plyframe(["calibrate", "fit", "--json", "--out", out, "--html", html, RUN]);
    expect([ended.status, complaints(ended)]).toEqual([0, []]);
    const printed = JSON.parse(ended.stdout);
    expect(JSON.parse(readFileSync(out, "utf8"))).toEqual(printed);
    expect(readFileSync(html, "utf8")).toContain(printed.block.words);
    // The example's cell: test/support/invented-bench-run.ts.
    expect(printed.model.coefficients[1]).toMatchObject({ term: "gain", value: expect.closeTo(1.0753, 2) });
  });

  it("names a bad row with file, line and column, goes on, and ends with status 1", async () => {
    const folder = testFolder();
    const bad = [...lines];
    bad[20] = bad[20]!.replace(/^(\d+,\d+,\w+,\d+),[^,]+/, "$1,twenty");
    writeFileSync(join(folder, "run.csv"), bad.join("\n"));
    const ended = await plyframe(["calibrate", "fit", "run.csv"], { cwd: folder });
    expect(complaints(ended)).toEqual([
      'plyframe: run.csv:21: reference_mmhg: a cell whose value is not of its kind ("twenty" is no number) [cell-invalid]',
    ]);
    expect(ended.status).toBe(1);
    expect(ended.stdout).toContain("98 points");
  });

  it("that cannot fit says why and prints no result", async () => {
    const ended = await plyframe(["calibrate", "fit", "-"], { input: "reference_mmhg,temperature_cel\n1,2\n" });
    expect(complaints(ended).at(-1)).toBe("plyframe: standard input: nothing could be fitted");
    expect([ended.status, ended.stdout]).toEqual([1, ""]);
  });

  it.each([
    [["--reference-uncertainty", "8"], "--reference-uncertainty 8: give it such as 8Pa"],
    [["--assume", "wind=3Pa"], "--assume wind=3Pa: give contribution=pressure"],
    [["--date", "2026-02-30"], "--date 2026-02-30: give a day"],
    [["--ambient", "20hPa"], "--ambient 20hPa: an ambient pressure lies between"],
  ])("refuses %j", async (options, sentence) => {
    const ended = await plyframe(["calibrate", "fit", ...options, RUN]);
    expect(complaints(ended)[0]).toContain(sentence);
    expect([ended.status, ended.stdout]).toEqual([2, ""]);
  });

  it("of a file that does not exist", async () => {
    const ended = await plyframe(["calibrate", "fit", "no.csv"], { cwd: testFolder() });
    expect([ended.status, complaints(ended)]).toEqual([3, ["plyframe: no.csv: does not exist"]]);
  });
});

describe("check", () => {
  it("passes the run the calibration was made of", async () => {
    const { file } = await certificate();
    const ended = await plyframe(["calibrate", "check", "--certificate", file, RUN]);
    expect([ended.status, ended.stderr.trim()]).toEqual([0, "Every point lies within what the uncertainties allow."]);
  });

  it("names a calibration past its date, and goes on", async () => {
    const folder = testFolder();
    const file = join(folder, "old.json");
    await plyframe(["calibrate", "fit", "--date", "2021-03-31", "--validity", "6", "--out", file, RUN]);
    const ended = await plyframe(["calibrate", "check", "--certificate", file, RUN]);
    const sentence = `plyframe: ${file}: the calibration is past its date: it was valid to 2021-09-30`;
    expect([ended.status, complaints(ended)]).toEqual([0, [sentence]]);
  });

  it("finds a tag whose offset moved by 120 Pa", async () => {
    const { folder, file } = await certificate();
    const moved = lines.map((line) => {
      const cells = line.split(",");
      if (!/^\d/.test(line)) return line;
      cells[5] = `${Number(cells[5]) + 120 * 128}`;
      return cells.join(",");
    });
    writeFileSync(join(folder, "moved.csv"), moved.join("\n"));
    const ended = await plyframe(["calibrate", "check", "--json", "--certificate", file, join(folder, "moved.csv")]);
    expect(ended.status).toBe(1);
    expect(complaints(ended)[0]).toMatch(/^plyframe: 99 of 99 points lie further off than the uncertainties allow/);
    expect(JSON.parse(linesOf(ended.stdout)[0]!).ratio).toBeGreaterThan(1);
  });
});

describe("write", () => {
  it("shows what would change; keeps off a locked tag and another sensor's; writes and reads back", async () => {
    const { file } = await certificate();
    const { port } = await tcpKit();
    const call = (...more: string[]) => plyframe(["calibrate", "write", "--port", port, ...more, file]);

    const dry = await call();
    expect([dry.status, dry.stdout]).toEqual([0, expect.stringContaining("Nothing was written (dry run)")]);
    expect(dry.stdout).toMatch(/offset +-118 Pa +-> +-11\d\.\d+ Pa/);

    const locked = await call("--write");
    expect(locked.status).toBe(3);
    expect(complaints(locked)[0]).toContain("it takes the tag's access password");
    const state = "nothing was written: copy 1 is whole, sensor 40001; copy 2 is whole, sensor 40001";
    expect(complaints(locked)[1]).toContain(state);

    const other = await call("--epc", B1.replace(/1$/, "2"), "--write");
    const sentence = "has sensor 40002, the calibration is of sensor 40001; nothing was written";
    expect([other.status, complaints(other)[0]]).toEqual([2, expect.stringContaining(sentence)]);

    const wet = await call("--password", B1_PASSWORD, "--write");
    const done = /Both copies written in 35 writes and read back\./;
    expect([wet.status, wet.stdout]).toEqual([0, expect.stringMatching(done)]);
  });

  it.each([
    ["hello", "neither a certificate nor hex digits [hex-bad-digit]"],
    ["4130 0000", "[record-too-short]"],
    [`${"4130 08bf 0000 9c41 00ff c49d 1411 352b 01a0 fe74 0252 0bb8 0026 1428 8506 "}0000`, "[checksum-mismatch]"],
  ])("refuses %j", async (text, sentence) => {
    const ended = await plyframe(["calibrate", "write", "--port", "tcp:127.0.0.1:1", "-"], { input: text });
    expect([ended.status, complaints(ended)[0]]).toEqual([2, expect.stringContaining(sentence)]);
  });
});

describe("reuse", () => {
  it("raises both counts on both copies, asks for a check and for retirement at the limit", async () => {
    const { port } = await tcpKit();
    const tag = ["--port", port, "--epc", B1, "--password", B1_PASSWORD];
    const dry = await plyframe(["calibrate", "reuse", ...tag]);
    expect(dry.stdout).toMatch(/reuse_since +0 +-> +1\n +reuse_count +1 +-> +2\nNothing was written/);
    const wet = await plyframe(["calibrate", "reuse", ...tag, "--retire-at", "2", "--write"]);
    expect(wet.status).toBe(0);
    expect(wet.stdout).toMatch(/Reuse cycle 2 of at most 2 counted: .* a check against the reference is due/);
    expect(wet.stdout).toContain("it is to be retired");
  });
});

describe("record", () => {
  it("takes a run from a kit by a steps file and answers, and fit reads it", async () => {
    const folder = testFolder();
    const { port } = await tcpKit();
    const steps = join(folder, "steps.csv");
    writeFileSync(steps, "reference_mmhg,direction\n45,up\n46,up\n");
    const out = join(folder, "run.csv");
    const ended = await plyframe(["calibrate", "record", "--port", port, "--epc", B1, "--steps", steps, "--out", out], {
      input: "\n45.8\n",
    });
    expect([ended.status, ended.stdout]).toEqual([0, ""]);
    expect(ended.stderr).toContain("2 steps: 2 taken, 0 skipped.");
    const recorded = linesOf(readFileSync(out, "utf8"));
    expect(recorded).toContain("# sensor_serial: 40001");
    expect(recorded).toContain("# ambient_uncertainty_pa: 12");
    expect(recorded.filter((line) => line.includes(",45.8,")).length).toBeGreaterThanOrEqual(8);
    const fit = await plyframe(["calibrate", "fit", "--json", out]);
    expect(complaints(fit).some((sentence) => sentence.endsWith("[points-too-few]"))).toBe(true);
    expect(JSON.parse(fit.stdout).run.points).toHaveLength(2);

    const several = await plyframe(["calibrate", "record", "--port", port]);
    expect([several.status, complaints(several)[0]]).toEqual([
      2,
      expect.stringContaining("several tags are in the field"),
    ]);
    const none = await plyframe(["calibrate", "record", "--port", port, "--epc", "3034"]);
    expect([none.status, complaints(none)[0]]).toEqual([3, "plyframe: tag 3034 was not seen within 3 s"]);
  });
});

describe("regress", () => {
  it("reads columns of blanks, powers, no constant, prediction and its inverse", async () => {
    const square = "x y\n1 1\n2 4.1\n3 8.9\n4 16\n";
    const fit = await plyframe(
      [
        "calibrate",
        "regress",
        "--json",
        "--response",
        "y",
        "--on",
        "x",
        "--degree",
        "2",
        "--no-intercept",
        "--at",
        "2",
        "-",
      ],
      { input: square },
    );
    expect(JSON.parse(fit.stdout)).toMatchObject({
      terms: ["x", "x^2"],
      prediction: { at: [2], value: expect.closeTo(4, 0) },
    });
    const line = await plyframe(["calibrate", "regress", "--response", "y", "--on", "x", "--from", "5", "-"], {
      input: "x,y\n1,2\n2,4\n3,6.1\n",
    });
    expect(line.stdout).toMatch(/inverse of 5: 2\.4\d+, standard uncertainty 0\.0\d+/);
  });

  it.each([
    ["x,y\n1,2\n2,far\n", ["--on", "x"], 1, '3: y: "far" is no number'],
    ["x,y\n1,2\n2,3\n", ["--on", "z"], 2, "no column z; there are x, y"],
    ["x,y\n1,2\n1,3\n1,4\n", ["--on", "x"], 1, "column 1 does not vary"],
  ])("says what is wrong with %j %j", async (input, on, status, sentence) => {
    const ended = await plyframe(["calibrate", "regress", "--response", "y", ...on, "-"], { input });
    expect([ended.status, complaints(ended)[0]]).toEqual([status, expect.stringContaining(sentence)]);
  });
});

describe("every example in the help texts", () => {
  it("that needs no device runs as it is pasted", async () => {
    const folder = testFolder();
    mkdirSync(join(folder, "vectors/examples"), { recursive: true });
    copyFileSync(RUN, join(folder, "vectors/examples/bench-run.csv"));
    const helps = await Promise.all(["fit", "regress", "check"].map((name) => plyframe(["calibrate", name, "--help"])));
    const examples = helps.flatMap(({ stdout }) =>
      [...stdout.matchAll(/^ {2}\$ plyframe (.*)$/gm)].map(([, words]) => words!),
    );
    expect(examples).toHaveLength(5);
    for (const example of examples) {
      const { status } = await plyframe(example.split(" "), { cwd: folder });
      expect([example, status]).toEqual([example, 0]);
    }
    expect(existsSync(join(folder, "certificate.html"))).toBe(true);
  });
});
