import { DAY_PARTS, type DayPart, type PartTable } from '../air/season.ts';
import { HUNTED, type HuntedPart, type StandCases } from './case-verdict.ts';
import type { Band } from './clean-share.ts';
import { type Light, lawfulPart } from './legal-light.ts';
import { WINDS } from './scent-study.ts';

/** The days of a season by their hours: which of them can be hunted. */

const HOUR = 3_600_000;
const NOSES = ['usual', 'keen', 'dull'] as const;

/** Why nobody sits in a stand on a day, whatever the wind. */
export interface Barred {
  stand: string;
  by: 'closed' | 'rest';
  why: string;
}

/** One day as the calendar is made from it. */
export interface CalendarInput {
  /** YYYY-MM-DD. */
  date: string;
  /** Its midnight by the clock the hours are told in, milliseconds since 1970. */
  midnight: number;
  /** Null where the sun does not rise or set. */
  light: Light | null;
  /** The stands asked about, with their ways judged for that day. */
  stands: readonly Pick<StandCases, 'stand' | 'cases'>[];
  barred: readonly Barred[];
}

/** What one part of the day offers in one month to the stands that are open. */
export interface Chance {
  part: HuntedPart;
  /** 1..12. */
  month: number;
  /** Hours of the wind record counted; null without a record. */
  counted: number | null;
  /** Of those, the share in a wind some open stand can be sat in, with a keener and a duller nose; null without any. */
  share: Band | null;
  /** Share of them whose wind had no direction; they count as not to be hunted. */
  variable: number | null;
  /** Winds some open stand can be sat in, the commonest first. */
  winds: string[];
  /** Open stands that can be sat in some wind, the most hours first. */
  stands: { id: string; share: number | null; winds: string[] }[];
  /** What is against the commonest wind, where no wind is good. */
  against: { wind: string; stand: string; why: string } | null;
}

/**
 * `open`: some stand can be sat in some wind. `none`: in no wind. `rest`, `closed`: nobody sits there that day.
 * `unjudged`: lawful light at a time no verdict is made for.
 */
export type HourState = 'open' | 'none' | 'rest' | 'closed' | 'unjudged';

export interface HourCell {
  /** 0..23. */
  hour: number;
  /** Minutes of it that are lawful light, from and to. */
  from: number;
  to: number;
  state: HourState;
  /** Share of the record's hours that can be hunted, over the parts of the day it lies in; null where not known. */
  share: Band | null;
  /** Indexes into `chances`, with the minutes of each; empty where nobody sits. */
  chances: { of: number; minutes: number }[];
}

export interface CalendarDay {
  date: string;
  /** Lawful light, h. */
  lawful: number;
  /** Of it, the hours the wind allows on average; null where not known. */
  hours: Band | null;
  barred: Barred[];
  cells: HourCell[];
}

export interface HourCalendar {
  days: CalendarDay[];
  chances: Chance[];
}

/**
 * Hours of each day that can be hunted: lawful light, stands that are neither closed nor resting, and winds of the
 * record of the same month and part of the day that are good for one of them.
 *
 * @param wind the record's hours of a part in a month; null without a record
 */
export function hourCalendar(
  inputs: readonly CalendarInput[],
  wind: (month: number, part: HuntedPart) => Omit<PartTable, 'part'> | null,
): HourCalendar {
  const chances: Chance[] = [];
  const known = new Map<string, number>();
  const chanceOf = (stands: CalendarInput['stands'], month: number, part: HuntedPart): number => {
    // Stands of one set of closed ground share their cases; a resting one is left out of the set.
    const key = `${month} ${part} ${stands.map(({ stand, cases }) => `${stand.id} ${caseKey(cases)}`).join('|')}`;
    let at = known.get(key);
    if (at === undefined) {
      at = chances.push(chance(stands, month, part, wind(month, part))) - 1;
      known.set(key, at);
    }
    return at;
  };
  const caseNumbers = new Map<StandCases['cases'], number>();
  const caseKey = (cases: StandCases['cases']): number => {
    if (!caseNumbers.has(cases)) caseNumbers.set(cases, caseNumbers.size);
    return caseNumbers.get(cases)!;
  };
  const days = inputs.map((input): CalendarDay => {
    const month = Number(input.date.slice(5, 7));
    const shut = new Set(input.barred.map(({ stand }) => stand));
    const open = input.stands.filter(({ stand }) => !shut.has(stand.id));
    const barred = input.barred.every(({ by }) => by === 'closed') ? 'closed' : 'rest';
    const cells = litHours(input).map(({ hour, from, to, parts }): HourCell => {
      const hunted = parts.filter((each): each is { part: HuntedPart; minutes: number } =>
        (HUNTED as readonly string[]).includes(each.part),
      );
      if (open.length === 0) return { hour, from, to, state: barred, share: null, chances: [] };
      if (hunted.length === 0) return { hour, from, to, state: 'unjudged', share: null, chances: [] };
      const of = hunted.map(({ part, minutes }) => ({ of: chanceOf(open, month, part), minutes }));
      const found = of.map((each) => ({ ...each, chance: chances[each.of]! }));
      return {
        hour,
        from,
        to,
        state: found.some(({ chance: { winds } }) => winds.length > 0) ? 'open' : 'none',
        share: mean(found.map(({ chance: { share }, minutes }) => ({ share, weight: minutes }))),
        chances: of,
      };
    });
    return {
      date: input.date,
      lawful: input.light ? (input.light.to - input.light.from) / HOUR : 0,
      hours: hoursOf(cells),
      barred: [...input.barred],
      cells,
    };
  });
  return { days, chances };
}

