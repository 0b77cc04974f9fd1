import { daysAfter, isWithin, type Window } from './calendar.ts';

/** One stretch of the fall as hunters tell it. */
export interface RutPhase extends Window {
  name: 'early season' | 'pre-rut' | 'cruising' | 'late rut' | 'after the rut';
}

export interface Rut {
  /** In the order of the year; empty where the dates are not known. */
  phases: RutPhase[];
  /** Where the dates come from. */
  source: string;
}

/** North of this whitetails are bred in the same weeks every year, degrees: common practice, no source. */
const STEADY_NORTH = 36;
/** Day most does are bred there: common practice, no source. */
const NORTHERN_PEAK = '11-13';

/** Days from the peak of breeding: our assumption, so that the cruising weeks are the two and a half before it. */
const PHASES: [RutPhase['name'], from: number, to: number][] = [
  ['early season', -48, -34],
  ['pre-rut', -33, -20],
  ['cruising', -19, 2],
  ['late rut', 3, 17],
  ['after the rut', 18, 48],
];

/**
 * The phases of the rut, counted from the day most does are bred: the user's local date, or by latitude. Farther south
 * herds differ by months from county to county, so nothing is guessed there.
 *
 * @param peak MM-DD, or null
 */
export function rutPhases(latitude: number, peak: string | null): Rut {
  const counted = (day: string): RutPhase[] =>
    PHASES.map(([name, from, to]) => ({ name, from: daysAfter(day, from), to: daysAfter(day, to) }));
  if (peak !== null)
    return {
      phases: counted(peak),
      source: 'Counted from your own date of peak breeding; the lengths of the phases are our assumption.',
    };
  if (latitude >= STEADY_NORTH)
    return {
      phases: counted(NORTHERN_PEAK),
      source:
        'Peak breeding is taken as the middle of November, as is common this far north; the lengths of the phases are our assumption.',
    };
  return {
    phases: [],
    source: `South of ${STEADY_NORTH}° herds breed in different months from place to place: enter your local date of peak breeding to see the phases of the rut.`,
  };
}

/** The phase a day (MM-DD) falls in; null out of all. */
export const phaseOn = ({ phases }: Rut, day: string): RutPhase | null =>
  phases.find((phase) => isWithin(day, phase)) ?? null;
