import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { needs } from "../support/outside.ts";

needs("python3", () => {
  it("every vector file is what its maker writes", () => {
    const maker = fileURLToPath(new URL("../../vectors/make/make.py", import.meta.url));
    const { status, stderr } = spawnSync("python3", [maker, "--check"], { encoding: "utf8" });
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  });
});
