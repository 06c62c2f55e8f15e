/** The certificate: JSON by its schema, HTML that needs nothing from outside and prints to two sheets. */
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Ajv2020 from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import { describe, expect, it } from "vitest";
import { type Certificate, certificateOf } from "../../../host/calibrate/certificate.ts";
import { certificateHtml } from "../../../host/calibrate/certificate-html.ts";
import { cautions } from "../../../host/readings/cautions.ts";
import { needs } from "../../support/outside.ts";
import { testFolder } from "../../support/plyframe.ts";
import { calibrateInvented } from "./settings.ts";

const schema = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../../vectors/schema/${name}.schema.json`, import.meta.url), "utf8"));
const ajv = new Ajv2020.default({ strict: true, allowUnionTypes: true });
addFormats.default(ajv);
ajv.addSchema(schema("bench-run"));
const valid = ajv.compile(schema("certificate"));

function certificate(made: ReturnType<typeof calibrateInvented>): Certificate {
  return certificateOf({ ...made, result: made.result! }, "plyframe test");
}

const full = certificate(calibrateInvented());
const poor = certificate(
  calibrateInvented(
    3,
    {},
    { levelsMmhg: [0], temperaturesC: [30], cycles: 1, hold: false },
    { reference: null, reuseLimit: null, validityMonths: null, epc: null },
  ),
);
const named = [
  ["of a full run", full],
  ["of a run that shows little", poor],
] as const;

describe.each(named)("a certificate %s", (_, made) => {
  it("fits the schema, as JSON", () => {
    const read = JSON.parse(JSON.stringify(made));
    expect(valid(read) ? null : valid.errors).toBeNull();
    expect(read).toEqual(made);
  });

  it("is a page without script and without anything from outside", () => {
    const html = certificateHtml(made);
    expect(html).not.toMatch(/<script|<link|<img|<iframe|@import|url\(/);
    expect(html.match(/(?:src|href)=/g)).toBeNull();
    expect(
      [...html.matchAll(/https?:\/\/[^"<\s]+/g)]
        .map(([link]) => link)
        .filter((link) => !link.startsWith("http://www.w3.org/")),
    ).toEqual([]);
    for (const caution of cautions) expect(html).toContain(caution);
    expect(html.match(/<svg/g)).toHaveLength(4);
    expect(html).not.toMatch(/NaN|undefined|\[object/);
  });

  it("is told apart by the schema when a member is missing", () => {
    const { budget: _budget, ...rest } = JSON.parse(JSON.stringify(made));
    expect(valid(rest)).toBe(false);
  });
});

describe("what a certificate says", () => {
  it("the points with their errors by the block, within the stated uncertainty", () => {
    expect(full.run.points).toHaveLength(99);
    const worst = Math.max(...full.run.points.map(({ error_pa }) => Math.abs(error_pa)));
    expect(worst).toBeGreaterThan(5);
    expect(worst).toBeLessThan(full.budget.expanded_pa!);
  });

  it("its validity, to the day", () => {
    expect([full.date, full.valid_until]).toEqual(["2026-02-17", "2026-08-17"]);
    expect(poor.valid_until).toBeNull();
  });

  it("names what is hostile as text", () => {
    const html = certificateHtml({ ...full, note: '<script>alert("x")</script>', reference: "a & b" });
    expect(html).not.toContain("<script>");
    expect(html).toContain("a &amp; b");
  });
});

needs("chromium", () => {
  it("prints to two sheets of A4", () => {
    const folder = testFolder();
    const [page, pdf] = [join(folder, "certificate.html"), join(folder, "certificate.pdf")];
    writeFileSync(page, certificateHtml(full));
    const print = ["--headless", "--no-sandbox", "--disable-gpu", `--user-data-dir=${join(folder, "profile")}`];
    execFileSync("chromium", [...print, "--no-pdf-header-footer", `--print-to-pdf=${pdf}`, `file://${page}`], {
      stdio: "ignore",
    });
    const text = readFileSync(pdf, "latin1");
    expect(text.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(2);
    expect(text).toMatch(/\/MediaBox \[0 0 59[45][.\d]* 84[12][.\d]*\]/);
  });
});
