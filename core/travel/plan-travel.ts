import { COVER } from '../cover/types.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import type { Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { weightsOf } from './assumptions.ts';
import { checkBarricades } from './barricades.ts';
import { proposeClosures, type Target } from './closures.ts';
import { shareAcross } from './flow.ts';
import type { Goals } from './goals.ts';
import { boundaryRings } from './owner.ts';
import { withinReach } from './region.ts';
import type { FlowInputs } from './trials.ts';
import type { Corridor, NeckPlace, PlanTravel, TravelArea } from './types.ts';
import { type BuiltTravel, solveBuilt, type TodayTravel } from './what-if.ts';

export interface PlanInputs extends Omit<FlowInputs, 'pairs'> {
  corridors: readonly Corridor[];
  travelAreas: readonly TravelArea[];
  necks: readonly NeckPlace[];
  todayTravel: TodayTravel;
}

/** Best necks on the owner's ground for which closures are sought in turn. */
const TRIED = 3;

/** Proposed features whose effect on travel this stage can tell, or that have none. */
const TELLS = [
  'fence',
  'barricade',
  'road',
  'railroad',
  'creek',
  'gap',
  'trail',
  'building',
  'cut',
  'opening',
  'screen',
  'crop',
  'pond',
  'bedding',
  'food',
  'stand',
  'access',
] as const;

/** Travel between the pairs of the corridors; what plans are tried on. */
export const planPairs = <Given extends Omit<PlanInputs, 'todayTravel'>>(given: Given) => ({
  ...given,
  pairs: given.corridors.map(({ from, to, share }) => ({ from, to, share })),
});

/**
 * Travel with every proposed feature built, against travel today: the necks' shares, what each barricade does, and
 * the closures that would gather more at the first of the best necks on the owner's ground that can be helped. The
 * pairs and their weights, and how dearly a detour is weighed, stay as they are, so that the two can be compared.
 */
export function planTravel(inputs: PlanInputs, progress: Progress = silent): PlanTravel {
  const proposed = inputs.features.filter(({ status }) => status === 'proposed');
  const own = ownNecks(inputs);
  const plan: PlanTravel = { necks: [], barricades: [], goal: null, closures: [], doubts: [] };
  const { todayTravel: today } = inputs;
  if (inputs.corridors.length === 0 || (proposed.length === 0 && own.length === 0)) return plan;
  const built = solveBuilt(planPairs(inputs), today);
  progress(0.4);
  const { necks, barricades, doubts } = compareTravel(inputs, today, built);
  progress(0.6);
  const { goal, closures } = nextClosures(inputs, built, own);
  progress(1);
  return { necks, barricades, goal, closures, doubts };
}

/** The best necks on the owner's ground. */
const ownNecks = ({ necks }: PlanInputs): NeckPlace[] =>
  necks.filter(({ owner }) => owner === 'inside' || owner === 'unknown').slice(0, TRIED);

/** The necks' shares before and after, and what each proposed barricade does. */
export function compareTravel(
  { features, necks, cover, slope, assumptions }: PlanInputs,
  today: TodayTravel,
  built: BuiltTravel,
): Pick<PlanTravel, 'necks' | 'barricades' | 'doubts'> {
  const proposed = features.filter(({ status }) => status === 'proposed');
  return {
    necks: necks.map(({ id, line }) => ({
      id,
      before: shareAcross(today.flow, line).share,
      after: shareAcross(built.flow, line).share,
    })),
    barricades: checkBarricades(ofKind(proposed, 'barricade'), {
      before: today.flow,
      after: built.flow,
      ground: built.costs,
      features: built.features,
      cover,
      slope,
      weights: weightsOf(assumptions),
    }),
    doubts: [...endDoubts(today, built), ...doubtsOf(proposed, cover)],
  };
}

/**
 * The closures that would gather more travel at the first of some necks that any would help: the best may hold all
 * its travel already.
 *
 * @param goals their effect on these is told; without necks asked for, closures gather at the goal's spot
 */
export function nextClosures(
  inputs: PlanInputs,
  { flow, costs, areas, barriers }: BuiltTravel,
  necks: readonly NeckPlace[] | null,
  goals: Goals | null = null,
): Pick<PlanTravel, 'goal' | 'closures'> {
  const { focus } = weightsOf(inputs.assumptions);
  // Travel that wanders at random would have to be kept out everywhere.
  if (focus === 0) return { goal: null, closures: [] };
  const boundary = boundaryRings(inputs.features);
  const given = { flow, costs, areas, barriers, focus, cover: inputs.cover, boundary, goals };
  const targets: { id: string | null; target: Target }[] =
    necks === null && goals?.gather
      ? [{ id: null, target: { region: withinReach(flow.frame, goals.gather) } }]
      : (necks ?? ownNecks(inputs)).map(({ id, line }) => ({ id, target: { line } }));
  for (const { id, target } of targets) {
    const closures = proposeClosures(target, given);
    if (closures.length > 0) return { goal: id, closures };
  }
  return { goal: null, closures: [] };
}

/** What new ends of travel do to the shares. */
function endDoubts({ flow: before }: TodayTravel, { ends, flow }: BuiltTravel): string[] {
  if (ends.length === 0) return [];
  const ids = new Set(ends.map(({ id }) => id));
  const theirs = flow.pairs.reduce(
    (sum, { pair }) => (ids.has(pair.from) || ids.has(pair.to) ? sum + pair.share : sum),
    0,
  );
  return [
    `${ends.map(({ name }) => name).join(' and ')} would be ${ends.length === 1 ? 'a new end' : 'new ends'} of ${Math.round(theirs * 100)}% of all travel, if deer take to ${ends.length === 1 ? 'it' : 'them'} as to the ends of today; travel between the ${before.pairs.length} pairs of today keeps the rest.`,
  ];
}

function doubtsOf(proposed: readonly Feature[], cover: Grid<Uint8Array>): string[] {
  const doubts: string[] = [];
  const untold = new Set(
    proposed.filter(({ kind }) => !(TELLS as readonly string[]).includes(kind)).map(({ kind }) => kind),
  );
  if (untold.size > 0)
    doubts.push(
      `Proposed features of kind ${[...untold].join(', ')} are not told here: what they do to travel is not computed.`,
    );
  if (cover.cells.every((code) => code === 0 || code === COVER.water))
    doubts.push('Cover is unknown, so the work of a closure is reckoned as on timbered ground.');
  return doubts;
}
