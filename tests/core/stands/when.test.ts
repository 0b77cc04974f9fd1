import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { DAY_PARTS } from '../../../core/air/season.ts';
import type { Feature } from '../../../core/features/feature.ts';
import { daysAfter, daysOf, isWithin } from '../../../core/stands/calendar.ts';
import { lawfulHours, lawfulPart, legalLight, lightNote } from '../../../core/stands/legal-light.ts';
import { moonAt } from '../../../core/stands/moon.ts';
import { closedAlong, closedAt, disturbance, quietGrounds } from '../../../core/stands/quiet-ground.ts';
import { restOf, sitsPerWeek } from '../../../core/stands/resting.ts';
import { phaseOn, rutPhases } from '../../../core/stands/rut.ts';
import { visitsOf } from '../../../core/stands/visits.ts';
import { outside } from '../../outside.ts';
import { readFixture } from '../terrain/grounds.ts';

const MINUTE = 60_000;

describe('legal light', () => {
  type Triple = [number, number, number];
  // Reference: PyEphem 4.1 (libastro), tests/reference/terrain/make_sun.py.
  const { times } = readFixture<{
    times: { place: Triple; date: Triple; sunrise: number; sunset: number }[];
  }>('sun.json');

  test('runs by the offsets from the sunrise and sunset of astronomical tables', () => {
    expect(times.length).toBeGreaterThan(10);
    const check = outside({
      room: 'stands',
      method: 'Legal light by offsets from sunrise and sunset',
      source: 'PyEphem 4.1',
      unit: 's',
      allowed: 3,
    });
    for (const {
      place: [longitude, latitude, elevation],
      date,
      sunrise,
      sunset,
    } of times) {
      const day = date.map((part) => String(part).padStart(2, '0')).join('-');
      const light = legalLight(day, { longitude, latitude, elevation }, { before: 30, after: 20 })!;
      check.compare(light.from, sunrise - 30 * MINUTE, 1000);
      check.compare(light.to, sunset + 20 * MINUTE, 1000);
    }
    check.done();
  });

  const place = { longitude: -81.7, latitude: 39.3, elevation: 250 };
  test('without a rule hours run from sunrise to sunset, and that is said', () => {
    const light = legalLight('2024-11-05', place, { before: null, after: null })!;
    expect(light.from).toBe(light.sunrise);
    expect(light.to).toBe(light.sunset);
    expect(lightNote({ before: null, after: 30 })).toMatch(/No rule/);
    expect(lightNote({ before: 30, after: 30 })).toMatch(/as entered/);
    expect(lawfulPart('before sunrise', light)).toBeNull();
  });
  test('the parts of a day cover its lawful light once', () => {
    const light = legalLight('2024-11-05', place, { before: 30, after: 30 })!;
    const parts = DAY_PARTS.map((part) => lawfulPart(part, light)).filter((part) => part !== null);
    const sum = parts.reduce((total, { from, to }) => total + to - from, 0);
    expect(sum).toBeCloseTo(light.to - light.from, 3);
    expect(lawfulPart('before sunrise', light)!.to - light.from).toBeCloseTo(30 * MINUTE, 3);
    expect(lawfulPart('night', light)).toBeNull();
  });
  test('hours a week are seven days of the season’s mean day', () => {
    const hours = lawfulHours({ from: '11-05', to: '11-05' }, place, { before: 30, after: 30 });
    const light = legalLight('2023-11-05', place, { before: 30, after: 30 })!;
    const week = DAY_PARTS.reduce((sum, part) => sum + hours[part], 0);
    expect(week).toBeCloseTo((7 * (light.to - light.from)) / 3_600_000, 6);
    expect(hours.night).toBe(0);
  });
});

describe('the moon', () => {
  const reference = JSON.parse(
    readFileSync(new URL('../../reference/fixtures/stands/moon.json', import.meta.url), 'utf8'),
  ) as { lit: [number, number, boolean][]; phases: { new: number[]; full: number[] } };

  // Reference: PyEphem 4.1 (libastro), tests/reference/stands/make_moon.py.
  test('the lit share agrees with PyEphem to a hundredth of the disc, and so does its waxing', () => {
    expect(reference.lit.length).toBeGreaterThan(200);
    const check = outside({
      room: 'stands',
      method: 'Lit share of the moon',
      source: 'PyEphem 4.1',
      unit: 'of the disc',
      allowed: 0.01,
    });
    for (const [time, lit, waxing] of reference.lit) {
      const moon = moonAt(time);
      check.compare(moon.lit, lit);
      // Within hours of new or full the two may turn at different moments.
      if (lit > 0.02 && lit < 0.98) expect(moon.waxing).toBe(waxing);
    }
    check.done();
    for (const time of reference.phases.new) expect(moonAt(time).name).toBe('new moon');
    for (const time of reference.phases.full) expect(moonAt(time).name).toBe('full moon');
  });
  // Meeus (1998), example 48.a: 1992 April 12 at 0h, k = 0.68; value from memory. Dynamical time ran 59 s ahead.
  test('the worked example of the algorithm', () => {
    const moon = moonAt(Date.UTC(1992, 3, 12) - 59_000);
    expect(moon.lit).toBeCloseTo(0.68, 2);
    expect(moon.name).toBe('waxing gibbous');
  });
});

