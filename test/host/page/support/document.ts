/** A document without a browser, for what builds elements. */
import { parseHTML } from "linkedom";

const { document, HTMLElement, Node } = parseHTML("<!doctype html><html><body></body></html>");

Object.assign(globalThis, { document, HTMLElement, Node });
