import { existing, type Feature } from '../features/feature.ts';
import { type Asked, type AskedFound, answerAsked } from './asked.ts';
import { asBuilt } from './built-ground.ts';
import { shareAcross } from './flow.ts';
import { featuresAt, type Moment } from './moment.ts';
import { type PlanInputs, planPairs } from './plan-travel.ts';
import { solveWith } from './what-if.ts';

/** Travel in one year to come. */
export interface YearFound {
  year: number;
  /** Shares of all travel at each neck of today: with what exists alone, and with everything proposed. */
  necks: { id: string; asIs: number; planned: number }[];
  /** `before` as it then is, `after` with everything proposed. */
  asked: AskedFound;
  /** Barricades that have rotted away by then, existing and proposed. */
  gone: { id: string; name: string }[];
}

/**
 * Travel in years to come, on the same pairs and with the same weighing of a detour: barricades rot, cuts and screens
 * thicken. Nothing is said of what grows where nobody drew anything.
 *
 * @param inputs with the features as they stand at `now`, which today's travel was solved for
 * @param drawn every feature as drawn, with what is proposed
 */
export function travelByYear(
  inputs: PlanInputs,
  drawn: readonly Feature[],
  now: Moment,
  years: readonly number[],
  asked: Asked,
  progress: (fraction: number) => void,
): YearFound[] {
  const { todayTravel } = inputs;
  const today = new Set(featuresAt(drawn, { date: now.date, year: 0 }).map(({ id }) => id));
  const given = planPairs({ ...inputs, features: existing(inputs.features) });
  return years.map((year, k) => {
    const then = featuresAt(drawn, { date: now.date, year });
    const asIs = solveWith(given, existing(then), todayTravel);
    progress((k + 0.4) / years.length);
    const planned = solveWith(given, asBuilt(then), todayTravel, asIs);
    progress((k + 0.9) / years.length);
    const base = { ...todayTravel, costs: asIs.costs, flow: asIs.flow };
    const at = planPairs({ ...inputs, features: existing(then) });
    const there = new Set(then.map(({ id }) => id));
    return {
      year,
      necks: inputs.necks.map(({ id, line }) => ({
        id,
        asIs: shareAcross(asIs.flow, line).share,
        planned: shareAcross(planned.flow, line).share,
      })),
      asked: answerAsked(asked, at, base, planned, null).found,
      gone: drawn
        .filter(({ id, kind }) => kind === 'barricade' && today.has(id) && !there.has(id))
        .map(({ id, name }) => ({ id, name: name ?? 'A barricade' })),
    };
  });
}
