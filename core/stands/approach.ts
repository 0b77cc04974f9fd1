import { formatLength, type Units } from '../features/units.ts';
import { visitAround } from '../grid/around.ts';
import { cellAt, cellCentre, type Grid, type Point } from '../grid/frame.ts';
import { traceCells } from '../travel/cost.ts';
import { byVehicle, type Found, judging, onFoot, paceFor, type ReadyGround, type Walk } from './judge-way.ts';
import { type Start, startsOf } from './starts.ts';
import type { Approach, ApproachWay, StandSpot } from './types.ts';
import { exposureOf, priceOf } from './walk-price.ts';
import type { WalkSurface } from './walk-surface.ts';
import { leastWays } from './walking.ts';

/** A second way must run apart from the others for this share of its cells, this far off, m: our choice. */
const APART = { share: 0.25, distance: 30 };
/** What running along a way already found counts for when another is looked for, and how dear that one may be. */
const REPEAT = 2.5;
const DEAREST = 2;
const MOST_WAYS = 3;

/**
 * Two or three ways to a stand with what each costs: the quickest, the one least seen, the one that weighs everything,
 * and one that keeps away from those where they run together. Ways stay on the client's ground and public roads unless
 * the neighbour allows it. Where none is clean, one from the neighbour's side that would be is told, not drawn as a way.
 *
 * @returns the ways, and what a second counts for on each cell when everything is weighed
 */
export function approachTo(
  spot: StandSpot,
  ready: ReadyGround,
  walk: Walk,
  units: Units,
): { approach: Approach; price: Grid } {
  const { ground, surface, watchers } = ready;
  const { frame } = surface;
  const target = cellAt(frame, ...spot.at);
  const exposure = exposureOf(surface, watchers, walk.air, walk.dryLeaves);
  const open = paceFor(surface, target, walk);
  const starts = startsOf(frame, ground.features, walk.from);
  const price = (kind: 'quickest' | 'hidden' | 'balanced') =>
    priceOf(surface, watchers, exposure, walk.time, kind);
  const prices = { balanced: price('balanced'), hidden: price('hidden'), quickest: price('quickest') };

  const found: Found[] = [];
  for (const kind of ['balanced', 'hidden', 'quickest'] as const) {
    const way = wayTo(target, starts, surface, open, prices[kind], walk.mode, kind);
    if (way && found.every((other) => apart(surface, way.cells, other.cells))) found.push(way);
  }
  if (found.length > 0 && found.length < MOST_WAYS) {
    const repeated = awayFrom(surface, prices.balanced, found, target);
    const other = wayTo(target, starts, surface, open, repeated, walk.mode, 'another');
    if (
      other &&
      other.cost <= DEAREST * REPEAT * found[0]!.cost &&
      found.every((way) => apart(surface, other.cells, way.cells))
    )
      found.push(other);
  }
  const judge = judging(ready, walk, open, prices.balanced, units);
  const judged = (way: Found, n: number) => judge(way, `${spot.id}-${walk.time}-${n}`, spot.at);
  const ways = found.map(judged).sort(byTrouble);
  const clean = ways.some((way) => way.clean);
  const other =
    !clean && surface.bounded && !walk.allowNeighbour ? fromNeighbour(ready, target, prices.balanced) : null;
  const allowed = other && judged(other, 0);
  const ifAllowed = allowed?.clean ? allowed : null;
  const approach: Approach = {
    stand: spot.id,
    name: spot.name,
    time: walk.time,
    mode: walk.mode,
    wind: walk.wind,
    ways,
    ifAllowed,
    clean,
    verdict: verdictOf(starts, ways, ifAllowed, units),
    doubts: doubtsOf(surface, walk),
  };
  return { approach, price: prices.balanced };
}

const gravity = ({ faults }: ApproachWay): number => faults.filter(({ grave }) => grave).length;
const byTrouble = (a: ApproachWay, b: ApproachWay): number =>
  gravity(a) - gravity(b) || a.faults.length - b.faults.length || a.minutes - b.minutes;

/** The least way from any start; by vehicle along roads first and on foot from where that is best left. */
export function wayTo(
  target: number,
  starts: readonly Start[],
  surface: WalkSurface,
  pace: Grid,
  price: Grid,
  mode: Approach['mode'],
  kind: ApproachWay['kind'],
): Found | null {
  if (target < 0) return null;
  const { frame } = surface;
  const begin = starts.flatMap(({ cells }) => cells.map((cell) => [cell, 0] as const));
  let sources: (readonly [number, number])[] = begin;
  let driven: ReturnType<typeof leastWays> | null = null;
  if (mode === 'vehicle') {
    const open = begin
      .map(([cell]) => [nearestRoad(surface, cell), 0] as const)
      .filter(([cell]) => cell >= 0);
    driven = leastWays(byVehicle(surface, price), open);
    sources = [...begin];
    driven.cost.forEach((cost, cell) => {
      if (cost < Number.POSITIVE_INFINITY) sources.push([cell, cost]);
    });
  }
  const walked = leastWays(onFoot(surface, pace, price), sources, target);
  if (walked.cost[target] === Number.POSITIVE_INFINITY) return null;
  const feet = traceCells(walked, frame.width, target);
  const drive = driven && driven.via[feet[0]!] !== 0 ? traceCells(driven, frame.width, feet[0]!) : [];
  const first = drive[0] ?? feet[0]!;
  const [x, y] = cellCentre(frame, first);
  const start = starts.reduce((a, b) => (away(b.at, [x, y]) < away(a.at, [x, y]) ? b : a));
  const isHere = start.cells.includes(first);
  return {
    kind,
    start: start.name,
    from: isHere ? start.at : [x, y],
    cells: [...drive.slice(0, -1), ...feet],
    driven: Math.max(0, drive.length - 1),
    cost: walked.cost[target]!,
  };
}

