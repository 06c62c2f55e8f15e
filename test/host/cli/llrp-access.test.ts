/** Tags counted and written through an LLRP reader: the simulated one, in a process of its own, over TCP. */
import { describe, expect, it } from "vitest";
import { complaints, linesOf, plyframe, start } from "../../support/plyframe.ts";

const TAG = ["--epc", "3066c4409047e14000004b01", "--password", "6c656701"];

/** The words that name a reader, running until the test is over. */
async function reader(): Promise<[string, string]> {
  const kit = start(["kit", "--llrp", "tcp:127.0.0.1:0", "--speed", "4"]);
  const [, address] = await kit.said(/tcp:(127\.0\.0\.1:\d+)/);
  return ["--llrp", address!];
}

describe("over LLRP", () => {
  it("an inventory names the four tags and how they are seen", async () => {
    const ended = await plyframe(["inventory", "--json", ...(await reader()), "--for", "3"]);
    expect([ended.status, complaints(ended)]).toEqual([0, []]);
    const tags = linesOf(ended.stdout).map((line) => JSON.parse(line));
    expect(tags.map(({ epc }) => epc).sort()).toEqual(
      ["01", "02", "03", "04"].map((end) => `3066c4409047e14000004b${end}`),
    );
    expect(tags.every(({ seen, sensor }) => seen > 0 && sensor.join() === "full_function_sensor")).toBe(true);
    // The reader goes at its own pace, so that no round can be said to be missed.
    expect(tags.map(({ missed }) => missed)).toEqual([null, null, null, null]);
  });

  it("an access password is written and read back", async () => {
    const ended = await plyframe(["write", ...(await reader()), ...TAG, "--new-password", "1234abcd"]);
    expect([ended.status, complaints(ended)]).toEqual([0, []]);
    expect(linesOf(ended.stdout)).toEqual([
      "RESERVED word  before  after",
      "            2  6c65    1234",
      "            3  6701    abcd",
      "The access password was written and read back with itself.",
    ]);
  });

  it("a lock is set and tried out without the password", async () => {
    const ended = await plyframe(["write", ...(await reader()), ...TAG, "--lock", "user=password"]);
    expect([ended.status, complaints(ended)]).toEqual([0, []]);
    expect(linesOf(ended.stdout).at(-1)).toBe("user is password: tried without the password.");
  });

  it("a reuse cycle is counted in both copies of the block", async () => {
    const ended = await plyframe(["calibrate", "reuse", ...(await reader()), ...TAG, "--write"]);
    expect([ended.status, complaints(ended)]).toEqual([0, []]);
    expect(ended.stdout).toMatch(/reuse_count +1 +-> +2/);
    expect(ended.stdout).toMatch(/Both copies written in \d+ writes and read back/);
  });

  it.each([["inventory"], ["write", ...TAG, "--lock", "user=password"], ["calibrate", "reuse", ...TAG]])(
    "%s wants one reader, not none and not two",
    async (...words) => {
      for (const places of [[], ["--port", "tcp:127.0.0.1:1", "--llrp", "127.0.0.1:1"]]) {
        const ended = await plyframe([...words, ...places]);
        expect(complaints(ended)).toEqual([expect.stringContaining("give --port (a reader kit) or --llrp")]);
        expect(ended.status).toBe(2);
      }
    },
  );
});
