/** binary-parser 2.3.0 ships its types where the `exports` of its package hide them from the compiler. */
declare module "binary-parser" {
  export { Parser } from "binary-parser/dist/binary_parser.js";
}
