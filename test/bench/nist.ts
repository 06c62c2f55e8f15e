/** How many of NIST's certified digits the regression reaches, set by set: `npm run nist`. */
import { powers, regress } from "../../host/calibrate/regression.ts";
import { certifiedSets } from "../support/nist-strd.ts";

const worst = (found: readonly number[], certified: readonly number[]) =>
  Math.max(...found.map((value, i) => Math.abs(value - certified[i]!) / (Math.abs(certified[i]!) || 1)));

console.log("largest relative difference from NIST's certified values (absolute where they are zero)");
console.log("set       coefficients  uncertainties  residual sd");
for (const set of certifiedSets) {
  const { columns, degree, response, intercept } = set;
  const fit = regress({ columns: degree === null ? columns : powers(columns[0]!, degree), response, intercept });
  const figures = [
    worst(fit.coefficients, set.coefficients),
    worst(fit.standardUncertainties, set.standardUncertainties),
    worst([fit.residualSd], [set.residualSd]),
  ].map((value) => value.toExponential(1));
  console.log(
    `${set.name.padEnd(10)}${figures[0]!.padStart(12)}${figures[1]!.padStart(15)}${figures[2]!.padStart(13)}`,
  );
}
