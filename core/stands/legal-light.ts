import { DAY_PARTS, type DayPart } from '../air/season.ts';
import { type Place, sunTimes } from '../terrain/sun.ts';
import { daysOf, type Window } from './calendar.ts';

/** The local rule: minutes before sunrise and after sunset; null where nothing was entered. */
export interface LightRule {
  before: number | null;
  after: number | null;
}

/** Lawful light of one day, milliseconds since 1970. */
export interface Light {
  from: number;
  to: number;
  sunrise: number;
  sunset: number;
}

const MINUTE = 60_000;
const HOUR = 3_600_000;
/** As the parts of the day are cut: two hours before sunrise, and an hour after sunset. */
const BEFORE_SUNRISE = 2 * HOUR;
const AFTER_SUNSET = HOUR;

/**
 * When a day's light is lawful by the rule, from the sun's own rise and set (`sunTimes`). Where no offset was entered
 * the sun's rise or set itself is taken, which no rule we know of forbids; `lightNote` says so. Null where the sun does
 * not rise or set.
 */
export function legalLight(date: string, place: Place, { before, after }: LightRule): Light | null {
  const [year, month, day] = date.split('-').map(Number) as [number, number, number];
  const { sunrise, sunset } = sunTimes(year, month, day, place);
  if (sunrise === null || sunset === null) return null;
  return { from: sunrise - (before ?? 0) * MINUTE, to: sunset + (after ?? 0) * MINUTE, sunrise, sunset };
}

/** What is said of the rule wherever hours rest on it. */
export function lightNote({ before, after }: LightRule): string {
  if (before === null || after === null)
    return 'No rule for legal light was entered, so hours run from sunrise to sunset only: enter your state’s offsets, and go by its own table.';
  return `Hours run from ${before} minutes before sunrise to ${after} minutes after sunset, as entered; your state’s own table decides.`;
}

/** A part of the day's lawful stretch, milliseconds since 1970; null where none of it is lawful. */
export function lawfulPart(part: DayPart, light: Light): { from: number; to: number } | null {
  const { sunrise, sunset } = light;
  const third = (sunset - sunrise) / 3;
  const bounds: Record<DayPart, [number, number]> = {
    'before sunrise': [sunrise - BEFORE_SUNRISE, sunrise],
    morning: [sunrise, sunrise + third],
    midday: [sunrise + third, sunset - third],
    evening: [sunset - third, sunset + AFTER_SUNSET],
    night: [sunset + AFTER_SUNSET, sunrise + 24 * HOUR - BEFORE_SUNRISE],
  };
  const from = Math.max(light.from, bounds[part][0]);
  const to = Math.min(light.to, bounds[part][1]);
  return to > from ? { from, to } : null;
}

/** Lawful hours a week of each part of the day, on average over a window of the year. */
export function lawfulHours(window: Window, place: Place, rule: LightRule): Record<DayPart, number> {
  const hours = Object.fromEntries(DAY_PARTS.map((part) => [part, 0])) as Record<DayPart, number>;
  // A year that is no leap year stands for all: the sun's times repeat within a minute or two.
  const days = daysOf(window, 2023);
  for (const day of days) {
    const light = legalLight(day, place, rule);
    if (!light) continue;
    for (const part of DAY_PARTS) {
      const lawful = lawfulPart(part, light);
      if (lawful) hours[part] += (7 * (lawful.to - lawful.from)) / HOUR / days.length;
    }
  }
  return hours;
}
