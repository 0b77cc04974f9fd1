// The part of the web platform used here; every engine this program runs on has it.
declare const WebAssembly: {
  Memory: new (size: { initial: number }) => WasmMemory;
  Module: new (code: Uint8Array<ArrayBuffer>) => object;
  Instance: new (module: object, imports: object) => { exports: { run: (...numbers: number[]) => void } };
};

export interface WasmMemory {
  readonly buffer: ArrayBuffer;
  grow(pages: number): number;
}

const PAGE = 65_536;

export const wasmMemory = (bytes: number): WasmMemory =>
  new WebAssembly.Memory({ initial: Math.ceil(bytes / PAGE) });

/** Makes a memory at least so many bytes large; views on it are to be made anew. */
export function makeRoom(memory: WasmMemory, bytes: number): void {
  const missing = Math.ceil((bytes - memory.buffer.byteLength) / PAGE);
  if (missing > 0) memory.grow(missing);
}

/** The function of a module of `moduleOf`. */
export const instantiate = (
  code: Uint8Array<ArrayBuffer>,
  memory: WasmMemory,
): ((...numbers: number[]) => void) =>
  new WebAssembly.Instance(new WebAssembly.Module(code), { env: { memory } }).exports.run;
