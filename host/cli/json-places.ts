/** Where the members of a JSON text stand, so that a fault can name its line. */

/**
 * Line, counted from 1, of every member and element of a text that JSON.parse accepts, by its path: `link.layers[0].name`.
 * The whole is "". Of a name that stands twice, the last counts, as for JSON.parse.
 */
export function jsonPlaces(text: string): Map<string, number> {
  const places = new Map<string, number>();
  const token = /\s*("(?:[^"\\]|\\.)*"|[{}[\],:]|[^\s{}[\],:"]+)/gy;
  let line = 1;
  let counted = 0;

  const next = (): string => {
    const [whole, part] = token.exec(text)!;
    const end = token.lastIndex;
    for (; counted < end; counted++) if (text[counted] === "\n") line++;
    return part ?? whole;
  };

  const value = (path: string, first: string): void => {
    places.set(path, line);
    if (first === "{") {
      for (let part = next(); part !== "}"; part = next()) {
        if (part === ",") continue;
        const name = JSON.parse(part) as string;
        next();
        value(path ? `${path}.${name}` : name, next());
      }
    } else if (first === "[") {
      let index = 0;
      for (let part = next(); part !== "]"; part = next()) if (part !== ",") value(`${path}[${index++}]`, part);
    }
  };

  value("", next());
  return places;
}
