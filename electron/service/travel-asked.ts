import { formatLength, formatShare, type Units } from '../../core/features/units.ts';
import { Problem } from '../../core/grid/problem.ts';
import { spotOf } from '../../core/stands/spot.ts';
import type { Asked, AskedEnd, AskedFound } from '../../core/travel/asked.ts';
import type { Goals } from '../../core/travel/goals.ts';
import type { GoalEffect, TravelArea } from '../../core/travel/types.ts';
import type { RequestParams } from './contract.ts';
import type { OpenProperty } from './open-property.ts';
import type { AskedAnswer, GoalsAnswer } from './travel-answers.ts';

type AskedParams = Pick<RequestParams<'travel.whatIf'>, 'pair' | 'stand' | 'goals'>;

export const areaNames = ({ artifacts }: OpenProperty, more: readonly TravelArea[] = []) => {
  const names = new Map([...(artifacts.travelAreas ?? []), ...more].map(({ id, name }) => [id, name]));
  return (id: number) => names.get(id) ?? `area ${id}`;
};

/**
 * @param trial features that are only tried out
 * @throws Problem when an area or a stand is not there any more
 */
export function askedOf(
  property: OpenProperty,
  { pair, stand, goals }: AskedParams,
  trial: readonly { id: string }[] = [],
): Asked {
  return {
    ends: endsOf(property, pair, trial),
    stand: standOf(property, stand),
    goals: goalsOf(property, goals),
  };
}

function endsOf(
  { artifacts, head }: OpenProperty,
  pair: AskedParams['pair'],
  trial: readonly { id: string }[],
): Asked['ends'] {
  if (!pair) return null;
  const known = new Set((artifacts.travelAreas ?? []).map(({ id }) => id));
  const [from, to] = [pair.from, pair.to].map((area) => {
    if (area === 'all') return null;
    const isThere =
      typeof area === 'number'
        ? known.has(area)
        : [...head.features, ...trial].some(({ id }) => id === area.feature);
    if (!isThere)
      throw new Problem('That area of travel is not on the map any more.', { fix: 'Choose another area.' });
    return area;
  }) as [AskedEnd, AskedEnd];
  if (from !== null && JSON.stringify(from) === JSON.stringify(to))
    throw new Problem('Both ends of the travel are the same area.', { fix: 'Choose two areas.' });
  return { from, to };
}

function standOf({ input }: OpenProperty, stand: AskedParams['stand']): Asked['stand'] {
  if (!stand) return null;
  if (!('feature' in stand)) return { at: [stand.x, stand.y], reach: stand.reach };
  const feature = input.sources.features.find(({ id }) => id === stand.feature);
  const spot =
    feature && spotOf(feature, feature.name ?? 'Stand', input.settings.stands, input.settings.brief.weapon);
  if (!spot)
    throw new Problem('That stand is not drawn any more.', { fix: 'Choose another stand or a spot.' });
  return { at: spot.at, reach: stand.reach ?? spot.range };
}

export function goalsOf({ input }: OpenProperty, goals: AskedParams['goals']): Goals | null {
  if (!goals || (!goals.gather && !goals.keepOut)) return null;
  const { gather, keepOut } = goals;
  return {
    gather: gather && { at: [gather.x, gather.y], reach: gather.reach },
    // Winds are told by true north; the grid's is turned by the convergence.
    keepOut: keepOut && {
      at: [keepOut.x, keepOut.y],
      reach: keepOut.reach,
      windFrom: (keepOut.windFrom - input.frame.convergence + 360) % 360,
    },
  };
}

/** What was asked, in words and numbers. */
export function sayAsked(property: OpenProperty, asked: Asked, found: AskedFound): AskedAnswer {
  const { units } = property.input.settings;
  const name = areaNames(property);
  const ranks = new Map((property.artifacts.necks ?? []).map(({ id, rank }) => [id, rank]));
  const endName = (end: AskedEnd): string => {
    if (end === null) return 'anywhere';
    if (typeof end === 'number') return name(end);
    return property.head.features.find(({ id }) => id === end.feature)?.name ?? 'the proposed area';
  };
  const proposed = [asked.ends?.from, asked.ends?.to].flatMap((end) =>
    end && typeof end === 'object' ? [endName(end)] : [],
  );
  const ends = asked.ends && { from: endName(asked.ends.from), to: endName(asked.ends.to) };
  const between = found.between;
  const range = asked.stand && formatLength(asked.stand.reach, units);
  const shares = ({ before, after }: { before: number; after: number }) =>
    `${formatShare(after)}, ${formatShare(before)} today`;
  return {
    pair: between &&
      ends && {
        ...ends,
        ofAll: between.ofAll,
        cutOff: between.cutOff,
        necks: between.necks.map((neck) => ({ ...neck, rank: ranks.get(neck.id) ?? 0 })),
        sentences: [
          proposed.length > 0
            ? `${proposed.join(' and ')} ${proposed.length === 1 ? 'is no end' : 'are no ends'} of travel today; with everything proposed, travel between ${ends.from} and ${ends.to} would be ${formatShare(between.ofAll)} of all, if deer take to it as to the ends of today.`
            : between.ofAll > 0
              ? `Travel between ${ends.from} and ${ends.to} is ${formatShare(between.ofAll)} of all.`
              : `No part of all travel is reckoned straight between ${ends.from} and ${ends.to}: nearer areas lie between them. Shares here are of that travel alone.`,
          ...(between.cutOff.after > between.cutOff.before
            ? [`The proposals leave no way for ${formatShare(between.cutOff.after)} of it.`]
            : []),
        ],
      },
    stand: asked.stand &&
      found.stand && {
        ...asked.stand,
        ...found.stand,
        ofPair: between?.stand ?? null,
        sentence:
          between?.stand && ends
            ? `Within ${range} of the stand passes of the travel between ${ends.from} and ${ends.to} ${shares(between.stand)}; of all travel ${shares(found.stand)}.`
            : `Within ${range} of the stand passes of all travel ${shares(found.stand)}.`,
      },
    goals: found.goals && { ...found.goals, sentences: goalSentences(found.goals, units) },
  };
}

/** The effect on goals in words. */
export function goalSentences(
  { gather, keepOut, rest, dearer }: GoalEffect,
  units: Units,
): GoalsAnswer['sentences'] {
  const turn = ({ before, after }: { before: number; after: number }): string =>
    Math.abs(after - before) < 0.0005
      ? `stays at ${formatShare(after)} of all travel`
      : `goes from ${formatShare(before)} to ${formatShare(after)} of all travel`;
  return [
    ...(gather ? [`What passes the spot to gather at ${turn(gather)}.`] : []),
    ...(keepOut ? [`What comes into the downwind side to be left alone ${turn(keepOut)}.`] : []),
    `Travel that passes neither ${turn(rest)}.`,
    ...(dearer === null
      ? []
      : [
          dearer < 0.5
            ? 'The mean way of a deer grows no dearer.'
            : `The mean way of a deer grows dearer by ${formatLength(dearer, units)} of easy ground.`,
        ]),
  ];
}
