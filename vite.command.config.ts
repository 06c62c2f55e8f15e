/**
 * Bundles the command into dist/command, so that Node has few files to load, and its second thread into one CommonJS file
 * beside it, which starts sooner than a module: npm run build:command.
 */
import { build, defineConfig, type UserConfig } from "vite";

/** What is there for other ends and is not used here stays out: no module of these rooms does anything by being loaded. */
const treeshake = { moduleSideEffects: (id: string) => !/\/(sim|protocol)\//.test(id) };

const common = {
  ssr: { noExternal: ["commander", "papaparse", "picocolors"] },
  build: { ssr: true, outDir: "dist/command", target: "node20", minify: true },
} satisfies UserConfig;

const thread: UserConfig = {
  ...common,
  build: {
    ...common.build,
    emptyOutDir: false,
    rolldownOptions: {
      treeshake,
      input: { "block-worker": "host/bulk/block-worker.ts" },
      output: { format: "cjs", entryFileNames: "[name].cjs" },
    },
  },
};

export default defineConfig({
  ...common,
  plugins: [
    {
      name: "second-thread",
      renderChunk: (code) => code.replace("./block-worker.js", "./block-worker.cjs"),
      closeBundle: async () => {
        await build({ ...thread, configFile: false, logLevel: "warn" });
      },
    },
  ],
  build: {
    ...common.build,
    emptyOutDir: true,
    rolldownOptions: {
      treeshake,
      input: { main: "host/cli/main.ts" },
      output: { entryFileNames: "[name].js", chunkFileNames: "[name]-[hash].js" },
    },
  },
});
