import type { DayPart } from '../air/season.ts';
import { formatShare } from '../features/units.ts';
import type { Point } from '../grid/frame.ts';
import type { Route } from '../travel/types.ts';
import type { CaseVerdict, StandCases } from './case-verdict.ts';
import type { Observation } from './observations.ts';
import { along } from './reach.ts';
import { WINDS } from './scent-study.ts';
import { countTest, shareTest } from './small-counts.ts';
import type { Visit } from './visits.ts';

/** What the verdict said of a sit, and what came. */
export interface LoggedSit {
  visit: Visit;
  /** Null where the hours were not told or lie out of every part of the day with light. */
  part: DayPart | null;
  wind: string | null;
  /** What the verdict says of that wind then; null where it cannot say. */
  expected: Pick<CaseVerdict, 'hunt' | 'clean' | 'fate' | 'why'> | null;
  observations: Observation[];
}

/** One thing the log is held against, with how sure that is. */
export interface LogScore {
  about: 'scent' | 'winds' | 'places';
  /** How many of how many, and what the verdict or luck would give. */
  came: number;
  of: number;
  expected: number;
  /** Chance of a difference as unlikely as this by luck alone; null with too few. */
  luck: number | null;
  sentence: string;
}

/** Fewer than this say little: our assumption. */
const FEW = 8;
/** Less than this is not put down to luck: the usual line, our choice. */
const LUCK = 0.05;
/** Near enough to a drawn route to be on it, m: our assumption. */
export const ON_ROUTE = 25;

/** Slower wind counts as calm, m/s. */
const CALM = 0.5;

export function windOfSit({ windFrom, windSpeed }: Pick<Visit, 'windFrom' | 'windSpeed'>): string | null {
  if (windSpeed !== null && windSpeed < CALM) return 'calm';
  return windFrom === null ? null : WINDS[Math.round((((windFrom % 360) + 360) % 360) / 22.5) % 16]!;
}

/** Sits with what the verdict of their stand, wind and part of the day says, and what was seen on them. */
export function loggedSits(
  visits: readonly Visit[],
  observations: readonly Observation[],
  stands: readonly Pick<StandCases, 'stand' | 'cases'>[],
  partOf: (visit: Visit) => DayPart | null,
): LoggedSit[] {
  return visits
    .filter(({ who }) => who === 'sit')
    .map((visit): LoggedSit => {
      const part = partOf(visit);
      const wind = windOfSit(visit);
      const found = stands
        .find(({ stand }) => stand.id === visit.stand)
        ?.cases.find((each) => each.part === part && each.wind === wind);
      return {
        visit,
        part,
        wind,
        expected: found ? { hunt: found.hunt, clean: found.clean, fate: found.fate, why: found.why } : null,
        observations: observations.filter(({ sit }) => sit === visit.id),
      };
    });
}

/**
 * The verdict against what happened: how many deer that could have caught the hunter's scent did, whether sits in
 * winds that can be sat saw more than the others, and whether deer were seen on drawn routes more than luck gives.
 *
 * @param inView share of the ground in view of the stands that lies on a drawn route; null where unknown
 */
export function scoreLog(
  sits: readonly LoggedSit[],
  routes: readonly Route[],
  inView: number | null,
): LogScore[] {
  return [scentScore(sits), windsScore(sits), placesScore(sits, routes, inView)].filter(
    (score) => score !== null,
  );
}

/** Each group of deer that came near, with the chance the verdict gives that it meets the scent first. */
function scentScore(sits: readonly LoggedSit[]): LogScore | null {
  const chances: number[] = [];
  let came = 0;
  for (const { expected, observations } of sits) {
    const reach = expected?.fate ? expected.fate.clean + expected.fate.spoiled : 0;
    if (!expected?.fate || reach === 0) continue;
    for (const { outcome } of observations) {
      if (outcome !== 'came in range' && outcome !== 'caught my scent') continue;
      chances.push(expected.fate.spoiled / reach);
      if (outcome === 'caught my scent') came++;
    }
  }
  if (chances.length === 0) return null;
  const of = chances.length;
  const expected = chances.reduce((a, b) => a + b, 0);
  const luck = of < FEW ? null : countTest(came, chances);
  const said = `${came} of ${of} groups of deer caught your scent; the verdict expects ${expected.toFixed(1)}.`;
  return {
    about: 'scent',
    came,
    of,
    expected,
    luck,
    sentence: `${said} ${judged(luck, of, came > expected ? 'More than it expects: scent goes farther here than computed, or deer mind it sooner.' : 'Fewer than it expects: the verdict is harder on these winds than the deer.', 'That is what it expects, within luck.')}`,
  };
}

/** Sits in winds that can be sat against sits in the others: on how many deer were seen. */
function windsScore(sits: readonly LoggedSit[]): LogScore | null {
  const known = sits.filter(({ expected }) => expected !== null);
  const good = known.filter(({ expected }) => expected!.hunt.usual);
  const bad = known.filter(({ expected }) => !expected!.hunt.usual);
  if (known.length === 0) return null;
  const seen = (of: readonly LoggedSit[]) => of.filter(({ observations }) => observations.length > 0).length;
  const [a, b] = [seen(good), seen(bad)];
  const enough = good.length >= FEW / 2 && bad.length >= FEW / 2;
  const luck = enough ? shareTest([a, good.length], [b, bad.length]) : null;
  const expected = bad.length > 0 ? (good.length * b) / bad.length : 0;
  const better = bad.length === 0 || a / Math.max(1, good.length) >= b / bad.length;
  return {
    about: 'winds',
    came: a,
    of: good.length,
    expected,
    luck,
    sentence: `Deer were seen on ${a} of ${good.length} sits in winds the verdict would sit, and on ${b} of ${bad.length} in winds it would not. ${judged(luck, known.length, better ? 'Its winds are better than luck.' : 'Its winds are worse than luck: look at what it rests on.', 'The difference may be luck.')}`,
  };
}

function placesScore(
  sits: readonly LoggedSit[],
  routes: readonly Route[],
  inView: number | null,
): LogScore | null {
  const places = sits.flatMap(({ observations }) => observations.map(({ at }) => at));
  if (places.length === 0 || routes.length === 0 || inView === null) return null;
  const came = places.filter((at) => onRoute(routes, at)).length;
  const of = places.length;
  const luck = of < FEW ? null : countTest(came, new Array<number>(of).fill(inView));
  return {
    about: 'places',
    came,
    of,
    expected: inView * of,
    luck,
    sentence: `${came} of ${of} groups were seen on a drawn route; ${formatShare(inView)} of the ground in view of the stands lies on one. ${judged(luck, of, came > inView * of ? 'They keep to the computed travel more than luck would have it.' : 'They keep off the computed travel: something here draws them elsewhere.', 'That may be luck.')}`,
  };
}

const judged = (luck: number | null, of: number, told: string, byLuck: string): string =>
  luck === null ? `Too few to say: ${of}.` : luck < LUCK ? told : byLuck;

const onRoute = (routes: readonly Pick<Route, 'path'>[], [x, y]: Point): boolean =>
  routes.some(({ path }) =>
    [...along(path, ON_ROUTE / 2)].some(({ at }) => Math.hypot(at[0] - x, at[1] - y) <= ON_ROUTE),
  );
