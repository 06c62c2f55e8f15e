/** A rigid sealed volume by the ideal gas law, P/T: worked with 0 °C = 273.15 K. */
import { expect, it } from "vitest";
import { sealedGasRisePa, temperatureAlone } from "../../host/calibrate/temperature-alone.ts";

it("1013.25 hPa rises 3.3985 hPa/K at 25 °C and 3.3205 hPa/K at 32 °C", () => {
  expect(sealedGasRisePa(101_325, 25, 26)).toBeCloseTo(339.85, 2);
  expect(sealedGasRisePa(101_325, 32, 33)).toBeCloseTo(332.05, 2);
});

it("sealed at 20 °C and warmed to 33 °C shows 44.93 hPa, 33.70 mmHg", () => {
  const risePa = sealedGasRisePa(101_325, 20, 33);
  expect(risePa / 100).toBeCloseTo(44.93, 2);
  expect(risePa / 133.322387415).toBeCloseTo(33.7, 2);
});

it("the table goes from the bound to the fitted effect, and shows none where none was fitted", () => {
  const coefficients = { offset: 0, gain: 1, temperature_effect: 6.5, gain_temperature: 0, curvature: 0 };
  const fit = { terms: ["offset", "gain", "temperature_effect"], coefficients, referenceC: 25 } as never;
  const { rows, share } = temperatureAlone(fit, 101_325);
  const at45 = rows.find(({ temperatureC }) => temperatureC === 45)!;
  expect(at45.sealedGasPa).toBeCloseTo(20 * 339.8457, 2);
  expect(at45.fittedPa).toBeCloseTo(130, 10);
  expect(share).toBeCloseTo(6.5 / 339.8457, 6);
  const without = { terms: ["offset", "gain"], coefficients, referenceC: 25 } as never;
  expect(temperatureAlone(without, 101_325).rows[0]!.fittedPa).toBeNull();
});
