/** `plyframe write --kill` on one kit whose tags remember what was done to them from command to command. */
import { type AddressInfo, createServer } from "node:net";
import { expect, it, onTestFinished } from "vitest";
import { nameOf } from "../../../protocol/codec/record.ts";
import { makeKit, serveKit } from "../../../sim/index.ts";
import { trainingLeg } from "../../../sim/scenario/training-leg.ts";
import { LinkHost } from "../../sim/support/link-host.ts";
import { complaints, linesOf, plyframe, tcpKit } from "../../support/plyframe.ts";

const { epc, accessPassword } = trainingLeg.tags[0]!;
const ACCESS = accessPassword.toString(16);
const KILL = "1f2e3d4c";

/** A port to a kit whose first tag can be killed, which no tag in service can. */
async function killable(): Promise<string> {
  const kit = makeKit(trainingLeg);
  const place = { password: accessPassword, bank: 0, pointer: 0, word_count: 2, epc_words: 6 };
  const host = new LinkHost(kit);
  const words = epc.match(/.{4}/g)!.map((word) => Number.parseInt(word, 16));
  expect(nameOf(host.ask("write", place, { epc: words, words: [0x1f2e, 0x3d4c] }).content, "result")).toBe("done");
  let nowUs = host.nowUs;
  const server = createServer((socket) => {
    // Time goes on where the last connection left it.
    const beginUs = nowUs;
    const advance = (toUs: number) => kit.advance((nowUs = Math.max(nowUs, beginUs + toUs)));
    const served = { receive: (bytes: Uint8Array) => kit.receive(bytes), advance, take: () => kit.take() };
    serveKit(served, socket, { speed: 1 }).catch(() => undefined);
  });
  onTestFinished(() => void server.close());
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  return `tcp:127.0.0.1:${(server.address() as AddressInfo).port}`;
}

const write = (port: string, words: readonly string[], input = "") =>
  plyframe(["write", "--port", port, "--epc", epc, ...words], { input });

it("ends a tag for whoever types its whole EPC, and only for them", async () => {
  const port = await killable();
  const dry = await write(port, ["--kill", KILL, "--password", ACCESS, "--dry-run"]);
  expect([dry.status, linesOf(dry.stdout)]).toEqual([
    0,
    ["The kill password is the tag's own.", "The tag was left alive (dry run)."],
  ]);

  for (const typed of ["", "yes\n", `${epc.slice(-8)}\n`]) {
    const refused = await write(port, ["--kill", KILL], typed);
    expect([refused.status, refused.stdout]).toEqual([2, ""]);
    expect(refused.stderr).toContain(`This ends tag ${epc} for good: it never answers again.`);
    expect(complaints(refused)).toEqual(["plyframe: not confirmed: nothing was written"]);
  }

  const other = await write(port, ["--kill", "1f2e3d4d"], `${epc}\n`);
  expect([other.status, complaints(other)]).toEqual([
    3,
    [`plyframe: tag ${epc}: it was not killed and still answers (tag_lost)`],
  ]);
  const compared = await write(port, ["--kill", "1f2e3d4d", "--password", ACCESS], `${epc}\n`);
  expect([compared.status, complaints(compared)]).toEqual([
    3,
    [`plyframe: tag ${epc}: its kill password is another; nothing was done`],
  ]);

  const killed = await write(port, ["--kill", KILL, "--password", ACCESS], `${epc.toUpperCase()}\n`);
  expect([killed.status, linesOf(killed.stdout)]).toEqual([
    0,
    ["The kill password is the tag's own.", "The tag said that it is dead, and answers no more."],
  ]);
  const again = await write(port, ["--kill", KILL], `${epc}\n`);
  expect([again.status, complaints(again)]).toEqual([
    3,
    [`plyframe: tag ${epc}: it does not answer; nothing was done`],
  ]);
});

it("does nothing to a tag in service, and says why", async () => {
  const { port } = await tcpKit();
  const asked = await write(port, ["--kill", KILL, "--password", ACCESS, "--dry-run"]);
  expect([asked.status, complaints(asked)]).toEqual([
    3,
    [`plyframe: tag ${epc}: its kill password is zero, so that it cannot be killed`],
  ]);
  const blind = await write(port, ["--kill", KILL], `${epc}\n`);
  expect(linesOf(blind.stdout)).toEqual(["The tag's own kill password could not be compared (tag_memory_locked)."]);
  expect([blind.status, complaints(blind)]).toEqual([
    3,
    [`plyframe: tag ${epc}: it was not killed and still answers (tag_error)`],
  ]);
});

it.each([
  [["--kill", "0"], "--kill 0: a kill password of zero never kills"],
  [["--kill", "dead beef"], "--kill: give up to eight hex digits"],
  [["--kill", KILL, "--lock", "user=open"], "--kill stands alone: a dead tag keeps nothing that is written"],
])("refuses %j before it opens the port", async (words, says) => {
  const ended = await write("tcp:127.0.0.1:1", words, `${epc}\n`);
  expect([ended.status, complaints(ended)]).toEqual([2, [`plyframe: ${says}`]]);
});
