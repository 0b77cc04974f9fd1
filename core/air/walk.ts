import type { Frame } from '../grid/frame.ts';
import { instantiate, makeRoom, type WasmMemory, wasmMemory } from '../grid/wasm-engine.ts';
import { FARTHEST_NORMAL, HALF_NORMALS, seedBits } from './random.ts';
import { AT, SHEAR_PLACES, TOGETHER, VECTOR, VISIT_BIT, walkCode } from './walk-code.ts';

/** The air near the ground, on one frame; parts of the velocity east and south, m/s. */
export interface WindField {
  frame: Frame;
  east: Float32Array;
  south: Float32Array;
  /** 1 where air eddies, so that only its mean drift is known; none where left out. */
  eddies?: Uint8Array;
}

/** What particles walk through. */
export interface WalkGround {
  wind: WindField;
  /** s. */
  step: number;
  /** Pairs of spread by distance (`spreadTable`), and places a metre. */
  spread: Float32Array;
  perSpacing: number;
  /** Wind at a height, m, over that of the field; the field's at every height where left out. */
  shear?: (height: number) => number;
}

/** Where particles begin: cells east and south of the corner, height, m, and how far they have come by then, m. */
export interface WalkStarts {
  x: Float32Array;
  y: Float32Array;
  z: Float32Array;
  gone: Float32Array;
}

export interface Walked {
  /** Steps a particle spent in each cell below nose height, and how many they were after release; NaN where none. */
  dose: Float32Array;
  age: Float32Array;
  /** Particles that left the map. */
  left: number;
}

/** Groups in one call: a new call may run in better code than the last. */
const CALL = 8;

let kept: {
  memory: WasmMemory;
  even: (...numbers: number[]) => void;
  sheared: (...numbers: number[]) => void;
};

/** The compiled walks, made once a thread. */
function walker() {
  if (!kept) {
    const memory = wasmMemory(AT.spread);
    const compiled = (sheared: boolean) => instantiate(walkCode(sheared), memory);
    kept = { memory, even: compiled(false), sheared: compiled(true) };
  }
  return kept;
}

/**
 * Walks particles to their last step. Same input, same bits, on every machine.
 *
 * @param steps even: they are taken by twos
 */
