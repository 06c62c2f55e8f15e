/** Plots without a browser: Observable Plot drawn into a document of linkedom, as standalone SVG or as PNG. */
import { plot } from "@observablehq/plot";
import { Resvg } from "@resvg/resvg-js";
import { parseHTML } from "linkedom";

/** `style` is left out: the document here knows no inline styles. Text is 11 units high. */
export type PlotOptions = Omit<NonNullable<Parameters<typeof plot>[0]>, "style" | "document" | "figure">;

/** Text is drawn in the first of these that a machine has. */
const FONT = "'Helvetica Neue', Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";

/**
 * Draws a plot as one SVG element, markup as text. Lines and text take `currentColor`, so that a page's own colour scheme
 * holds. Legends are left out: they are HTML; label the marks instead.
 */
export function plotSvg(options: PlotOptions): string {
  const { document } = parseHTML("<!doctype html><html><body></body></html>");
  const drawn = plot({
    ...options,
    document: document as unknown as never,
    figure: false,
  });
  const svg = drawn as unknown as { setAttribute(name: string, value: string): void; outerHTML: string };
  svg.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  svg.setAttribute("font-family", FONT);
  svg.setAttribute("font-size", "11");
  return svg.outerHTML;
}

/** A plot as a PNG image on white, `scale` pixels for each unit of the drawing. */
export function plotPng(svg: string, scale = 2): Uint8Array {
  const image = new Resvg(svg.replace("<svg ", '<svg color="#1a1a1a" '), {
    fitTo: { mode: "zoom", value: scale },
    background: "white",
    font: { loadSystemFonts: true, defaultFontFamily: "DejaVu Sans" },
  });
  return image.render().asPng();
}
