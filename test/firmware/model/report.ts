/** `npm run firmware-model`: every shape of the model, what broke and how many states were searched. */
import { shapes, verify } from "./model.ts";

let wrong = 0;
for (const shape of shapes) {
  const { broken, states, complete } = verify(shape);
  const asMeant = broken === shape.breaks && (broken !== null || complete);
  if (!asMeant) wrong++;
  const says = broken === null ? (complete ? "all hold" : "not complete") : `${broken} breaks`;
  console.log(
    `${shape.name.padEnd(48)} ${says.padEnd(13)} ${String(states).padStart(9)} states${asMeant ? "" : "  NOT AS MEANT"}`,
  );
}
process.exitCode = wrong === 0 ? 0 : 1;
