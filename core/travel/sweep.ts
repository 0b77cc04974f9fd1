import { instantiate, makeRoom, type WasmMemory, wasmMemory } from '../grid/wasm-engine.ts';
import { reliefCode } from './relief-code.ts';
import { settleCode } from './settle-code.ts';

/** Relief on padded cells, and what it makes of each of the 16 moves. */
export interface Climb {
  /** m; 0 all round. */
  heights: Float32Array;
  /** Squared tangents of the slope. */
  slopes: Float32Array;
  /** What the slopes at both ends of each move add up to as sidehill; then what the square of its rise takes off. */
  perMove: Float64Array;
  /** Cost of a metre up or down by their mean, and what a metre of rise adds to it. */
  mean: number;
  more: number;
}

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
  /** Null where neither relief nor trails are minded. */
  climb: Climb | null;
  /** Makes the table of `waiting.ts` so many numbers long, which keeps what it held; the arrays are laid anew. */
  lengthen: (numbers: number) => Int32Array;
  /** Settles a block's cells by their eight moves, or over relief by all their moves. */
  run: (first: number, end: number, mask: number, perCost: number) => void;
}

type Run = (...numbers: number[]) => void;
let kept: { memory: WasmMemory; level: Run; relief: Run } | null = null;

/**
 * Lays out a sweep in the memory of this thread, where it stands until the next one. What the arrays hold is left over.
 *
 * @param count padded cells
 * @param extras numbers of `extra`; 0 without lines
 * @param climbs whether there is a `climb`
 */
export function createSweep(
  neighbours: 8 | 16,
  half: number,
  count: number,
  extras: number,
  climbs: boolean,
): Sweep {
  if (!kept) {
    const memory = wasmMemory(1);
    kept = {
      memory,
      level: instantiate(settleCode(), memory),
      relief: instantiate(reliefCode(), memory),
    };
  }
  const { memory, level, relief } = kept;
  const rows = Math.max(extras, 16);
  const extraAt = 8 * count;
  const perMoveAt = extraAt + 8 * rows;
  const resistanceAt = perMoveAt + 8 * 32;
  const heightsAt = resistanceAt + 4 * count;
  const slopesAt = heightsAt + (climbs ? 4 * count : 0);
  const slotAt = slopesAt + (climbs ? 4 * count : 0);
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
  const climb = (): Climb => ({
    heights: new Float32Array(memory.buffer, heightsAt, count),
    slopes: new Float32Array(memory.buffer, slopesAt, count),
    perMove: new Float64Array(memory.buffer, perMoveAt, 32),
    mean: 0,
    more: 0,
  });
  const slots = extras > 0 ? slotAt : 0;
  const knights = neighbours === 16 ? 1 : 0;
  const sweep: Sweep = {
    neighbours,
    half,
    ...lay(0),
    climb: climbs ? climb() : null,
    lengthen: (numbers) => {
      Object.assign(sweep, lay(numbers));
      return new Int32Array(memory.buffer, tableAt, numbers);
    },
    run: (first, end, mask, perCost) => {
      const { climb } = sweep;
      if (!climb) level(tableAt, resistanceAt, viaAt, slots, extraAt, first, end, mask, perCost, half);
      else
        relief(
          tableAt,
          resistanceAt,
          viaAt,
          slots,
          extraAt,
          first,
          end,
          mask,
          perCost,
          half,
          heightsAt,
          slopesAt,
          perMoveAt,
          knights,
          climb.mean,
          climb.more,
        );
    },
  };
  return sweep;
}
