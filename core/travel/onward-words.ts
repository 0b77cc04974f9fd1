import { compassWord, decimal, formatLength, formatShare, type Units } from '../features/units.ts';
import type { Onward, WayOn } from './onward.ts';
import type { TravelArea } from './types.ts';

/** Less of all travel than this does not say where a deer goes next, and less than that is little: our assumptions. */
export const TOO_LITTLE = 0.002;
const LITTLE = 0.02;
/** A way has an hour, or a goal, where so much of it has the same: our choice. */
const MOSTLY = 0.75;

/** When deer go a way: to food at dusk, from it at dawn, as drawn routes do; any where both do. */
export function whenOf({ legs }: Pick<WayOn, 'legs'>, areas: readonly TravelArea[]): 'dusk' | 'dawn' | 'any' {
  const food = new Set(areas.filter(({ kind }) => kind === 'food').map(({ id }) => id));
  let [dusk, dawn] = [0, 0];
  for (const { from, to, share } of legs)
    if (food.has(to)) dusk += share;
    else if (food.has(from)) dawn += share;
  return dusk >= MOSTLY ? 'dusk' : dawn >= MOSTLY ? 'dawn' : 'any';
}

/** Small shares are told to a tenth of a percent: they are what is asked about. */
const fine = (share: number): string =>
  share < 0.0995 ? `${decimal(Math.max(0.001, share) * 100, 1)}%` : formatShare(share);

/**
 * How much passes a spot, in a sentence.
 *
 * @param reach m within which travel counts as here
 */
export function passesSentence({ share, ways, stays }: Onward, reach: number, units: Units): string {
  const within = `within ${formatLength(reach, units)} of here`;
  if (share < TOO_LITTLE || ways.length + stays === 0)
    return `Hardly any travel passes ${within}${share > 0 ? `, ${share < 0.001 ? 'under 0.1%' : fine(share)} of all` : ''}: too little to say where it goes.`;
  return share < LITTLE
    ? `Little travel passes ${within}: ${fine(share)} of all.`
    : `${fine(share)} of all travel passes ${within}.`;
}

/**
 * One way on in words, but for its share: where it goes, over what, to what, and when.
 *
 * @param over what it runs over
 */
export function wayWords(way: WayOn, over: readonly string[], areas: readonly TravelArea[]): string {
  const when = whenOf(way, areas);
  return [
    compassWord(way.bearing),
    ...over,
    ...goalOf(way, areas),
    ...(when === 'any' ? [] : [`at ${when}`]),
  ].join(', ');
}

/** The area a way leads to, or two that share it. */
function goalOf({ legs, ends }: WayOn, areas: readonly TravelArea[]): string[] {
  const names = new Map(areas.map(({ id, name }) => [id, name]));
  const goals = new Map<number, number>();
  for (const { to, share } of legs) goals.set(to, (goals.get(to) ?? 0) + share);
  const [first, second] = [...goals].sort((a, b) => b[1] - a[1]);
  if (!first) return [];
  const name = (id: number): string => names.get(id) ?? `area ${id}`;
  const lead = ends > MOSTLY ? 'into' : 'towards';
  if (first[1] >= MOSTLY || !second) return [`${lead} ${name(first[0])}`];
  return [`most ${lead} ${name(first[0])}${first[1] + second[1] >= MOSTLY ? ` and ${name(second[0])}` : ''}`];
}
