/** The code that lets other machines in. */
import { describe, expect, it } from "vitest";
import { Pairing, TRIES_IN_ALL } from "../../../host/view/pairing.ts";
import { ask, client, served } from "../../support/view.ts";

/** A code of the same form that is another one. */
function otherThan({ code }: Pairing): string {
  return code.startsWith("0") ? `1${code.slice(1)}` : `0${code.slice(1)}`;
}

describe("a code", () => {
  it("is six characters that are not mistaken for others, another one in every run", () => {
    const codes = Array.from({ length: 200 }, () => new Pairing().code);
    expect(codes.every((code) => /^[0-9A-HJKMNP-TV-Z]{3}-[0-9A-HJKMNP-TV-Z]{3}$/.test(code))).toBe(true);
    expect(new Set(codes).size).toBe(200);
  });

  it("pairs, however it is typed", () => {
    const pairing = new Pairing();
    for (const typed of [
      pairing.code,
      pairing.code.toLowerCase(),
      pairing.code.replace("-", ""),
      ` ${pairing.code} `,
    ]) {
      const answer = pairing.pair(typed, "10.0.0.1", 0);
      expect(answer.kind).toBe("paired");
      expect(pairing.isPaired(answer.kind === "paired" ? answer.token : null)).toBe(true);
    }
  });

  it.each(["", "0", "000000", "x".repeat(1000), "'; --"])("is not %.20j", (typed) => {
    expect(new Pairing().pair(typed, "10.0.0.1", 0).kind).toBe("wrong");
  });

  it("gives every page a token of its own; no other is one", () => {
    const pairing = new Pairing();
    const [one, two] = [pairing.pair(pairing.code, "a", 0), pairing.pair(pairing.code, "a", 0)];
    if (one.kind !== "paired" || two.kind !== "paired") throw new Error("not paired");
    expect(one.token).toMatch(/^[0-9a-f]{64}$/);
    expect(one.token).not.toBe(two.token);
    for (const token of [null, "", "0".repeat(64), one.token.toUpperCase(), pairing.code]) {
      expect(pairing.isPaired(token)).toBe(false);
    }
    expect(new Pairing().isPaired(one.token)).toBe(false);
  });
});

describe("guessing", () => {
  it("is slowed for its address: 1 s, 2 s, 4 s and so on up to a minute, the right code too", () => {
    const pairing = new Pairing();
    const wrong = otherThan(pairing);
    let nowMs = 0;
    for (const waitS of [1, 2, 4, 8, 16, 32, 60, 60]) {
      expect(pairing.pair(wrong, "10.0.0.1", nowMs)).toEqual({ kind: "wrong" });
      expect(pairing.pair(pairing.code, "10.0.0.1", nowMs)).toEqual({ kind: "wait", seconds: waitS });
      expect(pairing.pair(pairing.code, "10.0.0.1", nowMs + waitS * 1000 - 1)).toEqual({ kind: "wait", seconds: 1 });
      nowMs += waitS * 1000;
    }
    expect(pairing.pair(pairing.code, "10.0.0.1", nowMs).kind).toBe("paired");
    // Who was let in begins anew.
    expect(pairing.pair(wrong, "10.0.0.1", nowMs)).toEqual({ kind: "wrong" });
    expect(pairing.pair(wrong, "10.0.0.1", nowMs)).toEqual({ kind: "wait", seconds: 1 });
  });

  it("by one address does not slow another", () => {
    const pairing = new Pairing();
    pairing.pair(otherThan(pairing), "10.0.0.1", 0);
    expect(pairing.pair(pairing.code, "10.0.0.2", 0).kind).toBe("paired");
  });

  it("ends for everybody after a hundred tries, from wherever they come; who is paired stays so", () => {
    const pairing = new Pairing();
    const before = pairing.pair(pairing.code, "friend", 0);
    for (let i = 0; i < TRIES_IN_ALL; i++)
      expect(pairing.pair(otherThan(pairing), `10.0.0.${i}`, 0).kind).toBe("wrong");
    expect(pairing.pair(pairing.code, "another", 1e9)).toEqual({ kind: "closed" });
    expect(before.kind === "paired" && pairing.isPaired(before.token)).toBe(true);
  });
});