const away = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** A vehicle stands on the nearest road cell within this, m. */
const PARKED = 60;

function nearestRoad({ frame, drive }: WalkSurface, cell: number): number {
  const [x, y] = [cell % frame.width, Math.floor(cell / frame.width)];
  let best = -1;
  let least = PARKED;
  visitAround(frame, x, y, PARKED, (i, u, v) => {
    const distance = Math.hypot(u - x, v - y) * frame.cellSize;
    if (drive.cells[i]! > 0 && distance <= least) {
      least = distance;
      best = i;
    }
  });
  return best;
}

/** Whether enough of a way runs apart from another. */
function apart({ frame }: WalkSurface, cells: readonly number[], other: readonly number[]): boolean {
  const places = other.map((cell) => cellCentre(frame, cell));
  const lonely = cells.filter((cell) => {
    const at = cellCentre(frame, cell);
    return places.every((place) => away(place, at) > APART.distance);
  });
  return lonely.length >= APART.share * cells.length;
}

/** Prices raised along ways already found, but near the stand, where all must meet. */
function awayFrom({ frame }: WalkSurface, price: Grid, ways: readonly Found[], target: number): Grid {
  const cells = price.cells.slice();
  const raised = new Uint8Array(cells.length);
  const end = cellCentre(frame, target);
  for (const { cells: way } of ways)
    for (const cell of way) {
      if (away(cellCentre(frame, cell), end) < 2 * APART.distance) continue;
      const [x, y] = [cell % frame.width, Math.floor(cell / frame.width)];
      visitAround(frame, x, y, APART.distance, (i) => {
        raised[i] = 1;
      });
    }
  for (let i = 0; i < cells.length; i++) if (raised[i] === 1) cells[i]! *= REPEAT;
  return { frame, cells };
}

/** The least way on the client's ground from any place of the line to a neighbour. */
function fromNeighbour({ surface }: ReadyGround, target: number, price: Grid): Found | null {
  const { frame, allowed, pace } = surface;
  const starts: (readonly [number, number])[] = [];
  for (let i = frame.width; i < allowed.length - frame.width; i++) {
    const beside = [i - 1, i + 1, i - frame.width, i + frame.width];
    if (allowed[i] === 0 && beside.some((j) => allowed[j] === 1)) starts.push([i, 0]);
  }
  const walked = leastWays(onFoot(surface, pace, price), starts, target);
  if (target < 0 || walked.cost[target] === Number.POSITIVE_INFINITY) return null;
  const cells = traceCells(walked, frame.width, target);
  return {
    kind: 'another',
    start: 'the neighbour’s side',
    from: cellCentre(frame, cells[0]!),
    cells,
    driven: 0,
    cost: walked.cost[target]!,
  };
}

function verdictOf(
  starts: readonly Start[],
  ways: readonly ApproachWay[],
  ifAllowed: ApproachWay | null,
  units: Units,
): string {
  if (starts.length === 0)
    return 'No place people come from is mapped: draw the house, a gate or where you park as an access.';
  const [best] = ways;
  if (!best) return `No way leads here from ${starts.map(({ name }) => name).join(' or ')} on your ground.`;
  const minutes = `${Math.max(1, Math.round(best.minutes))} min, ${formatLength(best.length, units)}`;
  if (best.clean) return `A clean way in from ${best.start}: ${minutes}.`;
  const shared = best.faults.filter(
    ({ key, grave }) =>
      grave && ways.every((way) => way.faults.some((fault) => fault.key === key && fault.grave)),
  );
  const why =
    shared.length > 0
      ? `Every way found has this: ${shared.map(({ sentence }) => sentence).join(' ')}`
      : `Each way found has a grave fault; the best one: ${best.faults.find(({ grave }) => grave)!.sentence}`;
  const other = ifAllowed
    ? ` From the neighbour’s side a clean way of ${formatLength(ifAllowed.length, units)} leads here, across ground that is not yours.`
    : '';
  return `No clean way in. ${why}${other}`;
}

function doubtsOf({ frame, bounded }: WalkSurface, { dryLeaves, air }: Walk): string[] {
  return [
    `Ways are found on cells of ${frame.cellSize.toFixed(1)} m: gates, ditches and blow-downs that are not mapped are not in them.`,
    dryLeaves
      ? 'Leaves are taken as dry, the loudest case.'
      : 'Leaves are taken as damp; on a dry day the walk is louder.',
    'How much deer mind a walker in view, in the wind or in earshot, and where they are at each hour, is our assumption.',
    ...(air.kind === 'drift'
      ? ['In a calm the scent is taken to drain downhill with the cold air of a clear night.']
      : []),
    ...(bounded ? [] : ['No boundary is mapped: ways may cross ground that is not yours.']),
    'The way out is taken as the way in walked back; downhill it is quicker.',
  ];
}
