/** `npm run firmware-eva`: Eva over the firmware with every seal and both sizes of int. */
import { analyse, machines } from "./support/eva.ts";
import { sealNames, sealTables } from "./support/targets.ts";

for (const machine of machines) {
  for (const table of sealTables) {
    const { alarms, statementsReached, statements } = analyse(machine, table);
    console.log(
      `${machine}, ${sealNames[table]}: ${alarms.length} alarms, ${statementsReached} of ${statements} statements`,
    );
    for (const alarm of alarms) console.log(`  ${alarm}`);
    if (alarms.length > 0) process.exitCode = 1;
  }
}
