/** Ids are snake_case as they are in C, Lua, JSON and Kaitai; TypeScript gets camelCase by the one function here. */
import { unitSuffix } from "./units.ts";

/** Keywords of C99 and C11, and names that a standard header may define as macros. */
const C_WORDS = new Set(
  (
    "auto break case char const continue default do double else enum extern float for goto if inline int long register " +
    "restrict return short signed sizeof static struct switch typedef union unsigned void volatile while bool true false " +
    "asm fortran near far interrupt errno assert null main"
  ).split(" "),
);

export function isSnakeCase(id: string): boolean {
  return /^[a-z][a-z0-9]*(_[a-z0-9]+)*$/.test(id);
}

export function isReservedInC(id: string): boolean {
  return C_WORDS.has(id);
}

/** `time_since_start` → `timeSinceStart`. */
export function camelCase(id: string): string {
  return id.replace(/_([a-z0-9])/g, (_, letter: string) => letter.toUpperCase());
}

/** `sensor_frame` → `SensorFrame`. */
export function pascalCase(id: string): string {
  const camel = camelCase(id);
  return camel[0]!.toUpperCase() + camel.slice(1);
}

/** Name of a field's physical value, with its unit: `pressurePa`, `temperatureC`; an array under the array's id. */
export function valueName(field: { readonly id: string; readonly array?: string; readonly unit?: string }): string {
  return camelCase(field.array ?? field.id) + unitSuffix(field.unit ?? "");
}
