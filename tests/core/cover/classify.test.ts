import { expect, test } from 'vitest';
import { coverLayers } from '../../../core/cover/layers.ts';
import { COVER } from '../../../core/cover/types.ts';
import { outside } from '../../outside.ts';
import { accuracy, confusion, labelledScene } from './scene.ts';

// Outside check: the confusion matrix on labelled scenes, whose light, crowns and noise are ours but whose rules the
// classifier does not know. Recall is what share of a class is found as such.
const recall = (matrix: number[][], code: number) =>
  matrix[code]![code]! / matrix[code]!.reduce((a, b) => a + b, 0);
const hold = (source: ReturnType<typeof labelledScene>) => {
  const found = coverLayers(source.frame, source.imagery, null, []);
  return { found, matrix: confusion(source.labels, found.cover.cells) };
};

test.each([
  ['leaf-on', 7, 2.5],
  ['leaf-on', 99, 2.5],
  ['leaf-off', 7, 2.5],
  ['leaf-off', 99, 3.5],
  ['leaf-on', 7, 1.5],
] as const)('four bands, %s, seed %i, %d m: nine cells in ten and every class', (season, seed, cellSize) => {
  const { matrix } = hold(labelledScene(season, 4, seed, cellSize));
  const check = outside({
    room: 'cover',
    method: 'Classes of cover on four-band scenes: cells taken for another class',
    source: 'labelled scenes whose rules the classifier does not know',
    unit: 'of the cells',
    allowed: 0.06,
  });
  const cells = matrix.flat().reduce((a, b) => a + b, 0);
  check.part((1 - accuracy(matrix)) * cells, cells);
  check.done();
  for (const code of [COVER.open, COVER.brush, COVER.deciduous, COVER.evergreen, COVER.water, COVER.built])
    expect(recall(matrix, code)).toBeGreaterThan(0.8);
});

test('three bands, leaf-on: timber is found but not its kind, and that is said', () => {
  const { matrix, found } = hold(labelledScene('leaf-on', 3));
  expect(matrix.every((row) => row[COVER.evergreen] === 0)).toBe(true);
  const timber = [COVER.deciduous, COVER.evergreen];
  const kept = timber.reduce((sum, code) => sum + matrix[code]![COVER.deciduous]!, 0);
  const all = timber.reduce((sum, code) => sum + matrix[code]!.reduce((a, b) => a + b, 0), 0);
  expect(kept / all).toBeGreaterThan(0.95);
  expect(found.doubts.join(' ')).toMatch(/cannot be told .* leaf-on .* without near infrared/);
});

test('three bands, leaf-off: what is green among bare timber is evergreen', () => {
  const { matrix, found } = hold(labelledScene('leaf-off', 3));
  expect(recall(matrix, COVER.evergreen)).toBeGreaterThan(0.9);
  expect(recall(matrix, COVER.deciduous)).toBeGreaterThan(0.8);
  expect(found.doubts.join(' ')).toMatch(/leaf-off/);
});

test('only what a photo shows is known: canopy yes, screening and footing under it no', () => {
  const scene = labelledScene('leaf-on', 4);
  const { found } = hold(scene);
  let timber = 0;
  for (let i = 0; i < found.cover.cells.length; i++) {
    const code = found.cover.cells[i]!;
    expect(found.canopy.cells[i]! >= 0 && found.canopy.cells[i]! <= 1).toBe(true);
    if (code === COVER.deciduous || code === COVER.evergreen || code === COVER.brush) {
      timber++;
      expect(found.screening.cells[i]).toBeNaN();
      expect(found.footing.cells[i]).toBeNaN();
    }
    if (code === COVER.water) expect([found.screening.cells[i], found.footing.cells[i]]).toEqual([0, 0]);
  }
  expect(timber).toBeGreaterThan(1000);
  expect(found.doubts.join(' ')).toMatch(/screening at deer height and footing are unknown/);
});

test('cells without imagery stay unknown', () => {
  const scene = labelledScene('leaf-on', 4);
  scene.imagery.valid.fill(0, 0, scene.frame.width * 60);
  const { found } = hold(scene);
  expect(found.cover.cells.subarray(0, scene.frame.width * 58).every((code) => code === 0)).toBe(true);
  expect(found.canopy.cells[0]).toBeNaN();
  expect(found.doubts.join(' ')).toMatch(/25% of the map has no cover data/);
});

test('at coarse cells it says that crowns are not seen', () => {
  const { found } = hold(labelledScene('leaf-on', 4, 7, 10));
  expect(found.doubts.join(' ')).toMatch(/At 10 m a cell no single crown is seen/);
});
