import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { plyframe } from "../../support/plyframe.ts";

describe("--version", () => {
  it("is the version of the package", async () => {
    const { version } = JSON.parse(readFileSync(new URL("../../../package.json", import.meta.url), "utf8"));
    expect(await plyframe(["--version"])).toEqual({ status: 0, stdout: `${version}\n`, stderr: "" });
  });
});
