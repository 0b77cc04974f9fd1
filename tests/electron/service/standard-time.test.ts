import { expect, test } from 'vitest';
import { clockOf, timeOf, zoneName } from '../../../electron/service/standard-time.ts';

test('the zone is a whole number of hours by longitude', () => {
  // Meridians of the standard zones: 75, 90, 105, 120 degrees west (US Code title 15, section 263).
  expect([-75, -90, -105, -120, 0, 15].map(zoneName)).toEqual([
    'UTC-5',
    'UTC-6',
    'UTC-7',
    'UTC-8',
    'UTC',
    'UTC+1',
  ]);
});

test('an hour of a day goes to a moment and back to the clock', () => {
  const time = timeOf('2025-11-08', 6.5, -86.2);
  expect(new Date(time).toISOString()).toBe('2025-11-08T12:30:00.000Z');
  expect(clockOf(time + 29_000, -86.2)).toBe('06:30');
  expect(clockOf(time + 31_000, -86.2)).toBe('06:31');
});
