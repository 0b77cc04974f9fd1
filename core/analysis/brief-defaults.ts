import { formatLength, type Units, whole } from '../features/units.ts';
import type { Brief } from '../plan/types.ts';
import { dayWords } from '../stands/calendar.ts';
import { DEFAULT_SETTINGS, laidOver, type Settings } from './settings.ts';

/** A setting that an answer of the brief sets where nobody set it by hand. */
interface FromBrief {
  /** Where it stands among the settings. */
  path: readonly string[];
  title: string;
  /** What the answer asks for, null where that is no limit; undefined while nobody said. */
  asks(brief: Brief): unknown;
  words(value: unknown, units: Units): string;
}

/** How those walk who answered so: against Tobler's speed, and at most so far, m. Our assumption. */
const LEGS: Record<NonNullable<Brief['onFoot']>, { pace: number; longest: number | null }> = {
  'far and steep': { pace: 1, longest: null },
  'a mile on easy ground': { pace: 0.85, longest: 1609 },
  'short and level': { pace: 0.65, longest: 400 },
};

const PARTS: Record<NonNullable<Brief['parts']>, Settings['hunt']['parts']> = {
  mornings: ['before sunrise', 'morning'],
  evenings: ['evening'],
  'mornings and evenings': ['before sunrise', 'morning', 'evening'],
};

const orUndefined = <T>(value: T | null): T | undefined => value ?? undefined;
const spanWords = (value: unknown): string => {
  const span = value as { from: string; to: string } | null;
  return span ? `${dayWords(span.from)} to ${dayWords(span.to)}` : 'none';
};
const dollars = (value: unknown): string => (value === null ? 'no limit' : `$${whole(Number(value))}`);

const FROM_BRIEF: readonly FromBrief[] = [
  {
    path: ['hunt', 'legs', 'longest'],
    title: 'Longest way in on foot',
    asks: ({ onFoot }) => (onFoot ? LEGS[onFoot].longest : undefined),
    words: (value, units) => (value === null ? 'no limit' : formatLength(Number(value), units)),
  },
  {
    path: ['hunt', 'legs', 'pace'],
    title: 'Walking pace, against Tobler’s for the slope',
    asks: ({ onFoot }) => (onFoot ? LEGS[onFoot].pace : undefined),
    words: (value) => `${Math.round(100 * Number(value))}%`,
  },
  {
    path: ['hunt', 'startFrom'],
    title: 'Ways in set out at',
    asks: ({ startFrom }) => orUndefined(startFrom),
    words: (value) => (value === null ? 'every place of access' : String(value)),
  },
  {
    path: ['hunt', 'arrive'],
    title: 'How they come',
    asks: ({ arrive }) => orUndefined(arrive),
    words: (value) => (value === 'foot' ? 'on foot' : 'driven as far as roads lead'),
  },
  {
    path: ['hunt', 'season'],
    title: 'Hours are counted over',
    asks: ({ season }) => orUndefined(season),
    words: spanWords,
  },
  {
    path: ['plan', 'calendar', 'season'],
    title: 'No work from some weeks before to the end of',
    asks: ({ season }) => orUndefined(season),
    words: spanWords,
  },
  {
    path: ['hunt', 'parts'],
    title: 'Parts of the day that are hunted',
    asks: ({ parts }) => (parts ? PARTS[parts] : undefined),
    words: (value) => (value as string[]).join(', '),
  },
  {
    path: ['stands', 'allowNeighbour'],
    title: 'Ways over the neighbour’s ground',
    asks: ({ neighbour }) => (neighbour ? neighbour === 'may be crossed' : undefined),
    words: (value) => (value ? 'where they are better' : 'never'),
  },
  {
    path: ['plan', 'budget'],
    title: 'Money a year',
    asks: ({ budget }) => orUndefined(budget),
    words: dollars,
  },
  {
    path: ['plan', 'crewDays'],
    title: 'Crew days a year',
    asks: ({ crewDays }) => orUndefined(crewDays),
    words: (value) => (value === null ? 'no limit' : String(value)),
  },
  {
    path: ['plan', 'rates', 'machine.move'],
    title: 'Bringing a machine in and out',
    asks: ({ machine }) => (machine === 'their own' ? 0 : undefined),
    words: (value) => (value === undefined ? 'by the rates' : dollars(value)),
  },
  {
    path: ['plan', 'rates', 'machine.least'],
    title: 'Least time a machine is hired for',
    asks: ({ machine }) => (machine === 'their own' ? 0 : undefined),
    words: (value) =>
      value === undefined ? 'by the rates' : value === 0 ? 'none' : `${Number(value) / 3600} h`,
  },
  {
    path: ['plan', 'calendar', 'stock'],
    title: 'No fence is opened, for the stock, from',
    asks: ({ stockSpan }) => orUndefined(stockSpan),
    words: spanWords,
  },
];

/** One setting the brief asks for, as it stands. */
export interface BriefDefault {
  /** Its place among the settings, `hunt.season`. */
  key: string;
  title: string;
  /** What the brief asks for, and what is set, in words. */
  asked: string;
  set: string;
  /** Whether what is set is what the brief asks for; else somebody set it by hand, which counts. */
  fromBrief: boolean;
}

/** What the answers of the brief ask for, and whether it is so. */
export function briefDefaults(settings: Settings, units: Units): BriefDefault[] {
  return FROM_BRIEF.flatMap(({ path, title, asks, words }) => {
    const asked = asks(settings.brief);
    if (asked === undefined) return [];
    const now = at(settings, path);
    return [
      {
        key: path.join('.'),
        title,
        asked: words(asked, units),
        set: words(now, units),
        fromBrief: same(asked, now),
      },
    ];
  });
}

/**
 * A change of settings with what it brings about where it changes answers of the brief: a setting follows its answer as
 * long as it is as the answer before left it or as it is usually. What was set by hand stays, and so does what the
 * change itself sets. An answer taken back leaves the usual value behind.
 */
export function withBrief(settings: Settings, patch: Record<string, unknown>): Record<string, unknown> {
  if (patch.brief === undefined || patch.brief === null || typeof patch.brief !== 'object') return patch;
  const brief = laidOver(settings.brief, patch.brief) as unknown as Brief;
  return FROM_BRIEF.reduce((changed, { path, asks }) => {
    const [was, now] = [asks(settings.brief), asks(brief)];
    const set = at(settings, path);
    const usual = at(DEFAULT_SETTINGS, path);
    const follows = same(set, was) || same(set, usual);
    if (same(was, now) || !follows || at(patch, path) !== undefined) return changed;
    return laidOver(changed, put(path, now === undefined ? (usual ?? null) : now));
  }, patch);
}

/** The change that takes one setting from the brief again; null for a key the brief says nothing of. */
export function takenFromBrief(settings: Settings, key: string): Record<string, unknown> | null {
  const row = FROM_BRIEF.find(({ path }) => path.join('.') === key);
  const asked = row?.asks(settings.brief);
  return row && asked !== undefined ? put(row.path, asked) : null;
}

const at = (from: object, path: readonly string[]): unknown =>
  path.reduce<unknown>(
    (inner, key) =>
      typeof inner === 'object' && inner !== null ? (inner as Record<string, unknown>)[key] : undefined,
    from,
  );

const put = (path: readonly string[], value: unknown): Record<string, unknown> =>
  path.reduceRight<unknown>((inner, key) => ({ [key]: inner }), value) as Record<string, unknown>;

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b);
