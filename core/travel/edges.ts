import { cellCount, type Frame, type Grid } from '../grid/frame.ts';
import { NEIGHBOURS_16 } from '../grid/neighbours.ts';
import type { Barrier } from './barriers.ts';
import { COST_MOVES, oppositeMove } from './crossed-moves.ts';
import { visitCrossingCosts, visitEdgeCosts } from './line-crossings.ts';
import { meanReliefAt, type Relief } from './relief.ts';
import { visitTrailMoves, visitTrailSides } from './trails.ts';
import type { Underfoot } from './underfoot.ts';

const BARE: Underfoot = { relief: null, trails: [], trailFactor: 1 };

/** Extra cost of moves, for the cells near a line only. */
export interface MoveCosts {
  /** Row of a cell in `extra`; 0 where no move of the cell crosses a line. */
  slot: Int32Array;
  /**
   * 16 costs a row, in metres of easy ground, in the order of NEIGHBOURS_16; below zero along a trail, though never by
   * as much as the move costs. Row 0 is all zeros.
   */
  extra: Float64Array;
  /** What the cheapest move along a trail costs, m of easy ground; Infinity without trails. */
  least: number;
  /** What moves pay for the heights between cells; null on the level. */
  relief: Relief | null;
}

/**
 * What every one of the 16 moves pays for the lines it intersects, saves along the trails and pays for relief. A
 * crossing within an opening, or within reach of the nearest move where the opening is narrower than a cell, pays the
 * opening's cost instead. A trail, narrower than a cell, makes the moves from cell to cell along it cheap and no
 * others: they cost the length of trail they stand for (half a cell at least), with the share left on a trail of what the ground costs there.
 *
 * @param walked the resistance the moves will be made over, with its relief and trails; none for lines alone
 */
export function moveCosts(
  frame: Frame,
  barriers: readonly Barrier[],
  walked: { resistance: Grid; underfoot: Underfoot } | null = null,
): MoveCosts {
  const slot = new Int32Array(cellCount(frame));
  let extra = new Float64Array(16 * 1024);
  let rows = 1;
  const rowOf = (cell: number): number => {
    if (slot[cell] === 0) {
      slot[cell] = rows++;
      if (rows * 16 > extra.length) {
        const bigger = new Float64Array(extra.length * 2);
        bigger.set(extra);
        extra = bigger;
      }
    }
    return slot[cell]! * 16;
  };
  let least = Number.POSITIVE_INFINITY;
  if (walked) {
    // The dearest saving of a move counts once, however many trails run along it.
    for (const { path } of walked.underfoot.trails)
      visitTrailMoves(frame, path, (cell, dx, dy, length) => {
        const move = MOVE_OF[(dy + 1) * 3 + dx + 1]!;
        if (move === undefined || move < 0) return;
        const other = cell + dx + dy * frame.width;
        const mean = (walked.resistance.cells[cell]! + walked.resistance.cells[other]!) / 2;
        const along = Math.max(length, frame.cellSize / 2) * onTrail(mean, walked.underfoot.trailFactor);
        const saved = mean * frame.cellSize * Math.hypot(dx, dy) - along;
        if (!(saved > 0)) return;
        least = Math.min(least, along);
        for (const at of [rowOf(cell) + move, rowOf(other) + oppositeMove(move)])
          extra[at] = Math.min(extra[at]!, -saved);
      });
  }
  for (const barrier of barriers) {
    visitCrossingCosts(frame, barrier, COST_MOVES, (cell, move, cost) => {
      const other = cell + NEIGHBOURS_16.dx[move]! + NEIGHBOURS_16.dy[move]! * frame.width;
      extra[rowOf(cell) + move]! += cost;
      extra[rowOf(other) + oppositeMove(move)]! += cost;
    });
  }
  return { slot, extra: extra.subarray(0, rows * 16), least, relief: walked?.underfoot.relief ?? null };
}

/** The move by rows and columns one cell away, from -1, -1 to 1, 1; -1 for none. */
const MOVE_OF = [5, 6, 7, 4, -1, 0, 3, 2, 1];

/** Metres of easy ground a metre takes on a trail. */
const onTrail = (resistance: number, factor: number): number => 1 + factor * (resistance - 1);

