import { computed } from '@preact/signals';
import { hour } from '../../state/air-clock.ts';
import { partAt } from '../../state/sky.ts';

/** The part of the day the clock's hour lies in; null until the sun of the day is known. */
export const partNow = computed(() => partAt(hour.value));
