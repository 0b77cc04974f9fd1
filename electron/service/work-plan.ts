import { isoToday } from '../../core/plan/days.ts';
import { planWork } from '../../core/plan/plan-work.ts';
import type { Gain, Gains, WorkPlan } from '../../core/plan/types.ts';
import type { OpenProperty } from './open-property.ts';
import { digest } from './source-keys.ts';

/** Gains as last computed, with what they rest on: they no longer hold once a feature or an assumption changed. */
interface Known {
  key: string;
  unit: string;
  byJob: Map<string, Gain>;
}
const known = new WeakMap<OpenProperty['store'], Known>();

const keyOf = ({ input, keys }: OpenProperty): string =>
  digest(JSON.stringify([input.sources.features, input.settings.travel, [...keys]]));

export const keepGains = (property: OpenProperty, unit: string, byJob: Map<string, Gain>): void => {
  known.set(property.store, { key: keyOf(property), unit, byJob });
};

/** What each job gains, while that still holds; null when nobody computed it since the last change. */
export function gainsOf(property: OpenProperty): Gains | null {
  const gains = known.get(property.store);
  return gains?.key === keyOf(property) ? gains : null;
}

/** The work of the open property as it is drawn and set now. */
export function workOf(property: OpenProperty, today = isoToday()): WorkPlan {
  const { settings, sources } = property.input;
  return planWork(sources.features, settings.plan, settings.units, gainsOf(property), today);
}
