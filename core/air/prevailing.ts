import type { SeasonWind } from './season.ts';

/** Less than this of the hours from one side is no prevailing wind: three sectors of sixteen hold 0.19 of an even one.
 * Our assumption. */
const LEAST = 0.3;

/**
 * The wind that prevails by day in a season: the middle one of the three neighbouring sectors that hold most of the
 * hours from morning to evening, and their share of all of these. Null where nothing was counted or no side leads.
 *
 * @param convergence bearing of grid north, degrees clockwise from true north
 * @returns where it blows from, degrees clockwise from grid north
 */
export function prevailingByDay(
  { parts }: Pick<SeasonWind, 'parts'>,
  convergence: number,
): { from: number; share: number } | null {
  const day = parts.filter(({ part }) => part === 'morning' || part === 'midday' || part === 'evening');
  const total = day.reduce((sum, part) => sum + part.total, 0);
  if (total === 0) return null;
  const hours = Array.from({ length: 16 }, (_, k) =>
    day.reduce((sum, { sectors }) => sum + sectors[k]!.hours, 0),
  );
  const sides = hours.map((own, k) => own + hours[(k + 15) % 16]! + hours[(k + 1) % 16]!);
  const most = Math.max(...sides);
  if (most < LEAST * total) return null;
  return { from: (sides.indexOf(most) * 22.5 - convergence + 360) % 360, share: most / total };
}
