import { isoToday } from '../../core/plan/days.ts';
import { planWork } from '../../core/plan/plan-work.ts';
import type { Gains, WorkPlan } from '../../core/plan/types.ts';
import type { OpenProperty } from './open-property.ts';
import { digest } from './source-keys.ts';

/** Gains as last computed, with what they rest on: they no longer hold once a feature or an assumption changed. */
interface Known {
  key: string;
  gains: Gains;
}
const known = new WeakMap<OpenProperty['store'], Known>();

function keyOf({ input, keys }: OpenProperty): string {
  const { travel, stands, hunt, air, brief } = input.settings;
  return digest(JSON.stringify([input.sources.features, travel, stands, hunt, air, brief.weapon, [...keys]]));
}

export const keepGains = (property: OpenProperty, gains: Gains): void => {
  known.set(property.store, { key: keyOf(property), gains });
};

/** What each job gains, while that still holds; null when nobody computed it since the last change. */
export function gainsOf(property: OpenProperty): Gains | null {
  const kept = known.get(property.store);
  return kept?.key === keyOf(property) ? kept.gains : null;
}

/** The work of the open property as it is drawn and set now. */
export function workOf(property: OpenProperty, today = isoToday()): WorkPlan {
  const { settings, sources } = property.input;
  return planWork(sources.features, settings.plan, settings.units, gainsOf(property), today);
}
