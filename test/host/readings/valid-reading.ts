import { readFileSync } from "node:fs";
import Ajv2020 from "ajv/dist/2020.js";
import addFormats from "ajv-formats";

/** The published schema of readings and waveforms. */
export const readingSchema = JSON.parse(
  readFileSync(new URL("../../../vectors/schema/reading.schema.json", import.meta.url), "utf8"),
);

const ajv = new Ajv2020.default({ strict: true, allowUnionTypes: true });
addFormats.default(ajv);

/** Whether a JSON value fits that schema; `errors` says why not. */
export const validReading = ajv.compile(readingSchema as object);
