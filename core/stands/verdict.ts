import { formatShare, whole } from '../features/units.ts';
import { type CaseVerdict, HUNTED, type HuntedPart, type StandCases } from './case-verdict.ts';
import type { Band } from './clean-share.ts';
import type { HuntSettings } from './hunt-settings.ts';
import { sitsPerWeek } from './resting.ts';
import { NO_WAY } from './with-ways.ts';

/** What the season makes of one part of the day at a stand. */
export interface PartVerdict {
  part: HuntedPart;
  /** Lawful hours a week, and of those the ones whose wind lets it be hunted; null without a wind record. */
  lawful: number;
  hours: Band | null;
  /** Of all travel of that part, what comes in reach and view at all; null where none is expected. */
  reach: number | null;
  /** Mean clean share over the hours it can be hunted, weighed by the winds; null where there are none. */
  clean: number | null;
  /** Winds it can be hunted in, and the others, the commonest first. */
  winds: string[];
  spoilt: string[];
}

export interface StandVerdict {
  stand: StandCases['stand'];
  parts: PartVerdict[];
  /** Hours a week its wind lets it be hunted; null without a wind record. */
  hours: Band | null;
  /** Hours a week left when it rests after each sit as the rule says; null without a wind record. */
  rested: number | null;
  /** Mean clean share over all lawful hours, hunted or not: what ranks stands. */
  worth: number;
  /** The part of the day and the winds that are best. */
  best: { part: HuntedPart; winds: string[]; hours: number; clean: number } | null;
  /** What spoils the other hours, the dearest first; hours a week. */
  spoils: { cause: string; hours: number }[];
  sentences: string[];
}

/** Of cases of a part, the shares of its hours; without a record every wind and the calm alike. */
function weightsOf(cases: readonly CaseVerdict[]): number[] {
  const known = cases.some(({ share }) => share.share !== null);
  return cases.map(({ share }) => (known ? (share.share ?? 0) : 1 / cases.length));
}

/**
 * A stand's season: its cases weighed by how often each wind blows in each part's lawful hours.
 *
 * @param lawful lawful hours a week of each part of the day
 */
export function standVerdict(
  { stand, cases, reach }: StandCases,
  lawful: Record<HuntedPart, number>,
  { rest, sit }: Pick<HuntSettings, 'rest' | 'sit'>,
): StandVerdict {
  const known = cases.some(({ share }) => share.share !== null);
  const causes = new Map<string, number>();
  let worth = 0;
  let all = 0;
  const parts = HUNTED.map((part): PartVerdict => {
    const here = cases.filter((each) => each.part === part);
    const weights = weightsOf(here);
    const order = [...here.keys()].sort((a, b) => weights[b]! - weights[a]!);
    const week = lawful[part];
    const sum = (pick: (each: CaseVerdict) => number) =>
      here.reduce((total, each, k) => total + weights[k]! * pick(each), 0);
    const usual = sum(({ hunt }) => (hunt.usual ? 1 : 0));
    const [one, other] = [sum(({ hunt }) => (hunt.keen ? 1 : 0)), sum(({ hunt }) => (hunt.dull ? 1 : 0))];
    here.forEach((each, k) => {
      if (each.hunt.usual || week === 0) return;
      const cause = causeOf(each);
      causes.set(cause, (causes.get(cause) ?? 0) + weights[k]! * week);
    });
    worth += week * sum(({ hunt, clean }) => (hunt.usual ? (clean?.usual ?? 0) : 0));
    all += week;
    return {
      part,
      lawful: week,
      hours: known
        ? {
            usual: week * usual,
            low: week * Math.min(usual, one, other),
            high: week * Math.max(usual, one, other),
          }
        : null,
      reach: reach[part],
      clean: usual > 0 ? sum(({ hunt, clean }) => (hunt.usual ? (clean?.usual ?? 0) : 0)) / usual : null,
      winds: order.filter((k) => here[k]!.hunt.usual).map((k) => here[k]!.wind),
      spoilt: order.filter((k) => !here[k]!.hunt.usual).map((k) => here[k]!.wind),
    };
  });
  const total = (key: keyof Band) => parts.reduce((sum, { hours }) => sum + (hours?.[key] ?? 0), 0);
  const hours = known ? { usual: total('usual'), low: total('low'), high: total('high') } : null;
  const best = bestOf(parts);
  const spoils = [...causes]
    .map(([cause, spent]) => ({ cause, hours: spent }))
    .filter((spoil) => spoil.hours > 0)
    .sort((a, b) => b.hours - a.hours);
  const rested = hours && Math.min(hours.usual, sitsPerWeek(rest) * sit);
  const verdict: Omit<StandVerdict, 'sentences'> = {
    stand,
    parts,
    hours,
    rested,
    worth: all > 0 ? worth / all : 0,
    best,
    spoils,
  };
  return { ...verdict, sentences: sentencesOf(verdict, rest) };
}

