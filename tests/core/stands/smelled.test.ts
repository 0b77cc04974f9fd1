import { expect, test } from 'vitest';
import type { NearGround } from '../../../core/air/near-ground.ts';
import { briggsOpen, plumeAt } from '../../../core/air/plume.ts';
import type { Frame, Point } from '../../../core/grid/frame.ts';
import { ringArea } from '../../../core/grid/simplify.ts';
import { NOSE_THRESHOLD } from '../../../core/stands/nose.ts';
import { smelledFrom } from '../../../core/stands/smelled.ts';
import { smelledSentences } from '../../../core/stands/smelled-words.ts';
import { outside } from '../../outside.ts';

const SIDE = 320;
const frame: Frame = {
  epsg: 26917,
  west: -800,
  north: 800,
  cellSize: 5,
  width: SIDE,
  height: SIDE,
  longitude: -82,
  latitude: 38,
  convergence: 0,
};
const blowing = (east: number): NearGround => ({
  field: {
    frame,
    east: new Float32Array(SIDE * SIDE).fill(east),
    south: new Float32Array(SIDE * SIDE),
    eddies: new Uint8Array(SIDE * SIDE),
  },
  deficit: new Float32Array(SIDE * SIDE),
  held: new Float32Array(SIDE * SIDE),
});
const ground = { areas: { frame, cells: new Int32Array(SIDE * SIDE) }, travelAreas: [], routes: [] };
const across = (rank: number, x: number, y: number): { rank: number; line: [Point, Point] } => ({
  rank,
  line: [
    [x, y - 20],
    [x, y + 20],
  ],
});
// Upwind, downwind and far abreast.
const necks = [across(1, -60, 0), across(2, 60, 0), across(3, 60, 400)];

test('a person in uniform wind is smelled as far as the plume formula says, and on the neck downwind alone', () => {
  const found = smelledFrom([0, 0], blowing(4), 'D', ground, necks, 1);
  // Mean of the plume below 2 m, let go at 1 m, along its centre line; found by stepping in until it is strong enough.
  const mean = (x: number) =>
    [0.25, 0.75, 1.25, 1.75].reduce((sum, z) => sum + plumeAt(1, 4, briggsOpen('D', x), 1, 0, z), 0) / 4;
  let far = 790;
  while (far > 20 && mean(far) < NOSE_THRESHOLD.usual) far--;
  const check = outside({
    room: 'stands',
    method: 'How far a person is smelled at a first look of few particles',
    source: "Gaussian plume with Briggs' 1973 widths",
    allowed: 0.15,
    unit: 'of the distance',
  });
  check.compare(found.carry.usual, far, far);
  check.done();
  expect(Math.abs(found.bearing - 90)).toBeLessThan(3);
  expect(found.necks).toEqual([
    { rank: 1, met: 'no' },
    { rank: 2, met: 'usual' },
    { rank: 3, met: 'no' },
  ]);
  // What is drawn lies downwind, the keen nose's round the usual one's.
  for (const ring of found.usual) for (const [x] of ring) expect(x).toBeGreaterThan(-30);
  const area = (rings: readonly Point[][]) => rings.reduce((sum, ring) => sum + ringArea(ring), 0);
  expect(area(found.keen)).toBeGreaterThan(area(found.usual));
  expect(area(found.usual)).toBeGreaterThan(0);
  const said = smelledSentences(found, 'us');
  expect(said[0]).toMatch(/^Smelled as far as \d+ yd east/);
  expect(said[1]).toBe('Misses neck 1, the best; lies on neck 2.');
  expect(said[2]).toBe('Misses the trails.');
});

test('air that hardly moves is said to hang', () => {
  const found = smelledFrom([0, 0], blowing(0.05), 'calm drainage', ground, necks.slice(1), 1);
  expect(smelledSentences(found, 'us')[0]).toBe('The air hardly moves here: scent hangs round the person.');
});
