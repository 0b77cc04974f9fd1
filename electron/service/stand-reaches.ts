import type { StandReach } from '../../core/stands/types.ts';
import type { AskContext } from './context.ts';
import { isCurrent, type OpenProperty } from './open-property.ts';

const known = new WeakMap<OpenProperty, { key: string; found: Promise<StandReach[]> }>();

/**
 * What stands reach by the settings as they are now. A setting of stands starts no scout, so where the scout's own
 * answer no longer holds it is worked out anew, once.
 */
export function currentReaches({ inquiring }: AskContext, property: OpenProperty): Promise<StandReach[]> {
  const { plan, input, artifacts, keys } = property;
  const planned = plan.find(({ step }) => step.name === 'stands.reaches')!;
  if (isCurrent(property, planned)) return Promise.resolve(artifacts.standReaches!);
  // What lies below may have changed as well, or not have been computed anew yet.
  const key = JSON.stringify([planned.key, [...keys]]);
  const before = known.get(property);
  if (before?.key === key) return before.found;
  const { stands, brief, units } = input.settings;
  const asked = { stands, usual: brief.weapon, units };
  const found = inquiring
    .ask(property, 'stands.reachAll', asked, `stands.reachAll ${planned.key}`)
    .then(({ reaches }) => reaches);
  known.set(property, { key, found });
  found.catch(() => known.delete(property));
  return found;
}
