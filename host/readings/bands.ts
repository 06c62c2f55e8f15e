/**
 * Pressure bands in the words of the World Union of Wound Healing Societies' consensus document of 2008: mild below 20 mmHg,
 * moderate 20 to 40, strong 40 to 60, very strong above 60 (read in a secondary source that quotes it).
 * The document leaves the edges open; the rule here: [0, 20), [20, 40), [40, 60], above 60.
 */
export const bandScheme = {
  id: "WUWHS 2008",
  source: "World Union of Wound Healing Societies, consensus document on compression, 2008",
  edges: "0 <= mild < 20 <= moderate < 40 <= strong <= 60 < very strong, in mmHg",
} as const;

export type BandId = "mild" | "moderate" | "strong" | "very_strong";

const bands: readonly { readonly id: BandId; readonly range: string }[] = [
  { id: "mild", range: "<20" },
  { id: "moderate", range: "20-40" },
  { id: "strong", range: "40-60" },
  { id: "very_strong", range: ">60" },
];

export interface Band {
  /** Band of the value itself. */
  readonly id: BandId;
  /** In mmHg: `20-40`. */
  readonly range: string;
  /** `20-40/40-60 boundary` when the value with its uncertainty lies in more than one band. */
  readonly boundary: string | null;
  /** Highest band the value may lie in, its uncertainty included. */
  readonly highest: BandId;
}

/** Band of a gauge pressure; null below ambient, and without an uncertainty: nobody can say which band it lies in then. */
export function bandOf(gaugeMmhg: number, expandedUncertaintyMmhg: number | null): Band | null {
  if (gaugeMmhg < 0 || expandedUncertaintyMmhg === null) return null;
  const low = bandIndex(gaugeMmhg - expandedUncertaintyMmhg);
  const high = bandIndex(gaugeMmhg + expandedUncertaintyMmhg);
  const touched = bands.slice(low, high + 1).map(({ range }) => range);
  const { id, range } = bands[bandIndex(gaugeMmhg)]!;
  const boundary = touched.length > 1 ? `${touched.join("/")} boundary` : null;
  return { id, range, boundary, highest: bands[high]!.id };
}

/** What is printed: the boundary where there is one, else the band's word. */
export function bandText(band: Band): string {
  return band.boundary ?? band.id.replace("_", " ");
}

function bandIndex(mmhg: number): number {
  if (mmhg < 20) return 0;
  if (mmhg < 40) return 1;
  return mmhg <= 60 ? 2 : 3;
}
