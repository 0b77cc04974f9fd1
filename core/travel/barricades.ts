import { COVER } from '../cover/types.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import { ringsOf } from '../features/shapes.ts';
import { compassWord } from '../features/units.ts';
import { bearingOf } from '../grid/bearing.ts';
import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import type { Weights } from './assumptions.ts';
import { barricadeWays } from './barricade-ways.ts';
import { type Barrier, barriersOf, footOn } from './barriers.ts';
import type { EdgeCosts } from './edges.ts';
import { type Flow, shareAcross } from './flow.ts';
import type { BarricadeCheck } from './types.ts';
import { wayRound } from './way-round.ts';

/** Close beyond an end, m: travel that shows up here has walked round. */
const BEYOND = 60;
/** An end this near to a fence, water or another barricade was meant to meet it, m. */
const MEANT_TO_MEET = 60;
const MET = 1.5;
/** With more than this part of what it met still getting by close at hand, it does not hold. */
const STILL_BY = 0.5;
/** Below this share nothing much passes to be held. */
const LITTLE = 0.005;

export interface BarricadeInputs {
  before: Flow;
  after: Flow;
  /** Resistance on the flow's frame, with its relief and trails. */
  ground: Pick<EdgeCosts, 'resistance' | 'underfoot'>;
  /** As they are when the proposed features are built. */
  features: readonly Feature[];
  cover: Grid<Uint8Array>;
  /** Of the ground, degrees. */
  slope: Grid;
  weights: Weights;
}

/**
 * What each proposed barricade does: what still crosses it, what now slips round each end (net flow over a short line
 * drawn on beyond the end, after less before), what a deer that meets it does most cheaply, and what its ends stop
 * short of.
 *
 * @param proposed the barricades to check, already among the features as built
 */
export function checkBarricades(proposed: readonly Feature[], inputs: BarricadeInputs): BarricadeCheck[] {
  const barriers = barriersOf(inputs.features, inputs.weights, inputs.slope);
  return proposed.flatMap((feature) =>
    barriers
      .filter((barrier) => barrier.feature === feature.id)
      .map((barrier) => checkOne(feature, barrier, barriers, inputs)),
  );
}

function checkOne(
  feature: Feature,
  barrier: Barrier,
  barriers: readonly Barrier[],
  inputs: BarricadeInputs,
): BarricadeCheck {
  const { before, after, features, cover } = inputs;
  const { path } = barrier;
  const crossedBefore = shareAcross(before, path).share;
  const crossedAfter = shareAcross(after, path).share;
  const ends = [
    { at: path[0]!, inner: path[1]! },
    { at: path.at(-1)!, inner: path.at(-2)! },
  ].map(({ at, inner }) => {
    const length = Math.hypot(at[0] - inner[0], at[1] - inner[1]);
    const out: Point = [(at[0] - inner[0]) / length, (at[1] - inner[1]) / length];
    const beyond: Point[] = [at, [at[0] + out[0] * BEYOND, at[1] + out[1] * BEYOND]];
    return {
      at,
      side: compassWord(bearingOf(...out)),
      gained: Math.max(0, shareAcross(after, beyond).share - shareAcross(before, beyond).share),
      gap: gapAt(at, barrier, barriers, features, cover),
    };
  });
  const { at, detour, round } = wayRound(barrier, barriers, before, inputs.ground);
  const built = features.find(({ id }) => id === feature.id) ?? feature;
  const past = barricadeWays(built, inputs.weights);
  const ways = [
    ...(['over', 'through', 'under'] as const).map((way) => ({ way: `${way} it`, cost: past[way] })),
    { way: `round its ${round} end`, cost: detour },
  ].sort((a, b) => a.cost - b.cost);
  const cheapest = ways[0]!.way;
  const stillBy = crossedAfter + ends.reduce((sum, { gained }) => sum + gained, 0);
  const holds = crossedBefore >= LITTLE && stillBy < STILL_BY * crossedBefore;
  const percent = (share: number): string => `${(share * 100).toFixed(1)}%`;
  const reasons = [
    crossedBefore < LITTLE
      ? 'Next to no travel passes here, so there is nothing to hold.'
      : `${percent(crossedBefore)} of all travel crossed this line; ${percent(crossedAfter)} still does.`,
    ...ends
      .filter(({ gained }) => gained >= LITTLE / 2)
      .map(({ side, gained }) => `${percent(gained)} now walks round its ${side} end.`),
    `The cheapest for a deer that meets it is to go ${cheapest}.`,
    ...ends.flatMap(({ side, gap }) => (gap ? [`Its ${side} end stops short of the ${gap.to}.`] : [])),
    holds ? 'It holds most of what it meets.' : 'It does not hold what it meets: deer get by close at hand.',
  ];
  return {
    feature: feature.id,
    name: feature.name ?? 'Barricade',
    at,
    before: crossedBefore,
    after: crossedAfter,
    ends,
    cheapest,
    ways: ways.map(({ way, cost }) => ({ way, cost: Number.isFinite(cost) ? cost : null })),
    detour,
    crossing: barrier.cost,
    holds,
    reasons,
  };
}

/** What an end stops short of, if it lies near enough to have been meant: another line, or water. */
function gapAt(
  end: Point,
  barrier: Barrier,
  barriers: readonly Barrier[],
  features: readonly Feature[],
  cover: Grid<Uint8Array>,
): { to: string; distance: number } | null {
  const lines = [
    ...barriers
      .filter(({ feature, kind }) => feature !== barrier.feature && kind !== 'road' && kind !== 'railroad')
      .map(({ kind, name, path }) => ({ to: name ?? kind, path })),
    ...ofKind(features, 'pond').flatMap(({ name, geometry }) =>
      ringsOf(geometry).map((path) => ({ to: name ?? 'pond', path })),
    ),
  ];
  let nearest: { to: string; distance: number } | null = null;
  for (const { to, path } of lines) {
    const distance = footOn(path, end)?.distance ?? Number.POSITIVE_INFINITY;
    if (distance <= MEANT_TO_MEET && distance < (nearest?.distance ?? Number.POSITIVE_INFINITY))
      nearest = { to, distance };
  }
  const cell = cellAt(cover.frame, ...end);
  if (cell >= 0 && cover.cells[cell] === COVER.water) return null;
  return nearest && nearest.distance > MET ? nearest : null;
}
