import { cellAt, type Frame, type Grid, type Point } from '../grid/frame.ts';
import type { Route } from '../travel/types.ts';

/** One route walked past a stand at an even pace, a step a few heartbeats long. */
export interface Walk {
  route: string;
  from: string;
  to: string;
  when: Route['when'];
  /** Share of all travel it stands for. */
  share: number;
  /** Cell of the scent's window at each step; -1 outside it, where no scent is followed. */
  cells: Int32Array;
  /** The step at which it first is in reach and in view; -1 where it never is. */
  reached: number;
  /** Time from its start until then, s; NaN where it never is. */
  until: number;
  /** How long it stays in reach and in view, s. */
  inView: number;
}

/** What becomes of some travel, as shares of it: clean, spoiled and never in reach add up to one. */
export interface Fate {
  /** In reach and in view before its first cell of scent over the threshold. */
  clean: number;
  /** Comes in reach and in view, but meets the scent first. */
  spoiled: number;
  never: number;
  /** Meets the scent anywhere, in reach or not, before or after. */
  alarmed: number;
}

/**
 * Walks every route at a stated pace. A route is looked at every half cell of the finer of the two frames, so that no
 * cell it crosses along an axis is skipped.
 *
 * @param pace m/s
 * @param reach 1 where a deer is in reach of the stand and in view
 * @param window frame of the scent
 */
export function walkRoutes(
  routes: readonly Route[],
  pace: number,
  reach: Grid<Uint8Array>,
  window: Frame,
): Walk[] {
  const spacing = Math.min(reach.frame.cellSize, window.cellSize) / 2;
  const seconds = spacing / pace;
  return routes.map(({ id, from, to, when, share, path }) => {
    const cells: number[] = [];
    let reached = -1;
    let steps = 0;
    walkEvenly(path, spacing, (x, y) => {
      const k = cells.push(cellAt(window, x, y)) - 1;
      const i = cellAt(reach.frame, x, y);
      if (i < 0 || reach.cells[i] !== 1) return;
      if (reached < 0) reached = k;
      steps++;
    });
    const until = reached < 0 ? Number.NaN : reached * seconds;
    return {
      route: id,
      from,
      to,
      when,
      share,
      cells: Int32Array.from(cells),
      reached,
      until,
      inView: steps * seconds,
    };
  });
}

/** Visits spots along a path at an even spacing, its two ends included. */
export function walkEvenly(
  path: readonly Point[],
  spacing: number,
  visit: (x: number, y: number) => void,
): void {
  if (path.length === 0) return;
  visit(...path[0]!);
  let left = spacing;
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const length = Math.hypot(bx - ax, by - ay);
    let along = left;
    for (; along < length; along += spacing)
      visit(ax + ((bx - ax) * along) / length, ay + ((by - ay) * along) / length);
    left = along - length;
  }
  if (path.length > 1) visit(...path[path.length - 1]!);
}

/** The step at which each walk first meets scent at or over a threshold; -1 where it never does. */
export function firstScent(
  walks: readonly Walk[],
  dilution: ArrayLike<number>,
  threshold: number,
): Int32Array {
  return Int32Array.from(walks, ({ cells }) =>
    cells.findIndex((cell) => cell >= 0 && dilution[cell]! >= threshold),
  );
}

/** A walk is clean only if it is in reach before its first step in scent: the same step counts as spoiled. */
export const isClean = (walk: Walk, scentAt: number): boolean =>
  walk.reached >= 0 && (scentAt < 0 || walk.reached < scentAt);

/** What becomes of the walks together, by their shares of travel; null where there is no travel. */
export function fateOf(walks: readonly Walk[], scentAt: ArrayLike<number>): Fate | null {
  const sums = { clean: 0, spoiled: 0, never: 0, alarmed: 0 };
  let all = 0;
  walks.forEach((walk, k) => {
    all += walk.share;
    if (walk.reached < 0) sums.never += walk.share;
    else if (isClean(walk, scentAt[k]!)) sums.clean += walk.share;
    else sums.spoiled += walk.share;
    if (scentAt[k]! >= 0) sums.alarmed += walk.share;
  });
  if (all === 0) return null;
  return {
    clean: sums.clean / all,
    spoiled: sums.spoiled / all,
    never: sums.never / all,
    alarmed: sums.alarmed / all,
  };
}

/** Travel between two areas whose direction is not known, judged each way. Shares of all the travel given. */
export interface BothWays {
  /** Names of the two areas, in alphabetical order. */
  between: [string, string];
  share: number;
  /** Of its travel, what comes clean if all of it runs from the first to the second, and the other way. */
  there: number;
  back: number;
}

/** Pairs of unknown direction, each judged both ways. */
export function bothWays(walks: readonly Walk[], scentAt: ArrayLike<number>): BothWays[] {
  const all = walks.reduce((sum, { share }) => sum + share, 0);
  const pairs = new Map<string, { between: [string, string]; sums: { clean: number; share: number }[] }>();
  walks.forEach((walk, k) => {
    if (walk.when !== 'any') return;
    const between = [walk.from, walk.to].sort() as [string, string];
    const key = between.join('\u0000');
    const pair = pairs.get(key) ?? {
      between,
      sums: [
        { clean: 0, share: 0 },
        { clean: 0, share: 0 },
      ],
    };
    pairs.set(key, pair);
    const sum = pair.sums[walk.from === between[0] ? 0 : 1]!;
    sum.share += walk.share;
    if (isClean(walk, scentAt[k]!)) sum.clean += walk.share;
  });
  return [...pairs.values()].map(({ between, sums: [to, fro] }) => ({
    between,
    share: (to!.share + fro!.share) / all,
    there: to!.share > 0 ? to!.clean / to!.share : 0,
    back: fro!.share > 0 ? fro!.clean / fro!.share : 0,
  }));
}

export interface Band {
  usual: number;
  low: number;
  high: number;
}

/**
 * The clean share with its band: over a keener and a duller nose, over the direction of travel where it is not known
 * (all of each such pair's travel the better or the worse way), and over how few routes stand for the travel (Wilson's
 * 95% interval for their effective number, the square of the shares' sum over the sum of their squares).
 *
 * @param scentAt first meetings with scent for the usual, the keen and the dull nose
 * @param interval share with its interval for an effective number
 */
export function cleanBand(
  walks: readonly Walk[],
  scentAt: { usual: ArrayLike<number>; keen: ArrayLike<number>; dull: ArrayLike<number> },
  interval: (count: number, total: number) => { low: number; high: number },
): Band | null {
  const usual = fateOf(walks, scentAt.usual)?.clean;
  if (usual === undefined) return null;
  let [low, high] = [usual, usual];
  for (const nose of [scentAt.usual, scentAt.keen, scentAt.dull]) {
    const clean = fateOf(walks, nose)!.clean;
    let [worse, better] = [clean, clean];
    for (const { share, there, back } of bothWays(walks, nose)) {
      const half = (share * (there + back)) / 2;
      worse += share * Math.min(there, back) - half;
      better += share * Math.max(there, back) - half;
    }
    low = Math.min(low, worse);
    high = Math.max(high, better);
  }
  const sum = walks.reduce((total, { share }) => total + share, 0);
  const squares = walks.reduce((total, { share }) => total + share * share, 0);
  const effective = squares > 0 ? (sum * sum) / squares : 0;
  const chance = interval(usual * effective, effective);
  return {
    usual,
    low: Math.max(0, Math.min(low, chance.low)),
    high: Math.min(1, Math.max(high, chance.high)),
  };
}
