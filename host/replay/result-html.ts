/** A run as one HTML page: no other file, no request, readable without a screen reader's guesses, printable. */
import { escapeHtml, htmlTable } from "../report/html.ts";
import { clipped } from "./answer.ts";
import { factsOf } from "./failure-facts.ts";
import { failuresOf, fieldsConcerned, isGood, type Outcome, type ReplayResult, totalOf } from "./outcome.ts";
import { RESULT_STYLE } from "./result-style.ts";
import { anchorOf, fieldLine, MEMORY_MAP } from "./specification-link.ts";

const LONGEST = 4000;

const HEAD = ["Group", "Asked", "Right", "Must", "Should", "Listed", "Not declared"];

/** `mapHref`: where MEMORY-MAP.md lies as seen from the page. */
export function resultHtml(result: ReplayResult, mapHref: string): string {
  const { vectors, greeting, command, groups, places, complaints } = result;
  const total = totalOf(groups);
  const rows = [...groups, total].map(({ group, asked, right, must, should, listed, undeclared }) =>
    [group, asked, right, must, places ? should : "–", listed, undeclared].map(String),
  );
  const facts: readonly (readonly [string, string])[] = [
    ["Program", `${greeting.name}${greeting.version === null ? "" : ` ${greeting.version}`}`],
    ["Command", command.join(" ")],
    ["Specification", greeting.fingerprint],
    ["Vectors", `${vectors.version}, sha256 ${vectors.digest}`],
    ["Declares", greeting.can.join(", ")],
  ];
  const good = isGood(result);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>Replay of ${escapeHtml(greeting.name)}: ${good ? "all right" : `${failuresOf(result).length} wrong`}</title>
<style>${RESULT_STYLE}</style>
</head>
<body>
<main>
<h1>Replay of ${escapeHtml(greeting.name)}</h1>
<p class="verdict ${good ? "good" : "wrong"}">${escapeHtml(verdict(result))}</p>
<dl>${facts.map(([name, text]) => `<dt>${name}</dt><dd>${escapeHtml(text)}</dd>`).join("\n")}</dl>
${complaints.length === 0 ? "" : `<h2>About the run</h2><ul>${complaints.map(({ says }) => `<li>${escapeHtml(says)}</li>`).join("\n")}</ul>`}
<h2>By group</h2>
${htmlTable(HEAD, rows, "groups")}
<p class="soft">Must: a wrong verdict, reason or number, or no answer. Should: only the place or what was noticed on the way${places ? "" : "; not judged, for the program does not declare places"}. Listed: known failures.</p>
${fields(result, mapHref)}
${made(result)}
${listed(result)}
<p class="soft">Nothing here is about a person: the vectors are invented. Not a medical device.</p>
</main>
</body>
</html>
`;
}

function verdict(result: ReplayResult): string {
  const { asked, right, must, should, listed: known, skipped } = totalOf(result.groups);
  const parts = [`${right} of ${asked} answers right`];
  if (must > 0) parts.push(`${must} wrong`);
  if (should > 0) parts.push(`${should} wrong in place`);
  if (known > 0) parts.push(`${known} expected to fail`);
  if (skipped > 0) parts.push(`${skipped} not asked`);
  return `${parts.join(", ")}.`;
}

function fields(result: ReplayResult, mapHref: string): string {
  const concerned = fieldsConcerned(result);
  if (concerned.length === 0) return "";
  const failures = failuresOf(result);
  const sections = concerned.map(({ field, failures: number }) => {
    const line = fieldLine(field);
    const anchor = anchorOf(field);
    return `<section>
<h3>${escapeHtml(field)} <span class="count">${number}</span></h3>
<p>${line === null ? "" : `${escapeHtml(line)} `}<a href="${escapeHtml(`${mapHref}#${anchor}`)}">${MEMORY_MAP}#${anchor}</a></p>
${failures
  .filter((outcome) => outcome.field === field)
  .map(failureHtml)
  .join("\n")}
</section>`;
  });
  return `<h2>By field of the specification</h2>\n${sections.join("\n")}`;
}

function failureHtml(outcome: Outcome): string {
  const { asked, wrong, differences } = outcome;
  const { message, request, expected, came } = factsOf(outcome);
  const facts: (readonly [string, string])[] = [
    ["Asked", clipped(request, LONGEST)],
    ["Expected", clipped(expected, LONGEST)],
    ["Came", clipped(outcome.lost ? message : came, LONGEST)],
    ...differences.map(({ key, expected, came }) => [key, `expected ${expected}, came ${came}`] as const),
  ];
  return `<article>
<h4><span class="level">${wrong}</span> ${escapeHtml(asked.id)}</h4>
<p>${escapeHtml(asked.why)} <span class="soft">${escapeHtml(asked.group)}</span></p>
<dl>${facts.map(([name, text]) => `<dt>${escapeHtml(name)}</dt><dd><code>${escapeHtml(text)}</code></dd>`).join("\n")}</dl>
</article>`;
}

/** How each smallest case is made again, and added to the vectors. */
function made({ rounds }: ReplayResult): string {
  if (rounds.length === 0) return "";
  const found = rounds.filter(({ outcome }) => outcome);
  const items = found.map(
    ({ group, again, keep }) =>
      `<li>${escapeHtml(group)}: <code>plyframe replay ${escapeHtml(again!)} -- …</code><br><code>${escapeHtml(keep!)}</code></li>`,
  );
  return `<h2>Made cases</h2><p>Seed ${rounds[0]!.seed}.</p>${items.length === 0 ? "" : `<ul>${items.join("\n")}</ul>`}`;
}

function listed({ outcomes }: ReplayResult): string {
  const known = outcomes.filter((outcome) => outcome.wrong !== null && outcome.listed);
  if (known.length === 0) return "";
  return `<h2>Expected to fail</h2><ul>${known.map(({ asked }) => `<li>${escapeHtml(asked.id)}</li>`).join("\n")}</ul>`;
}
