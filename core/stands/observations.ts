import { type Feature, numberOr, ofKind } from '../features/feature.ts';
import { middleOf } from '../features/shapes.ts';
import type { Point } from '../grid/frame.ts';

/** How it went between deer and hunter. */
export const OUTCOMES = [
  'came in range',
  'passed out of range',
  'caught my scent',
  'saw or heard me',
] as const;
export type Outcome = (typeof OUTCOMES)[number];

/** Deer seen from a stand: an `observation` feature, where they were seen. */
export interface Observation {
  id: string;
  /** Id of the `visit` it was made on. */
  sit: string;
  at: Point;
  /** Hour of the day; null where not told. */
  hour: number | null;
  what: string | null;
  count: number;
  /** Degrees from true north they came from; null where not told. */
  came: number | null;
  /** Null where not told. */
  outcome: Outcome | null;
}

/** What was seen, in the order it was written down. One without a sit belongs to no stand and no wind and is left out. */
export const observationsOf = (features: readonly Feature[]): Observation[] =>
  ofKind(features, 'observation').flatMap(({ id, geometry, attributes }): Observation[] => {
    const { sit, hour, what, count, came, outcome } = attributes;
    const at = middleOf(geometry);
    if (!at || typeof sit !== 'string') return [];
    return [
      {
        id,
        sit,
        at,
        hour: numberOr(hour, null),
        what: typeof what === 'string' ? what : null,
        count: Math.max(1, Math.round(numberOr(count, 1))),
        came: numberOr(came, null),
        outcome: OUTCOMES.find((each) => each === outcome) ?? null,
      },
    ];
  });
