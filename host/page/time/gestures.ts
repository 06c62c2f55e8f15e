/** Fingers, mouse and keys on the plot. */

export interface Moves {
  /** By shares of what is shown; positive is later. */
  readonly move: (share: number) => void;
  /** `factor` below 1 is closer; `clientX` null: about the right end. */
  readonly zoom: (factor: number, clientX: number | null) => void;
  readonly readAt: (clientX: number) => void;
  /** To the sample before (-1) or after (1). */
  readonly step: (by: -1 | 1) => void;
  readonly all: () => void;
  readonly follow: () => void;
  readonly width: () => number;
}

/** Less than this far is a tap, in CSS pixels. */
const TAP_PX = 6;

const KEYS: { readonly [key: string]: (moves: Moves) => void } = {
  ArrowLeft: ({ move }) => move(-0.2),
  ArrowRight: ({ move }) => move(0.2),
  "+": ({ zoom }) => zoom(0.7, null),
  "=": ({ zoom }) => zoom(0.7, null),
  "-": ({ zoom }) => zoom(1 / 0.7, null),
  Home: ({ all }) => all(),
  End: ({ follow }) => follow(),
  ",": ({ step }) => step(-1),
  ".": ({ step }) => step(1),
};

/** Listens on an element that can have the focus; it goes with the element. */
export function listenToGestures(element: HTMLElement, moves: Moves): void {
  const fingers = new Map<number, number>();
  let travelled = 0;

  element.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    if (fingers.size === 0) travelled = 0;
    fingers.set(event.pointerId, event.clientX);
    element.setPointerCapture(event.pointerId);
  });
  element.addEventListener("pointermove", ({ pointerId, clientX }) => {
    const before = fingers.get(pointerId);
    if (before === undefined || before === clientX) return;
    const others = [...fingers].filter(([id]) => id !== pointerId).map(([, x]) => x);
    fingers.set(pointerId, clientX);
    travelled += Math.abs(clientX - before);
    const [other] = others;
    if (other === undefined) {
      if (travelled > TAP_PX) moves.move((before - clientX) / moves.width());
      return;
    }
    const [was, now] = [Math.abs(before - other), Math.abs(clientX - other)];
    if (was > 10 && now > 10) moves.zoom(was / now, (clientX + other) / 2);
  });
  const lift = (event: PointerEvent) => {
    if (!fingers.delete(event.pointerId)) return;
    if (event.type === "pointerup" && fingers.size === 0 && travelled <= TAP_PX) moves.readAt(event.clientX);
  };
  element.addEventListener("pointerup", lift);
  element.addEventListener("pointercancel", lift);
  // A pinch on a touch pad comes as a wheel with the control key; a plain wheel scrolls the page.
  element.addEventListener(
    "wheel",
    (event) => {
      if (!event.ctrlKey) return;
      event.preventDefault();
      moves.zoom(Math.exp(event.deltaY / 300), event.clientX);
    },
    { passive: false },
  );
  element.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const act = KEYS[event.key];
    if (!act) return;
    event.preventDefault();
    act(moves);
  });
}
