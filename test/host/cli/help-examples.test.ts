/** Every example in every --help runs when it is pasted; devices and ports are put where the examples look for them. */
import { chmodSync, mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { expect, it, onTestFinished } from "vitest";
import { needs } from "../../support/outside.ts";
import { PROGRAM, plyframe, start, startProgram, tcpKit, testFolder } from "../../support/plyframe.ts";
import { openPtyPair } from "../../support/pty-pair.ts";

/** Every command has some; a command without one would not be seen to be missing here. */
async function examples(): Promise<string[]> {
  const { stdout } = await plyframe(["--help"]);
  const commands = [...stdout.matchAll(/^ {2}([a-z]+) .*\[options\]/gm)].map(([, command]) => command!);
  const helps = await Promise.all(commands.map((command) => plyframe([command, "--help"])));
  return helps.flatMap(({ stdout }, i) => {
    const found = [...stdout.matchAll(/^ {2}\$ (plyframe .*|.* \| plyframe .*)$/gm)].map(([, line]) => line!);
    expect([commands[i], found.length > 0]).toEqual([commands[i], true]);
    return found;
  });
}

needs("socat", () => {
  it("every example runs", { timeout: 1_200_000 }, async () => {
    const folder = testFolder();
    mkdirSync(join(folder, "bin"));
    symlinkSync(resolve("vectors"), join(folder, "vectors"));
    const program = join(folder, "bin", "plyframe");
    writeFileSync(program, `#!/bin/sh\nexec "${process.execPath}" "${PROGRAM}" "$@"\n`);
    chmodSync(program, 0o755);
    const path = `${join(folder, "bin")}:${process.env.PATH}`;
    const shell = (command: string) =>
      startProgram("sh", ["-c", `trap : INT; ${command}`], {
        cwd: folder,
        env: { PATH: path },
        input: "",
        group: true,
      });

    const cable = await openPtyPair();
    onTestFinished(() => cable.pull());
    const { port } = await tcpKit();
    const llrp = start(["kit", "--llrp", "tcp:127.0.0.1:0"]);
    const [, llrpAddress] = await llrp.said(/tcp:(127\.0\.0\.1:\d+)/);

    const all = await examples();
    expect(all.length).toBeGreaterThan(20);
    for (const example of all) {
      const [reads, serves] = [example.startsWith("plyframe read"), example.startsWith("plyframe kit")];
      const here = example
        .replace("/dev/ttyUSB0", cable.near)
        .replace("/dev/ttyUSB1", cable.far)
        .replace("127.0.0.1:5084", serves && !reads ? "127.0.0.1:0" : llrpAddress!)
        .replace("tcp:127.0.0.1:4870", serves && !reads ? "tcp:127.0.0.1:0" : port)
        .replace(/^plyframe demo/, "plyframe demo --speed 30")
        .replace(/^plyframe view/, `plyframe view --http ${example.includes("--lan") ? "0.0.0.0" : "127.0.0.1"}:0`);
      const device = here.includes(cable.near) ? start(["kit", "--port", cable.far]) : null;
      await device?.said(/on /);
      const running = shell(here);
      if (serves && !reads) {
        await running.said(/plyframe kit: [a-z-]+ on /);
        running.stop("SIGTERM");
      } else if (reads && !here.includes("--for")) {
        await running.said(/first_sight/);
        running.stop("SIGINT");
      } else if (example.startsWith("plyframe view")) {
        await running.said(/The bench page: /);
        running.stop("SIGINT");
      }
      const { status, stderr } = await running.ended;
      if (!serves || reads)
        expect([example, status, stderr]).toEqual([example, expectedStatus(example), expect.any(String)]);
      device?.stop("SIGKILL");
      await device?.ended;
    }
  });
});

/** Part of a frame is given to explain on purpose; everything else is good. */
function expectedStatus(example: string): number {
  return example.startsWith("echo") ? 1 : 0;
}
