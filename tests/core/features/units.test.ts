import { describe, expect, test } from 'vitest';
import {
  ACRE,
  compassLetters,
  compassWord,
  decimal,
  FOOT,
  formatArea,
  formatLength,
  formatShare,
  formatSpeed,
  fromTyped,
  MILE,
  MPH,
  toTyped,
  YARD,
} from '../../../core/features/units.ts';
import { outside } from '../../outside.ts';

/** NIST SP 811 (2008), appendix B.8 and B.9; values from memory, exact by definition except where printed rounded. */
describe('factors against NIST SP 811', () => {
  test('foot, yard, mile and mile per hour are exact', () => {
    const check = outside({
      room: 'features',
      method: 'Foot, yard, mile and mile per hour',
      source: 'NIST SP 811, 2008, appendix B.8 (values from memory)',
      unit: 'SI',
      allowed: 0,
    });
    check.compare(FOOT, 0.3048);
    check.compare(YARD, 0.9144);
    check.compare(MILE, 1609.344);
    check.compare(MPH, 0.44704);
    check.done();
  });

  test('they hang together: 3 ft to the yard, 5280 to the mile, 3600 s to the hour, 43 560 square feet to the acre', () => {
    expect(3 * FOOT).toBeCloseTo(YARD, 15);
    expect(5280 * FOOT).toBeCloseTo(MILE, 10);
    expect(MILE / 3600).toBeCloseTo(MPH, 15);
    expect(43_560 * FOOT * FOOT).toBeCloseTo(ACRE, 9);
    // A section of land is a square mile of 640 acres.
    expect((MILE * MILE) / 640).toBeCloseTo(ACRE, 9);
  });
});

describe('as a person reads them', () => {
  test('ground distances in yards, then miles', () => {
    expect(formatLength(91.44, 'us')).toBe('100 yd');
    expect(formatLength(MILE * 1.25, 'us')).toBe('1.3 mi');
    expect(formatLength(91.44, 'metric')).toBe('91 m');
    expect(formatLength(1250, 'metric')).toBe('1.3 km');
  });

  test('heights in feet, with a tenth where it matters', () => {
    expect(formatLength(1, 'us', 'height')).toBe('3.3 ft');
    expect(formatLength(FOOT * 9.97, 'us', 'height')).toBe('10 ft');
    expect(formatLength(FOOT * 1234, 'us', 'height')).toBe('1,234 ft');
    expect(formatLength(3.41, 'metric', 'height')).toBe('3.4 m');
  });

  test('areas and speeds', () => {
    expect(formatArea(ACRE * 328.4, 'us')).toBe('328 acres');
    expect(formatArea(ACRE, 'us')).toBe('1.0 acre');
    expect(formatArea(34_000, 'metric')).toBe('3.4 ha');
    // A lane of 2 by 30 m: 60 m² are 645.8 square feet of 0.3048 m.
    expect([formatArea(60, 'us'), formatArea(60, 'metric')]).toEqual(['646 ft²', '60 m²']);
    expect(formatSpeed(4.4704, 'us')).toBe('10.0 mph');
  });

  test('a share is never rounded to nothing or everything', () => {
    expect([0, 0.001, 0.27, 0.999, 1].map(formatShare)).toEqual([
      '0%',
      'under 1%',
      '27%',
      'over 99%',
      '100%',
    ]);
  });

  test('no minus before nothing', () => {
    expect(decimal(-0.04, 1)).toBe('0.0');
    expect(decimal(-1234.56, 1)).toBe('-1,234.6');
  });

  test('what is typed comes back as typed', () => {
    for (const typed of [0.001, 1, 27.5, 333.333]) {
      for (const kind of ['distance', 'height'] as const) {
        expect(toTyped(fromTyped(typed, 'us', kind), 'us', kind)).toBe(typed);
        expect(toTyped(fromTyped(typed, 'metric', kind), 'metric', kind)).toBe(typed);
      }
    }
  });
});

describe('bearings in words', () => {
  test('takes the nearest of eight points, all the way round', () => {
    expect([0, 20, 23, 90, 135, 268, 338, 359, -90, 450].map(compassWord)).toEqual([
      'north',
      'north',
      'northeast',
      'east',
      'southeast',
      'west',
      'north',
      'north',
      'west',
      'east',
    ]);
    expect([0, 44, 315, -20, 360].map(compassLetters)).toEqual(['N', 'NE', 'NW', 'N', 'N']);
  });
});
