import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { cellCentre, type Frame } from '../../../core/grid/frame.ts';
import { logScores, ranksAt, scoreSightings } from '../../../core/travel/sightings.ts';
import { frameOf } from '../../core/travel/scene.ts';
import { outside } from '../../outside.ts';

interface Case {
  passage: (number | null)[];
  cells: number[];
  areaUnderCurve: number;
  p: number;
  meanLogScore: number;
}
const {
  width,
  height,
  cases,
  versions,
}: {
  width: number;
  height: number;
  cases: Case[];
  versions: Record<string, string>;
} = JSON.parse(readFileSync(new URL('../fixtures/travel/sightings.json', import.meta.url), 'utf8'));
const frame: Frame = frameOf(width, height, 5);
const mean = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0) / values.length;

/** SciPy's mannwhitneyu: U over the number of couples is the area under the curve, ties counted half. */
describe.each(cases.map((c, k) => ({ ...c, k })))('sightings of case $k', (c) => {
  const passage = { frame, cells: Float32Array.from(c.passage, (value) => value ?? Number.NaN) };
  const places = c.cells.map((cell) => cellCentre(frame, cell));
  const score = scoreSightings(
    passage,
    places.map((at) => ({ at, count: 1 })),
  );

  it('have the area under the curve of the rank-sum test', () => {
    const check = outside({
      room: 'travel',
      method: 'How well passage foretells sightings: area under the curve',
      source: `SciPy ${versions.scipy} mannwhitneyu`,
      unit: 'area',
      allowed: 5e-10,
    });
    check.compare(score.areaUnderCurve, c.areaUnderCurve);
    check.compare(mean(ranksAt(passage, places)), c.areaUnderCurve);
    check.done();
  });

  it('are as likely by luck as the normal approximation says, within what 999 draws can tell', () => {
    const error = Math.sqrt((c.p * (1 - c.p)) / 999);
    expect(Math.abs(score.byLuck - c.p)).toBeLessThan(4 * error + 0.005);
  });

  it('have the mean logarithmic score NumPy gives', () => {
    // Passage is held in 32 bits.
    const check = outside({
      room: 'travel',
      method: 'How well passage foretells sightings: mean logarithmic score',
      source: `NumPy ${versions.numpy}`,
      unit: 'nats',
      allowed: 5e-6,
    });
    check.compare(mean(logScores(passage, places)), c.meanLogScore);
    check.done();
  });
});