describe("over HTTP", () => {
  const json = { "content-type": "application/json" };
  const of = (port: number) => ({ ...json, origin: `http://127.0.0.1:${port}` });
  const body = (code: unknown) => JSON.stringify({ code });

  it("a page without pairing hears nothing, and is told that it needs it", async () => {
    const { port } = await served(new Pairing());
    expect(await client(port).closed).toBe(401);
    expect(await client(port, { cookie: `plyframe-${port}=${"0".repeat(64)}` }).closed).toBe(401);
    expect(JSON.parse((await ask(port, "/pairing")).body)).toEqual({ needed: true, paired: false });
  });

  it("the right code gives a cookie that no script reads and no other site sends, and the feed", async () => {
    const pairing = new Pairing();
    const { port, pairings } = await served(pairing);
    const answer = await ask(port, "/pair", { method: "POST", headers: of(port), body: body(pairing.code) });
    expect(answer.status).toBe(204);
    const [set] = answer.headers["set-cookie"]!;
    expect(set).toMatch(new RegExp(`^plyframe-${port}=[0-9a-f]{64}; Path=/; HttpOnly; SameSite=Strict$`));
    const cookie = set!.split(";")[0]!;
    expect(JSON.parse((await ask(port, "/pairing", { headers: { cookie } })).body).paired).toBe(true);
    await client(port, { cookie: `other=1; ${cookie}` }).hears("hello");
    // Which of two would be meant cannot be known.
    expect(await client(port, { cookie: `${cookie}; plyframe-${port}=1` }).closed).toBe(401);
    expect(pairings).toEqual(["paired"]);
  });

  it("a wrong code is refused, and the next try waits", async () => {
    const pairing = new Pairing();
    const { port, pairings } = await served(pairing);
    const wrong = await ask(port, "/pair", { method: "POST", headers: of(port), body: body(otherThan(pairing)) });
    expect([wrong.status, wrong.headers["set-cookie"]]).toEqual([403, undefined]);
    expect(pairings).toEqual(["wrong"]);
  });

  it("a try too soon is told how long to wait", async () => {
    const pairing = new Pairing();
    const { port } = await served(pairing);
    // Six wrong tries from this address, the last of them just now: half a minute to wait.
    let nowMs = performance.now() - 32_000;
    for (const waitS of [1, 2, 4, 8, 16, 0]) {
      pairing.pair(otherThan(pairing), "127.0.0.1", nowMs);
      nowMs += waitS * 1000;
    }
    const answer = await ask(port, "/pair", { method: "POST", headers: of(port), body: body(pairing.code) });
    expect(answer.status).toBe(429);
    expect(Number(answer.headers["retry-after"])).toBeGreaterThan(0);
  });

  it("after too many wrong tries none is taken", async () => {
    const pairing = new Pairing();
    const { port } = await served(pairing);
    for (let i = 0; i < TRIES_IN_ALL; i++) pairing.pair(otherThan(pairing), `10.0.0.${i}`, 0);
    const answer = await ask(port, "/pair", { method: "POST", headers: of(port), body: body(pairing.code) });
    expect(answer.status).toBe(410);
  });

  it.each<[string, Record<string, string>, string, number]>([
    ["of a foreign site", { ...json, origin: "http://foreign.example" }, body("000-000"), 403],
    ["without an origin", json, body("000-000"), 403],
    ["that is a form", { "content-type": "application/x-www-form-urlencoded", origin: "SELF" }, "code=1", 415],
    ["that is no JSON", { ...json, origin: "SELF" }, "{", 400],
    ["without a code", { ...json, origin: "SELF" }, "{}", 400],
    ["whose code is no text", { ...json, origin: "SELF" }, body(7), 400],
    ["whose code is too long", { ...json, origin: "SELF" }, body("0".repeat(50)), 400],
    ["that is too long", { ...json, origin: "SELF" }, `${" ".repeat(5000)}${body("000-000")}`, 400],
  ])("a try %s is none", async (_, headers, text, status) => {
    const { port, pairings } = await served(new Pairing());
    const origin = headers.origin === "SELF" ? `http://127.0.0.1:${port}` : headers.origin;
    const sent = { ...headers, ...(origin !== undefined && { origin }) };
    expect((await ask(port, "/pair", { method: "POST", headers: sent, body: text })).status).toBe(status);
    expect(pairings).toEqual([]);
  });
});
