/** `plyframe laplace`: sub-bandage pressure of a planned wrap, and the tension that a pressure asks for. */
import { laplace, laplaceLimits, STANDARD_GRAVITY, tensionFor } from "../../laplace/laplace.ts";
import { cautions } from "../../readings/cautions.ts";
import { CommandError, EXIT } from "../exit.ts";
import { numberOption } from "../number-option.ts";
import { fold, note, say, sayJson } from "../terminal.ts";

export interface LaplaceOptions {
  readonly tension?: string;
  readonly pressure?: string;
  readonly layers: string;
  readonly circumference: string;
  readonly width: string;
  readonly thickness?: string;
  readonly json?: boolean;
}

const NEWTON = { N: 1, kgf: STANDARD_GRAVITY, gf: STANDARD_GRAVITY / 1000 } as const;
const CENTIMETRE = { mm: 0.1, cm: 1, m: 100, in: 2.54 } as const;

export async function laplaceCommand(options: LaplaceOptions): Promise<void> {
  const layers = numberOption("--layers", options.layers, 1, 20);
  if (!Number.isInteger(layers)) throw new CommandError(EXIT.usage, `--layers ${options.layers}: give a whole number`);
  const circumferenceCm = quantity("--circumference", options.circumference, CENTIMETRE);
  const widthCm = quantity("--width", options.width, CENTIMETRE);
  const thicknessCm = options.thickness === undefined ? null : quantity("--thickness", options.thickness, CENTIMETRE);
  const shape = { layers, circumferenceCm, widthCm, layerThicknessMm: thicknessCm === null ? null : thicknessCm * 10 };
  if ((options.tension === undefined) === (options.pressure === undefined)) {
    throw new CommandError(EXIT.usage, "give either --tension or --pressure");
  }
  const tensionN =
    options.tension === undefined
      ? tensionFor(quantity("--pressure", options.pressure!, { mmHg: 1 }), shape)
      : quantity("--tension", options.tension, NEWTON);
  const estimate = laplace({ ...shape, tensionN });
  if (options.json) {
    sayJson({
      record: "laplace",
      tension_n: tensionN,
      layers,
      circumference_cm: circumferenceCm,
      width_cm: widthCm,
      layer_thickness_mm: shape.layerThicknessMm,
      thin_mmhg: estimate.thinMmhg,
      published_mmhg: estimate.publishedMmhg,
      thick_mmhg: estimate.thickMmhg,
      limits: laplaceLimits,
    });
    return;
  }
  for (const text of cautions) for (const line of fold(text, 110)) note(line);
  const { thinMmhg, publishedMmhg, thickMmhg } = estimate;
  say(`tension of one layer  ${tensionN.toFixed(2)} N = ${(tensionN / STANDARD_GRAVITY).toFixed(3)} kgf`);
  say(`thin form             ${thinMmhg.toFixed(1)} mmHg`);
  say(`with constant 4620    ${publishedMmhg.toFixed(1)} mmHg`);
  if (thickMmhg !== null) {
    const share = (100 * (thinMmhg - thickMmhg)) / thickMmhg;
    say(`thick form            ${thickMmhg.toFixed(1)} mmHg (the thin form is ${share.toFixed(1)} % above it)`);
  }
  for (const text of laplaceLimits) for (const line of fold(text, 110)) say(line);
  if (thinMmhg > 60) {
    for (const line of fold(
      "Above 60 mmHg is very strong. Pain, numbness, a change of skin colour or breathlessness are danger signs: remove the compression and seek help.",
      110,
    ))
      say(line);
  }
}

/** A positive number with one of the units, which must be given: `10N`, `25cm`. */
function quantity(option: string, text: string, units: { readonly [unit: string]: number }): number {
  const found = /^\s*([0-9]+(?:\.[0-9]+)?)\s*([A-Za-z]+)?\s*$/.exec(text);
  const factor = found?.[2] === undefined ? undefined : units[found[2]];
  const value =
    found && factor !== undefined && Object.hasOwn(units, found[2]!) ? Number(found[1]) * factor : Number.NaN;
  if (value > 0) return value;
  const names = Object.keys(units).join(", ");
  throw new CommandError(EXIT.usage, `${option} ${text}: give a positive number with its unit (${names})`);
}
