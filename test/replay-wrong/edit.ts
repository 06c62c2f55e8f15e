/** One planted fault as a row: `find` stands in `file` exactly once, and `field` is what the report must name. */
export type Edit = readonly [id: string, does: string, file: string, find: string, replace: string, field: string];
