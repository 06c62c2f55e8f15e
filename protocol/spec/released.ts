/** Every layout that was ever released, oldest first. */
import type { Layout } from "../model/layout.ts";
import { layout1 } from "./released/layout-1.ts";

export const releasedLayouts: readonly Layout[] = [layout1];