describe('the rut', () => {
  test('far enough north the cruising weeks are those of late October to mid-November', () => {
    const rut = rutPhases(39.3, null);
    // Common practice, no source.
    expect(phaseOn(rut, '11-05')!.name).toBe('cruising');
    expect(rut.phases.find(({ name }) => name === 'cruising')).toMatchObject({ from: '10-25', to: '11-15' });
    expect(rut.source).toMatch(/assumption/);
    expect(phaseOn(rut, '07-01')).toBeNull();
  });
  test('phases follow one another without a gap', () => {
    const { phases } = rutPhases(39.3, '12-28');
    for (let k = 1; k < phases.length; k++) expect(phases[k]!.from).toBe(daysAfter(phases[k - 1]!.to, 1));
    // Over New Year.
    expect(phaseOn({ phases, source: '' }, '01-05')!.name).toBe('late rut');
  });
  test('in the south nothing is guessed', () => {
    expect(rutPhases(30, null).phases).toEqual([]);
    expect(rutPhases(30, null).source).toMatch(/enter/);
    expect(rutPhases(30, '01-20').phases).toHaveLength(5);
  });
});

const feature = (
  kind: Feature['kind'],
  geometry: Feature['geometry'],
  attributes: Feature['attributes'],
): Feature => ({
  id: `${kind} ${JSON.stringify(attributes)}`,
  kind,
  status: 'existing',
  name: kind === 'quiet' ? 'The pines' : null,
  geometry,
  attributes,
  source: 'drawn',
});
const at = (x: number, y: number): Feature['geometry'] => ({ type: 'Point', coordinates: [x, y] });
const square: Feature['geometry'] = {
  type: 'Polygon',
  coordinates: [
    [
      [0, 0],
      [100, 0],
      [100, 100],
      [0, 100],
      [0, 0],
    ],
  ],
};

describe('rest and quiet ground', () => {
  const visits = visitsOf([
    feature('visit', at(500, 500), { date: '2024-11-02', who: 'sit', stand: 'a' }),
    feature('visit', at(50, 50), { date: '2024-11-03', who: 'mowing' }),
    feature('visit', at(50, 50), { date: 'soon', who: 'owner' }),
  ]);
  test('a visit without a date is left out', () => expect(visits).toHaveLength(2));
  test('a stand rests as many days as the rule says', () => {
    expect(restOf(visits, 'a', '2024-11-02', 4).ready).toBe(true);
    expect(restOf(visits, 'a', '2024-11-06', 4)).toEqual({ ready: false, since: 4, wait: 1 });
    expect(restOf(visits, 'a', '2024-11-07', 4).ready).toBe(true);
    expect(restOf(visits, 'b', '2024-11-03', 4)).toEqual({ ready: true, since: null, wait: 0 });
    expect(sitsPerWeek(6)).toBe(1);
  });
  test('closed ground is closed in its dates alone, over New Year too', () => {
    const grounds = quietGrounds([feature('quiet', square, { from: '11-20', to: '01-10' })]);
    expect(closedAt(grounds, [50, 50], '12-31')).not.toBeNull();
    expect(closedAt(grounds, [50, 50], '01-05')).not.toBeNull();
    expect(closedAt(grounds, [50, 50], '11-05')).toBeNull();
    expect(closedAt(grounds, [150, 50], '12-31')).toBeNull();
    // A way straight across it has both its ends outside.
    const way: [number, number][] = [
      [-50, 50],
      [150, 50],
    ];
    expect(closedAlong(grounds, way, '12-31')!.name).toBe('The pines');
    expect(closedAlong(grounds, way, '11-05')).toBeNull();
  });
  test('visits near by lower what is left of travel, less with every day', () => {
    const grounds = quietGrounds([feature('quiet', square, {})]);
    const left = (date: string, open = grounds) => disturbance(visits, open, [60, 60], date).left;
    expect(left('2024-11-02')).toBe(1);
    // Mowing costs half, half as much again on closed ground, and half of that comes back in two days.
    expect(left('2024-11-03')).toBeCloseTo(1 - 0.75, 10);
    expect(left('2024-11-03', [])).toBeCloseTo(1 - 0.5, 10);
    expect(left('2024-11-05')).toBeCloseTo(1 - 0.375, 10);
    expect(left('2024-12-05')).toBe(1);
    expect(disturbance(visits, grounds, [60, 60], '2024-11-04').reasons[0]).toBe(
      'it was mowed the day before on The pines',
    );
    expect(disturbance(visits, grounds, [900, 60], '2024-11-03').left).toBe(1);
  });
});

test('days of a window', () => {
  expect(daysOf({ from: '12-30', to: '01-02' }, 2023)).toEqual([
    '2023-12-30',
    '2023-12-31',
    '2024-01-01',
    '2024-01-02',
  ]);
  expect(isWithin('01-01', { from: '12-30', to: '01-02' })).toBe(true);
  expect(isWithin('12-01', { from: '12-30', to: '01-02' })).toBe(false);
});
