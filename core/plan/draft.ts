import { type Feature, numberOr } from '../features/feature.ts';
import { middleOf } from '../features/shapes.ts';
import type { Units } from '../features/units.ts';
import { weightsOf } from '../travel/assumptions.ts';
import { checkBarricades } from '../travel/barricades.ts';
import { shareWithin } from '../travel/what-if.ts';
import { cautionsOf } from './cautions.ts';
import { orderLines, pickSizes } from './draft-pick.ts';
import { shareAt, type Trials } from './draft-travel.ts';
import type { DraftEffect, DraftIdea, DraftLine, DraftPick } from './draft-types.ts';
import { jobsOf } from './jobs.ts';
import type { PlanSettings } from './plan-work.ts';
import { rateOf, rateTable } from './rates.ts';
import { windowOf } from './windows.ts';

export interface Draft {
  /** In the order of the work. */
  lines: DraftLine[];
  sizes: DraftPick[];
  /** How many person hours the sizes have, in the numbers they come from. */
  people: number;
  days: { weekend: number; winter: number };
  hoursPerDay: number;
  cautions: string[];
}

/**
 * Ideas with the work they take, in order, and what of them fits in each size.
 *
 * @param drawn everything that is there or proposed already
 */
export function draftOf(
  found: readonly DraftIdea[],
  drawn: readonly Feature[],
  settings: PlanSettings,
  units: Units,
): Draft {
  const ideas = withFreeNames(found, drawn);
  const rate = rateOf(rateTable(settings.rates));
  const { hoursPerDay } = settings.calendar;
  const { jobs } = jobsOf(
    ideas.map(({ feature }) => feature),
    rate,
    units,
  );
  const byId = new Map(jobs.map((job) => [job.id, job]));
  const felling = windowOf('barricade', settings.calendar).days;
  const lines = ideas.flatMap((idea): DraftLine[] => {
    const job = byId.get(idea.feature.id);
    if (!job) return [];
    const { days } = windowOf(job.kind, settings.calendar);
    return [{ ...idea, job, inWinter: days.some((day, k) => day === 1 && felling[k] === 1) }];
  });
  const people = Math.max(1, Math.round(rate('saw.people')));
  const days = { weekend: rate('draft.weekend'), winter: rate('draft.winter') };
  const order = orderLines(lines);
  return {
    lines: order.map((line) => ({ ...line, feature: withReason(line) })),
    sizes: pickSizes(order, {
      weekend: days.weekend * people * hoursPerDay,
      winter: days.winter * people * hoursPerDay,
    }),
    people,
    days,
    hoursPerDay,
    cautions: [...new Set(lines.flatMap(({ job }) => cautionsOf(job.kind)))],
  };
}

/** No line is called what something drawn is called: work is found again by its name. */
function withFreeNames(ideas: readonly DraftIdea[], drawn: readonly Feature[]): DraftIdea[] {
  const taken = new Set(drawn.map(({ name }) => name?.toLowerCase()));
  return ideas.map((idea) => {
    const { name } = idea.feature;
    let free = name;
    for (let k = 2; taken.has(free?.toLowerCase()); k++) free = `${name} (${k})`;
    taken.add(free?.toLowerCase());
    return { ...idea, feature: { ...idea.feature, name: free } };
  });
}

/** What goes into the plan with a line: the work list names its reason, and its order goes by what it needs. */
const withReason = ({ feature, needs, reasons }: DraftIdea): Feature => ({
  ...feature,
  attributes: {
    ...feature.attributes,
    ...(needs.length > 0 ? { needs: needs.join(', ') } : {}),
    why: reasons[0]!,
  },
});

/** A bow's reach, m, where a stand names no range: our assumption. */
const BOW = 27;

/**
 * Each size built as a whole and solved, against what is drawn now.
 *
 * @param sets each with all of the one before it
 */
export function draftEffects(trials: Trials, sets: readonly Feature[][]): DraftEffect[] {
  const { base, inputs, own } = trials;
  const found: DraftEffect[] = [];
  for (const [k, features] of sets.entries()) {
    // A winter that holds everything is not solved twice.
    if (k > 0 && sets[k - 1]!.length === features.length) {
      found.push(found[k - 1]!);
      continue;
    }
    const built = features.length > 0 ? trials.solve(features) : base;
    found.push({
      necks: own.map((neck) => ({
        id: neck.id,
        rank: neck.rank,
        before: shareAt(base, neck),
        after: shareAt(built, neck),
      })),
      barricades: checkBarricades(
        features.filter(({ kind }) => kind === 'barricade'),
        {
          before: base.flow,
          after: built.flow,
          ground: built.costs,
          features: built.features,
          cover: inputs.cover,
          slope: inputs.slope,
          weights: weightsOf(inputs.assumptions),
        },
      ),
      stands: features.flatMap(({ id, kind, geometry, attributes }) => {
        const at = kind === 'stand' ? middleOf(geometry) : null;
        if (!at) return [];
        const range = numberOr(attributes.range, BOW);
        return [{ id, before: shareWithin(base.flow, at, range), after: shareWithin(built.flow, at, range) }];
      }),
    });
  }
  return found;
}
