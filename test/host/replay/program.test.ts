/** Programs that do everything wrong that a program can do between two lines. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it, onTestFinished, vi } from "vitest";
import { ProgramUnderTest } from "../../../host/replay/program.ts";
import { type Patience, Session } from "../../../host/replay/session.ts";
import { testFolder } from "../../support/plyframe.ts";
import { program } from "./programs.ts";

/** Long enough for any busy machine; only the silent programs wait for the short one. */
const [PATIENT_MS, SHORT_MS] = [60_000, 300];

/** The program with one wait for everything. */
function start(command: readonly string[], timeoutMs = PATIENT_MS) {
  const started = new ProgramUnderTest(command);
  onTestFinished(async () => void (await started.close(timeoutMs)));
  return {
    ask: (verb: string) => started.ask(verb, [], timeoutMs),
    close: (waitMs = timeoutMs) => started.close(waitMs),
    isRunning: () => started.isRunning,
    starts: () => started.starts,
  };
}

async function open(
  command: readonly string[],
  patience: Patience = { inARow: 5, inAll: 100 },
  timeoutMs = PATIENT_MS,
): Promise<Session> {
  const opened = await Session.open(command, timeoutMs, patience);
  if ("failure" in opened) expect.fail(opened.failure);
  onTestFinished(async () => void (await opened.session.close()));
  return opened.session;
}

describe("a program", () => {
  it("stays alive and is asked again", async () => {
    const one = start(program("say(id + ' good line=' + verb);"));
    for (const verb of ["a", "b", "c"])
      expect(await one.ask(verb)).toEqual({ kind: "answer", text: `good line=${verb}` });
    expect(one.starts()).toBe(1);
    expect(await one.close()).toBe(true);
  });

  it("may split an answer and end lines with CR LF", async () => {
    const one = start(
      program("process.stdout.write(id + ' go'); setImmediate(() => process.stdout.write('od a=1\\r\\n'));"),
    );
    expect(await one.ask("a")).toEqual({ kind: "answer", text: "good a=1" });
  });

  it.each([
    ["ends", "process.stderr.write('no more\\n'); process.exit(9);", "ended", /with status 9; it said: no more/],
    ["is killed", "process.kill(process.pid, 'SIGSEGV');", "ended", /by SIGSEGV/],
    ["answers another request", "say(Number(id) + 1 + ' good');", "wrong-id", /does not begin with "1 "/],
    ["answers without an id", "say('good');", "wrong-id", /"good"/],
    ["says nothing but the id", "say(id);", "wrong-id", /"1"/],
    ["says an empty line", "say('');", "wrong-id", /""/],
    ["says two lines", "say(id + ' good\\nthat was easy');", "extra-output", /that was easy/],
    ["begins another line", "process.stdout.write(id + ' good\\nand');", "extra-output", /more output/],
    ["never ends its line", "process.stdout.write('x'.repeat(200000));", "endless-line", /65536/],
    [
      "writes bytes that are no text",
      "process.stdout.write(Buffer.from([0xff, 0x00, 0x0a]));",
      "wrong-id",
      /does not begin/,
    ],
  ])("that %s is charged with it and started again", async (_, answer, loss, says) => {
    const one = start(program(`if (firstTime("once")) { ${answer} } else say(id + ' good again=1');`));
    expect(await one.ask("a")).toEqual({ kind: "lost", loss, says: expect.stringMatching(says) });
    expect(await one.ask("b")).toEqual({ kind: "answer", text: "good again=1" });
    expect(one.starts()).toBe(2);
  });

  it("that says nothing is charged with silence", async () => {
    const one = start(program(""), SHORT_MS);
    expect(await one.ask("a")).toMatchObject({ kind: "lost", loss: "silent", says: "no answer within 0.3 s" });
  });

  it("that speaks or ends between two requests is charged at the next one", async () => {
    const mark = join(testFolder(), "answered");
    const speaks = `say(id + ' good'); setInterval(() => existsSync(${JSON.stringify(mark)}) && say('by the way'), 5);`;
    const chatty = start(program(speaks));
    expect(await chatty.ask("a")).toMatchObject({ kind: "answer" });
    // Not before: else both lines may come at once.
    writeFileSync(mark, "");
    let next = await chatty.ask("b");
    for (let i = 0; i < 1000 && next.kind === "answer"; i++) next = await chatty.ask("c");
    expect(next).toMatchObject({ kind: "lost", says: expect.stringContaining("by the way") });

    const mayfly = start(program("say(id + ' good'); setTimeout(() => process.exit(0), 1);"));
    expect(await mayfly.ask("a")).toMatchObject({ kind: "answer" });
    await vi.waitUntil(() => !mayfly.isRunning(), { timeout: PATIENT_MS });
    expect(await mayfly.ask("b")).toMatchObject({
      kind: "lost",
      loss: "ended",
      says: expect.stringMatching(/status 0/),
    });
    expect(await mayfly.ask("c")).toMatchObject({ kind: "answer" });
  });

  it("that closes its input but goes on is charged with silence", async () => {
    const one = start(program("process.stdin.destroy(); setInterval(() => undefined, 1000);"), SHORT_MS);
    expect(await one.ask("a")).toMatchObject({ kind: "lost", loss: "silent" });
  });

  it("that is not there is not started", async () => {
    expect(await start(["/no/such/program"]).ask("hello")).toMatchObject({
      kind: "lost",
      loss: "not-started",
      says: "there is no such program",
    });
  });

  it("that does not end with its input is killed, and that is told", async () => {
    const stubborn = start(program("say(id + ' good');", { before: "setInterval(() => undefined, 1000);" }));
    await stubborn.ask("a");
    expect(await stubborn.close(SHORT_MS)).toBe(false);
    const limping = start(
      program("say(id + ' good');", { before: "process.on('exit', () => { process.exitCode = 4; });" }),
    );
    await limping.ask("a");
    expect(await limping.close()).toBe(false);
  });
});

