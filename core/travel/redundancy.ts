import type { Grid, Point } from '../grid/frame.ts';
import type { Barrier } from './barriers.ts';
import { accumulateCost } from './cost.ts';
import { moveCosts } from './edges.ts';
import type { Flow, TravelPair } from './flow.ts';
import type { Pinch } from './pinch.ts';
import type { Underfoot } from './underfoot.ts';

/** Travel that carries less than this of a pair is not asked for its way round. */
const LEAST_PAIR = 0.05;

/**
 * Share of each pinch's travel that finds a way round when its line is closed. A pair whose least cost rises by the
 * share d keeps e^(-focus d) of its travel, just as the flow takes a dearer way anywhere else.
 *
 * @param pairs in the order of the pinches' shares
 * @param flow on the grid the detours are measured on; gives every pair's least cost there
 * @param resistance and `areas` (area numbers), on the same grid
 */
export function redundancyOf(
  pinches: readonly Pinch[],
  pairs: readonly TravelPair[],
  flow: Flow,
  resistance: Grid,
  underfoot: Underfoot,
  areas: Int32Array,
  barriers: readonly Barrier[],
  focus: number,
): number[] {
  const costs = new Map(flow.pairs.map(({ pair, cost }) => [`${pair.from} ${pair.to}`, cost]));
  const labels = new Int32Array(areas.length);
  return pinches.map((pinch) => {
    const concerned = pairs.flatMap((pair, p) => {
      const cost = costs.get(`${pair.from} ${pair.to}`);
      const own = pinch.pairs[p]!;
      return cost !== undefined && own >= LEAST_PAIR ? [{ pair, cost, weight: pair.share * own }] : [];
    });
    if (concerned.length === 0) return 1;
    const closure = closureOf(pinch.line, resistance.frame.cellSize);
    const crossings = moveCosts(resistance.frame, [...barriers, closure], { resistance, underfoot });
    let kept = 0;
    let all = 0;
    for (const from of new Set(concerned.map(({ pair }) => pair.from))) {
      const these = concerned.filter(({ pair }) => pair.from === from);
      for (let i = 0; i < areas.length; i++) labels[i] = areas[i] === from ? 1 : 0;
      const limit = 2 * Math.max(...these.map(({ cost }) => cost));
      const reach = accumulateCost(resistance, labels, { neighbours: 8, crossings, limit }).cost;
      for (const { pair, cost, weight } of these) {
        let around = Number.POSITIVE_INFINITY;
        for (let i = 0; i < areas.length; i++)
          if (areas[i] === pair.to && reach[i]! < around) around = reach[i]!;
        all += weight;
        kept += weight * Math.exp(-focus * Math.max(0, around / cost - 1));
      }
    }
    return kept / all;
  });
}

/** Closes a line, drawn out by a cell or a tenth so that no move slips by its ends. */
export function closureOf([a, b]: readonly [Point, Point], cellSize: number): Barrier {
  const width = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const more = Math.max(cellSize, width / 10) / width;
  const [dx, dy] = [(b[0] - a[0]) * more, (b[1] - a[1]) * more];
  return {
    feature: 'closure',
    name: null,
    kind: 'barricade',
    path: [
      [a[0] - dx, a[1] - dy],
      [b[0] + dx, b[1] + dy],
    ],
    cost: Number.POSITIVE_INFINITY,
    openings: [],
  };
}
