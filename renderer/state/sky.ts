import { computed, signal } from '@preact/signals';
import { partOf } from '../words/air.ts';
import { daySun, rose } from './air-asks.ts';

/** The sun of the clock's day, and the cloud over it. */

const hoursOf = (clock: string | null | undefined): number => {
  const [h, m] = (clock ?? '').split(':').map(Number);
  return h === undefined || m === undefined ? Number.NaN : h + m / 60;
};

/** Sunrise and sunset of the clock's day, hours of standard time; NaN until known, or where the sun does not cross. */
export const sunHours = computed(() => {
  const answer = daySun.answer.value;
  const at = (event: string) => hoursOf(answer?.times.find((time) => time.event === event)?.standard);
  return { rise: at('sunrise'), set: at('sunset'), zone: answer?.zone ?? '' };
});

/** The part of the day an hour lies in; null until the sun of the day is known. */
export function partAt(hour: number) {
  const { rise, set } = sunHours.value;
  return Number.isNaN(rise) || Number.isNaN(set) ? null : partOf(hour, rise, set);
}

/** Cloud set by hand, tenths, or what is usual in the record with this wind at this part of the day. */
export const sky = signal<number | 'record'>(0);

/** Share of the sky that is usually covered at an hour under a wind, as the record has it; null where it does not say. */
export function recordedCloud(hour: number, wind: { from: number; speed: number }): number | null {
  const part = rose.answer.value?.parts?.find((each) => each.part === partAt(hour));
  if (!part) return null;
  return wind.speed > 0 ? (part.sectors[Math.round(wind.from / 22.5) % 16]?.cloud ?? null) : part.calmCloud;
}

/** Share of the sky taken as covered, hour by hour where the record says it; clear where it does not. */
export const cloudOfDay = (wind: { from: number; speed: number }): number | number[] =>
  sky.value === 'record'
    ? Array.from({ length: 24 }, (_, hour) => recordedCloud(hour, wind) ?? 0)
    : sky.value / 10;
