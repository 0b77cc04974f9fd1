import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { Problem } from '../../core/grid/problem.ts';
import type { FoundOf } from '../workers/inquiries/table.ts';
import { isCurrent, type OpenProperty } from './open-property.ts';

/** What was solved for the last proposal tried, from which the next starts. */
export type Tried = Pick<FoundOf<'travel.whatIf'>, 'between'> & {
  last: FoundOf<'travel.whatIf'>['last'] | null;
};

/** What today's travel rests on. */
const RESTS_ON: (keyof Artifacts)[] = ['resistance', 'areas', 'corridors', 'todayTravel', 'necks', 'passage'];

/**
 * What was tried against today's travel, kept until what stands today changes.
 *
 * @throws Problem while the scout has not caught up with the last edit
 */
export function triedOf(property: OpenProperty): Tried {
  const steps = property.plan.filter(({ step }) =>
    (step.makes as (keyof Artifacts)[]).some((made) => RESTS_ON.includes(made)),
  );
  if (!steps.every((planned) => isCurrent(property, planned))) {
    throw new Problem('Travel as it is today has not been worked out yet.', {
      fix: 'Wait for the scout to finish, or start it.',
    });
  }
  const key = steps.map((planned) => planned.key).join();
  const tried = property.tried?.key === key ? property.tried : { key, found: { last: null, between: null } };
  property.tried = tried;
  return tried.found;
}

export const momentOf = ({ input }: OpenProperty) => {
  const { date, year } = input.settings.travel;
  return { date, year };
};
