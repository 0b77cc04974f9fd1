import { formatShare } from '../../core/features/units.ts';
import type { Neck } from '../../core/travel/types.ts';

type Known = Pick<Neck, 'rank' | 'share' | 'at'>;

/** Two necks this near to one another are the same one, m: our assumption. */
const SAME = 60;
/** Smaller moves of a share than this are not told. */
const NOTHING = 0.005;

/**
 * What a change did to the necks, the largest move first: shares that rose or fell, necks that went and came. Necks
 * are matched by place, the nearest pair first, since a neck that moves a little is numbered anew.
 */
export function movedLines(before: readonly Known[], after: readonly Known[]): string[] {
  const pairs = before
    .flatMap((was) =>
      after.map((is) => ({ was, is, apart: Math.hypot(was.at[0] - is.at[0], was.at[1] - is.at[1]) })),
    )
    .filter(({ apart }) => apart <= SAME)
    .sort((a, b) => a.apart - b.apart);
  const matched = new Map<Known, Known>();
  const taken = new Set<Known>();
  for (const { was, is } of pairs) {
    if (matched.has(was) || taken.has(is)) continue;
    matched.set(was, is);
    taken.add(is);
  }
  const told = [
    ...before.map((was) => {
      const is = matched.get(was);
      if (!is)
        return {
          by: was.share,
          line: `Neck ${was.rank}, ${formatShare(was.share)} before, is no neck any more.`,
        };
      const rank = is.rank === was.rank ? '' : ` and is number ${is.rank} now`;
      return {
        by: Math.abs(is.share - was.share),
        line: `Neck ${was.rank} goes from ${formatShare(was.share)} to ${formatShare(is.share)}${rank}.`,
      };
    }),
    ...after
      .filter((is) => !taken.has(is))
      .map((is) => ({ by: is.share, line: `Neck ${is.rank} is new: ${formatShare(is.share)}.` })),
  ];
  return told
    .filter(({ by }) => by >= NOTHING)
    .sort((a, b) => b.by - a.by)
    .map(({ line }) => line);
}
