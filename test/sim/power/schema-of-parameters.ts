/** The schema of a budget's scenario as it follows from the table of parameters. */
import { firmwareCosts } from "../../../protocol/firmware/cost.ts";
import { parameters } from "../../../sim/power/parameters.ts";
import { CLASS_TABLE } from "../../../sim/power/rectifier.ts";
import { CLASS_DERATING } from "../../../sim/power/scenario.ts";

const WHOLE = ["processor.seal_table", "firmware.fruitless_limit", "firmware.counters_every", "firmware.burst_every"];

type Members = Record<string, object>;

export function schemaOfParameters(): object {
  const groups: Record<string, Members> = {};
  for (const { path, default: value, low, high, standing, meaning } of parameters) {
    const [group, name] = path.split(".") as [string, string];
    (groups[group] ??= {})[name] = {
      type: WHOLE.includes(path) ? "integer" : "number",
      minimum: low,
      maximum: high,
      default: value,
      description: meaning,
      "x-standing": standing,
    };
  }
  groups.processor!.target = {
    enum: [...new Set(firmwareCosts.map(({ target }) => target))],
    default: "msp430",
    description: "core whose instructions or cycles were counted",
    "x-standing": "counted on emulated cores, protocol/firmware/COST.md",
  };
  groups.store!.derating = {
    type: "array",
    items: object({ bias_v: { type: "number", minimum: 0 }, share_percent: share(0.1) }, ["bias_v", "share_percent"]),
    default: CLASS_DERATING.map(({ biasV, share }) => ({ bias_v: biasV, share_percent: share * 100 })),
    description: "incremental capacitance over bias, as a share of the nominal one; empty: none is lost",
    "x-standing": "class value, from memory",
  };
  groups.rectifier = {
    table: {
      type: "array",
      minItems: 1,
      items: object(
        { power_dbm: { type: "number" }, efficiency_percent: share(0), store_v: { type: "number", minimum: 0 } },
        ["power_dbm", "efficiency_percent"],
      ),
      default: CLASS_TABLE.map(({ powerDbm, efficiency }) => ({
        power_dbm: powerDbm,
        efficiency_percent: Math.round(efficiency * 100),
      })),
      description: "efficiency over power at the chip, and over the store's voltage where store_v is given",
      "x-standing": "class value, from memory",
    },
    file: {
      type: "string",
      description: "the same as a CSV file with the columns power_dbm, efficiency_percent and, if need be, store_v",
    },
  };
  const members = Object.entries(groups).map(([group, names]): [string, object] => [
    group,
    { ...object(names), default: {} },
  ]);
  return {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    $id: "https://plyframe.invalid/schema/budget.schema.json",
    title: "Scenario of plyframe budget",
    description:
      "Field, rectifier, store, supervisor, regulator and loads. Every member may be left out; its default is used then and printed as assumed, with what it rests on (x-standing). Units stand in the names.",
    ...object({ title: { type: "string" }, ...Object.fromEntries(members) }),
  };
}

function object(properties: object, required?: readonly string[]): object {
  return { type: "object", additionalProperties: false, ...(required ? { required } : {}), properties };
}

function share(minimum: number): object {
  return { type: "number", minimum, maximum: 100 };
}
