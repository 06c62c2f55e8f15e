/** `npm run firmware-size`: the size table; `-- --write` keeps it in protocol/firmware/SIZE.md. */
import { installedTargets } from "./support/installed.ts";
import { keepIfAsked } from "./support/keep.ts";
import { measureSizes, SIZE_FILE, sizePage, sizeRow } from "./support/sizes.ts";
import { sealTables } from "./support/targets.ts";

const rows = installedTargets().flatMap((target) =>
  sealTables.map((table) => sizeRow(target, measureSizes(target, table))),
);
const page = sizePage(rows);
console.log(page);
keepIfAsked({ [SIZE_FILE]: page });
