import { describe, expect, test } from 'vitest';
import { dayOf, dayOfYear, daysIn, shifted, spansOf } from '../../../core/plan/days.ts';
import { folded, iCalendarOf } from '../../../core/plan/icalendar.ts';
import { planWork } from '../../../core/plan/plan-work.ts';
import type { JobKind } from '../../../core/plan/types.ts';
import { DEFAULT_CALENDAR, quietSpan, windowOf } from '../../../core/plan/windows.ts';
import { EVERY_JOB, feature, field, line, SETTINGS } from './scene.ts';

describe('days', () => {
  test('of the year and back, over New Year', () => {
    expect(dayOfYear('12-31')).toBe(364);
    expect(shifted('05-05', -14)).toBe('04-21');
    expect(shifted('01-03', -5)).toBe('12-29');
    const winter = { from: '11-15', to: '03-31' };
    // 16 days of November, 31, 31, 28 and 31.
    expect(daysIn(winter).reduce((a, b) => a + b)).toBe(137);
    expect(spansOf(daysIn(winter))).toEqual([winter]);
  });
});

describe('windows', () => {
  const cutting: JobKind[] = ['barricade', 'hinge cut', 'felled bedding', 'opening'];
  test.each(cutting)('%s: dormant, out of the season, before bats come out', (kind) => {
    expect(windowOf(kind, DEFAULT_CALENDAR).spans).toEqual([{ from: '01-16', to: '03-31' }]);
  });

  test('nothing is done while the ground is kept quiet', () => {
    const quiet = daysIn(quietSpan(DEFAULT_CALENDAR));
    expect(quietSpan(DEFAULT_CALENDAR)).toEqual({ from: '09-10', to: '01-15' });
    for (const { kind } of planWork(EVERY_JOB, SETTINGS, 'us', null, '2026-11-25').jobs) {
      const { days } = windowOf(kind, DEFAULT_CALENDAR);
      expect(
        days.some((open, day) => open && quiet[day]),
        kind,
      ).toBe(false);
    }
  });

  test('no fence is opened while stock is on the ground', () => {
    const grazed = { ...DEFAULT_CALENDAR, stock: { from: '04-01', to: '08-31' } };
    // Out of the season, which the ground is kept quiet for until 01-15 and from 09-10.
    expect(windowOf('fence lowering', DEFAULT_CALENDAR).spans).toEqual([{ from: '01-16', to: '09-09' }]);
    const { spans, reasons } = windowOf('fence lowering', grazed);
    expect(spans).toEqual([
      { from: '01-16', to: '03-31' },
      { from: '09-01', to: '09-09' },
    ]);
    expect(reasons.join(' ')).toMatch(/while stock is on the ground/);
    const span = EVERY_JOB.filter(({ id }) => id === 'span');
    const strip = planWork(span, { ...SETTINGS, calendar: grazed }, 'us', null, '2026-11-25').calendar.strip;
    expect(strip.map(({ label }) => label)).toContain('Stock is in');
  });

  test('plantings go by the frost dates that are set', () => {
    const late = { ...DEFAULT_CALENDAR, lastFrost: '05-25' };
    expect(windowOf('screen planting', late).spans).toEqual([{ from: '05-11', to: '07-04' }]);
    expect(windowOf('food plot', DEFAULT_CALENDAR).spans).toEqual([{ from: '07-27', to: '08-31' }]);
  });
});

