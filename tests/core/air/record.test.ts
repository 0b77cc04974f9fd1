import { expect, test } from 'vitest';
import { recordSpan } from '../../../core/air/record.ts';

test('span, gaps of a day and more, and what of the hours has cloud and gusts', () => {
  const kept = Int32Array.from([0, 1, 2, 50, 51, 60, 160]);
  const nan = Number.NaN;
  const record = {
    station: 'invented',
    hours: kept,
    direction: new Float32Array(7),
    speed: new Float32Array(7),
    temperature: new Float32Array(7),
    sky: Float32Array.of(0, 8, nan, nan, nan, 4, nan),
    gust: Float32Array.of(9, nan, nan, nan, nan, nan, nan),
    notes: [],
  };
  const span = recordSpan(record)!;
  expect(span).toMatchObject({ from: 0, to: 160, hours: 7 });
  expect(span.covered).toBeCloseTo(7 / 161, 9);
  expect(span.gaps).toEqual([
    { from: 61, to: 160, hours: 99 },
    { from: 3, to: 50, hours: 47 },
  ]);
  expect(span.withCloud).toBeCloseTo(3 / 7, 9);
  expect(span.withGust).toBeCloseTo(1 / 7, 9);
  expect(recordSpan({ ...record, hours: new Int32Array(0) })).toBeNull();
});
