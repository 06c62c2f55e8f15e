/** Arrows between the rooms, drawn in DEVELOPERS.md. Run: npm run arrows. */

/** A room by its path from the project's root. */
const room = (path) => ({ path: `^${path}` });

/** Inside protocol/, each room with those it may import beside itself. */
const protocolArrows = {
  "protocol/bytes/": [],
  "protocol/model/": ["protocol/bytes/"],
  "protocol/spec/": ["protocol/bytes/", "protocol/model/"],
  "protocol/codec/": ["protocol/bytes/", "protocol/model/", "protocol/emitted/"],
  "protocol/epc/": ["protocol/bytes/", "protocol/model/"],
  "protocol/link/": ["protocol/bytes/", "protocol/model/", "protocol/codec/"],
  "protocol/llrp/": ["protocol/bytes/", "protocol/model/"],
  "protocol/emit/": ["protocol/bytes/", "protocol/model/"],
  "protocol/emitted/": ["protocol/model/"],
};

const insideProtocol = Object.entries(protocolArrows).map(([from, allowed]) => ({
  name: `arrows-of-${from.replaceAll("/", "-").replace(/-$/, "")}`,
  comment: `${from} may import ${["itself", ...allowed].join(", ")} and nothing else of protocol/.`,
  severity: "error",
  from: room(from),
  to: { path: "^protocol/", pathNot: [from, ...allowed].map((path) => `^${path}`) },
}));

/** The only files of protocol/ that may import a package, and the packages. */
const PARSER_FILES = "^protocol/(emitted/parsers|codec/parser)\\.ts$";
const PARSER_PACKAGES = "^node_modules/(binary-parser|crc)/";

module.exports = {
  forbidden: [
    {
      name: "no-circle",
      comment: "A circle between files has no first one to read.",
      severity: "error",
      from: {},
      to: { circular: true },
    },
    {
      name: "no-orphan",
      comment: "A file that nothing imports and that is no entry or test is dead.",
      severity: "error",
      from: {
        orphan: true,
        pathNot: ["\\.d\\.ts$", "^test/.*\\.test\\.ts$", "^[^/]+$", "^host/page/offline/worker\\.ts$"],
      },
      to: {},
    },
    {
      name: "resolvable",
      comment: "An import that resolves to nothing.",
      severity: "error",
      from: {},
      to: { couldNotResolve: true },
    },
    {
      name: "no-development-package",
      comment: "What is shipped must not need a package that only development installs.",
      severity: "error",
      from: { path: "^(protocol|sim|host)/", pathNot: "^host/dev/" },
      to: { dependencyTypes: ["npm-dev", "npm-no-pkg", "npm-unknown"], dependencyTypesNot: ["type-only"] },
    },
    {
      name: "protocol-imports-nothing",
      comment: "protocol/ runs in a browser as it is: no other room, no Node module, no package.",
      severity: "error",
      from: { path: "^protocol/", pathNot: PARSER_FILES },
      to: { pathNot: "^protocol/" },
    },
    {
      name: "parser-imports-two-packages",
      comment: "The binary-parser decoder may use binary-parser and crc, and nothing else from outside.",
      severity: "error",
      from: { path: PARSER_FILES },
      to: { pathNot: ["^protocol/", PARSER_PACKAGES] },
    },
    ...insideProtocol,
    {
      name: "emitters-apart",
      comment: "An emitter sees the compiled layout, never another emitter.",
      severity: "error",
      from: { path: "^protocol/emit/([^/]+)" },
      to: { path: "^protocol/emit/", pathNot: "^protocol/emit/$1" },
    },
    {
      name: "sim-imports-protocol-only",
      comment:
        "sim/ is deterministic from scenario and seed: no host, no package, no Node module but the stream it serves on.",
      severity: "error",
      from: { path: "^sim/" },
      to: { pathNot: ["^sim/", "^protocol/", "^stream$"] },
    },
    {
      name: "host-meets-sim-on-a-byte-stream",
      comment: "Only the command line and the bench page put host and sim together, through sim's public entry.",
      severity: "error",
      from: { path: "^host/", pathNot: "^host/(cli|page)/" },
      to: { path: "^sim/" },
    },
    {
      name: "command-line-sees-sim-entry",
      severity: "error",
      comment: "The command line and the bench page import sim/index.ts, nothing behind it.",
      from: { path: "^host/(cli|page)/" },
      to: { path: "^sim/", pathNot: "^sim/index\\.ts$" },
    },
    {
      name: "command-line-is-last",
      comment: "The command line stands at the end of the road: no other room imports it.",
      severity: "error",
      from: { path: "^(protocol|sim|host)/", pathNot: "^host/cli/" },
      to: { path: "^host/cli/" },
    },
    {
      name: "page-runs-in-a-browser",
      comment:
        "The bench page must not reach a module of Node, nor binary-parser, whose code its security policy forbids.",
      severity: "error",
      from: { path: "^host/page/" },
      to: {
        path: [
          "^(node:)?(fs|net|http|https|os|path|tls|dgram|crypto|child_process|worker_threads|process|util|url|events|buffer|zlib)(/|$)",
          "^node_modules/(binary-parser|crc|serialport|ws)/",
        ],
        reachable: true,
      },
    },
    {
      name: "page-is-its-own",
      comment: "The bench page is built apart, for the browser: no other room imports it.",
      severity: "error",
      from: { path: "^(protocol|sim|host)/", pathNot: "^host/page/" },
      to: { path: "^host/page/" },
    },
    {
      name: "nothing-imports-tests",
      comment: "Tests look in; nothing looks at tests.",
      severity: "error",
      from: { path: "^(protocol|sim|host)/" },
      to: { path: "^test/" },
    },
  ],
  options: {
    doNotFollow: { path: "^node_modules/" },
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "node", "default", "types"] },
  },
};