describe('the dated list', () => {
  const plan = planWork(EVERY_JOB, SETTINGS, 'us', null, '2026-11-25');
  const row = (id: string) => plan.calendar.jobs.find(({ job }) => job === id)!;

  test('every job has days inside its window', () => {
    for (const { job, from, to } of plan.calendar.jobs) {
      const { kind } = plan.jobs.find(({ id }) => id === job)!;
      const { days } = windowOf(kind, DEFAULT_CALENDAR);
      for (let day = dayOf(from!); day <= dayOf(to!); day++)
        expect(days[dayOfYear(new Date(day * 86_400_000).toISOString().slice(5, 10))], job).toBe(1);
    }
  });

  test('access before cutting, cutting before screens, everything before the first sit', () => {
    for (const cut of ['barricade', 'hinge', 'felled', 'glade']) {
      for (const way of ['trail', 'lane']) expect(row(way).to! < row(cut).from!, `${way} ${cut}`).toBe(true);
      for (const planting of ['screen', 'grass', 'pines'])
        expect(row(cut).to! < row(planting).from!, `${cut} ${planting}`).toBe(true);
    }
    expect(plan.calendar.firstSit).toBe('2027-10-01');
    for (const { to, beforeFirstSit } of plan.calendar.jobs) {
      expect(beforeFirstSit).toBe(true);
      expect(to! < '2027-09-10').toBe(true);
    }
  });

  test('one crew is at one job at a time', () => {
    const saw = plan.calendar.jobs
      .filter(({ job }) => plan.jobs.find(({ id }) => id === job)!.crew === 'saw')
      .sort((a, b) => a.from!.localeCompare(b.from!));
    for (let i = 1; i < saw.length; i++) expect(saw[i - 1]!.to! < saw[i]!.from!).toBe(true);
  });

  test('a job longer than its window says so instead of a date', () => {
    const vast = planWork(
      [feature('vast', 'cut', field(0, 0, 2000, 2000))],
      SETTINGS,
      'us',
      null,
      '2026-11-25',
    );
    expect(vast.calendar.jobs[0]).toMatchObject({ from: null, beforeFirstSit: false });
    expect(vast.calendar.jobs[0]!.reasons.at(-1)).toMatch(/split it or bring more people/);
  });

  test('too late for this winter is done in the next, and the list says that it is not hunted before', () => {
    const late = planWork(
      [feature('cut', 'barricade', line([0, 0], [50, 0]))],
      SETTINGS,
      'us',
      null,
      '2027-04-20',
    );
    expect(late.calendar.jobs[0]).toMatchObject({ from: '2028-01-16', beforeFirstSit: false });
  });
});

// RFC 5545: content lines end in CRLF and hold at most 75 octets (3.1); backslash, semicolon, comma and line breaks
// are escaped in text (3.3.11); DTEND of an all-day event is the day after it (3.6.1); UID and DTSTAMP are required.
describe('iCalendar by RFC 5545', () => {
  const plan = planWork(EVERY_JOB, SETTINGS, 'us', null, '2026-11-25');
  const text = iCalendarOf(
    plan.calendar,
    plan.jobs,
    { name: 'Home; farm, “north”\\', key: 'x 1' },
    '2026-11-25',
  );
  const octets = (line: string) => new TextEncoder().encode(line).length;

  test('lines, folding and required properties', () => {
    expect(text.endsWith('\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    for (const each of text.split('\r\n')) expect(octets(each)).toBeLessThanOrEqual(75);
    const events = text.replaceAll('\r\n ', '').split('BEGIN:VEVENT').slice(1);
    expect(events).toHaveLength(EVERY_JOB.length + 1);
    const uids = events.map((event) => /^UID:(.+)$/m.exec(event)![1]);
    expect(new Set(uids).size).toBe(events.length);
    for (const event of events) {
      expect(event).toMatch(/\r\nDTSTAMP:20261125T000000Z\r\n/);
      const [, from, to] = /DTSTART;VALUE=DATE:(\d{8})\r\nDTEND;VALUE=DATE:(\d{8})\r\n/.exec(event)!;
      expect(from! < to!).toBe(true);
    }
  });

  test('text is escaped as the standard has it', () => {
    expect(text.replaceAll('\r\n ', '')).toContain('SUMMARY:Home\\; farm\\, “north”\\\\: first sit');
  });

  // The standard's own example of folding (3.1) unfolds to one line.
  test('folding never splits a sign and unfolds to what it was', () => {
    const long = `DESCRIPTION:${'é語🦌 '.repeat(40)}`;
    for (const part of folded(long).split('\r\n')) expect(octets(part)).toBeLessThanOrEqual(75);
    expect(folded(long).replaceAll('\r\n ', '')).toBe(long);
  });
});
