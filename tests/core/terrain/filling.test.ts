import { expect, test } from 'vitest';
import type { Grid } from '../../../core/grid/frame.ts';
import { NEIGHBOURS_8 } from '../../../core/grid/neighbours.ts';
import { seededRandom } from '../../../core/grid/random.ts';
import { fillDepressions } from '../../../core/terrain/filling.ts';
import { testFrame } from '../grid/frames.ts';

/**
 * Filling by its definition: flood the map, then let the water of each cell fall to its lowest neighbour's or its own
 * ground until nothing moves (Planchon & Darboux, "A fast, simple and versatile algorithm to fill the depressions of
 * digital elevation models", Catena 46, 2002, their direct form without a slope).
 */
function drainUntilStill({ frame, cells }: Grid, sinks: Uint8Array | null): Float32Array {
  const { width, height } = frame;
  const water = new Float32Array(cells.length).fill(Number.POSITIVE_INFINITY);
  for (let moved = true; moved; ) {
    moved = false;
    for (let i = 0; i < cells.length; i++) {
      const z = cells[i]!;
      if (Number.isNaN(z)) continue;
      let outside = sinks !== null && sinks[i] !== 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
      for (let k = 0; k < 8; k++) {
        const x = (i % width) + NEIGHBOURS_8.dx[k]!;
        const y = Math.floor(i / width) + NEIGHBOURS_8.dy[k]!;
        const off = x < 0 || y < 0 || x >= width || y >= height || Number.isNaN(cells[y * width + x]!);
        outside = Math.min(outside, off ? Number.NEGATIVE_INFINITY : water[y * width + x]!);
      }
      const level = Math.max(z, outside);
      if (level < water[i]!) {
        water[i] = level;
        moved = true;
      }
    }
  }
  return water.map((level, i) => (Number.isNaN(cells[i]!) ? Number.NaN : level));
}

/** Whole steps make ties and wide flats, fine ones do not; both lie on either side of sea level. */
const STEPS = [
  ['whole metres', 1, 4],
  ['fine steps', 1e-3, 5],
  ['steps across many sizes of number', 0, 300],
] as const;

test.each(STEPS)('the filled surface is where the water comes to rest, in %s', (_, step, relief) => {
  const random = seededRandom(11);
  for (let run = 0; run < 120; run++) {
    const width = 1 + Math.floor(random() * 24);
    const height = 1 + Math.floor(random() * 24);
    const holes = run % 3 === 0 ? 0.04 : 0;
    const cells = Float32Array.from({ length: width * height }, () => {
      const z = relief * (random() - 0.5);
      return random() < holes ? Number.NaN : step > 0 ? Math.round(z / step) * step + 0 : z ** 3;
    });
    const sinks = run % 4 === 1 ? Uint8Array.from(cells, () => (random() < 0.02 ? 1 : 0)) : null;
    const ground = { frame: testFrame(width, height, 2), cells };
    expect(fillDepressions(ground, undefined, sinks).cells).toEqual(drainUntilStill(ground, sinks));
  }
});

test('no data is known by its value, whatever its sign', () => {
  const cells = new Float32Array(25).fill(3);
  new Int32Array(cells.buffer)[12] = -4194304; // NaN with the sign set, as x86 makes it
  cells[6] = 1;
  cells[18] = 2;
  const filled = fillDepressions({ frame: testFrame(5, 5, 2), cells }).cells;
  expect(filled[12]).toBeNaN();
  // Both lie beside the hole, which water may leave into.
  expect([filled[6], filled[18]]).toEqual([1, 2]);
});

test('a long run says how far it is and stops when told', () => {
  const ground = {
    frame: testFrame(300, 300, 2),
    cells: new Float32Array(90_000).map((_, i) => (i * 7919) % 101),
  };
  const told: number[] = [];
  fillDepressions(ground, (share) => told.push(share));
  expect(told.length).toBeGreaterThan(4);
  expect(told).toEqual([...told].sort((a, b) => a - b));
  expect(told.at(-1)).toBe(1);
  expect(() =>
    fillDepressions(ground, (share) => {
      if (share > 0.2) throw new Error('stopped');
    }),
  ).toThrow('stopped');
});
