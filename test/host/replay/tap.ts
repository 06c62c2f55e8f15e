/** A small reader of TAP 13 by testanything.org (from memory), which refuses what it does not know. */

export interface TapTest {
  readonly number: number;
  readonly ok: boolean;
  readonly name: string;
  readonly todo: boolean;
  readonly yaml: { readonly [key: string]: string };
}

export interface Tap {
  readonly version: number;
  readonly plan: number;
  readonly tests: readonly TapTest[];
}

export function readTap(text: string): Tap {
  if (!text.endsWith("\n")) throw new Error("the last line does not end");
  const lines = text.slice(0, -1).split("\n");
  const version = Number(/^TAP version (\d+)$/.exec(lines[0]!)?.[1]);
  const plan = Number(/^1\.\.(\d+)$/.exec(lines[1]!)?.[1]);
  const tests: { number: number; ok: boolean; name: string; todo: boolean; yaml: Record<string, string> }[] = [];
  let inside = false;
  for (const line of lines.slice(2)) {
    const test = /^(not )?ok (\d+) - ([^#]*?)( # TODO .*)?$/.exec(line);
    const entry = /^ {2}(\w+): (".*")$/.exec(line);
    if (inside && entry) tests.at(-1)!.yaml[entry[1]!] = JSON.parse(entry[2]!);
    else if (line === "  ---" && !inside && tests.length > 0) inside = true;
    else if (line === "  ..." && inside) inside = false;
    else if (test && !inside) {
      tests.push({ number: Number(test[2]), ok: !test[1], name: test[3]!, todo: test[4] !== undefined, yaml: {} });
    } else if (!line.startsWith("# ") || inside) throw new Error(`no line of TAP: ${line}`);
  }
  if (inside) throw new Error("a block does not end");
  return { version, plan, tests };
}
