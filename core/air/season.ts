import { stabilityOf } from './stability.ts';
import { solarTime, sunAt, sunriseSunset } from './sun.ts';
import { DAY_PARTS, type DayPart, type WindRecord } from './types.ts';
import { sectorOf } from './wind.ts';

export { DAY_PARTS, type DayPart } from './types.ts';

/** h. */
const BEFORE_SUNRISE = 2;
const AFTER_SUNSET = 1;

/**
 * The part of the day by the sun at the place: the two hours before sunrise; morning, midday and evening as thirds
 * of the daylight, evening until an hour after sunset; night for the rest.
 */
export function dayPart(hours: number, longitude: number, latitude: number): DayPart {
  const sun = sunriseSunset(hours, longitude, latitude);
  if (!sun) return sunAt(hours, longitude, latitude).height > 0 ? 'midday' : 'night';
  if (hours < sun.rise - BEFORE_SUNRISE || hours >= sun.set + AFTER_SUNSET) return 'night';
  if (hours < sun.rise) return 'before sunrise';
  const third = (sun.set - sun.rise) / 3;
  if (hours < sun.rise + third) return 'morning';
  return hours < sun.rise + 2 * third ? 'midday' : 'evening';
}

/** Days of the year a season runs over, month 1..12 and day; it may run over the turn of the year. */
export interface Season {
  from: { month: number; day: number };
  to: { month: number; day: number };
}

/** Late October to mid-November: when bucks cruise by day (common practice, no source). */
export const CRUISING: Season = { from: { month: 10, day: 25 }, to: { month: 11, day: 15 } };

/** Whether a time's solar day lies in a season, both ends counted. */
export function inSeason(hours: number, longitude: number, { from, to }: Season): boolean {
  const date = new Date((hours - solarTime(hours, longitude) + 12) * 3_600_000);
  const day = (date.getUTCMonth() + 1) * 100 + date.getUTCDate();
  const first = from.month * 100 + from.day;
  const last = to.month * 100 + to.day;
  return first <= last ? day >= first && day <= last : day >= first || day <= last;
}

/** Solar noon of the middle day of a season, hours since 1970; the year hardly matters to the sun. */
export function seasonMiddle({ from, to }: Season, longitude: number): number {
  const start = Date.UTC(2023, from.month - 1, from.day) / 3_600_000;
  let end = Date.UTC(2023, to.month - 1, to.day) / 3_600_000;
  if (end < start) end = Date.UTC(2024, to.month - 1, to.day) / 3_600_000;
  const middle = (start + end) / 2 + 12 - longitude / 15;
  return middle - solarTime(middle, longitude) + 12;
}

/** Hours of wind of one part of the day in one season. */
export interface PartTable {
  part: DayPart;
  /** Hours counted. */
  total: number;
  calms: number;
  variable: number;
  /** Mean speed in m/s, null where no hour blew from there; cloud as the record's middle hour has it, null without. */
  sectors: { hours: number; share: Interval; speed: number | null; cloud: number | null }[];
  calmShare: Interval;
  calmCloud: number | null;
  /** Mean of gust over speed in the hours that tell a gust; null where none does. */
  gustiness: number | null;
  /** Standard deviation over mean of the speed of hours with wind; null with fewer than two. */
  unsteadiness: number | null;
  /** Hours by Pasquill class and of calm drainage. */
  stability: Record<string, number>;
}

export interface Interval {
  /** Null where nothing was counted. */
  share: number | null;
  low: number;
  high: number;
}

/**
 * A share with its 95% interval (Wilson, "Probable inference", J. American Statistical Association 22, 1927). The
 * hours of a record follow one another, so the true interval is wider: it is for `effective` independent hours.
 */
export function wilson(count: number, total: number, effective = total): Interval {
  if (total === 0) return { share: null, low: 0, high: 1 };
  const z = 1.959964;
  const p = count / total;
  const n = effective;
  const middle = (p + (z * z) / (2 * n)) / (1 + (z * z) / n);
  const half = (z / (1 + (z * z) / n)) * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n));
  return { share: p, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}

/** The wind of a season, plain data. */
export interface SeasonWind {
  season: Season | null;
  parts: PartTable[];
  notes: string[];
}

/** Several parts of the day as one, in the same measures. */
export type TogetherTable = Omit<PartTable, 'part'> & { part: string };

/** Hours that are hunted in one sitting, and the whole day. */
export const TOGETHER: readonly { name: string; parts: readonly DayPart[] }[] = [
  // When cruising bucks are waited for (common practice, no source).
  { name: 'first light to early afternoon', parts: ['before sunrise', 'morning', 'midday'] },
  { name: 'the whole day', parts: DAY_PARTS },
];

/** Eighths of cloud from which the stability asks for its ceiling. */
const HALF = 4;
/** Cloud where the record has none: clear, in tenths. Our assumption, the one that keeps most scent low. */
const CLOUD_UNKNOWN = 0;

