/** A flag as laid out: its foot on the ground and how far above it the flag hangs, px. */
export interface Hung<T> {
  flag: T;
  x: number;
  y: number;
  lift: number;
}

/** Height of a flag and the room beside it, px: 24 is the least a pointer should have. */
const TALL = 26;
const BESIDE = 3;
const LIFT = 14;
const MOST = 24;

/**
 * Hangs flags over their places so that none covers another: those in front first, each as low as it can, on a
 * longer stem where another is in its way. After two dozen tries it hangs where it is.
 */
export function hang<T>(flags: readonly { flag: T; x: number; y: number; wide: number }[]): Hung<T>[] {
  const taken: { west: number; east: number; top: number; foot: number }[] = [];
  return flags
    .toSorted((a, b) => b.y - a.y)
    .map(({ flag, x, y, wide }) => {
      let lift = LIFT;
      for (let n = 0; n < MOST; n++, lift += TALL / 2) {
        const box = boxOf(x, y, wide, lift);
        const covers = taken.some(
          (other) =>
            box.west < other.east && box.east > other.west && box.top < other.foot && box.foot > other.top,
        );
        if (!covers) break;
      }
      taken.push(boxOf(x, y, wide, lift));
      return { flag, x, y, lift };
    });
}

const boxOf = (x: number, y: number, wide: number, lift: number) => ({
  west: x - wide / 2 - BESIDE,
  east: x + wide / 2 + BESIDE,
  top: y - lift - TALL - 1,
  foot: y - lift + 1,
});
