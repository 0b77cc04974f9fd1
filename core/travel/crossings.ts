import { type Feature, numberOr, ofKind } from '../features/feature.ts';
import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import { stretchOf } from './along.ts';
import { gentlestBank } from './banks.ts';
import type { Barrier } from './barriers.ts';
import { CIRCUIT_MOVES, visitCrossedMoves } from './crossed-moves.ts';
import { edgeFlow, type Flow, shareOf } from './flow.ts';
import { boundaryRings, ownerOf } from './owner.ts';
import type { Corridor, Crossing } from './types.ts';

/** A stretch of a line this long is one crossing place, m: our assumption. */
const STRETCH = 60;
const LEAST_SHARE = 0.03;
const MOST = 40;

interface Line {
  kind: Crossing['kind'];
  feature: string;
  name: string | null;
  path: Point[];
  barrier: Barrier | null;
}

/** A crossing with the stretch of its line that its share is counted over. */
export type FoundCrossing = Crossing & { span: Point[] };

/**
 * Where travel crosses roads, railroads, creeks, fences, barricades and the ownership line. A place is a stretch
 * of the line; its share is the net flow over the stretch against all that is sent, and it is listed when that is
 * a top along the line or a corridor crosses there.
 */
export function findCrossings(
  flow: Flow,
  corridors: readonly Corridor[],
  barriers: readonly Barrier[],
  features: readonly Feature[],
  edgeDistance: Grid,
  slope: Grid,
): FoundCrossing[] {
  const rings = boundaryRings(features);
  const lines: Line[] = [
    ...barriers.map((barrier) => ({ ...barrier, barrier })),
    ...rings.map(
      (path): Line => ({
        kind: 'ownership line',
        feature: 'boundary',
        name: null,
        path,
        barrier: null,
      }),
    ),
  ];
  const stretch = Math.max(STRETCH, 3 * flow.frame.cellSize);
  const widths = new Map(
    ofKind(features, 'creek').map(({ id, attributes }) => [id, numberOr(attributes.width, 2)]),
  );
  const found = lines.flatMap((line) =>
    placesOn(flow, line, corridors, stretch).map((place) => ({ line, ...place })),
  );
  found.sort((a, b) => b.share - a.share || a.at[0] - b.at[0] || a.at[1] - b.at[1]);
  return found.slice(0, MOST).map(({ line, at, along, share, corridors }, k) => {
    const opening = line.barrier?.openings.find(
      ({ at: gap, halfWidth }) => Math.hypot(gap[0] - at[0], gap[1] - at[1]) <= halfWidth + stretch / 2,
    );
    const bank =
      line.kind === 'creek' && !opening
        ? gentlestBank(line.path, widths.get(line.feature) ?? 2, along, stretch, slope)
        : null;
    return {
      id: `crossing-${k + 1}`,
      kind: line.kind,
      feature: line.feature,
      at: opening ? opening.at : at,
      share,
      span: stretchOf(line.path, along - stretch / 2, along + stretch / 2),
      corridors,
      owner: ownerOf(rings, [at], flow.frame.cellSize),
      easiest: opening
        ? { at: opening.at, what: opening.type === 'lowered' ? 'lowered span' : opening.type }
        : bank && { at: bank.at, what: 'gentlest banks' },
      reasons: [
        ...reasonsFor(line, opening?.type ?? null, share, corridors.length, edgeDistance, at),
        ...(bank ? [bank.reason] : []),
      ],
    };
  });
}

function reasonsFor(
  line: Line,
  opening: string | null,
  share: number,
  corridors: number,
  edgeDistance: Grid,
  at: Point,
): string[] {
  const reasons = [`${Math.round(share * 100)}% of all travel crosses the ${line.name ?? line.kind} here.`];
  if (opening) reasons.push(`The ${opening === 'lowered' ? 'lowered span' : opening} makes it easy.`);
  if (corridors > 0)
    reasons.push(
      corridors === 1
        ? 'The cheapest way of one corridor runs through.'
        : `The cheapest ways of ${corridors} corridors run through.`,
    );
  const cell = cellAt(edgeDistance.frame, at[0], at[1]);
  const distance = cell >= 0 ? edgeDistance.cells[cell]! : Number.NaN;
  if (distance < 0) reasons.push('Cover reaches the line here.');
  return reasons;
}

