import type { WalkList } from '../../core/plan/types.ts';
import { type WalkFacts, walkListOf } from '../../core/plan/walk-list.ts';
import type { OpenProperty } from './open-property.ts';

/** What the walk list is drawn from. */
const NEEDS = [
  'necks',
  'crossings',
  'corridors',
  'travelAreas',
  'standRisks',
  'planTravel',
] as const satisfies (keyof WalkFacts)[];

/** The walk list of the open property as it is now; null before travel and stands were computed. */
export function walkOf({ artifacts, input }: OpenProperty): WalkList | null {
  if (NEEDS.some((name) => !artifacts[name])) return null;
  return walkListOf({ ...(artifacts as WalkFacts), features: input.sources.features });
}

/** Edits that take away those of some features that are there. */
export function removed({ input }: OpenProperty, ids: readonly string[]): { type: 'remove'; id: string }[] {
  const there = new Set(input.sources.features.map(({ id }) => id));
  return ids.filter((id) => there.has(id)).map((id) => ({ type: 'remove', id }));
}
