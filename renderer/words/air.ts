import { SECTORS } from '../../core/air/types.ts';
import { formatSpeed, type Units } from '../../core/features/units.ts';
import type { AirState, HourAnswer } from '../../electron/service/contract.ts';

/** Words of the air. */

/** Seat height where a stand has none, m: our assumption, the one the analysis uses. */
export const USUAL_SEAT = 5;

/** Slower wind at the station is taken as calm, m/s, as the analysis does. */
export const CALM = 0.5;

/** Pasquill's classes in the words of the trade; by day the sun mixes, by night the ground cools. */
export const STATE_WORDS: Record<AirState, string> = {
  A: 'A, very unstable: strong sun mixes scent high and wide',
  B: 'B, unstable: sun mixes scent up',
  C: 'C, slightly unstable: weak sun or a fair wind',
  D: 'D, neutral: wind or cloud evens it out',
  E: 'E, slightly stable: scent spreads little',
  F: 'F, stable: scent stays low and narrow',
  'calm drainage': 'calm drainage: cold air slides downhill and gathers',
};

export const sectorOf = (degrees: number): string => SECTORS[Math.round((degrees % 360) / 22.5) % 16]!;

/** `calm`, or `W 6.3 mph`. */
export const windWords = (from: number, speed: number, units: Units): string =>
  speed < CALM ? 'calm' : `${sectorOf(from)} ${formatSpeed(speed, units)}`;

/** The cold layer drives where it keeps its flow over most of the ground, shares it over a fifth: our assumption. */
const MOSTLY = 0.6;
const PARTLY = 0.2;

/** What moves the air of an hour. */
export function driverWords(
  { held, arrows }: Pick<HourAnswer, 'held' | 'arrows'>,
  windSpeed: number,
): string {
  if (held >= MOSTLY) return 'Cold air sliding downhill drives it; the wind hardly reaches the ground.';
  if (held >= PARTLY)
    return 'Cold air and wind share it: hollows keep their own flow, tops and open slopes go with the wind.';
  if (arrows.speed.some((speed, k) => (speed ?? 0) > 0 && arrows.towards[k] !== null))
    return windSpeed < CALM
      ? 'No wind: slopes the sun has warmed draw it uphill.'
      : 'The wind drives it, bent by the ground and slowed by timber.';
  return 'Hardly anything drives it: no wind, and no slope cold or warm enough. Where scent goes then is not known.';
}

/** `05:00` of a whole or broken hour. */
export const clockWords = (hour: number): string => {
  const minutes = Math.round(hour * 60);
  return `${String(Math.floor(minutes / 60) % 24).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
};

export type DayPart = 'before sunrise' | 'morning' | 'midday' | 'evening' | 'night';

/**
 * The part of the day an hour lies in, by sunrise and sunset (hours): two hours before sunrise; thirds of the
 * daylight, evening until an hour after sunset; night for the rest. As the analysis parts the day.
 */
export function partOf(hour: number, rise: number, set: number): DayPart {
  if (hour < rise - 2 || hour >= set + 1) return 'night';
  if (hour < rise) return 'before sunrise';
  const third = (set - rise) / 3;
  if (hour < rise + third) return 'morning';
  return hour < rise + 2 * third ? 'midday' : 'evening';
}

/** The clock's hour that stands for a part of the day. */
export function hourOfPart(part: DayPart, rise: number, set: number): number {
  const hours = {
    'before sunrise': rise - 0.75,
    morning: rise + 1.5,
    midday: (rise + set) / 2,
    evening: set - 0.75,
    night: (rise + set) / 2 + 12,
  };
  return Math.round(hours[part] + 24) % 24;
}

/** Seconds as `40 s` or `3 min`. */
export const spell = (seconds: number): string =>
  seconds < 90 ? `${Math.round(seconds)} s` : `${Math.round(seconds / 60)} min`;