/**
 * Cost of the way from every cell to its 4-neighbours to the east and south, metres of easy ground; Infinity where
 * no way leads. Four neighbours keep every edge a single exact crossing test, and a uniform sheet of such edges is
 * isotropic at distances of many cells.
 */
export interface EdgeCosts {
  resistance: Grid;
  underfoot: Underfoot;
  east: Float64Array;
  south: Float64Array;
  /** What a metre costs at a cell by the mean of its two ways, with relief but without lines and what lies in the
   * lane of a trail; NaN no data. */
  plain: Float32Array;
  /** Ends of the steps along trails, with their lane's width in cells and what the step costs there. */
  lanes: { cell: number; share: number; cost: number }[];
}

/**
 * Edge costs from a resistance grid, relief and trails, and the lines across them: the mean of the way between centres
 * plus what its lines cost. A conductor has no direction, so climbing counts by the mean of up and down. Where an
 * opening covers a share of the face between two cells, open and closed parts stand side by side (as conductors do), so
 * an opening narrower than a cell counts with its true width. A trail lies on its edges as a conductor as wide as its
 * lane, whatever the cells: who walks a trail keeps to it, where one of a foot's width would lose its walkers at once.
 */
export function edgeCosts(
  resistance: Grid,
  barriers: readonly Barrier[],
  underfoot: Underfoot = BARE,
): EdgeCosts {
  const { frame, cells } = resistance;
  const { width, height, cellSize } = frame;
  const { relief } = underfoot;
  const east = new Float64Array(width * height).fill(Number.POSITIVE_INFINITY);
  const south = new Float64Array(width * height).fill(Number.POSITIVE_INFINITY);
  const plain = cells.slice();
  const lanes: EdgeCosts['lanes'] = [];
  const slant = { eastWest: 0, northSouth: 0 };
  // A metre east-west and north-south at every cell.
  const across = relief ? new Float32Array(width * height) : cells;
  const down = relief ? new Float32Array(width * height) : cells;
  if (relief)
    for (let i = 0; i < cells.length; i++) {
      meanReliefAt(relief, i, slant);
      across[i] = cells[i]! + slant.eastWest;
      down[i] = cells[i]! + slant.northSouth;
      plain[i] = (across[i]! + down[i]!) / 2;
    }
  for (let row = 0, i = 0; row < height; row++) {
    for (let column = 0; column < width; column++, i++) {
      if (Number.isNaN(cells[i]!)) continue;
      if (column + 1 < width && !Number.isNaN(cells[i + 1]!))
        east[i] = ((across[i]! + across[i + 1]!) * cellSize) / 2;
      if (row + 1 < height && !Number.isNaN(cells[i + width]!))
        south[i] = ((down[i]! + down[i + width]!) * cellSize) / 2;
    }
  }
  for (const { path, lane } of underfoot.trails)
    visitTrailSides(frame, path, (cell, dx, dy, length) => {
      if (dx !== 0 && dy !== 0) return;
      const first = dx + dy < 0 ? cell + dx + dy * width : cell;
      const costs = dx !== 0 ? east : south;
      const usual = costs[first]!;
      if (usual === Number.POSITIVE_INFINITY) return;
      const second = first + (dx !== 0 ? 1 : width);
      const ground = (cells[first]! + cells[second]!) / 2;
      const slope = usual / cellSize - ground;
      const trail = length * (onTrail(ground, underfoot.trailFactor) + slope);
      if (!(trail < usual)) return;
      // As wide as its lane on cells of any size, with what ground of the cell is left beside it.
      const share = lane / cellSize;
      const beside = Math.max(0, 1 - share);
      costs[first] = 1 / (beside / usual + share / trail);
      for (const end of [first, second]) {
        // The lane takes the place of the ground: half of it by each of the two steps a trail makes in a cell.
        plain[end]! -= ((1 - beside) * usual) / (2 * cellSize);
        lanes.push({ cell: end, share, cost: trail });
      }
    });
  for (const barrier of barriers)
    visitEdgeCosts(frame, barrier, (cell, move, cost) => {
      (move === 0 ? east : south)[cell]! += cost;
    });
  return { resistance, underfoot, east, south, plain, lanes };
}
