import { PassThrough } from "node:stream";
import { describe, expect, it } from "vitest";
import { JoinedStream } from "../../../host/transport/joined-stream.ts";

describe("JoinedStream", () => {
  it("holds the source back while nobody reads, and loses nothing", async () => {
    const source = new PassThrough();
    const stream = new JoinedStream(source, new PassThrough(), (done) => done());
    const sent = Buffer.from(Array.from({ length: 400_000 }, (_, i) => i % 251));
    for (let at = 0; at < sent.length; at += 1000) source.write(sent.subarray(at, at + 1000));
    await new Promise((resolve) => setImmediate(resolve));
    expect(stream.readableLength).toBeLessThan(sent.length / 2);
    source.on("end", () => stream.push(null));
    source.end();
    const got: Buffer[] = [];
    for await (const chunk of stream) got.push(chunk);
    expect(Buffer.concat(got).equals(sent)).toBe(true);
  });

  it("lets go of both ends once, and passes the reason on", async () => {
    let released = 0;
    const stream = new JoinedStream(new PassThrough(), new PassThrough(), (done) => {
      released++;
      done();
    });
    const error = new Promise((resolve) => stream.once("error", resolve));
    stream.destroy(new Error("the reason"));
    stream.destroy();
    expect(await error).toMatchObject({ message: "the reason" });
    expect(released).toBe(1);
  });
});
