import { assertOnFrame, type Grid } from '../grid/frame.ts';
import { createQueue32 } from '../grid/monotone-queue.ts';
import { type Progress, silent } from '../grid/progress.ts';

/**
 * Raises every closed depression to its spill, so that each cell has a way down or level to the map's edge or
 * to no data: priority-flood with a plain stack inside depressions, Barnes, Lehman & Mulla, "Priority-flood",
 * Computers & Geosciences 62 (2014), algorithm 2. Water may leave over the edge of the map and into no data.
 * Exact: the result holds no number that is not in the input. NaN stays NaN.
 *
 * Which cells were reached is kept as one bit each, in rows with a reached cell around the map: that fits in the
 * cache where the elevations do not, and one look at three words tells all neighbours still to be reached.
 *
 * @param sinks cells where water goes underground: any value but 0; nothing is filled above such a cell
 */
export function fillDepressions(
  elevation: Grid,
  progress: Progress = silent,
  sinks: Uint8Array | null = null,
): Grid<Float32Array> {
  const { frame, cells } = elevation;
  assertOnFrame(frame, elevation);
  const { width, height } = frame;
  const count = cells.length;
  const filled = new Float32Array(cells);
  const queue = createQueue32(Math.max(1024, 2 * (width + height)));
  const words = (width + 2 + 31) >> 5;
  const reached = new Int32Array(words * (height + 2));
  seedOutlets(elevation, sinks, reached, words, (i) => queue.push(cells[i]!, i));

  // The 3 x 3 window row by row.
  const offsets = Int32Array.from({ length: 9 }, (_, k) => (Math.floor(k / 3) - 1) * width + (k % 3) - 1);
  let pit = new Int32Array(4096);
  let handled = 0;
  for (let popped = queue.pop(); popped >= 0; popped = queue.pop()) {
    let i = popped;
    let waiting = 0;
    const level = queue.key();
    for (;;) {
      if ((++handled & 0xfffff) === 0) progress(handled / count);
      const y = (i / width) | 0;
      const x = i - y * width;
      // Bits of columns x - 1 to x + 1 of the map stand at x to x + 2 of the padded row.
      const shift = x & 31;
      const word = y * words + (x >> 5);
      const word2 = word + words;
      const word3 = word2 + words;
      let above = reached[word]! >>> shift;
      let beside = reached[word2]! >>> shift;
      let below = reached[word3]! >>> shift;
      if (shift > 29) {
        above |= reached[word + 1]! << (32 - shift);
        beside |= reached[word2 + 1]! << (32 - shift);
        below |= reached[word3 + 1]! << (32 - shift);
      }
      let open = ~((above & 7) | ((beside & 7) << 3) | ((below & 7) << 6)) & 511;
      if (open !== 0) {
        reached[word]! |= (open & 7) << shift;
        reached[word2]! |= ((open >> 3) & 7) << shift;
        reached[word3]! |= (open >> 6) << shift;
        if (shift > 29) {
          reached[word + 1]! |= (open & 7) >>> (32 - shift);
          reached[word2 + 1]! |= ((open >> 3) & 7) >>> (32 - shift);
          reached[word3 + 1]! |= (open >> 6) >>> (32 - shift);
        }
        do {
          const k = 31 - Math.clz32(open);
          open ^= 1 << k;
          const j = i + offsets[k]!;
          const z = cells[j]!;
          if (z > level) queue.push(z, j);
          else {
            filled[j] = level;
            if (waiting === pit.length) pit = longer(pit);
            pit[waiting++] = j;
          }
        } while (open !== 0);
      }
      if (waiting === 0) break;
      i = pit[--waiting]!;
    }
  }
  progress(1);
  return { frame, cells: filled };
}

/** Marks no data, the rim around the map, sinks and all other outlets as reached, and hands over the outlets. */
function seedOutlets(
  elevation: Grid,
  sinks: Uint8Array | null,
  reached: Int32Array,
  words: number,
  seed: (cell: number) => void,
): void {
  const { cells } = elevation;
  const { width, height } = elevation.frame;
  const mark = (x: number, y: number): void => {
    reached[(y + 1) * words + ((x + 1) >> 5)]! |= 1 << ((x + 1) & 31);
  };
  for (let x = -1; x <= width; x++) {
    mark(x, -1);
    mark(x, height);
  }
  for (let y = 0, i = 0; y < height; y++) {
    mark(-1, y);
    mark(width, y);
    const edgeRow = y === 0 || y === height - 1;
    for (let x = 0; x < width; x++, i++) {
      if (Number.isNaN(cells[i]!)) mark(x, y);
      else if (
        edgeRow ||
        x === 0 ||
        x === width - 1 ||
        besideNoData(cells, i, width) ||
        (sinks !== null && sinks[i] !== 0)
      ) {
        mark(x, y);
        seed(i);
      }
    }
  }
}

function besideNoData(cells: Float32Array, i: number, width: number): boolean {
  const a = i - width;
  const b = i + width;
  const sum =
    cells[a - 1]! +
    cells[a]! +
    cells[a + 1]! +
    cells[i - 1]! +
    cells[i + 1]! +
    cells[b - 1]! +
    cells[b]! +
    cells[b + 1]!;
  return Number.isNaN(sum);
}

function longer(old: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> {
  const bigger = new Int32Array(2 * old.length);
  bigger.set(old);
  return bigger;
}
