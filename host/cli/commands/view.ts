/** `plyframe view`: the bench page, served from this machine. */
import { randomUUID } from "node:crypto";
import { readFileSync } from "node:fs";
import { formatFingerprint, layout } from "../../../protocol/index.ts";
import type { ChannelPlan } from "../../reader/reader.ts";
import type { AmbientSource } from "../../readings/ambient.ts";
import { BenchFeed, type FeedFacts } from "../../view/bench-feed.ts";
import { Guide } from "../../view/guide.ts";
import { TICK_MS } from "../../view/messages.ts";
import { type PageFiles, readPage } from "../../view/page-files.ts";
import { Pairing } from "../../view/pairing.ts";
import { ViewServer } from "../../view/view-server.ts";
import { ambientSource, NO_BAROMETER } from "../ambient-option.ts";
import { CommandError, EXIT, systemSentence } from "../exit.ts";
import { introduction } from "../introduction.ts";
import { llrpPort } from "../llrp-address.ts";
import { numberOption, seedOption } from "../number-option.ts";
import { packageFile } from "../package-file.ts";
import { openRecording } from "../recording.ts";
import { runSession } from "../session.ts";
import { simulatedPort } from "../simulated-port.ts";
import { siteMap } from "../sites.ts";
import { isSourceTrouble, openSource, sourceSentence } from "../source.ts";
import { type StopSignals, stopSignals } from "../stop-signals.ts";
import { note, say } from "../terminal.ts";
import { VERSION } from "../version.ts";
import { isLoopback, type ServeAddress, serveAddress, servedNames } from "../view/address.ts";
import { replay } from "../view/replay.ts";
import { shownPresence } from "../view/shown-presence.ts";
import { scenarioOf } from "./kit.ts";

export interface ViewOptions {
  readonly port?: string;
  readonly llrp?: string;
  readonly replay?: string;
  readonly scenario: string;
  readonly seed: string;
  readonly speed: string;
  readonly http?: string;
  readonly lan?: boolean;
  readonly tlsCert?: string;
  readonly tlsKey?: string;
  readonly period: string;
  readonly retry: string;
  readonly power?: string;
  readonly plan?: ChannelPlan;
  readonly ambient: string;
  readonly site: readonly string[];
  readonly capture?: string;
  readonly overwrite?: boolean;
}

/** What is read, in the words of the options. */
interface Source {
  readonly kind: FeedFacts["source"];
  readonly name: string;
  readonly scene: string | null;
  readonly sites: FeedFacts["sites"];
  /** Plays or reads until it is over or a person stops it. `ready` is called when there is something to see. */
  readonly run: (feed: BenchFeed, ready: () => AbortSignal) => Promise<AbortSignal>;
}

const HTTP_PORT = 4890;

export async function view(options: ViewOptions): Promise<void> {
  const address = addressOf(options);
  const tls = tlsOf(options);
  const speed = numberOption("--speed", options.speed, 0.1, 100);
  const periodMs = numberOption("--period", options.period, 10, 60_000);
  const source = sourceOf(options, speed, periodMs);
  const guide = new Guide(`plyframe ${VERSION}`);
  const facts: FeedFacts = {
    program: VERSION,
    session: randomUUID(),
    source: source.kind,
    source_name: source.name,
    scene: source.scene,
    speed: source.kind === "reader" ? 1 : speed,
    layout: layout.layout,
    fingerprint: formatFingerprint(layout.fingerprint),
    sites: source.sites,
    roundsPerSecond: source.kind === "replay" ? null : 1000 / periodMs,
  };
  const feed = new BenchFeed(facts, guide, () => performance.now());
  const pairing = options.lan ? new Pairing() : null;
  const server = serverOf({ feed, files: pageFiles(), pairing, tls, names: servedNames(address.host) });
  const port = await listening(server, address);
  const ticking = setInterval(() => feed.tick(), TICK_MS);
  let stop: StopSignals | null = null;
  // Until then Ctrl-C ends the program as it stands.
  const ready = () => {
    stop = stopSignals();
    welcome(address.host, port, tls ? "https" : "http", pairing, source.scene);
    return stop.signal;
  };
  try {
    const signal = await source.run(feed, ready);
    if (signal.aborted) return;
    note("The page stays until Ctrl-C.");
    await aborted(signal);
  } finally {
    (stop as StopSignals | null)?.release();
    clearInterval(ticking);
    await server.close();
  }
}

function welcome(host: string, port: number, scheme: string, pairing: Pairing | null, scene: string | null): void {
  for (const line of introduction()) note(line);
  if (scene !== null) note(`${scene}. Every number is simulated.`);
  const names = isLoopback(host) ? servedNames(host).slice(0, 1) : servedNames(host).filter((name) => !isOwn(name));
  for (const name of names) say(`The bench page: ${scheme}://${name}:${port}/`);
  if (pairing) say(`Pairing code, for this run only: ${pairing.code}`);
}

function isOwn(name: string): boolean {
  return isLoopback(name.replace(/^\[|\]$/g, ""));
}

function addressOf({ http, lan }: ViewOptions): ServeAddress {
  const address = http === undefined ? { host: lan ? "0.0.0.0" : "127.0.0.1", port: HTTP_PORT } : serveAddress(http);
  if (isLoopback(address.host) === (lan === true)) {
    const says = lan ? "reaches this machine only; --lan serves others" : "reaches other machines; that needs --lan";
    throw new CommandError(EXIT.usage, `--http ${http}: ${says}`);
  }
  return address;
}

