/** The seam between the shell and its views; see DESIGN.md. */
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";

/** Builds a view into an empty element and returns what undoes it. */
export type Mount = (host: HTMLElement, store: Store, text: Text) => () => void;

export type ViewId = "now" | "time" | "bytes" | "power" | "calibrate";

export interface View {
  readonly id: ViewId;
  /** Whether one watches a leg there, and may want to mark an event. */
  readonly marks: boolean;
  readonly load: () => Promise<{ readonly mount: Mount }>;
}
