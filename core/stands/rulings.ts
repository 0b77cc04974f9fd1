import { capital } from '../features/units.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { readyGround } from './judge-way.ts';
import { attempts, SEEN } from './ruling-changes.ts';
import {
  type Ruled,
  type RuledStand,
  type Ruling,
  type StandRuling,
  type TriedChange,
  usable,
} from './ruling-types.ts';
import type { SeasonAir } from './scent-study.ts';
import type { SiteGround, SiteRules } from './site-ground.ts';
import { huntedHours } from './site-judge.ts';

/** A change mends a fault when it gives back this part of the hours lost to it; less than these hours is no gain: our choice. */
const MENDS = 0.5;
const LEAST_GAIN = 1;
/** The way in is the worst fault when it takes this part of the hours the wind gives: our choice. */
const BY_WAY = 0.5;
/** A stand that keeps fewer usable hours a week than this after every change is given up: our assumption. */
const LEAST_HOURS = 2;
/** What to do with each stand; every gain is what the verdict gives when it is run again with the change. */
export function ruleStands(
  stands: readonly RuledStand[],
  ground: SiteGround,
  air: SeasonAir,
  rules: SiteRules,
  progress: Progress = silent,
): StandRuling[] {
  const ready = readyGround(ground, rules.settings.leaves);
  return stands.map((stand, k) => {
    const others = stands.filter((other) => other !== stand).map(({ spot }) => spot);
    const report = part(progress, k / stands.length, (k + 1) / stands.length);
    return ruleStand({ stand, others, ground, air, rules, ready }, report);
  });
}

function ruleStand(ruled: Ruled, progress: Progress): StandRuling {
  const { stand } = ruled;
  const { spot, verdict } = stand;
  const now = usable(verdict, stand.ways);
  const byWind = verdict.parts.reduce((sum, each) => sum + huntedHours(each), 0);
  const worst = worstFault(stand, byWind - now.hours, byWind);
  const tried: TriedChange[] = [];
  let change: TriedChange | null = null;
  if (worst)
    for (const attempt of attempts(ruled, worst.fault, progress)) {
      tried.push(attempt);
      if (mends(attempt, worst, now)) {
        change = attempt;
        break;
      }
    }
  progress(1);
  // Nothing mends it whole: what gives back the most is still worth doing.
  change ??= [...tried].filter((each) => better(each, now)).sort((a, b) => b.gained - a.gained)[0] ?? null;
  const left = change ? change.hours : now.hours;
  const ruling: Ruling = left < LEAST_HOURS ? 'retire' : (change?.ruling ?? 'keep');
  const kept = ruling === 'retire' ? null : change;
  return {
    stand: { id: spot.id, name: spot.name, at: spot.at },
    ruling,
    hours: now.hours,
    byWind,
    worth: now.worth,
    worst,
    change: kept,
    tried,
    sentence: sentenceOf(spot.name, ruling, now.hours, worst, kept, tried.length),
    doubts: doubtsOf(stand, kept),
  };
}

const better = ({ gained, worth }: TriedChange, now: { worth: number }): boolean =>
  gained >= LEAST_GAIN && worth >= now.worth;

function mends(
  change: TriedChange,
  { fault, hours }: NonNullable<StandRuling['worst']>,
  now: { worth: number },
): boolean {
  // To be seen costs no hours by this reckoning: what counts is whether it hides and takes none.
  if (fault === 'seen')
    return (
      change.seen !== null && change.seen <= SEEN && change.worth >= now.worth && change.gained > -LEAST_GAIN
    );
  return better(change, now) && change.gained >= MENDS * hours;
}

const SCENT = /^(scent|deer from|the air)/;

/** What costs the most hours a week; being seen counts where nothing costs any. */
function worstFault(
  { verdict, ways, reach }: RuledStand,
  byWay: number,
  byWind: number,
): StandRuling['worst'] {
  const spent = (is: (cause: string) => boolean) =>
    verdict.spoils.filter(({ cause }) => is(cause)).reduce((sum, { hours }) => sum + hours, 0);
  const walk = ways.flatMap(({ walks }) => walks).find(({ clean }) => clean === false);
  const cause = (is: (cause: string) => boolean) =>
    verdict.spoils.find((each) => is(each.cause))?.cause ?? '';
  const isReach = (text: string) => text.startsWith('hardly any travel');
  const faults: NonNullable<StandRuling['worst']>[] = [
    { fault: 'way', hours: byWay, sentence: walk?.verdict ?? '' },
    {
      fault: 'scent',
      hours: spent((text) => SCENT.test(text)),
      sentence: `${sentence(cause((text) => SCENT.test(text)))}`,
    },
    { fault: 'reach', hours: spent(isReach), sentence: `${sentence(cause(isReach))}` },
  ];
  // Hours the wind gives and the way takes are lost to nothing else; every stand loses many to its scent.
  const worst =
    byWay >= Math.max(LEAST_GAIN, BY_WAY * byWind)
      ? faults[0]!
      : faults.reduce((a, b) => (b.hours > a.hours ? b : a));
  if (worst.hours >= LEAST_GAIN) return worst;
  const { seen, directions, sentences } = reach.concealment;
  return directions.length > 0 && seen > SEEN ? { fault: 'seen', hours: 0, sentence: sentences[0]! } : null;
}

const sentence = (text: string): string => (text === '' ? '' : `${capital(text)}.`);

function sentenceOf(
  name: string,
  ruling: Ruling,
  hours: number,
  worst: StandRuling['worst'],
  change: TriedChange | null,
  tried: number,
): string {
  const now = `${hours.toFixed(1)} usable hours a week now`;
  const none = tried === 1 ? 'the one change tried does not' : `none of the ${tried} changes tried does`;
  if (!worst) return `Keep ${name} as it is: ${now}, and nothing costs it an hour.`;
  if (ruling === 'retire') return `Retire ${name}: ${now}, and ${none} leave it ${LEAST_HOURS} or more.`;
  if (!change) return `Keep ${name} as it is: ${now}, and ${none} give back an hour without losing travel.`;
  const gain = change.gained >= LEAST_GAIN ? ` It gains ${change.gained.toFixed(1)} hours a week.` : '';
  return `${change.what}${gain}`;
}

function doubtsOf({ verdict, ways }: RuledStand, change: TriedChange | null): string[] {
  const doubts = [...(change?.doubts ?? [])];
  if (!verdict.hours)
    doubts.push(
      'There is no wind record: every wind counts alike, so these hours are a comparison, not a forecast.',
    );
  else if (verdict.hours.high - verdict.hours.low > verdict.hours.usual / 2)
    doubts.push(
      `Its own hours run from ${verdict.hours.low.toFixed(1)} to ${verdict.hours.high.toFixed(1)} by how keen deer’s noses are: a gain smaller than that may be none.`,
    );
  if (ways.some(({ clean }) => clean === null))
    doubts.push('No access, gate or house is mapped: the way in was not held against it.');
  return doubts;
}