describe("a session", () => {
  it.each([
    ["ends at its start", { before: "process.exit(3);" }, /ended with status 3/],
    ["prints a banner", { before: "say('Reader 1.0');" }, /does not begin with "1 "/],
    ["answers hello with nonsense", { greeting: "welcome" }, /cannot be read/],
  ])("is not opened with a program that %s", async (_, options, sentence) => {
    expect(await Session.open(program("", options), PATIENT_MS, { inARow: 5, inAll: 9 })).toEqual({
      failure: expect.stringMatching(sentence),
    });
  });

  it("greets a program that was started again, and goes on", async () => {
    const session = await open(program("if (verb === 'crash') process.exit(1); say(id + ' good id=' + id);"));
    expect(await session.ask("a", [])).toEqual({ kind: "answer", text: "good id=2" });
    expect(await session.ask("crash", [])).toMatchObject({ kind: "lost", loss: "ended" });
    expect(await session.ask("a", [])).toEqual({ kind: "answer", text: "good id=2" });
    expect(session.restarts).toBe(1);
    expect(session.givenUp).toBeNull();
  });

  it("gives a program up that is lost again and again", async () => {
    const session = await open(program("process.exit(1);"));
    for (let i = 0; i < 4; i++) await session.ask("a", []);
    expect(session.givenUp).toBeNull();
    await session.ask("a", []);
    expect(session.givenUp).toMatch(/5 lost answers in a row/);
  });

  it("gives a program up that is lost too often between good answers", async () => {
    const session = await open(program("if (verb === 'crash') process.exit(1); say(id + ' good');"), {
      inARow: 5,
      inAll: 3,
    });
    for (let i = 0; i < 3; i++) {
      expect(session.givenUp).toBeNull();
      await session.ask("crash", []);
      if (i < 2) await session.ask("a", []);
    }
    expect(session.givenUp).toMatch(/after 3 lost answers/);
  });

  it("charges a program that does not come back", async () => {
    const session = await open(program("process.exit(1);", { before: "if (!firstTime('started')) process.exit(7);" }));
    await session.ask("a", []);
    expect(await session.ask("b", [])).toMatchObject({
      kind: "lost",
      says: expect.stringMatching(/status 7/),
    });
  });
});
