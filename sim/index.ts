/** Public entry of the simulation: a reader kit with tags before it, on a byte stream. */
export { type Answer, type Cause, sustainableRate } from "./power/answers.ts";
export { type Budget, budgetOf, type Question } from "./power/budget.ts";
export type { Moment, TagDesign } from "./power/life.ts";
export { wattOfDbm } from "./power/rectifier.ts";
export {
  type BudgetContent,
  type BudgetScenario,
  designOf,
  distanceOfLevel,
  scenarioOf,
} from "./power/scenario.ts";
export { type Bar, tornado } from "./power/sensitivity.ts";
export { curveOf, momentsIn, type StateName, states } from "./power/voltage-curve.ts";
export { type Kit, makeKit } from "./reader/kit.ts";
export { type LlrpEndpointOptions, makeLlrpEndpoint } from "./reader/llrp-endpoint.ts";
export { serveKit } from "./reader/serve.ts";
export { type Antenna, antennaOfCircuit, antennaOfTable, antennaOfTouchstone } from "./rf/antenna.ts";
export { bodeFanoLimit } from "./rf/bode-fano.ts";
export { type Chip, type ChipPoint, capacitanceOf, chipAt, chipImpedance, parallelAt } from "./rf/chip.ts";
export type { Circuit } from "./rf/circuit.ts";
export type { Complex } from "./rf/complex.ts";
export { dbmOf, dbOf, wattOf } from "./rf/decibel.ts";
export { type ExposureDistance, exposureDistance, exposureLevels } from "./rf/exposure.ts";
export { type Inductor, parallelOf, selfResonanceHz } from "./rf/inductor.ts";
export {
  backscatterDbm,
  backscatterRangeM,
  chipPowerDbm,
  crossSectionDbsm,
  eirpDbm,
  farFieldFromM,
  forwardRangeM,
  type Link,
  turnOnDbm,
} from "./rf/link.ts";
export {
  type Band,
  type Bandwidth,
  bandwidthAt,
  type Candidate,
  frequenciesOf,
  type Match,
  matchAt,
  rankInductors,
} from "./rf/match.ts";
export type { CircuitContent, MatchContent } from "./rf/match-content.ts";
export { type Condition, linkedLevelDbm, type MatchScenario, matchScenarioOf, tauOf } from "./rf/match-scenario.ts";
export { preferredValues, type Series } from "./rf/preferred-values.ts";
export { eirpLimitW, type Region, type Rule, ruleOf, rules } from "./rf/regulation.ts";
export { isTextFault } from "./rf/text-fault.ts";
export { type Tissue, type TissueAt, tissueAt, tissues } from "./rf/tissue.ts";
export { parseTouchstone } from "./rf/touchstone.ts";
export {
  type Comparison,
  compareTurnOn,
  evaluateTurnOn,
  type Level,
  type TurnOnResult,
  type TurnOnSetup,
} from "./rf/turn-on.ts";
export { parseTurnOnTable, type TurnOnTable } from "./rf/turn-on-table.ts";
export { type Tolerances, type Yield, yieldOf } from "./rf/yield.ts";
export type { Scenario, TagScenario } from "./scenario/scenario.ts";
export { scenarios } from "./scenario/scenarios.ts";