/** The hours of a day that have lawful light, with their minutes in each part of the day. */
function litHours({ midnight, light }: CalendarInput) {
  if (!light) return [];
  const lawful = DAY_PARTS.flatMap((part) => {
    const found = lawfulPart(part, light);
    return found ? [{ part, ...found }] : [];
  });
  return Array.from({ length: 24 }, (_, hour) => {
    const start = midnight + hour * HOUR;
    const minute = (time: number) => Math.min(60, Math.max(0, (time - start) / 60_000));
    const parts = lawful.flatMap(({ part, from, to }): { part: DayPart; minutes: number }[] => {
      const minutes = minute(to) - minute(from);
      return minutes > 0 ? [{ part, minutes }] : [];
    });
    return { hour, from: minute(light.from), to: minute(light.to), parts };
  }).filter(({ parts }) => parts.length > 0);
}

function chance(
  stands: CalendarInput['stands'],
  month: number,
  part: HuntedPart,
  table: Omit<PartTable, 'part'> | null,
): Chance {
  const record = table && table.total > 0 ? table : null;
  const shareOf = (wind: string): number => {
    if (!record) return Number.NaN;
    const at = WINDS.indexOf(wind);
    return (wind === 'calm' ? record.calms : (record.sectors[at]?.hours ?? 0)) / record.total;
  };
  const order = [...WINDS].sort((a, b) => (record ? shareOf(b) - shareOf(a) : 0));
  const here = stands.map(({ stand, cases }) => ({
    stand,
    cases: cases.filter((each) => each.part === part),
  }));
  const good = (nose: (typeof NOSES)[number], of = here) =>
    order.filter((wind) =>
      of.some(({ cases }) => cases.some((each) => each.wind === wind && each.hunt[nose])),
    );
  const sum = (winds: readonly string[]) => winds.reduce((total, wind) => total + shareOf(wind), 0);
  const winds = good('usual');
  const [usual, keen, dull] = NOSES.map((nose) => sum(good(nose))) as [number, number, number];
  const each = here.flatMap((one) => {
    const own = good('usual', [one]);
    return own.length > 0 ? [{ id: one.stand.id, share: record ? sum(own) : null, winds: own }] : [];
  });
  const first = here[0]?.cases.find(({ wind }) => wind === order[0]);
  return {
    part,
    month,
    counted: table ? table.total : null,
    share: record ? { usual, low: Math.min(usual, keen, dull), high: Math.max(usual, keen, dull) } : null,
    variable: record ? record.variable / record.total : null,
    winds,
    stands: each.sort((a, b) => (b.share ?? 0) - (a.share ?? 0) || b.winds.length - a.winds.length),
    against:
      winds.length === 0 && first ? { wind: order[0]!, stand: here[0]!.stand.name, why: first.why } : null,
  };
}

/** The mean of some bands by their weights; null where one is not known. */
function mean(of: readonly { share: Band | null; weight: number }[]): Band | null {
  const all = of.reduce((sum, { weight }) => sum + weight, 0);
  if (all === 0 || of.some(({ share }) => share === null)) return null;
  const at = (key: keyof Band) => of.reduce((sum, { share, weight }) => sum + share![key] * weight, 0) / all;
  return { usual: at('usual'), low: at('low'), high: at('high') };
}

/** Hours the wind allows: none where nobody sits; null where an hour that could be sat is not known. */
function hoursOf(cells: readonly HourCell[]): Band | null {
  const sum: Band = { usual: 0, low: 0, high: 0 };
  for (const { state, share, from, to } of cells) {
    if (!share && state !== 'open' && state !== 'unjudged') continue;
    if (!share) return null;
    for (const key of ['usual', 'low', 'high'] as const) sum[key] += (share[key] * (to - from)) / 60;
  }
  return sum;
}
