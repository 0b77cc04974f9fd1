import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { Problem } from '../../core/grid/problem.ts';
import type { FoundOf } from '../workers/inquiries/table.ts';
import type { ServiceContext } from './context.ts';
import { isCurrent, type OpenProperty } from './open-property.ts';

/** Today's travel and its passage, and what was solved for the last proposal tried, from which the next starts. */
export type Today = FoundOf<'travel.today'> & Pick<FoundOf<'travel.whatIf'>, 'last' | 'between'>;

/** What today's travel rests on. */
const RESTS_ON: (keyof Artifacts)[] = ['resistance', 'areas', 'corridors', 'necks'];

/**
 * Today's travel, against which proposals are tried: solved once, and kept until what stands today changes.
 *
 * @throws Problem while the scout has not caught up with the last edit
 */
export async function todayOf(
  context: ServiceContext,
  property: OpenProperty,
  request: string,
): Promise<Today> {
  const steps = property.plan.filter(({ step }) =>
    (step.makes as (keyof Artifacts)[]).some((made) => RESTS_ON.includes(made)),
  );
  if (!steps.every((planned) => isCurrent(property, planned))) {
    throw new Problem('Travel as it is today has not been worked out yet.', {
      fix: 'Wait for the scout to finish, or start it.',
    });
  }
  const key = steps.map((planned) => planned.key).join();
  if (property.today?.key === key) return property.today.found;
  const question = { moment: momentOf(property) };
  const solved = await context.inquiring.ask(property, 'travel.today', question, request);
  const found = { ...solved, last: null, between: null };
  property.today = { key, found };
  return found;
}

export const momentOf = ({ input }: OpenProperty) => {
  const { date, year } = input.settings.travel;
  return { date, year };
};
