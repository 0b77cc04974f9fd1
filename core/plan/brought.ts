import type { AttributeValue } from '../features/feature.ts';

/** A name as it is compared: case and runs of blanks do not matter. */
export const tidy = (name: string): string => name.trim().toLowerCase().replace(/\s+/g, ' ');

/** The day of a time as files give it, YYYY-MM-DD; null where it is none. */
export const dayGiven = (time: AttributeValue | undefined): string | null =>
  typeof time === 'string' && /^\d{4}-\d\d-\d\d/.test(time) ? time.slice(0, 10) : null;
