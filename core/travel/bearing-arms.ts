/** Bearings are counted in so many bins of a circle. */
export const BINS = 72;
/** Standard deviation of the smoothing of bearings, bins of five degrees: our choice. */
const BLUR = 2;
/** Two ways are apart where what goes between them falls below this part of the lesser: our choice. */
const VALLEY = 0.5;

/**
 * Parts a circle of bearings into arms: each is a top of the smoothed counts, from one valley to the next; tops with no
 * real valley between them are one, and a small one joins the neighbour it is least apart from.
 *
 * @param counts by bin, clockwise from north
 * @param least smaller parts of all than this are no arm of their own
 * @returns the arm of every bin, from 0; all -1 where nothing is counted
 */
export function armsOf(counts: Float64Array, least: number): Int32Array {
  const size = counts.length;
  const arms = new Int32Array(size).fill(-1);
  const total = counts.reduce((sum, value) => sum + value, 0);
  if (!(total > 0)) return arms;
  const smooth = blurred(counts);
  const at = (k: number): number => smooth[(k + size) % size]!;
  const lows: number[] = [];
  for (let k = 0; k < size; k++) if (at(k) < at(k - 1) && at(k) <= at(k + 1)) lows.push(k);
  // Parts between valleys, in order round the circle: each from its valley up to the next.
  let parts = lows.map((from, n) => partOf(from, lows[(n + 1) % lows.length]!, counts, smooth));
  while (parts.length > 1) {
    let worst = { n: -1, apart: 1 };
    parts.forEach((part, n) => {
      const next = parts[(n + 1) % parts.length]!;
      const lesser = Math.min(part.top, next.top);
      const small = Math.min(part.sum, next.sum) < least * total;
      const apart = at(next.from) / lesser;
      // A small part goes first, to the side where the valley is shallower.
      const score = small ? 2 + apart : apart > VALLEY ? apart : -1;
      if (score > 0 && (worst.n < 0 || score > worst.apart)) worst = { n, apart: score };
    });
    if (worst.n < 0) break;
    const next = parts[(worst.n + 1) % parts.length]!;
    const joined = partOf(parts[worst.n]!.from, next.to, counts, smooth);
    parts = parts.filter((_, n) => n !== worst.n && n !== (worst.n + 1) % parts.length);
    parts.push(joined);
    parts.sort((a, b) => a.from - b.from);
  }
  if (parts.length <= 1) return arms.fill(0);
  parts.forEach(({ from, to }, n) => {
    for (let k = from; k !== to; k = (k + 1) % size) arms[k] = n;
  });
  return arms;
}

interface Part {
  from: number;
  /** The bin after its last; its first where it goes all round. */
  to: number;
  sum: number;
  top: number;
}

function partOf(from: number, to: number, counts: Float64Array, smooth: Float64Array): Part {
  const part = { from, to, sum: 0, top: 0 };
  let k = from;
  do {
    part.sum += counts[k]!;
    part.top = Math.max(part.top, smooth[k]!);
    k = (k + 1) % counts.length;
  } while (k !== to);
  return part;
}

function blurred(counts: Float64Array): Float64Array {
  const size = counts.length;
  const out = new Float64Array(size);
  for (let k = 0; k < size; k++)
    for (let off = -3 * BLUR; off <= 3 * BLUR; off++)
      out[k]! += counts[(k + off + size) % size]! * Math.exp(-(off * off) / (2 * BLUR * BLUR));
  return out;
}
