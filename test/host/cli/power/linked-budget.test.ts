/** A budget at the power that the link of a match scenario brings to the chip. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { plyframe, testFolder } from "../../../support/plyframe.ts";

interface Answer {
  readonly assumed: readonly { readonly path: string; readonly value: unknown; readonly standing: string }[];
  readonly answers: readonly { readonly id: string; readonly value: number | null }[];
}

async function budget(...args: string[]) {
  const { status, stdout, stderr } = await plyframe(["budget", "--json", ...args]);
  expect([status, stderr]).toEqual([0, ""]);
  const { assumed, answers } = JSON.parse(stdout) as Answer;
  const level = (path: string) => assumed.find((one) => one.path === path);
  return { at: level("field.power_dbm")!, atOneMetre: level("link.power_at_1_m_dbm")!, rate: answers[1]!.value! };
}

it("stands on the chip power that match prints, and falls by free space from there", async () => {
  const dry = await budget("--match", "default");
  const { stdout } = await plyframe(["match"]);
  expect(stdout).toMatch(/power into the chip +-8\.8 +-12\.0 +dBm/);
  expect((dry.at.value as number).toFixed(1)).toBe("-8.8");
  expect((dry.at.value as number) - (dry.atOneMetre.value as number)).toBeCloseTo(20 * Math.log10(1 / 0.5), 1);
  expect(dry.at.standing).toBe("from the link of plyframe match, dry, 0.5 m");
});

it("samples more slowly through a wet dressing", async () => {
  const [dry, wet] = [await budget("--match", "default"), await budget("--match", "default", "--dressing", "wet")];
  // The wet layers of the scenario take 3.6 dB one way instead of 0.4.
  expect((dry.at.value as number) - (wet.at.value as number)).toBeCloseTo(3.2, 2);
  expect(wet.rate).toBeLessThan(dry.rate / 2);
});

it("takes the distance of a scenario of one's own, and names what is wrong in it", async () => {
  const file = join(testFolder(), "far.json");
  writeFileSync(file, '{"link": {"distance_m": 0.25}}');
  const near = await budget("--match", file);
  // Half of the default's 0.5 m: 6.02 dB more than the -8.83 dBm there.
  expect(near.at.value).toBeCloseTo(-8.83 + 6.02, 1);
  const { status, stderr } = await plyframe(["budget", "--match", "default", "--dressing", "damp"]);
  expect([status, stderr]).toEqual([2, "plyframe: --dressing damp: there are dry, wet\n"]);
});