interface Place {
  at: Point;
  /** m along the line. */
  along: number;
  share: number;
  corridors: string[];
}

/** The stretches of a line with a top of net flow, or that a corridor's cheapest way crosses. */
function placesOn(flow: Flow, { path }: Line, corridors: readonly Corridor[], stretch: number): Place[] {
  const pairs = flow.pairs.length;
  const meets: { along: number; at: Point; flows: Float64Array }[] = [];
  visitCrossedMoves(flow.frame, path, CIRCUIT_MOVES, ({ cell, move, x, y, along, side }) => {
    const flows = new Float64Array(pairs);
    for (let p = 0; p < pairs; p++) flows[p] = side * edgeFlow(flow, p, cell, move);
    meets.push({ along, at: [x, y], flows });
  });
  if (meets.length === 0) return [];
  meets.sort((a, b) => a.along - b.along);

  // Net flow over the stretch around every meeting, by a moving window.
  const window = new Float64Array(pairs);
  const shares = new Float64Array(meets.length);
  let first = 0;
  let last = 0;
  for (let k = 0; k < meets.length; k++) {
    while (last < meets.length && meets[last]!.along <= meets[k]!.along + stretch / 2) {
      for (let p = 0; p < window.length; p++) window[p]! += meets[last]!.flows[p]!;
      last++;
    }
    while (meets[first]!.along < meets[k]!.along - stretch / 2) {
      for (let p = 0; p < window.length; p++) window[p]! -= meets[first]!.flows[p]!;
      first++;
    }
    shares[k] = shareOf(flow, window);
  }
  // The meeting that carries most stands for its stretch; stretches do not overlap.
  const own = meets.map(({ flows }) => shareOf(flow, flows));
  const order = meets.map((_, k) => k).sort((a, b) => own[b]! - own[a]! || a - b);
  const taken: number[] = [];
  const places: Place[] = [];
  const passing = corridors.flatMap((corridor) => {
    const at = pathsCross(path, corridor.path);
    return at.map((along) => ({ along, id: corridor.id }));
  });
  for (const k of order) {
    const { along, at } = meets[k]!;
    if (taken.some((other) => Math.abs(other - along) < stretch)) continue;
    const through = [
      ...new Set(passing.filter((c) => Math.abs(c.along - along) <= stretch / 2).map(({ id }) => id)),
    ];
    if (shares[k]! < LEAST_SHARE && through.length === 0) continue;
    taken.push(along);
    places.push({ at, along, share: Math.min(1, shares[k]!), corridors: through });
  }
  return places;
}

/** Distances along a line at which a path crosses it. */
function pathsCross(line: readonly Point[], path: readonly Point[]): number[] {
  const found: number[] = [];
  let start = 0;
  for (let k = 0; k + 1 < line.length; k++) {
    const [a, b] = [line[k]!, line[k + 1]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const west = Math.min(a[0], b[0]);
    const east = Math.max(a[0], b[0]);
    const south = Math.min(a[1], b[1]);
    const north = Math.max(a[1], b[1]);
    for (let j = 0; j + 1 < path.length; j++) {
      const [c, d] = [path[j]!, path[j + 1]!];
      if (Math.max(c[0], d[0]) < west || Math.min(c[0], d[0]) > east) continue;
      if (Math.max(c[1], d[1]) < south || Math.min(c[1], d[1]) > north) continue;
      const side = (p: Point): number => (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);
      const across = (p: Point): number => (d[0] - c[0]) * (p[1] - c[1]) - (d[1] - c[1]) * (p[0] - c[0]);
      if (side(c) >= 0 === side(d) >= 0 || across(a) >= 0 === across(b) >= 0) continue;
      const t = across(a) / (across(a) - across(b));
      found.push(start + t * length);
    }
    start += length;
  }
  return found;
}
