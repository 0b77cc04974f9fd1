import { expect, test } from 'vitest';
import type { WindRecord } from '../../../core/air/types.ts';
import { joinWind } from '../../../electron/readers/wind-join.ts';

const record = (station: string, hours: number[], speed: number, gust?: number): WindRecord => ({
  station,
  hours: Int32Array.from(hours),
  direction: new Float32Array(hours.length).fill(90),
  speed: new Float32Array(hours.length).fill(speed),
  temperature: new Float32Array(hours.length).fill(Number.NaN),
  sky: new Float32Array(hours.length).fill(Number.NaN),
  ...(gust === undefined ? {} : { gust: new Float32Array(hours.length).fill(gust) }),
  notes: [`about ${station}`],
});

test('two records are one in order; of an hour in both the added one is kept, and a gust only one has is not known in the other', () => {
  const joined = joinWind(record('a', [1, 2, 5], 1), record('b', [0, 2, 3], 2, 7));
  expect([...joined.hours]).toEqual([0, 1, 2, 3, 5]);
  expect([...joined.speed]).toEqual([2, 1, 2, 2, 1]);
  expect([...joined.gust!]).toEqual([7, Number.NaN, 7, 7, Number.NaN]);
  expect(joined.ceiling).toBeUndefined();
  const high = { ...record('c', [7], 1), ceiling: Float32Array.of(900) };
  expect([...joinWind(record('a', [1], 1), high).ceiling!]).toEqual([Number.NaN, 900]);
  expect(joined.station).toBe('a + b');
  expect(joined.notes.join(' ')).toContain('1 hours stood in both');
  expect(joined.notes.join(' ')).toContain('2 stations');
  // More years of one station are not another station.
  const more = joinWind(joined, record('b', [9], 3));
  expect(more.station).toBe('a + b');
});
