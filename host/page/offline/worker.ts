/** Service worker: keeps the files of the page, so that it opens without its server. Readings are not its business. */

interface Extendable {
  waitUntil(done: Promise<unknown>): void;
}

interface Fetched extends Extendable {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

/** The part of a worker's own world that is used; the compiler's library of it does not go together with that of a page. */
interface WorkerWorld {
  addEventListener(type: "install" | "activate", listener: (event: Extendable) => void): void;
  addEventListener(type: "fetch", listener: (event: Fetched) => void): void;
  skipWaiting(): Promise<void>;
  readonly clients: { claim(): Promise<void> };
  readonly registration: { readonly scope: string };
}

const world = self as unknown as WorkerWorld;

/** Written by the build: the files beside this one, and a digest of their contents. */
const built = JSON.parse("FILES_OF_THE_BUILD") as { readonly digest: string; readonly files: readonly string[] };

const PREFIX = "plyframe-bench-";
const NAME = PREFIX + built.digest;

const kept = new Set(built.files.map((file) => new URL(file, world.registration.scope).href));
const front = new URL("./", world.registration.scope).href;

world.addEventListener("install", (event) => {
  event.waitUntil(
    caches
      .open(NAME)
      .then((cache) => cache.addAll([...kept].map((url) => new Request(url, { cache: "reload" }))))
      .then(() => world.skipWaiting()),
  );
});

world.addEventListener("activate", (event) => {
  const forget = async () => {
    const names = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== NAME);
    await Promise.all(names.map((name) => caches.delete(name)));
    await world.clients.claim();
  };
  event.waitUntil(forget());
});

world.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET") return;
  const url = new URL(request.url);
  url.hash = "";
  if (request.mode === "navigate" && url.href === front) event.respondWith(fromServerFirst(request));
  else if (kept.has(url.href)) event.respondWith(fromHereFirst(request, url.href));
});

/** The front page comes from the server while it is there, so that a page never meets a server of another version. */
async function fromServerFirst(request: Request): Promise<Response> {
  try {
    return await fetch(request);
  } catch {
    return (await caches.match(front)) ?? Response.error();
  }
}

async function fromHereFirst(request: Request, url: string): Promise<Response> {
  return (await caches.match(url)) ?? fetch(request);
}
