import { NOTHING_FOUND, type StandFindings } from '../../core/analysis/report-model/stand-findings.ts';
import type { OpenProperty } from './open-property.ts';
import { digest } from './source-keys.ts';

/**
 * What was computed of stands on demand, kept for the report as long as nothing it rests on changed: it is too dear to
 * be made for every report.
 */
const known = new WeakMap<OpenProperty['store'], { key: string; found: StandFindings }>();

function keyOf({ input, keys }: OpenProperty): string {
  const { stands, hunt, air, travel, brief, units } = input.settings;
  const rules = [stands, hunt, air, travel, brief.weapon, units];
  return digest(JSON.stringify([input.sources.features, rules, [...keys]]));
}

export function keepFound(property: OpenProperty, found: Partial<StandFindings>): void {
  const key = keyOf(property);
  known.set(property.store, { key, found: { ...foundOf(property), ...found } });
}

/** What still holds. */
export function foundOf(property: OpenProperty): StandFindings {
  const kept = known.get(property.store);
  return kept?.key === keyOf(property) ? kept.found : NOTHING_FOUND;
}
