import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { otsuSplit, otsuThree } from '../../../core/cover/threshold.ts';
import { outside } from '../../outside.ts';

// Outside check: threshold_otsu and threshold_multiotsu of scikit-image on the same values and bins.
const fixture = JSON.parse(
  readFileSync(new URL('../fixtures/cover/thresholds.json', import.meta.url), 'utf8'),
) as { cases: { name: string; values: number[]; thresholds: number[] }[] };

test.each(fixture.cases)('$name: the same threshold as scikit-image', ({ values, thresholds }) => {
  const cells = Float32Array.from(values);
  const range = cells.reduce((a, b) => Math.max(a, b)) - cells.reduce((a, b) => Math.min(a, b));
  const found =
    thresholds.length === 1 ? [otsuSplit(cells)!.threshold] : [otsuThree(cells)!.low, otsuThree(cells)!.high];
  expect(found.length).toBe(thresholds.length);
  // The same bin: equal to far less than the width of one.
  const check = outside({
    room: 'cover',
    method: 'Thresholds that part two or three groups of values',
    source: 'scikit-image 0.19 threshold_otsu and threshold_multiotsu',
    unit: 'of the range of values',
    allowed: 1e-5,
  });
  found.forEach((value, k) => {
    check.compare(value, thresholds[k]!, range);
  });
  check.done();
});
