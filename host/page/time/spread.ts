/**
 * Places for labels that want to stand at `wanted` (in ascending order), no two nearer than `apart`, within `top` and `bottom` as
 * far as they fit, and in the same order.
 */
export function spread(wanted: readonly number[], top: number, bottom: number, apart: number): number[] {
  const places: number[] = [];
  for (const place of wanted) places.push(Math.max(place, places.length === 0 ? top : places.at(-1)! + apart));
  let free = bottom;
  for (let i = places.length - 1; i >= 0 && places[i]! > free; i--, free -= apart) places[i] = free;
  return places;
}
