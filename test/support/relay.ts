/** A TCP port of the test's own that passes bytes on to a kit which may die and come back; it keeps what each kit said. */
import { connect, createServer, type Socket } from "node:net";
import { onTestFinished } from "vitest";

export class Relay {
  /** `tcp:127.0.0.1:port`. */
  port = "";
  /** What the kits said, one entry for each connection that reached one, in order. */
  readonly said: Uint8Array[][] = [];
  #target: number | null = null;

  /** Connections reach the kit on this port; null: none is there, and they are closed again. */
  set target(port: number | null) {
    this.#target = port;
  }

  async listen(): Promise<this> {
    const sockets = new Set<Socket>();
    const server = createServer((near) => {
      sockets.add(near);
      near.on("error", () => undefined);
      if (this.#target === null) return void near.end();
      const far = connect(this.#target, "127.0.0.1");
      sockets.add(far);
      const heard: Uint8Array[] = [];
      this.said.push(heard);
      far.on("data", (bytes: Uint8Array) => {
        heard.push(bytes);
        near.write(bytes);
      });
      // What a kit said before it died still arrives.
      far.on("error", () => undefined);
      far.on("close", () => near.end());
      near.on("data", (bytes: Uint8Array) => far.write(bytes));
      near.on("close", () => far.destroy());
    });
    onTestFinished(() => {
      for (const socket of sockets) socket.destroy();
      server.close();
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    this.port = `tcp:127.0.0.1:${(server.address() as { port: number }).port}`;
    return this;
  }
}
