import { computed } from '@preact/signals';
import { daySun } from '../../state/air-asks.ts';
import { hour } from '../../state/air-clock.ts';
import { partOf } from '../../words/air.ts';

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

/** The part of the day the clock's hour lies in; null until the sun of the day is known. */
export const partNow = computed(() => {
  const { rise, set } = sunHours.value;
  return Number.isNaN(rise) || Number.isNaN(set) ? null : partOf(hour.value, rise, set);
});
