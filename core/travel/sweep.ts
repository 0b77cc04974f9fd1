import { instantiate, makeRoom, type WasmMemory, wasmMemory } from '../grid/wasm-engine.ts';
import { settleCode } from './settle-code.ts';

/** What a sweep over padded cells works on: two cells of nothing all round save every test of the border. */
export interface Sweep {
  neighbours: 8 | 16;
  /** Half of a cell's side, m: a move costs this times the resistance of the cells it joins. */
  half: number;
  /** Infinity where not reached; 0 at the sources. */
  cost: Float64Array;
  /** NaN blocks. */
  resistance: Float32Array;
  /** Move by which the least way comes in plus one; SETTLED is added once nothing can better it. */
  via: Uint8Array;
  /** Row of `extra` by cell; null without lines. */
  slot: Int32Array | null;
  /** The first row is nought. */
  extra: Float64Array;
  /** Makes the table of `waiting.ts` so many numbers long, which keeps what it held; the arrays are laid anew. */
  lengthen: (numbers: number) => Int32Array;
  /** Settles a block's cells by their eight moves (`settle-code.ts`). */
  run: (first: number, end: number, mask: number, perCost: number) => void;
}

let kept: { memory: WasmMemory; run: (...numbers: number[]) => void } | null = null;

/**
 * Lays out a sweep in the memory of this thread, where it stands until the next one. What the arrays hold is left over.
 *
 * @param count padded cells
 * @param extras numbers of `extra`; 0 without lines
 */
export function createSweep(neighbours: 8 | 16, half: number, count: number, extras: number): Sweep {
  if (!kept) {
    const memory = wasmMemory(1);
    kept = { memory, run: instantiate(settleCode(), memory) };
  }
  const { memory, run } = kept;
  const rows = Math.max(extras, 16);
  const extraAt = 8 * count;
  const resistanceAt = extraAt + 8 * rows;
  const slotAt = resistanceAt + 4 * count;
  const viaAt = slotAt + (extras > 0 ? 4 * count : 0);
  const tableAt = 256 * Math.ceil((viaAt + count) / 256);
  const lay = (numbers: number) => {
    makeRoom(memory, tableAt + 4 * numbers);
    const { buffer } = memory;
    return {
      cost: new Float64Array(buffer, 0, count),
      extra: new Float64Array(buffer, extraAt, rows),
      resistance: new Float32Array(buffer, resistanceAt, count),
      slot: extras > 0 ? new Int32Array(buffer, slotAt, count) : null,
      via: new Uint8Array(buffer, viaAt, count),
    };
  };
  const sweep: Sweep = {
    neighbours,
    half,
    ...lay(0),
    lengthen: (numbers) => {
      Object.assign(sweep, lay(numbers));
      return new Int32Array(memory.buffer, tableAt, numbers);
    },
    run: (first, end, mask, perCost) =>
      run(tableAt, resistanceAt, viaAt, extras > 0 ? slotAt : 0, extraAt, first, end, mask, perCost, half),
  };
  return sweep;
}
