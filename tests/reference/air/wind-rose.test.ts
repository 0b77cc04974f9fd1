import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { WindRecord } from '../../../core/air/types.ts';
import { windRose } from '../../../core/air/wind.ts';
import { outside } from '../../outside.ts';

// Outside check: the same record counted by numpy.histogram.
const fixture = JSON.parse(
  readFileSync(new URL('../fixtures/air/wind-rose.json', import.meta.url), 'utf8'),
) as {
  record: { hours: number[]; direction: (number | null)[]; speed: number[] };
  counts: number[];
  means: number[];
  calms: number;
  variable: number;
};
const count = fixture.record.hours.length;
const record: WindRecord = {
  station: 'test',
  hours: Int32Array.from(fixture.record.hours),
  direction: Float32Array.from(fixture.record.direction, (d) => d ?? Number.NaN),
  speed: Float32Array.from(fixture.record.speed),
  temperature: new Float32Array(count).fill(Number.NaN),
  sky: new Float32Array(count).fill(Number.NaN),
  notes: [],
};

test('sectors, calms and variable wind equal the recount', () => {
  const rose = windRose(record);
  const about = { room: 'air', source: 'NumPy histogram of the same record' };
  const counts = outside({
    ...about,
    method: 'Hours by sector, calm and variable',
    unit: 'hours',
    allowed: 0,
  });
  rose.counts.forEach((hours, k) => {
    counts.compare(hours, fixture.counts[k]!);
  });
  counts.compare(rose.calms, fixture.calms);
  counts.compare(rose.variable, fixture.variable);
  counts.compare(rose.total, count);
  counts.done();
  const speeds = outside({ ...about, method: 'Mean speed by sector', unit: 'm/s', allowed: 5e-6 });
  rose.speeds.forEach((mean, k) => {
    speeds.compare(mean, fixture.means[k]!);
  });
  speeds.done();
});

test('a part of the record counts alone', () => {
  const even = windRose(record, (i) => record.hours[i]! % 2 === 0);
  const odd = windRose(record, (i) => record.hours[i]! % 2 === 1);
  const all = windRose(record);
  expect([...even.counts].map((n, k) => n + odd.counts[k]!)).toEqual([...all.counts]);
  expect(even.total + odd.total).toBe(count);
});
