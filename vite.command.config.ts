/**
 * Bundles the command and its second thread into dist/command: npm run build:command. As CommonJS, of which Node loads one file
 * after the other at once; a graph of modules takes turns with everything else that starts.
 */
import { defineConfig } from "vite";

/** What is there for other ends and is not used here stays out: no module of these rooms does anything by being loaded. */
const treeshake = { moduleSideEffects: (id: string) => !/\/(sim|protocol)\//.test(id) };

/** Packages that every start needs; and those that are modules only, with what they stand on. */
const bundled = [
  ...["commander", "papaparse", "picocolors"],
  ...["hyparquet-writer", "hyparquet"],
  ...[
    "@observablehq/plot",
    /^d3(-|$)/,
    "binary-search-bounds",
    "delaunator",
    "internmap",
    "interval-tree-1d",
    "isoformat",
  ],
  "robust-predicates",
];

export default defineConfig({
  ssr: { noExternal: bundled },
  plugins: [
    {
      name: "says-commonjs",
      generateBundle() {
        this.emitFile({ type: "asset", fileName: "package.json", source: '{ "type": "commonjs" }\n' });
      },
    },
  ],
  build: {
    ssr: true,
    outDir: "dist/command",
    emptyOutDir: true,
    target: "node20",
    minify: true,
    rolldownOptions: {
      treeshake,
      // A slow machine is no fault of the command's.
      checks: { bundlerTimings: false },
      input: { main: "host/cli/main.ts", "block-worker": "host/bulk/block-worker.ts" },
      output: { format: "cjs", entryFileNames: "[name].js", chunkFileNames: "[name]-[hash].js" },
    },
  },
});
