import { computed, effect, signal, untracked } from '@preact/signals';
import { seasonYear } from '../words/hours.ts';
import { inquiry } from './inquiry.ts';
import { propertyKey } from './session.ts';
import { stands } from './stand-list.ts';
import { hunt, huntRules, today } from './stands-when.ts';

/** The calendar of hours that can be hunted. */

export const hours = inquiry('stands.hours');

const chosenStand = signal<string | null>(null);
/** The stand asked about; null asks for any of them. */
export const hoursStand = computed(() =>
  stands.value.some(({ id }) => id === chosenStand.value) ? chosenStand.value : null,
);
const chosenYear = signal<number | null>(null);
/** The year the season begins in: the one that runs or comes next, until another is chosen. */
export const hoursYear = computed(
  () => chosenYear.value ?? seasonYear(hunt.value?.season ?? { from: '01-01', to: '12-31' }, today()),
);
/** The day that is opened, YYYY-MM-DD. */
export const openDay = signal<string | null>(null);

export const askHours = (): void => void hours.put({ stand: hoursStand.peek(), year: hoursYear.peek() });

/** Once it was laid out, it follows the choice. */
const follow = (): void => {
  if (hours.answer.peek() || hours.progress.peek() !== null) askHours();
};

export const chooseHoursStand = (id: string | null): void => {
  chosenStand.value = id;
  follow();
};
export const chooseHoursYear = (year: number): void => {
  chosenYear.value = year;
  openDay.value = null;
  follow();
};

effect(() => {
  void huntRules.value;
  untracked(hours.outdate);
});
effect(() => {
  void propertyKey.value;
  chosenStand.value = null;
  chosenYear.value = null;
  openDay.value = null;
});
