import { describe, expect, it } from 'vitest';
import { dayPart } from '../../core/air/season.ts';
import { sunriseSunset } from '../../core/air/sun.ts';
import { airAt } from '../../renderer/map/air-arrows.ts';
import { clockWords, driverWords, hourOfPart, partOf, sectorOf, spell } from '../../renderer/words/air.ts';

/** What the window says of the air, without a window. */

const lattice = {
  west: 100,
  north: 1000,
  step: 50,
  columns: 3,
  rows: 2,
  speed: [1, 2, null, 0, 5, 6],
  towards: [90, 180, null, null, 10, 20],
  held: [1, 0, 0, 0, 0.5, 0],
};

describe('the air in words', () => {
  it('parts the day as the analysis does, all through a year', () => {
    const [longitude, latitude] = [-82.5, 39.4];
    for (let day = 0; day < 365; day += 13) {
      const start = Date.UTC(2025, 0, 1 + day) / 3_600_000;
      const sun = sunriseSunset(start + 17.5, longitude, latitude)!;
      for (let hour = 6; hour < 24; hour += 0.5)
        expect(partOf(hour, sun.rise - start, sun.set - start)).toBe(
          dayPart(start + hour, longitude, latitude),
        );
    }
  });

  it('finds an hour of the clock that lies in each part of the day', () => {
    for (const part of ['before sunrise', 'morning', 'midday', 'evening', 'night'] as const)
      for (const [rise, set] of [
        [6.1, 17],
        [4.6, 19.4],
        [7.4, 16.3],
      ] as const)
        expect(partOf(hourOfPart(part, rise, set), rise, set)).toBe(part);
  });

  it('takes the place of the lattice nearest a point, none off it or off the ground', () => {
    expect(airAt(lattice, [104, 990])).toEqual({ speed: 1, towards: 90, held: 1 });
    expect(airAt(lattice, [155, 945])).toEqual({ speed: 5, towards: 10, held: 0.5 });
    expect(airAt(lattice, [200, 1000])).toBeNull();
    expect(airAt(lattice, [400, 1000])).toBeNull();
    expect(airAt(lattice, [100, 1030])).toBeNull();
  });

  it('tells what drives the air, and where nothing does', () => {
    expect(driverWords({ held: 0.8, arrows: lattice }, 3)).toMatch(/^Cold air sliding/);
    expect(driverWords({ held: 0.3, arrows: lattice }, 3)).toMatch(/share it/);
    expect(driverWords({ held: 0, arrows: lattice }, 3)).toMatch(/^The wind drives/);
    expect(driverWords({ held: 0, arrows: lattice }, 0)).toMatch(/uphill/);
    const still = { ...lattice, speed: lattice.speed.map(() => 0), towards: lattice.towards.map(() => null) };
    expect(driverWords({ held: 0, arrows: still }, 0)).toMatch(/not known/);
  });

  it('writes clocks, sectors and spells as people do', () => {
    expect([0, 5.5, 23.999].map(clockWords)).toEqual(['00:00', '05:30', '00:00']);
    expect([0, 11.2, 11.3, 270, 359].map(sectorOf)).toEqual(['N', 'N', 'NNE', 'W', 'N']);
    expect([45, 89, 150].map(spell)).toEqual(['45 s', '89 s', '3 min']);
  });
});
