import type { CoverBlock } from '../cover/types.ts';
import { cellsAlong, cellsInside } from '../features/cells.ts';
import { type Feature, type FeatureKind, ofKind } from '../features/feature.ts';
import { cellAt, cellCentre, cellCount, type Frame, type Grid, type Point } from '../grid/frame.ts';
import { findPatches } from '../grid/patches.ts';
import type { Bench } from '../terrain/types.ts';
import type { Bed } from './beds.ts';
import type { TravelArea } from './types.ts';

export interface AreaInputs {
  frame: Frame;
  features: readonly Feature[];
  blocks: Grid<Int32Array>;
  coverBlocks: readonly CoverBlock[];
  /** m, negative inside cover. */
  edgeDistance: Grid;
  benches: readonly Bench[];
  /** Where deer may well bed, the likeliest first; not asked for where bedding is drawn. */
  beds: readonly Bed[];
  /** NaN where no travel is possible. */
  resistance: Grid;
}

/** Choices of ours, not measured: sizes and distances in m and m². */
const MOST_BLOCKS = 10;
const MOST_BENCHES = 6;
const SMALLEST_CORE = 4000;
/** Farther than this from its edge is the core of a block: a narrower strip links cores instead of being one. */
const CORE_DEPTH = 40;
/** A core larger than this is not one place; spots within it stand for it. */
const LARGEST_CORE = 250_000;
const SPOT_RADIUS = 60;
const SPOT_SPACING = 500;
const DRAWN_POINT_RADIUS = 25;
/** With fewer computed areas than this, travel also comes and goes through the edges of the map. */
const FEW = 3;

/**
 * Where travel starts and ends. The user's own bedding overrides likely beds and the cores of large blocks of cover that
 * hold none (or, without cover, benches), and the user's own food overrides the fields drawn as crops. Where these are few, the four edges
 * of the map stand for travel that comes from beyond. Our rules of thumb, not a survey of deer.
 */
export function findAreas(inputs: AreaInputs): { areas: Grid<Int32Array>; table: TravelArea[] } {
  const { frame } = inputs;
  const cells = new Int32Array(cellCount(frame));
  const table: TravelArea[] = [];
  const claim = (area: Omit<TravelArea, 'id' | 'centre' | 'area'>, wanted: readonly number[]): void => {
    const id = table.length + 1;
    const free = wanted.filter((cell) => cells[cell] === 0 && !Number.isNaN(inputs.resistance.cells[cell]!));
    if (free.length === 0) return;
    for (const cell of free) cells[cell] = id;
    table.push({
      id,
      ...area,
      centre: middleCell(frame, free),
      area: free.length * frame.cellSize ** 2,
    });
  };

  const drawn = existing(inputs.features, 'bedding', 'food');
  for (const feature of drawn) {
    const kind = feature.kind as 'bedding' | 'food';
    const name = feature.name ?? `${kind === 'bedding' ? 'Bedding' : 'Food'} ${table.length + 1}`;
    claim({ kind, name, source: 'drawn' }, cellsOf(frame, feature));
  }
  const lacks = (kind: TravelArea['kind']): boolean => !table.some((area) => area.kind === kind);
  if (lacks('food'))
    existing(inputs.features, 'crop').forEach((crop, k) => {
      claim({ kind: 'food', name: crop.name ?? `Field ${k + 1}`, source: 'computed' }, cellsOf(frame, crop));
    });
  if (lacks('bedding')) {
    inputs.beds.forEach(({ at, cells, reasons }, k) => {
      const name = `Likely bedding ${k + 1} (${quarterOf(frame, at)})`;
      claim({ kind: 'bedding', name, source: 'computed', reasons }, cells);
    });
    for (const core of blockCores(inputs))
      claim({ kind: 'block', name: core.name, source: 'computed' }, core.cells);
    if (lacks('block') && lacks('bedding'))
      for (const bench of largeBenches(inputs))
        claim({ kind: 'bedding', name: bench.name, source: 'computed' }, bench.cells);
  }
  const settled = table.length >= 2 && table.every(({ source }) => source === 'drawn');
  if (!settled && table.length < FEW) {
    for (const side of sidesOf(inputs.resistance))
      claim({ kind: 'edge', name: side.name, source: 'computed' }, side.cells);
  }
  return { areas: { frame, cells }, table };
}

const existing = (features: readonly Feature[], ...kinds: FeatureKind[]): Feature[] =>
  ofKind(features, ...kinds).filter((feature) => feature.status === 'existing');

function largeBenches({ frame, benches }: AreaInputs): { name: string; cells: number[] }[] {
  return [...benches]
    .sort((a, b) => b.area - a.area)
    .slice(0, MOST_BENCHES)
    .map((bench, k) => {
      const cells: number[] = [];
      cellsInside(frame, { type: 'Polygon', coordinates: bench.outline }, (cell) => cells.push(cell));
      return { name: `Bench ${k + 1}`, cells };
    });
}

export function cellsOf(frame: Frame, { geometry }: Feature): number[] {
  const cells = new Set<number>();
  cellsInside(frame, geometry, (cell) => cells.add(cell));
  if (cells.size === 0)
    cellsAlong(frame, geometry, Math.max(DRAWN_POINT_RADIUS, frame.cellSize * 0.71), (cell) =>
      cells.add(cell),
    );
  return [...cells].sort((a, b) => a - b);
}

/** The middle cell of an area: the one nearest to the mean of its cells, so that it lies inside. */
export function middleCell(frame: Frame, cells: readonly number[]): Point {
  let [x, y] = [0, 0];
  for (const cell of cells) {
    const centre = cellCentre(frame, cell);
    x += centre[0] / cells.length;
    y += centre[1] / cells.length;
  }
  let best: Point = [x, y];
  let least = Number.POSITIVE_INFINITY;
  for (const cell of cells) {
    const centre = cellCentre(frame, cell);
    const distance = (centre[0] - x) ** 2 + (centre[1] - y) ** 2;
    if (distance < least) {
      least = distance;
      best = centre;
    }
  }
  return best;
}

