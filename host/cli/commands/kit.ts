/** `plyframe kit`: the reader kit in software, on standard input and output, a TCP port or a serial device. */
import { createServer } from "node:net";
import { Duplex } from "node:stream";
import { type Kit, makeKit, makeLlrpEndpoint, type Scenario, scenarios, serveKit } from "../../../sim/index.ts";
import { openPort } from "../../transport/port.ts";
import { PortError, portError } from "../../transport/port-error.ts";
import { CommandError, EXIT, systemSentence } from "../exit.ts";
import { llrpPort } from "../llrp-address.ts";
import { numberOption, seedOption } from "../number-option.ts";
import { note } from "../terminal.ts";

export interface KitOptions {
  readonly scenario: string;
  readonly seed: string;
  readonly speed: string;
  readonly listen?: string;
  readonly port?: string;
  /** Address to listen on; true when none was given. */
  readonly llrp?: string | true;
}

export async function kit(options: KitOptions): Promise<void> {
  const scenario = scenarioOf(options.scenario, seedOption(options.seed));
  const speed = numberOption("--speed", options.speed, 0.01, 1000);
  if (options.listen !== undefined && options.port !== undefined) {
    throw new CommandError(EXIT.usage, "--listen and --port: a kit answers on one of them at a time");
  }
  if (options.llrp !== undefined) {
    if (options.listen !== undefined || options.port !== undefined) {
      throw new CommandError(
        EXIT.usage,
        "--llrp: an LLRP reader listens on its own address; leave --listen and --port out",
      );
    }
    const address = llrpPort(options.llrp === true ? "127.0.0.1" : options.llrp);
    return listen(address, scenario, speed, llrpReader);
  }
  if (options.listen !== undefined) return listen(options.listen, scenario, speed, makeKit);
  if (options.port !== undefined) return device(options.port, scenario, speed);
  if (process.stdin.isTTY) note("plyframe kit: waiting for link bytes on standard input; --listen gives it a TCP port");
  const stdio = Duplex.from({ readable: process.stdin, writable: process.stdout });
  try {
    await serveKit(makeKit(scenario), stdio, { speed });
  } catch (error) {
    // The host has gone, which is how a session ends.
    if ((error as NodeJS.ErrnoException).code !== "EPIPE") throw error;
  }
}

/** A scenario by name with its seed; throws a CommandError of wrong use when there is none of that name. */
export function scenarioOf(name: string, seed: number): Scenario {
  const scenario = scenarios[name];
  if (scenario) return { ...scenario, seed };
  throw new CommandError(EXIT.usage, `--scenario ${name}: there are ${Object.keys(scenarios).join(", ")}`);
}

async function device(name: string, scenario: Scenario, speed: number): Promise<void> {
  try {
    const port = await openPort(name);
    note(`plyframe kit: ${scenario.name} on ${name}`);
    await serveKit(makeKit(scenario), port.stream, { speed });
  } catch (error) {
    if (error instanceof PortError) throw new CommandError(EXIT.device, error.message);
    throw error;
  }
}

/** Time 0 of a simulated LLRP reader is now; it speaks 1.1. */
function llrpReader(scenario: Scenario): Kit {
  return makeLlrpEndpoint(scenario, { startUtcUs: BigInt(Date.now()) * 1000n, supportedVersion: 2 });
}

/** Every connection gets a kit of its own, at its own time zero. */
function listen(address: string, scenario: Scenario, speed: number, make: (scenario: Scenario) => Kit): Promise<void> {
  const found = /^tcp:(.+):(\d+)$/.exec(address);
  if (!found) throw new CommandError(EXIT.usage, `--listen ${address}: give tcp:host:port`);
  const [, host, port] = found;
  if (Number(port) > 65_535) throw new CommandError(EXIT.usage, `--listen ${address}: a port is at most 65535`);
  return new Promise((resolve, reject) => {
    const server = createServer((socket) => {
      serveKit(make(scenario), socket, { speed }).catch((error) =>
        note(`plyframe kit: ${portError("lost", "a host", error).message}`),
      );
    });
    server.once("error", (error) => reject(new CommandError(EXIT.device, systemSentence(address, error))));
    server.once("close", resolve);
    server.listen(Number(port), host, () => {
      const bound = server.address();
      note(`plyframe kit: ${scenario.name} on tcp:${host}:${typeof bound === "object" && bound ? bound.port : port}`);
    });
  });
}
