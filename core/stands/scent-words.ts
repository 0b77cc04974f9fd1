import { capital, compassWord, formatLength, formatShare, type Units } from '../features/units.ts';
import type { ScentFinding } from './scent-types.ts';

/** One line that says where scent goes and what it meets. */
export function scentWords(
  {
    hangs,
    eddying,
    carry,
    beyond,
    bearing,
    travel,
    bedding,
    creek,
  }: Pick<
    ScentFinding,
    'hangs' | 'eddying' | 'carry' | 'beyond' | 'bearing' | 'travel' | 'bedding' | 'creek'
  >,
  units: Units,
): string {
  if (hangs) return 'The air hardly moves: scent hangs round the stand.';
  if (carry.usual === 0)
    return eddying
      ? 'Eddies behind a rise or an edge, direction not known; thins out before it goes far.'
      : 'Lifts or thins out before it reaches a nose.';
  const parts = [
    `goes ${beyond.usual ? 'at least ' : ''}${formatLength(carry.usual, units)} ${compassWord(bearing)}`,
  ];
  if (eddying) parts.unshift('eddies behind a rise or an edge, direction not known near the stand, then');
  parts.push(...creekWords(creek, units));
  if (bedding.length > 0) parts.push(`reaches bedding (${bedding.join(', ')})`);
  parts.push(
    travel.usual > 0
      ? `meets ${formatShare(travel.usual)} of travel${bandWords(travel)}`
      : travel.high > 0
        ? `misses the trails, unless deer scent keenly (then ${formatShare(travel.high)} of travel)`
        : 'misses the trails',
  );
  const line = parts.join(', ').replace('then, goes', 'then goes');
  return `${capital(line)}.`;
}

/** What it does in the creek, as clauses. */
export function creekWords(creek: ScentFinding['creek'], units: Units): string[] {
  if (!creek) return [];
  const { held, ends, atBend } = creek;
  const where = atBend ? 'at the bend' : 'where the banks no longer hold it';
  if (held === 0) return ends ? [`comes to the creek: ${ends.words}`] : [];
  const runs = `runs down the creek below the banks for ${formatLength(held, units)}`;
  return ends ? [runs, `spills ${where} (${ends.words})`] : [runs];
}

/** The band of noses, where it is more than one number. */
export function bandWords({ low, high }: { low: number; high: number }): string {
  const [from, to] = [formatShare(low), formatShare(high)];
  return from === to ? '' : ` (${from} to ${to})`;
}
