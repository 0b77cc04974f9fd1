import { instantiate, type WasmMemory, wasmMemory } from '../grid/wasm-engine.ts';
import { solveCode } from './mass-code.ts';
import type { AirMesh } from './mass-mesh.ts';

/** How the later 13 of a node's 26 neighbours lie to it, after itself: columns, rows and levels on. */
const LATER: readonly (readonly [number, number, number])[] = [
  [0, 0, 0],
  [1, 0, 0],
  [-1, 1, 0],
  [0, 1, 0],
  [1, 1, 0],
  [-1, -1, 1],
  [0, -1, 1],
  [1, -1, 1],
  [-1, 0, 1],
  [0, 0, 1],
  [1, 0, 1],
  [-1, 1, 1],
  [0, 1, 1],
  [1, 1, 1],
];
const BY_WAY = new Map(LATER.map((way, n) => [way.join(' '), n]));
const ITSELF = 0;
const ABOVE = couplingOf(0, 0, 1);

/** Which coupling a neighbour so many columns, rows and levels on has; -1 where it keeps it itself. */
export function couplingOf(x: number, y: number, level: number): number {
  return BY_WAY.get(`${x} ${y} ${level}`) ?? -1;
}

/**
 * A symmetric matrix over the nodes of a mesh, in 32-bit floats. What a neighbour's number weighs in a node's equation
 * stands with the earlier of the two, in one array for each way a neighbour may lie, so that a product runs straight
 * through them.
 */
export interface Couplings {
  strengths: Float32Array[];
  /** How far on in the arrays the neighbour of each stands. */
  offsets: number[];
  /** Nodes, and those of one level. */
  count: number;
  layer: number;
  /** Where the first node stands: before it and after the last is room for neighbours that are none. */
  first: number;
  workshop: Workshop;
}

/** Arrays and code for meshes of one size. */
interface Workshop {
  size: string;
  memory: WasmMemory;
  arrays: Record<
    'factor' | 'perPivot' | 'potential' | 'residual' | 'eased' | 'way' | 'product',
    Float32Array
  >;
  strengths: Float32Array[];
  sums: Float32Array;
  run: Record<'multiply' | 'advance' | 'ease' | 'turn', (number: number) => void>;
}

/** The last one, since the winds of a property are all solved on one mesh. */
let kept: Workshop | null = null;

/** The matrix of a mesh, all nought. There is one at a time in a thread: a new one takes the place of the last. */
export function emptyCouplings({ width, height, levels }: AirMesh): Couplings {
  const across = width + 1;
  const layer = across * (height + 1);
  const count = layer * (levels + 1);
  // A vector reaches three nodes beyond the last.
  const first = layer + across + 4;
  const offsets = LATER.map(([x, y, level]) => level * layer + y * across + x);
  const size = `${width} ${height} ${levels}`;
  if (kept?.size !== size) kept = workshopFor(size, offsets, count, first, layer);
  for (const strength of kept.strengths) strength.fill(0);
  return { strengths: kept.strengths, offsets, count, layer, first, workshop: kept };
}

function workshopFor(size: string, offsets: number[], count: number, first: number, layer: number): Workshop {
  const names = ['factor', 'perPivot', 'potential', 'residual', 'eased', 'way', 'product'] as const;
  const length = 4 * Math.ceil((count + 2 * first) / 4);
  const memory = wasmMemory(4 * (4 + length * (offsets.length + names.length)));
  const addresses = Array.from({ length: offsets.length + names.length }, (_, k) => 4 * (4 + length * k));
  const views = addresses.map((address) => new Float32Array(memory.buffer, address, length));
  const own = <T>(values: readonly T[]) =>
    Object.fromEntries(names.map((name, k) => [name, values[offsets.length + k]!])) as Record<
      (typeof names)[number],
      T
    >;
  const firsts = addresses.map((address) => address + 4 * first);
  const code = solveCode({
    strengths: firsts.slice(0, offsets.length),
    offsets: offsets.map((offset) => 4 * offset),
    ...own(firsts),
    sums: 0,
    nodes: 16 * Math.ceil(count / 4),
    layer: 4 * layer,
  });
  return {
    size,
    memory,
    arrays: own(views),
    strengths: views.slice(0, offsets.length),
    sums: new Float32Array(memory.buffer, 0, 4),
    run: {
      multiply: instantiate(code.multiply, memory),
      advance: instantiate(code.advance, memory),
      ease: instantiate(code.ease, memory),
      turn: instantiate(code.turn, memory),
    },
  };
}

/** Holds nodes at nought: they couple with none, and their own equation says so. */
export function hold({ strengths, offsets, first, count }: Couplings, held: Uint8Array): void {
  for (let n = 1; n < strengths.length; n++) {
    const strength = strengths[n]!;
    for (let i = 0; i < count; i++) if (held[i] || held[i + offsets[n]!]) strength[first + i] = 0;
  }
  const own = strengths[ITSELF]!;
  // A node on the ground of a corner no box reaches has nothing to solve.
  for (let i = first; i < first + count; i++) if (held[i - first] || own[i]! <= 0) own[i] = 1;
}

/**
 * Solves couplings x potential = right by conjugate gradients, each column of nodes solved as a line to begin a turn
 * with, which takes care of flat boxes (Golub & Van Loan, Matrix Computations).
 *
 * @param right 0 at nodes that are held
 * @param tolerance stops once the residual has fallen to this share of the right side
 */
export function conjugateGradients(
  couplings: Couplings,
  right: Float64Array,
  tolerance: number,
  mostTurns: number,
): { potential: Float32Array; left: number } {
  const { first, count, workshop } = couplings;
  const { arrays, sums, run } = workshop;
  const { potential, residual, eased, way } = arrays;
  const sum = (): number => sums[0]! + sums[1]! + sums[2]! + sums[3]!;
  for (const array of Object.values(arrays)) array.fill(0);
  residual.set(right, first);
  factorLines(couplings);
  let square = 0;
  for (const value of right) square += value * value;
  const start = Math.sqrt(square);
  run.ease(0);
  way.set(eased);
  let slope = sum();
  let left = start > 0 ? 1 : 0;
  for (let turn = 0; turn < mostTurns && left >= tolerance; turn++) {
    run.multiply(0);
    run.advance(slope / sum());
    left = Math.sqrt(sum()) / start;
    if (left < tolerance) break;
    run.ease(0);
    const next = sum();
    run.turn(next / slope);
    slope = next;
  }
  return { potential: potential.slice(first, first + count), left };
}

/** Makes the vertical couplings of every column ready to be solved exactly (Thomas). */
function factorLines({ strengths, first, count, layer, workshop }: Couplings): void {
  const own = strengths[ITSELF]!;
  const above = strengths[ABOVE]!;
  const { factor, perPivot } = workshop.arrays;
  for (let i = first; i < first + count; i++) {
    const below = i - layer >= first ? above[i - layer]! : 0;
    factor[i] = below * perPivot[i - layer]!;
    perPivot[i] = 1 / (own[i]! - below * factor[i]!);
  }
}
