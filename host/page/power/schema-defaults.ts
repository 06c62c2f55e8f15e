/** The defaults that a JSON schema names, as a validator would fill them in. */
interface Schema {
  readonly properties?: { readonly [name: string]: Schema };
  readonly default?: unknown;
}

type Members = { readonly [name: string]: unknown };

/** `given` with every default beside what it says, at all depths. */
export function withDefaults(schema: Schema, given: Members): Members {
  const filled: { [name: string]: unknown } = { ...given };
  for (const [name, member] of Object.entries(schema.properties ?? {})) {
    const value = given[name] ?? member.default;
    if (value === undefined) continue;
    const inside = typeof value === "object" && value !== null && !Array.isArray(value);
    filled[name] = inside ? withDefaults(member, value as Members) : value;
  }
  return filled;
}