/**
 * The wind of a season by part of day and 16 sectors, calms and variable wind apart, with intervals: hours of one
 * day and part count as one independent hour.
 *
 * @param season null for the whole year
 * @param together parts to be counted as one as well
 */
export function seasonWind(
  record: WindRecord,
  longitude: number,
  latitude: number,
  season: Season | null,
  together: typeof TOGETHER = [],
): SeasonWind & { together: TogetherTable[] } {
  const hoursOf = new Map<DayPart, number[]>(DAY_PARTS.map((part) => [part, []]));
  let cloudless = 0;
  let lowered = 0;
  let counted = 0;
  for (let i = 0; i < record.hours.length; i++) {
    const at = record.hours[i]!;
    if (Number.isNaN(record.speed[i]!) || (season && !inSeason(at, longitude, season))) continue;
    hoursOf.get(dayPart(at, longitude, latitude))!.push(i);
    counted++;
    if (Number.isNaN(record.sky[i]!)) cloudless++;
    else if (record.sky[i]! > HALF && Number.isNaN(record.ceiling?.[i] ?? Number.NaN)) lowered++;
  }
  const parts = DAY_PARTS.map((part) => partTable(record, part, hoursOf.get(part)!, longitude, latitude));
  const notes: string[] = [];
  if (counted === 0) notes.push('The record has no hour in this season.');
  else if (cloudless > 0.05 * counted)
    notes.push(
      `${Math.round((100 * cloudless) / counted)}% of the hours have no cloud in the record; their sky is taken as clear.`,
    );
  if (lowered > 0.05 * counted)
    notes.push(
      `${Math.round((100 * lowered) / counted)}% of the hours have cloud over half of the sky but no ceiling in the record; for the stability it is taken as low.`,
    );
  return {
    season,
    parts,
    together: together.map(({ name, parts: of }) =>
      partTable(
        record,
        name,
        of.flatMap((part) => hoursOf.get(part)!),
        longitude,
        latitude,
      ),
    ),
    notes,
  };
}

function partTable<P extends string>(
  record: WindRecord,
  part: P,
  places: readonly number[],
  longitude: number,
  latitude: number,
): Omit<PartTable, 'part'> & { part: P } {
  const counts = new Int32Array(16);
  const sums = new Float64Array(16);
  const days = new Set<number>();
  const stability: Record<string, number> = {};
  /** Eighths of sky by sector, the calm last. */
  const skies = Array.from({ length: 17 }, (): number[] => []);
  let calms = 0;
  let variable = 0;
  let sum = 0;
  let squares = 0;
  let gusts = 0;
  let gusty = 0;
  for (const i of places) {
    const at = record.hours[i]!;
    const speed = record.speed[i]!;
    days.add(Math.round((at - solarTime(at, longitude) + 12) / 24));
    const sun = sunriseSunset(at, longitude, latitude);
    const height = sunAt(at, longitude, latitude).height;
    const night = sun ? at < sun.rise + 1 || at > sun.set - 1 : height < 0;
    const eighths = record.sky[i]!;
    const cloud = Number.isNaN(eighths) ? CLOUD_UNKNOWN : (eighths / 8) * 10;
    const kind = stabilityOf(speed, height, night, cloud, record.ceiling?.[i]);
    stability[kind] = (stability[kind] ?? 0) + 1;
    if (speed === 0) {
      calms++;
      if (!Number.isNaN(eighths)) skies[16]!.push(eighths);
      continue;
    }
    const gust = record.gust?.[i] ?? Number.NaN;
    if (gust >= speed) {
      gusts += gust / speed;
      gusty++;
    }
    sum += speed;
    squares += speed * speed;
    if (Number.isNaN(record.direction[i]!)) variable++;
    else {
      const sector = sectorOf(record.direction[i]!);
      counts[sector]!++;
      sums[sector]! += speed;
      if (!Number.isNaN(eighths)) skies[sector]!.push(eighths);
    }
  }
  const total = places.length;
  const windy = total - calms;
  const mean = sum / windy;
  return {
    part,
    total,
    calms,
    variable,
    sectors: Array.from(counts, (hours, k) => ({
      hours,
      share: wilson(hours, total, days.size),
      speed: hours > 0 ? sums[k]! / hours : null,
      cloud: middleOf(skies[k]!),
    })),
    calmShare: wilson(calms, total, days.size),
    calmCloud: middleOf(skies[16]!),
    gustiness: gusty > 0 ? gusts / gusty : null,
    unsteadiness: windy > 1 ? Math.sqrt(Math.max(0, squares / windy - mean * mean)) / mean : null,
    stability,
  };
}

/** Share of the sky covered in the middle one of some hours, given in eighths; null of none. */
function middleOf(eighths: number[]): number | null {
  if (eighths.length === 0) return null;
  return eighths.sort((a, b) => a - b)[Math.floor(eighths.length / 2)]! / 8;
}
