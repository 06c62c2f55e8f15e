/** A plain object as YAML: blocks of two spaces, every text in quotes, so that nothing in it means anything to YAML. */
export type Yaml = string | number | boolean | readonly Yaml[] | { readonly [key: string]: Yaml };

const PLAIN_KEY = /^(-?[a-z][a-z0-9_-]*|[0-9]+)$/;

export function toYaml(value: Yaml, indent = ""): string {
  if (Array.isArray(value))
    return value.map((item) => `${indent}- ${toYaml(item, `${indent}  `).trimStart()}`).join("");
  if (typeof value !== "object") return `${indent}${JSON.stringify(value)}\n`;
  return Object.entries(value)
    .map(([key, content]) => {
      const name = `${indent}${PLAIN_KEY.test(key) ? key : JSON.stringify(key)}:`;
      if (typeof content !== "object") return `${name} ${JSON.stringify(content)}\n`;
      return `${name}\n${toYaml(content, `${indent}  `)}`;
    })
    .join("");
}
