import { type Feature, ofKind } from '../features/feature.ts';
import { pathsOf, ringsOf } from '../features/shapes.ts';
import type { Point } from '../grid/frame.ts';
import type { Bench, Draw, Saddle } from '../terrain/types.ts';
import { type Barrier, footOn } from './barriers.ts';
import { isInside } from './owner.ts';

/** Ground that travel lore has names for. */
export interface LandmarkSources {
  saddles: readonly Saddle[];
  benches: readonly Bench[];
  draws: readonly Draw[];
  features: readonly Feature[];
  barriers: readonly Barrier[];
}

export interface Landmark {
  name: string;
  at: Point;
  /** m within which a neck is said to fall on it. */
  reach: number;
}

const BEND_ARM = 40;
const BEND_TURN = (60 * Math.PI) / 180;
const REACH = 40;

/** The spots that can name a neck, apart from benches and draws, which have extent. */
export function landmarksOf({ saddles, features, barriers }: LandmarkSources): Landmark[] {
  const existing = features.filter((feature) => feature.status === 'existing');
  const marks: Landmark[] = saddles.map(({ at, width }) => ({
    name: 'saddle',
    at,
    reach: Math.max(REACH, width ?? 0),
  }));
  for (const { geometry } of ofKind(existing, 'crop'))
    for (const ring of ringsOf(geometry))
      for (const at of insideCorners(ring)) marks.push({ name: 'inside corner', at, reach: REACH });
  for (const { geometry } of ofKind(existing, 'creek'))
    for (const path of pathsOf(geometry))
      for (const at of bends(path)) marks.push({ name: 'creek bend', at, reach: REACH });
  for (const barrier of barriers) {
    if (barrier.kind === 'fence' || barrier.kind === 'barricade') {
      const ends = [barrier.path[0]!, barrier.path.at(-1)!];
      const closed = Math.hypot(ends[0]![0] - ends[1]![0], ends[0]![1] - ends[1]![1]) < 1;
      if (!closed) for (const at of ends) marks.push({ name: `end of a ${barrier.kind}`, at, reach: 25 });
    }
    for (const opening of barrier.openings)
      marks.push({ name: OPENING_NAMES[opening.type], at: opening.at, reach: 20 + opening.halfWidth });
  }
  return marks;
}

const OPENING_NAMES = {
  gate: 'gate',
  lowered: 'lowered fence span',
  culvert: 'culvert',
  underpass: 'underpass',
  ford: 'ford',
} as const;

/** Names of the ground a neck's line falls on, each once. */
export function landmarksAt(
  line: readonly [Point, Point],
  marks: readonly Landmark[],
  { benches, draws }: LandmarkSources,
  cellSize: number,
): string[] {
  const names = new Set<string>();
  const middle: Point = [(line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2];
  for (const { name, at, reach } of marks)
    if (footOn(line, at)!.distance <= Math.max(reach, cellSize)) names.add(name);
  if (benches.some(({ outline }) => isInside(outline, middle))) names.add('bench');
  if (
    draws.some(
      ({ path }) => (footOn(path, middle)?.distance ?? Number.POSITIVE_INFINITY) <= Math.max(20, cellSize),
    )
  )
    names.add('draw');
  return [...names];
}

/** Corners where a field wraps around a tip of other ground: inner angle of 225 degrees or more. */
function insideCorners(ring: readonly Point[]): Point[] {
  const corners = ring.slice(0, -1);
  let doubled = 0;
  corners.forEach(([x, y], k) => {
    const [nx, ny] = corners[(k + 1) % corners.length]!;
    doubled += x * ny - nx * y;
  });
  const turning = Math.sign(doubled);
  return corners.filter((at, k) => {
    const before = corners[(k + corners.length - 1) % corners.length]!;
    const after = corners[(k + 1) % corners.length]!;
    return turning * turn(before, at, after) <= -Math.PI / 4;
  });
}

/** Signed turn at b on the way from a to c, left positive. */
function turn(a: Point, b: Point, c: Point): number {
  const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
  const [vx, vy] = [c[0] - b[0], c[1] - b[1]];
  return Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
}

/** Spots where a creek turns by 60 degrees or more between its arms before and after, the sharpest of each bend. */
function bends(path: readonly Point[]): Point[] {
  const found: Point[] = [];
  let sharpest = 0;
  let best: Point | null = null;
  for (let k = 1; k + 1 < path.length; k++) {
    const at = path[k]!;
    const before = path.slice(0, k).findLast((p) => Math.hypot(p[0] - at[0], p[1] - at[1]) >= BEND_ARM);
    const after = path.slice(k + 1).find((p) => Math.hypot(p[0] - at[0], p[1] - at[1]) >= BEND_ARM);
    const angle = before && after ? Math.abs(turn(before, at, after)) : 0;
    if (angle >= BEND_TURN && angle > sharpest) {
      sharpest = angle;
      best = at;
    } else if (angle < BEND_TURN && best) {
      found.push(best);
      best = null;
      sharpest = 0;
    }
  }
  if (best) found.push(best);
  return found;
}
