/** The bench page. */
import "./styles/palette.css";
import "./styles/page.css";
import { Feed } from "./feed/feed.ts";
import { Keeper } from "./offline/keeper.ts";
import { forgetFiles, keepFiles } from "./offline/kept-files.ts";
import { route, viewAt } from "./shell/router.ts";
import { makeShell, type Shell } from "./shell/shell.ts";
import { views } from "./shell/views.ts";
import { type Cupboard, languages, Preferences } from "./store/preferences.ts";
import { Store } from "./store/store.ts";
import { Text } from "./text/text.ts";

/** Null where the browser refuses storage. */
function cupboard(): Cupboard | null {
  try {
    return localStorage;
  } catch {
    return null;
  }
}

/** As chosen, else the first of the browser's languages that there is, else English. */
function textOf(preferences: Preferences): Text {
  const spoken = navigator.languages.map((language) => language.slice(0, 2));
  const found = spoken.find((code) => languages.some((language) => language === code));
  return new Text(preferences.get("language") ?? languages.find((language) => language === found) ?? "en");
}

const preferences = new Preferences(cupboard());
const store = new Store(preferences, () => performance.now());

// The first numbers do not wait for the browser's store.
const keeping = Keeper.open();

const feed = new Feed(store, {
  onMessage: (message) => void keeping.then((keeper) => keeper?.take(message)),
  onAbsent: () => void showKept(),
});

async function showKept(): Promise<void> {
  if (store.link !== "opening") return;
  const kept = await (await keeping)?.load();
  if (!kept || store.link !== "opening") return;
  const agoS = Math.max(0, (Date.now() - kept.at.getTime()) / 1000);
  store.takeKept(kept.hello, kept.past, kept.nowS, kept.at, agoS);
}

async function forget(): Promise<void> {
  preferences.forget();
  await (await keeping)?.forget();
  await forgetFiles();
}

const page = document.getElementById("page")!;
let shell: Shell;

function build(): void {
  document.documentElement.dataset.theme = preferences.get("theme");
  shell = makeShell(page, store, textOf(preferences), { changed: rebuild, forget, paired: () => feed.open() });
}

function rebuild(): void {
  shell.close();
  build();
  void shell.open(viewAt(location.hash, views), true);
}

build();
route(views, (view, first) => void shell.open(view, first));
feed.open();
void keepFiles();
