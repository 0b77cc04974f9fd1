import { expect, it } from 'vitest';
import { hoursWords, longDay, seasonYear, shortDay, spansOf } from '../../renderer/words/hours.ts';

it('takes the season that runs or comes next, over New Year as well', () => {
  const autumn = { from: '10-25', to: '11-15' };
  expect(seasonYear(autumn, '2026-07-01')).toBe(2026);
  expect(seasonYear(autumn, '2026-11-15')).toBe(2026);
  expect(seasonYear(autumn, '2026-11-16')).toBe(2027);
  const winter = { from: '11-20', to: '01-31' };
  expect(seasonYear(winter, '2027-01-31')).toBe(2026);
  expect(seasonYear(winter, '2027-02-01')).toBe(2027);
});

it('joins hours of one chance to a stretch, and breaks it where nobody sits or the part changes', () => {
  const cell = (hour: number, from: number, to: number, chances: { of: number; minutes: number }[]) => ({
    hour,
    from,
    to,
    state: 'open' as const,
    share: null,
    chances,
  });
  const spans = spansOf([
    cell(6, 45, 60, [{ of: 0, minutes: 15 }]),
    cell(7, 0, 60, [
      { of: 0, minutes: 20 },
      { of: 1, minutes: 40 },
    ]),
    cell(8, 0, 60, [{ of: 1, minutes: 60 }]),
    cell(9, 0, 60, []),
    cell(10, 0, 30, [{ of: 1, minutes: 30 }]),
  ]);
  expect(spans).toEqual([
    { of: 0, from: '06:45', to: '07:20' },
    { of: 1, from: '07:20', to: '09:00' },
    { of: 1, from: '10:00', to: '10:30' },
  ]);
});

it('says days and hours', () => {
  // 5 November 2026 is a Thursday, by the calendar.
  expect([shortDay('2026-11-05'), longDay('2026-11-05')]).toEqual(['Thu 5', 'Thursday 5 November']);
  expect([0, 0.5, 0.999, 3.24, 12.4].map(hoursWords)).toEqual(['none', '30 min', '1.0 h', '3.2 h', '12 h']);
});
