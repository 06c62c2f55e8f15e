/** The part of the WebAssembly JavaScript API used here; the compiler's own declarations come with a browser's DOM. */
declare namespace WebAssembly {
  function validate(bytes: Uint8Array): boolean;
  class Memory {
    readonly buffer: ArrayBuffer;
  }
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Instance {
    constructor(module: Module, imports?: Readonly<Record<string, Readonly<Record<string, unknown>>>>);
    readonly exports: Readonly<Record<string, unknown>>;
  }
}