/** Cores of the large blocks of cover, the largest first; a core too large to be one place gives spots within it. */
function blockCores({
  frame,
  blocks,
  coverBlocks,
  edgeDistance,
  beds,
}: AreaInputs): { name: string; cells: number[] }[] {
  if (coverBlocks.length === 0) return [];
  const count = cellCount(frame);
  const depth = Math.max(CORE_DEPTH, frame.cellSize);
  const deep = new Uint8Array(count);
  const hasCore = new Set<number>();
  const deepest = new Map<number, number>();
  for (let i = 0; i < count; i++) {
    const block = blocks.cells[i]!;
    if (block === 0) continue;
    // Cover without any edge on the map is deep everywhere.
    const inside = Number.isNaN(edgeDistance.cells[i]!) ? depth : -edgeDistance.cells[i]!;
    if (inside >= depth) {
      deep[i] = 1;
      hasCore.add(block);
    }
    if (inside > (deepest.get(block) ?? 0)) deepest.set(block, inside);
  }
  // A block too thin for a core is represented by its deepest part.
  for (let i = 0; i < count; i++) {
    const block = blocks.cells[i]!;
    if (block !== 0 && !hasCore.has(block) && -edgeDistance.cells[i]! >= 0.6 * deepest.get(block)!)
      deep[i] = 1;
  }
  const { labels, patches } = findPatches(frame, deep, 4, Math.min(SMALLEST_CORE, 4 * frame.cellSize ** 2));
  const members = new Map<number, number[]>(patches.map(({ label }) => [label, []]));
  for (let i = 0; i < count; i++) members.get(labels.cells[i]!)?.push(i);
  const cores: { cells: number[]; weight: number }[] = [];
  for (const patch of patches.slice(0, MOST_BLOCKS)) {
    const cells = members.get(patch.label)!;
    if (patch.area <= LARGEST_CORE) cores.push({ cells, weight: patch.area });
    else for (const spot of spotsIn(frame, cells)) cores.push({ cells: spot, weight: patch.area });
  }
  // A bed stands for the core it lies in or near.
  const apart = SPOT_SPACING / 2;
  const without = cores.filter(({ cells }) => {
    const [x, y] = middleCell(frame, cells);
    const own = new Set(cells);
    return !beds.some(({ at }) => Math.hypot(at[0] - x, at[1] - y) < apart || own.has(cellAt(frame, ...at)));
  });
  return without.slice(0, Math.max(0, MOST_BLOCKS - beds.length)).map(({ cells }, k) => ({
    name: `Timber ${k + 1} (${quarterOf(frame, middleCell(frame, cells))})`,
    cells,
  }));
}

/** Spots spread over a large core, each as far as can be from those before it, no nearer than the spacing. */
function spotsIn(frame: Frame, cells: readonly number[]): number[][] {
  const spacing = Math.max(SPOT_SPACING, 8 * frame.cellSize);
  const radius = Math.max(SPOT_RADIUS, 1.5 * frame.cellSize);
  const centres = cells.map((cell) => cellCentre(frame, cell));
  const away = new Float64Array(cells.length).fill(Number.POSITIVE_INFINITY);
  const spots: number[][] = [];
  let next: Point = middleCell(frame, cells);
  while (spots.length < MOST_BLOCKS) {
    const spot: number[] = [];
    let far = -1;
    let farthest = 0;
    centres.forEach(([x, y], k) => {
      const distance = Math.hypot(x - next[0], y - next[1]);
      if (distance <= radius) spot.push(cells[k]!);
      if (distance < away[k]!) away[k] = distance;
      if (away[k]! > farthest) {
        farthest = away[k]!;
        far = k;
      }
    });
    spots.push(spot);
    if (farthest < spacing) break;
    next = centres[far]!;
  }
  return spots;
}

/** Where a point lies on the map, in words. */
function quarterOf(frame: Frame, [x, y]: Point): string {
  const across = (x - frame.west) / (frame.width * frame.cellSize);
  const down = (frame.north - y) / (frame.height * frame.cellSize);
  const northSouth = down < 1 / 3 ? 'north' : down > 2 / 3 ? 'south' : '';
  const eastWest = across < 1 / 3 ? 'west' : across > 2 / 3 ? 'east' : '';
  return northSouth && eastWest ? `${northSouth}-${eastWest}` : northSouth || eastWest || 'middle';
}

/** The outermost passable cells along the middle halves of the four sides of the map. */
function sidesOf({ frame: { width, height }, cells }: Grid): { name: string; cells: number[] }[] {
  const range = (length: number): number[] =>
    Array.from({ length: Math.max(1, Math.floor(length / 2)) }, (_, k) => Math.floor(length / 4) + k);
  /** First passable cell on a way inward. */
  const first = (from: number, step: number, most: number): number[] => {
    for (let k = 0, cell = from; k < most; k++, cell += step) if (!Number.isNaN(cells[cell]!)) return [cell];
    return [];
  };
  const columns = range(width);
  const rows = range(height);
  return [
    { name: 'North edge of the map', cells: columns.flatMap((x) => first(x, width, height)) },
    { name: 'East edge of the map', cells: rows.flatMap((y) => first(y * width + width - 1, -1, width)) },
    {
      name: 'South edge of the map',
      cells: columns.flatMap((x) => first((height - 1) * width + x, -width, height)),
    },
    { name: 'West edge of the map', cells: rows.flatMap((y) => first(y * width, 1, width)) },
  ];
}