/** Why a case is lost, in a few words that cases share. */
function causeOf({ fate, hangs, bedding, spoilt, why }: CaseVerdict): string {
  if (why.startsWith(NO_WAY)) return `no clean way ${why.slice(NO_WAY.length).split('.')[0]!.trim()}`;
  if (!fate) return 'no travel is expected then';
  if (hangs) return 'the air stands still and scent hangs round the stand';
  if (bedding.length > 0) return `scent reaches bedding (${bedding.join(', ')})`;
  if (why.startsWith('Hardly')) return 'hardly any travel comes in reach and view';
  if (why.endsWith('first.') && spoilt)
    return `deer from ${spoilt.from} to ${spoilt.to} meet the scent first`;
  return 'scent drifts over travel elsewhere';
}

function bestOf(parts: readonly PartVerdict[]): StandVerdict['best'] {
  const worth = ({ clean, hours, winds }: PartVerdict) => (clean ?? 0) * (hours?.usual ?? winds.length);
  const best = parts.reduce((most, each) => (worth(each) > worth(most) ? each : most));
  if (best.clean === null || best.winds.length === 0) return null;
  return { part: best.part, winds: best.winds.slice(0, 4), hours: best.hours?.usual ?? 0, clean: best.clean };
}

/** `6.5 h`, `40 min`. */
const hoursWords = (hours: number): string =>
  hours < 0.995 ? `${whole(hours * 60)} min` : `${hours < 9.95 ? hours.toFixed(1) : whole(hours)} h`;

function sentencesOf(
  { hours, rested, best, spoils, parts }: Omit<StandVerdict, 'sentences'>,
  rest: number,
): string[] {
  const lawful = parts.reduce((sum, part) => sum + part.lawful, 0);
  const sentences: string[] = [];
  if (!hours)
    sentences.push(
      'No wind record: how many hours it can be hunted is not known; winds are told one by one.',
    );
  else if (hours.usual === 0)
    sentences.push(`In none of the ${hoursWords(lawful)} of light a week does the wind let it be hunted.`);
  else
    sentences.push(
      `Its wind lets it be hunted ${hoursWords(hours.usual)} of ${hoursWords(lawful)} of light a week (${hoursWords(hours.low)} to ${hoursWords(hours.high)} for a keener and a duller nose).`,
    );
  if (best)
    sentences.push(
      `Best ${best.part === 'before sunrise' ? 'before sunrise' : `in the ${best.part === 'midday' ? 'middle of the day' : best.part}`} with wind ${listWinds(best.winds)}: ${formatShare(best.clean)} of the travel then comes in reach before it meets the scent.`,
    );
  if (rested !== null && hours && rested < hours.usual)
    sentences.push(`Rested ${rest} days after each sit, ${hoursWords(rested)} a week are left.`);
  for (const { cause, hours: lost } of spoils.slice(0, 3))
    sentences.push(`Lost ${hours ? `${hoursWords(lost)} a week` : 'some winds'}: ${cause}.`);
  return sentences;
}

/** `W, WNW or calm`. */
export function listWinds(winds: readonly string[]): string {
  const words = winds.map((wind) => (wind === 'calm' ? 'calm air' : wind));
  return words.length <= 1
    ? (words[0] ?? 'none')
    : `${words.slice(0, -1).join(', ')} or ${words[words.length - 1]}`;
}
