import { stat } from "node:fs/promises";
import type { Duplex } from "node:stream";
import { JoinedStream } from "./joined-stream.ts";
import { PortError, portError } from "./port-error.ts";

/** Bits a second, with 8 data bits, no parity, 1 stop bit. */
export const BAUD_RATE = 115_200;

const WATCH_MS = 500;

/** Opens a serial device by its path or COM name. The binding is loaded only here: it would slow every start down. */
export async function openSerial(path: string): Promise<Duplex> {
  const { SerialPort } = await import("serialport");
  const port = new SerialPort({ path, baudRate: BAUD_RATE, dataBits: 8, parity: "none", stopBits: 1, autoOpen: false });
  await new Promise<void>((resolve, reject) => {
    port.open((error) => (error ? reject(portError("cannot open", path, error)) : resolve()));
  });
  const vanished = () => stream.destroy(new PortError(`lost ${path}: the device vanished`));
  const unwatch = process.platform === "win32" ? () => undefined : await watchNode(path, vanished);
  const stream = new JoinedStream(port, port, (done) => {
    unwatch();
    if (port.isOpen) port.close(() => done());
    else done();
  });
  port.on("close", vanished);
  port.on("error", (error) => stream.destroy(portError("lost", path, error)));
  return stream;
}

/**
 * Looks now and then whether the device node is still the one that was opened. Needed because reading a terminal that was
 * hung up gives zero bytes, which the binding takes for "nothing yet" and asks again without end.
 */
async function watchNode(path: string, vanished: () => void): Promise<() => void> {
  const nodeId = () =>
    stat(path).then(
      ({ dev, ino }) => `${dev}:${ino}`,
      () => "gone",
    );
  const opened = await nodeId();
  const timer = setInterval(async () => {
    if ((await nodeId()) === opened) return;
    clearInterval(timer);
    vanished();
  }, WATCH_MS);
  timer.unref();
  return () => clearInterval(timer);
}
