/** Which tag lies at which site, as typed after --site. */
import { CommandError, EXIT } from "./exit.ts";

export type Sites = ReadonlyMap<string, string>;

/** `EPC=name` pairs; the EPC in hex. Throws a CommandError of wrong use for a pair that is none. */
export function siteMap(pairs: readonly string[]): Sites {
  return new Map(
    pairs.map((pair) => {
      const found = /^((?:[0-9a-f]{4})+)=(.+)$/i.exec(pair);
      if (!found) throw new CommandError(EXIT.usage, `--site ${pair}: give EPC=name with the EPC in hex`);
      return [found[1]!.toLowerCase(), found[2]!] as const;
    }),
  );
}

/** Site of a tag, or the last eight digits of its EPC. */
export function siteName(sites: Sites, epc: string): string {
  return sites.get(epc) ?? `…${epc.slice(-8)}`;
}

/** EPCs in the order in which the sites were named, then the others as they come; named ones that are not there included. */
export function siteOrder(sites: Sites, epcs: Iterable<string>): string[] {
  return [...new Set([...sites.keys(), ...epcs])];
}