export function walk(ground: WalkGround, starts: WalkStarts, steps: number, seed: number): Walked {
  const { wind, spread, perSpacing, shear } = ground;
  const { width, height } = wind.frame;
  const particles = starts.x.length;
  const groups = Math.ceil(particles / TOGETHER);
  const ring = ringOf(ground);
  const across = width + 2 * ring;
  const count = across * (height + 2 * ring);
  const movesAt = 16 * Math.ceil((AT.spread + 4 * spread.length) / 16);
  const visitsAt = movesAt + 16 * count;
  const startsAt = visitsAt + 8 * count;
  const end = startsAt + (VECTOR * groups * TOGETHER) / 4;
  const { memory, even, sheared } = walker();
  const run = shear ? sheared : even;
  makeRoom(memory, end);
  const floats = new Float32Array(memory.buffer, 0, end / 4);
  const words = new Int32Array(memory.buffer, 0, end / 4);

  for (let lane = 0; lane < TOGETHER; lane++)
    seedBits(seed, lane).forEach((bits, k) => {
      words[AT.random / 4 + 8 * (lane >> 2) + 4 * k + (lane & 3)] = bits;
    });
  floats.set(HALF_NORMALS, AT.normals / 4);
  for (let k = 0; shear && k < SHEAR_PLACES; k++)
    floats.fill(shear((k + 0.5) / 2), AT.shear / 4 + 2 * k, AT.shear / 4 + 2 * k + 2);
  for (let k = 0; k < spread.length; k++)
    floats[AT.spread / 4 + k] = k % 2 === 0 ? spread[k]! : spread[k]! / perSpacing;
  words.fill(0, visitsAt / 4, startsAt / 4);
  layMoves(ground, ring, floats.subarray(movesAt / 4, visitsAt / 4));
  const last = spread.length / 2 - 1;
  const inside = (x: number, y: number): boolean =>
    x >= ring && y >= ring && x < width + ring && y < height + ring;
  /** Place of a particle's x in the memory. */
  const placeOf = (k: number): number => (startsAt + VECTOR * (k >> 2)) / 4 + (k & 3);
  for (let k = 0; k < TOGETHER * groups; k++) {
    const at = placeOf(k);
    const x = Math.fround(starts.x[k]! + ring);
    const y = Math.fround(starts.y[k]! + ring);
    const cell = inside(x, y) ? Math.floor(y) * across + Math.floor(x) : 0;
    floats[at] = cell > 0 ? x : 0;
    floats[at + 4] = cell > 0 ? y : 0;
    floats[at + 8] = starts.z[k] ?? 0;
    words[at + 12] = movesAt + 16 * cell;
    const middle = 0.5 * floats[movesAt / 4 + 4 * cell + 2]! + (starts.gone[k] ?? 0) * perSpacing;
    words[at + 16] = 8 * Math.min(last, Math.trunc(middle));
    floats[at + 20] = middle;
  }
  for (let done = 0; done < groups; done += CALL)
    run(
      startsAt + ((VECTOR * TOGETHER) / 4) * done,
      Math.min(CALL, groups - done),
      steps,
      movesAt,
      visitsAt,
      across,
      last,
    );

  const dose = new Float32Array(width * height);
  const age = new Float32Array(width * height).fill(Number.NaN);
  const high = 2 ** (VISIT_BIT - 32);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0, at = visitsAt / 4 + 2 * ((y + ring) * across + ring); x < width; x++, i++, at += 2) {
      const low = words[at]!;
      const rest = words[at + 1]!;
      if (low === 0 && rest === 0) continue;
      const visits = Math.floor(rest / high);
      dose[i] = visits / particles;
      age[i] = ((rest % high) * 2 ** 32 + (low >>> 0)) / visits;
    }
  }
  let left = 0;
  for (let k = 0; k < particles; k++) if (!inside(floats[placeOf(k)]!, floats[placeOf(k) + 4]!)) left++;
  return { dose, age, left };
}

/** Slower wind does not move scent, m/s. */
const STILL = 1e-3;

/** m/s. */
export function fastest({ east, south }: WindField): number {
  let most = 0;
  for (let i = 0; i < east.length; i++) {
    const square = east[i]! * east[i]! + south[i]! * south[i]!;
    if (square > most) most = square;
  }
  return Math.sqrt(most);
}

/** Cells round the map: more than a step can lead beyond its edge, the farthest of the normal numbers at that. */
function ringOf({ wind, step, spread, shear }: WalkGround): number {
  const metres = fastest(wind) * step;
  let widest = 0;
  for (let k = 0; k < spread.length; k += 2) widest = Math.max(widest, spread[k]!);
  const carried = shear ? Math.max(1, shear(SHEAR_PLACES / 2)) : 1;
  return (
    2 + Math.ceil((metres * carried + widest * FARTHEST_NORMAL * Math.sqrt(metres)) / wind.frame.cellSize)
  );
}

/** Four numbers a cell: cells east and south a step goes, places of the spread table, one over the root of metres. */
function layMoves({ wind, step, perSpacing }: WalkGround, ring: number, moves: Float32Array): void {
  const { frame, east, south } = wind;
  const { width, height, cellSize } = frame;
  const across = 4 * (width + 2 * ring);
  const perCell = step / cellSize;
  // By the sign of nought the ring is told from air that stands still.
  moves.fill(-0);
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0, at = (y + ring) * across + 4 * ring; x < width; x++, i++, at += 4) {
      const u = east[i]!;
      const v = south[i]!;
      const speed = Math.sqrt(u * u + v * v);
      const blows = speed > STILL;
      moves[at] = blows ? u * perCell : 0;
      moves[at + 1] = blows ? v * perCell : 0;
      moves[at + 2] = blows ? speed * step * perSpacing : 0;
      moves[at + 3] = blows ? 1 / Math.sqrt(speed * step) : 0;
    }
}
