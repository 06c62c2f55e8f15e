/** The files of the page, read once at the start: what is not among them is not served, whatever a request asks for. */
import { readdirSync, readFileSync } from "node:fs";
import { extname, join, relative, sep } from "node:path";
import { gzipSync } from "node:zlib";

export interface PageFile {
  readonly body: Buffer;
  /** Null where that saves nothing. */
  readonly gzip: Buffer | null;
  readonly type: string;
  /** Its name changes with its contents, so that a browser may keep it. */
  readonly lasting: boolean;
}

/** By path as a request asks for it: `/index.html`; `/` is the same. */
export type PageFiles = ReadonlyMap<string, PageFile>;

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".ico": "image/x-icon",
  ".json": "application/json",
  ".webmanifest": "application/manifest+json",
  ".woff2": "font/woff2",
  ".txt": "text/plain; charset=utf-8",
};

/** Reads a folder with the folders in it. Throws what the file system says when it is not there or holds no index.html. */
export function readPage(folder: string): PageFiles {
  const files = new Map<string, PageFile>();
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const type = TYPES[extname(entry.name)];
    if (!entry.isFile() || type === undefined) continue;
    const path = join(entry.parentPath, entry.name);
    const body = readFileSync(path);
    const packed = gzipSync(body, { level: 9 });
    const name = `/${relative(folder, path).split(sep).join("/")}`;
    const gzip = packed.length < body.length ? packed : null;
    files.set(name, { body, gzip, type, lasting: name.startsWith("/assets/") });
  }
  const index = files.get("/index.html");
  if (!index) throw Object.assign(new Error("no index.html"), { code: "ENOENT" });
  return files.set("/", index);
}
