import { compassWord, formatLength, formatShare, type Units } from '../features/units.ts';
import { bandWords } from './scent-words.ts';
import type { NeckSmelled, Smelled } from './smelled.ts';

/** Where a person is smelled, and what it meets, in a few sentences. */
export function smelledSentences(
  { hangs, eddying, carry, beyond, bearing, travel, bedding, necks }: Smelled,
  units: Units,
): string[] {
  const neck = neckWords(necks);
  if (hangs) return ['The air hardly moves here: scent hangs round the person.', ...neck];
  if (carry.usual === 0)
    return [
      eddying
        ? 'Air eddies here behind a rise or an edge: which way scent goes is not known; it thins out before it goes far.'
        : 'It lifts or thins out before it reaches a nose.',
    ];
  const far = `${beyond.usual ? 'at least ' : ''}as far as ${formatLength(carry.usual, units)} ${compassWord(bearing)}`;
  const band =
    carry.low === carry.high || beyond.usual
      ? ''
      : ` (${formatLength(carry.low, units)} by a dull nose, ${beyond.high ? 'at least ' : ''}${formatLength(carry.high, units)} by a keen one)`;
  return [
    `${eddying ? 'Air eddies here, so the way near by is not known; then smelled' : 'Smelled'} ${far}${band}.`,
    ...neck,
    ...(bedding.length > 0 ? [`Lies on bedding: ${bedding.join(', ')}.`] : []),
    travel.usual > 0
      ? `Meets ${formatShare(travel.usual)} of travel${bandWords(travel)}.`
      : travel.high > 0
        ? `Misses the trails, unless deer scent keenly: then it meets ${formatShare(travel.high)} of travel.`
        : 'Misses the trails.',
  ];
}

/** Whether it lies on the best neck, and on which others. */
function neckWords(necks: readonly NeckSmelled[]): string[] {
  const [best, ...others] = necks.toSorted((a, b) => a.rank - b.rank);
  if (!best) return [];
  const met = others.filter(({ met }) => met === 'usual').map(({ rank }) => rank);
  const also = met.length > 0 ? `lies on ${met.length === 1 ? 'neck' : 'necks'} ${met.join(', ')}` : '';
  if (best.met === 'usual')
    return [`Lies on neck ${best.rank}, the best${met.length > 0 ? `, and on ${met.join(', ')}` : ''}.`];
  const misses =
    best.met === 'keen'
      ? `A keen nose smells it on neck ${best.rank}, the best`
      : `Misses neck ${best.rank}, the best`;
  return [`${misses}${also ? `; ${also}` : ''}.`];
}
