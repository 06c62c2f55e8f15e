/** Elements without markup in strings: nothing that came over the wire is ever read as HTML. */

type Listener = (event: never) => void;

export interface Attributes {
  /** Event listeners by the event's name. */
  readonly on?: { readonly [event: string]: Listener };
  /** Null and false: left out; true: without a value. */
  readonly [name: string]: string | number | boolean | null | undefined | { readonly [event: string]: Listener };
}

export type Child = Node | string | null;

/** An HTML element; null children are left out. */
export function el<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[Name] {
  return dressed(document.createElement(name), attributes, children);
}

/** An SVG element; hidden from screen readers unless its attributes say otherwise. */
export function svg(name: string, attributes: Attributes = {}, ...children: readonly Child[]): SVGElement {
  const hidden = name === "svg" && attributes.role === undefined ? { "aria-hidden": "true", focusable: "false" } : {};
  return dressed(document.createElementNS("http://www.w3.org/2000/svg", name), { ...hidden, ...attributes }, children);
}

function dressed<Made extends Element>(made: Made, attributes: Attributes, children: readonly Child[]): Made {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "object") {
      for (const [event, listener] of Object.entries(value)) made.addEventListener(event, listener as EventListener);
    } else made.setAttribute(name, value === true ? "" : String(value));
  }
  made.append(...children.filter((child) => child !== null));
  return made;
}

/** Sets the text only where it differs: an untouched node costs no layout and says nothing to a screen reader. */
export function setText(node: Node, text: string): void {
  if (node.textContent === text) return;
  const [only, second] = [node.firstChild, node.childNodes[1]];
  // The text node is kept, so that running figures leave nothing behind to be collected.
  if (only?.nodeType === Node.TEXT_NODE && second === undefined) only.nodeValue = text;
  else node.textContent = text;
}

/** Sets an attribute only where it differs; null removes it. */
export function setAttribute(element: Element, name: string, value: string | null): void {
  if (element.getAttribute(name) === value) return;
  if (value === null) element.removeAttribute(name);
  else element.setAttribute(name, value);
}
