/** `npm run replay-wrong`: plants every known fault in a right kit and says whether the replay kit catches it and names its field. */
import { resolve } from "node:path";
import { readVectorSet } from "../../host/replay/vector-set.ts";
import { plantedFaults } from "./faults.ts";
import { replayKit } from "./wrong-kit.ts";

const vectors = readVectorSet(resolve(import.meta.dirname, "../../vectors"));
let [caught, first] = [0, 0];
for (const kit of ["python", "c"] as const) {
  const { failures } = await replayKit(kit, null, vectors);
  console.log(`${kit} kit as it stands: ${failures} failures`);
  if (failures > 0) process.exitCode = 1;
}
for (const fault of plantedFaults) {
  const { failures, fields } = await replayKit(fault.kit, fault, vectors);
  const rank = fields.indexOf(fault.field) + 1;
  if (failures > 0 && rank > 0) caught++;
  if (rank === 1) first++;
  const where =
    rank === 0
      ? `${fault.field} is NOT named, but ${fields.slice(0, 4).join(", ")}`
      : `${fault.field}, field ${rank} of ${fields.length}`;
  console.log(
    `${failures > 0 ? "caught" : "MISSED"}  ${fault.id.padEnd(24)} ${String(failures).padStart(4)} failures  ${where}`,
  );
}
console.log(`caught ${caught} of ${plantedFaults.length} planted; the field is named first of all in ${first}`);
if (caught < plantedFaults.length) process.exitCode = 1;
