/** A plot as a file: SVG or PNG, as the end of its name says. */
import { writeFileSync } from "node:fs";
import { type PlotOptions, plotPng, plotSvg } from "../report/plot.ts";
import { CommandError, EXIT, systemSentence } from "./exit.ts";
import { note } from "./terminal.ts";

/** Draws and writes a plot, and says so; throws a CommandError for another kind of file or one that cannot be written. */
export function writePicture(option: string, file: string, plot: PlotOptions): void {
  const kind = /\.(svg|png)$/i.exec(file)?.[1]?.toLowerCase();
  if (!kind) throw new CommandError(EXIT.usage, `${option} ${file}: give a name that ends in .svg or .png`);
  const svg = plotSvg(plot);
  try {
    writeFileSync(file, kind === "svg" ? svg : plotPng(svg));
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(file, error));
  }
  note(`The plot is in ${file}`);
}