function tlsOf({ tlsCert, tlsKey }: ViewOptions) {
  if (tlsCert === undefined && tlsKey === undefined) return null;
  if (tlsCert === undefined || tlsKey === undefined) {
    throw new CommandError(EXIT.usage, "--tls-cert and --tls-key: give both, or none");
  }
  const pem = (file: string) => {
    try {
      return readFileSync(file);
    } catch (error) {
      throw new CommandError(EXIT.device, systemSentence(file, error));
    }
  };
  return { cert: pem(tlsCert), key: pem(tlsKey) };
}

function pageFiles(): PageFiles {
  try {
    return readPage(packageFile("dist/page"));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error;
    throw new CommandError(EXIT.device, "the page is not built: npm run build makes it");
  }
}

function serverOf(options: Omit<ConstructorParameters<typeof ViewServer>[0], "onPairing">): ViewServer {
  const says = { paired: "paired", wrong: "gave a wrong code", closed: "gave a code, but too many were wrong" };
  try {
    return new ViewServer({ ...options, onPairing: (address, result) => note(`${address} ${says[result]}`) });
  } catch (error) {
    throw new CommandError(EXIT.device, `--tls-cert, --tls-key: ${(error as Error).message}`);
  }
}

async function listening(server: ViewServer, { host, port }: ServeAddress): Promise<number> {
  try {
    return await server.listen(host, port);
  } catch (error) {
    const taken = (error as NodeJS.ErrnoException).code === "EADDRINUSE";
    const says = taken ? "another program listens there" : (error as Error).message;
    throw new CommandError(EXIT.device, `${host}:${port}: ${says}`);
  }
}

function sourceOf(options: ViewOptions, speed: number, periodMs: number): Source {
  const given = [options.port, options.llrp, options.replay].filter((option) => option !== undefined);
  if (given.length > 1) throw new CommandError(EXIT.usage, "--port, --llrp and --replay: give one of them, or none");
  const ambient = ambientOf(options);
  const named = siteMap(options.site);
  if (options.replay !== undefined) {
    const file = options.replay;
    if (options.capture !== undefined) throw new CommandError(EXIT.usage, "--capture: a replay is a capture already");
    const run: Source["run"] = (feed, ready) => played(file, ambient, speed, feed, ready);
    return { kind: "replay", name: file, scene: null, sites: sitesOf(named), run };
  }
  const scenario = given.length === 0 ? scenarioOf(options.scenario, seedOption(options.seed)) : null;
  const kit = `kit --scenario ${options.scenario} --seed ${options.seed} --speed ${speed}`;
  const port = scenario ? simulatedPort(kit) : options.llrp === undefined ? options.port! : llrpPort(options.llrp);
  const settings = {
    port,
    ...(options.llrp !== undefined && { protocol: "llrp" as const }),
    periodMs,
    powerDbm: options.power === undefined ? null : numberOption("--power", options.power, -10, 40),
    plan: options.plan ?? null,
    ambient,
    capture:
      options.capture === undefined
        ? null
        : { file: options.capture, ...(scenario && { source: `exec:plyframe ${kit}` }) },
    linkLog: null,
    overwrite: options.overwrite === true,
    forS: null,
    retryS: numberOption("--retry", options.retry, 0, 1e6),
  };
  const scene = new Map(scenario?.tags.map(({ epc, site }) => [epc, site]));
  return {
    kind: scenario ? "simulated" : "reader",
    name: scenario ? `plyframe ${kit}` : port,
    scene: scenario?.title ?? null,
    sites: sitesOf(new Map([...scene, ...named])),
    run: (feed, ready) => live(settings, feed, ready),
  };
}

function sitesOf(sites: ReadonlyMap<string, string>): FeedFacts["sites"] {
  return [...sites].map(([epc, site]) => ({ epc, site }));
}

function ambientOf({ ambient, llrp }: ViewOptions): AmbientSource {
  const source = ambientSource(ambient);
  if (llrp === undefined || source.kind !== "kit_barometer") return source;
  note(NO_BAROMETER);
  return { kind: "none" };
}

type LiveSettings = Omit<Parameters<typeof runSession>[0], `on${string}`>;

async function live(settings: LiveSettings, feed: BenchFeed, ready: () => AbortSignal): Promise<AbortSignal> {
  let stop = new AbortController().signal;
  const result = await runSession({
    ...settings,
    onReady: () => {
      stop = ready();
      feed.began();
    },
    onReport: (report) => feed.report(report),
    onOutcome: (outcome) => feed.outcome(outcome),
    onTime: (nowUs, presence) => feed.present(shownPresence(presence.at(nowUs))),
    onLost: (sentence) => feed.lost(sentence),
    onTry: ({ attempt, waitS }) => feed.trying(attempt, waitS),
    onBack: () => feed.began(),
  });
  if (stop.aborted) return stop;
  if (result.lost !== null) {
    note(`plyframe: ${result.lost}`);
    process.exitCode = EXIT.device;
  }
  feed.ended(result.lost);
  return stop;
}

async function played(
  file: string,
  ambient: AmbientSource,
  speed: number,
  feed: BenchFeed,
  ready: () => AbortSignal,
): Promise<AbortSignal> {
  const source = await openSource(file);
  try {
    const recording = await openRecording(source);
    const stop = ready();
    if (recording.isLlrp && ambient.kind === "kit_barometer") note(NO_BAROMETER);
    const rejected = await replay(recording, ambient, speed, feed, stop);
    if (stop.aborted) return stop;
    note(recording.summary());
    if (rejected > 0) process.exitCode = EXIT.rejected;
    feed.ended(null);
    return stop;
  } catch (error) {
    if (!isSourceTrouble(error)) throw error;
    throw new CommandError(EXIT.device, sourceSentence(source.name, error));
  } finally {
    source.close();
  }
}

function aborted(signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    signal.addEventListener("abort", () => resolve());
    if (signal.aborted) resolve();
  });
}
