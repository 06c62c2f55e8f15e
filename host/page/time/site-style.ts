/** How the lines of the sites differ: by the shape at their end, by their dash, and by colour last. */

export interface SiteStyle {
  /** Name of the colour in the palette. */
  readonly colour: string;
  /** Lengths of strokes and spaces in CSS pixels; empty: a whole line. */
  readonly dash: readonly number[];
  /** Path of the shape, 12 by 12. */
  readonly shape: string;
}

const COLOURS = 8;

const DASHES: readonly (readonly number[])[] = [[], [9, 4], [14, 4, 3, 4], [5, 3]];

const SHAPES: readonly string[] = [
  "M6 1a5 5 0 1 0 0 10a5 5 0 1 0 0-10z",
  "M1.5 1.5h9v9h-9z",
  "M6 .5 11.5 11H.5z",
  "M6 0 12 6 6 12 0 6z",
  "M.5 1h11L6 11.5z",
  "M4 .5h4v3.5h3.5v4H8v3.5H4V8H.5V4H4z",
];

/** Of the site at a place in the order of sites: no two of 24 have shape and dash alike. */
export function siteStyle(index: number): SiteStyle {
  const round = Math.floor(index / 12);
  return {
    colour: `--site-${index % COLOURS}`,
    dash: DASHES[(index + round) % DASHES.length]!,
    shape: SHAPES[index % SHAPES.length]!,
  };
}
