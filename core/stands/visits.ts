import { type Feature, numberOr, ofKind } from '../features/feature.ts';
import { middleOf } from '../features/shapes.ts';
import type { Point } from '../grid/frame.ts';

/** Who or what was on the ground. */
export const VISITORS = ['sit', 'owner', 'stock', 'mowing', 'feed'] as const;
export type Visitor = (typeof VISITORS)[number];

/** Someone or something that was on the ground one day: a `visit` feature. */
export interface Visit {
  id: string;
  /** YYYY-MM-DD. */
  date: string;
  who: Visitor;
  at: Point;
  /** The stand sat in; null for other visits. */
  stand: string | null;
  /** Hour of the day a sit began and ended; null where not told. */
  from: number | null;
  to: number | null;
  /** Wind of the sit: degrees from true north it came from, and m/s; null where not told. */
  windFrom: number | null;
  windSpeed: number | null;
}

const isDate = (value: unknown): value is string =>
  typeof value === 'string' && /^\d{4}-\d\d-\d\d$/.test(value) && !Number.isNaN(Date.parse(value));

/** The log of visits, earliest first. A visit without a date or a place tells nothing and is left out. */
export function visitsOf(features: readonly Feature[]): Visit[] {
  return ofKind(features, 'visit')
    .flatMap(({ id, geometry, attributes }): Visit[] => {
      const { date, who, stand, from, to, windFrom, windSpeed } = attributes;
      const at = middleOf(geometry);
      if (!at || !isDate(date)) return [];
      const known = VISITORS.find((visitor) => visitor === who) ?? 'owner';
      return [
        {
          id,
          date,
          who: known,
          at,
          stand: typeof stand === 'string' ? stand : null,
          from: numberOr(from, null),
          to: numberOr(to, null),
          windFrom: numberOr(windFrom, null),
          windSpeed: numberOr(windSpeed, null),
        },
      ];
    })
    .sort((a, b) => a.date.localeCompare(b.date) || (a.from ?? 0) - (b.from ?? 0));
}
