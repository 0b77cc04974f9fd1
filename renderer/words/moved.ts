import type { Neck } from '../../core/travel/types.ts';

type Known = Pick<Neck, 'rank' | 'share' | 'at'>;

/** Two necks this near to one another are the same one, m: our assumption. */
const SAME = 60;
/** Smaller moves of a share than this are not told. */
const NOTHING = 0.005;

/** One neck before and after a change; null on the side where it is none. */
export interface MovedNeck {
  name: string;
  before: number | null;
  after: number | null;
}

/**
 * What a change did to the necks, the largest move first: shares that rose or fell, necks that went and came. Necks
 * are matched by place, the nearest pair first, since a neck that moves a little is numbered anew.
 */
export function movedNecks(before: readonly Known[], after: readonly Known[]): MovedNeck[] {
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
  const all: MovedNeck[] = [
    ...before.map((was) => {
      const is = matched.get(was);
      const now = is ? (is.rank === was.rank ? '' : `, now ${is.rank}`) : ', gone';
      const name = `${was.rank}${now}`;
      return { name, before: was.share, after: is?.share ?? null };
    }),
    ...after
      .filter((is) => !taken.has(is))
      .map((is) => ({ name: `${is.rank}, new`, before: null, after: is.share })),
  ];
  const by = (neck: MovedNeck): number => Math.abs((neck.after ?? 0) - (neck.before ?? 0));
  return all.filter((neck) => by(neck) >= NOTHING).sort((a, b) => by(b) - by(a));
}
