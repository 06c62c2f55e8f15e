/** kaitai-struct-compiler has no types, and those of kaitai-struct do not name its one class. */
declare module "kaitai-struct-compiler" {
  const compiler: {
    compile(language: string, description: object, importer: null, debug: boolean): Promise<Record<string, string>>;
  };
  export default compiler;
}

declare module "kaitai-struct/KaitaiStream.js" {
  export default class KaitaiStream {
    constructor(bytes: ArrayBuffer | DataView);
    static EOFError: new () => Error;
  }
}
