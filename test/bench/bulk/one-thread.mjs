/** Bundles the command once more, with a second thread for no file: node one-thread.mjs FOLDER. */
import { join, resolve } from "node:path";
import { build } from "vite";

const LIMIT = "32 * 1024 * 1024";
const root = resolve(import.meta.dirname, "../../..");
let changed = false;
await build({
  root,
  configFile: join(root, "vite.command.config.ts"),
  logLevel: "warn",
  build: { outDir: process.argv[2], emptyOutDir: true },
  plugins: [
    {
      name: "one-thread",
      enforce: "pre",
      transform(code, id) {
        if (!id.endsWith("/host/bulk/worker.ts")) return null;
        changed = code.includes(LIMIT);
        return code.replace(LIMIT, "Number.POSITIVE_INFINITY");
      },
    },
  ],
});
if (!changed) throw new Error("host/bulk/worker.ts does not say from which size on there are two threads");
