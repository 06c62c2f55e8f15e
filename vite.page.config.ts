/** Builds the client of the bench page into dist/page: npm run build:page. */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { Resvg } from "@resvg/resvg-js";
import { defineConfig, type Plugin } from "vite";

const ROOT = "host/page";

/** Sizes of the icon in pixels that home screens ask for. */
const ICON_SIZES = [192, 512];

/** The icon as PNG, for home screens that take no SVG, drawn from the one SVG. */
function icons(): Plugin {
  return {
    name: "icons",
    generateBundle() {
      const svg = readFileSync(`${ROOT}/public/icon.svg`, "utf8");
      for (const size of ICON_SIZES) {
        const png = new Resvg(svg, { fitTo: { mode: "width", value: size } }).render().asPng();
        this.emitFile({ type: "asset", fileName: `icon-${size}.png`, source: png });
      }
    },
  };
}

/** Tells the worker which files to keep, with a digest of their contents by which a browser sees that they are others. */
function keptFiles(): Plugin {
  return {
    name: "kept-files",
    enforce: "post",
    generateBundle: {
      order: "post",
      handler(_options, bundle) {
        const worker = bundle["worker.js"];
        if (worker?.type !== "chunk") throw new Error("worker.js was not built");
        const contents = new Map<string, string | Uint8Array>();
        for (const name of readdirSync(`${ROOT}/public`)) contents.set(name, readFileSync(`${ROOT}/public/${name}`));
        for (const [name, file] of Object.entries(bundle)) {
          if (file !== worker) contents.set(name, file.type === "chunk" ? file.code : file.source);
        }
        const names = [...contents.keys()].sort();
        const hash = createHash("sha256");
        for (const name of names) hash.update(name).update(contents.get(name)!);
        const files = names.map((name) => (name === "index.html" ? "./" : name));
        const built = JSON.stringify({ digest: hash.digest("hex").slice(0, 16), files });
        const before = worker.code;
        worker.code = before.replace(/["'`]FILES_OF_THE_BUILD["'`]/, JSON.stringify(built));
        if (worker.code === before) throw new Error("worker.js has no place for the list of files");
      },
    },
  };
}

/** What is there for other ends and is not used here stays out: no module of these rooms does anything by being loaded. */
const treeshake = { moduleSideEffects: (id: string) => !/\/(sim|protocol)\//.test(id) };

export default defineConfig({
  root: ROOT,
  base: "./",
  plugins: [icons(), keptFiles()],
  worker: { format: "es", rolldownOptions: { treeshake } },
  build: {
    outDir: "../../dist/page",
    emptyOutDir: true,
    target: "es2022",
    sourcemap: false,
    // A data: address would need an exception in the content security policy.
    assetsInlineLimit: 0,
    modulePreload: false,
    rolldownOptions: {
      treeshake,
      // A slow machine is no fault of the page's.
      checks: { bundlerTimings: false },
      input: { index: `${ROOT}/index.html`, worker: `${ROOT}/offline/worker.ts` },
      output: { entryFileNames: ({ name }) => (name === "worker" ? "worker.js" : "assets/[name]-[hash].js") },
    },
  },
});
