import { daysIn, shifted, spansOf } from './days.ts';
import type { CalendarSettings, JobKind, Span } from './types.ts';

/** In which days of the year each kind of job may be done, and what keeps it out of the others. */

export const DEFAULT_CALENDAR: CalendarSettings = {
  lastFrost: '05-05',
  firstFrost: '10-10',
  season: { from: '10-01', to: '01-15' },
  stock: null,
  dormant: { from: '11-15', to: '03-31' },
  nesting: { from: '04-15', to: '08-01' },
  bats: { from: '04-01', to: '11-14' },
  start: null,
  settle: 21,
  hoursPerDay: 7,
};

/** Where each default comes from; each is the person's to change. */
export const CALENDAR_SOURCES: Record<Exclude<keyof CalendarSettings, 'start'>, string> = {
  stock: 'by the owner of the stock; empty where there is none',
  lastFrost: 'our assumption; take the average of the nearest station from the public climate normals',
  firstFrost: 'our assumption; take the average of the nearest station from the public climate normals',
  season: 'our assumption; local law sets it each year',
  dormant: 'our assumption; leaf fall to bud break',
  nesting: 'primary nesting season in many farm-program rules; value from memory, your state sets its own',
  bats: 'when tree-roosting bats are out of their caves; value from memory, the wildlife agencies set the days',
  settle: 'our assumption; ground is left alone before the first sit',
  hoursPerDay: 'our assumption',
};

type Restraint = 'season' | 'nesting' | 'bats' | 'stock';

interface Rule {
  /** Null is the whole year. */
  allowed(settings: CalendarSettings): Span | null;
  because: string;
  avoid: Restraint[];
}

const anyTime = (avoid: Restraint[], because = 'Can be done whenever nobody hunts.'): Rule => ({
  allowed: () => null,
  because,
  avoid,
});
const dormantCut: Rule = {
  allowed: ({ dormant }) => dormant,
  because:
    'Cut while the trees are without leaves: stumps sprout from full roots and the sawyer sees the crowns.',
  avoid: ['season', 'nesting', 'bats'],
};

/** Common practice, no source, where nothing else is said. */
const RULES: Record<JobKind, Rule> = {
  barricade: dormantCut,
  'hinge cut': dormantCut,
  'felled bedding': dormantCut,
  opening: dormantCut,
  'cleared trail': anyTime(['season', 'nesting'], 'Before the cutting it gives access to.'),
  'mulched lane': anyTime(
    ['season', 'nesting'],
    'On dry or frozen ground, before the cutting it gives access to.',
  ),
  'screen planting': {
    allowed: ({ lastFrost }) => ({ from: shifted(lastFrost, -14), to: shifted(lastFrost, 40) }),
    because: 'Plant in the weeks about the last frost, into warm and moist soil.',
    avoid: ['season'],
  },
  conifers: {
    allowed: ({ lastFrost }) => ({ from: shifted(lastFrost, -45), to: shifted(lastFrost, 10) }),
    because: 'Set bare-root stock as soon as the ground can be worked, while it is dormant.',
    avoid: ['season'],
  },
  'food plot': {
    allowed: ({ firstFrost }) => ({ from: shifted(firstFrost, -75), to: shifted(firstFrost, -40) }),
    because: 'Seed a fall plot six to ten weeks before the first frost.',
    avoid: ['season'],
  },
  'water crossing': {
    allowed: () => ({ from: '07-01', to: '09-30' }),
    because: 'Work in the bed at low water, and only within the days the permit names.',
    avoid: ['season'],
  },
  'fence lowering': anyTime(['season', 'stock'], 'When the stock is off, by its owner’s leave.'),
  stand: anyTime(['season'], 'In place before the season, so that nobody hangs it while deer are hunted.'),
  'tower blind': anyTime(['season'], 'In place well before the season: deer must get used to it.'),
  'feeder to remove': anyTime(['season'], 'As early as can be: law and habit both need time.'),
};

const AVOIDED: Record<Restraint, string> = {
  season: 'Nobody enters from some weeks before the first sit to the last.',
  nesting: 'Left alone while birds nest.',
  bats: 'No tree is felled while bats may roost in it.',
  stock: 'No fence is opened while stock is on the ground.',
};

/** From when the ground is left alone to the last sit. */
export const quietSpan = ({ season, settle }: CalendarSettings): Span => ({
  from: shifted(season.from, -settle),
  to: season.to,
});

/** Null where there is no such time. */
export function restraintSpan(restraint: Restraint, settings: CalendarSettings): Span | null {
  return restraint === 'season' ? quietSpan(settings) : settings[restraint];
}

/** The days in which a kind of job may be done, and why those. */
export function windowOf(
  kind: JobKind,
  settings: CalendarSettings,
): { days: Uint8Array; spans: Span[]; reasons: string[] } {
  const rule = RULES[kind];
  const allowed = rule.allowed(settings);
  const days = allowed ? daysIn(allowed) : new Uint8Array(365).fill(1);
  const avoided = rule.avoid.flatMap((restraint) => {
    const span = restraintSpan(restraint, settings);
    return span ? [{ restraint, span }] : [];
  });
  for (const { span } of avoided) {
    const out = daysIn(span);
    for (let day = 0; day < days.length; day++) if (out[day]) days[day] = 0;
  }
  return {
    days,
    spans: spansOf(days),
    reasons: [rule.because, ...avoided.map(({ restraint }) => AVOIDED[restraint])],
  };
}
