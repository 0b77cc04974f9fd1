import { expect, test } from 'vitest';
import { openWidths, releaseScent } from '../../../core/air/particles.ts';
import { briggsOpen, STABILITY_CLASSES } from '../../../core/air/plume.ts';
import { fillBits, highNormal, lowNormal, seedBits } from '../../../core/air/random.ts';
import { airFrame } from './ground.ts';

test('the normal numbers: mean 0, variance 1, flat chances, and halves that do not follow each other', () => {
  const n = 400_000;
  const bits = new Int32Array(n);
  fillBits(seedBits(42), bits, n);
  let sum = 0;
  let squares = 0;
  let fourth = 0;
  let both = 0;
  for (let k = 0; k < n; k++) {
    const drawn = bits[k]!;
    const a = lowNormal(drawn);
    sum += a;
    squares += a * a;
    fourth += a ** 4;
    both += a * highNormal(drawn);
  }
  const error = 3 / Math.sqrt(n);
  expect(Math.abs(sum / n)).toBeLessThan(error);
  expect(Math.abs(squares / n - 1)).toBeLessThan(error * Math.SQRT2);
  expect(Math.abs(fourth / n - 3)).toBeLessThan(0.03 + error * Math.sqrt(96)); // the table ends at 3.7 deviations
  expect(Math.abs(both / n)).toBeLessThan(error);
});

test.each(STABILITY_CLASSES)('class %s in uniform wind over level ground: the Gaussian plume', (kind) => {
  // Width across the wind and centre line of the dose near the ground, 100 m to 2 km, against Briggs' curves and the
  // plume formula; 5% plus three standard errors.
  // Cells well inside the plume's width: a narrow plume gets a finer frame.
  const narrow = kind === 'E' || kind === 'F';
  const cell = narrow ? 4 : 10;
  const frame = airFrame(narrow ? 520 : 220, 240, cell);
  const { width, height } = frame;
  const wind = {
    frame,
    east: new Float32Array(width * height).fill(4),
    south: new Float32Array(width * height),
  };
  const particles = 200_000;
  const y0 = (height / 2 + 0.5) * cell;
  const { dose } = releaseScent(wind, {
    from: [frame.west, frame.north - y0],
    height: 0,
    particles,
    seconds: 540,
    step: 5,
    seed: 9,
    width: openWidths(kind),
  });
  for (const x of [100, 200, 500, 1000, 2000]) {
    const column = Math.floor(x / cell);
    // A column's own reach of distances is narrow against the plume's growth.
    let sum = 0;
    let second = 0;
    for (let row = 0; row < height; row++) {
      const here = dose[row * width + column]!;
      const y = (row + 0.5) * cell - y0;
      sum += here;
      second += here * (y * y - (cell * cell) / 12);
    }
    const { across, up } = briggsOpen(kind, (column + 0.5) * cell);
    // Share of a reflected plume below 2 m, and the time it takes to cross the column at 4 m/s.
    const below = erf(2 / up / Math.SQRT2);
    const seen = particles * below;
    expect(Math.abs(Math.sqrt(second / sum) / across - 1)).toBeLessThan(0.05 + 3 / Math.sqrt(2 * seen));
    expect(Math.abs(sum / ((below * cell) / 4) - 1)).toBeLessThan(0.05 + 3 / Math.sqrt(seen));
  }
});

test('the same seed gives the same bits, and a wind that stands still keeps its scent', () => {
  const frame = airFrame(30, 30, 10);
  const still = { frame, east: new Float32Array(900), south: new Float32Array(900) };
  const release = {
    from: [frame.west + 155, frame.north - 155] as [number, number],
    height: 1,
    particles: 50,
    seconds: 60,
    step: 2,
    seed: 3,
    width: openWidths('F'),
  };
  const { dose, left } = releaseScent(still, release);
  expect(left).toBe(0);
  expect(dose[15 * 30 + 15]).toBeCloseTo(60, 5);
  const windy = { ...still, east: new Float32Array(900).fill(2) };
  expect(releaseScent(windy, release)).toEqual(releaseScent(windy, release));
  expect(releaseScent(windy, { ...release, seconds: 200 }).left).toBe(1);
});

test('scent given off along a walked path makes an even line source', () => {
  const frame = airFrame(80, 80, 5);
  const wind = { frame, east: new Float32Array(6400).fill(3), south: new Float32Array(6400) };
  const path: [number, number][] = [
    [frame.west + 50, frame.north - 100],
    [frame.west + 50, frame.north - 300],
  ];
  const release = { height: 1, particles: 40_500, seconds: 120, step: 1, seed: 4, width: openWidths('D') };
  const along = releaseScent(wind, { ...release, from: path }).dose;
  // A line source across the wind: even along its middle, half at its ends, nothing well beside it.
  const row = (metres: number) => {
    let sum = 0;
    for (let x = 25; x < 30; x++) sum += along[Math.floor(metres / 5) * 80 + x]!;
    return sum;
  };
  expect(Math.abs(row(170) / row(230) - 1)).toBeLessThan(0.1);
  expect(Math.abs((row(98) + row(102)) / 2 / row(200) - 0.5)).toBeLessThan(0.15);
  expect(row(30)).toBeLessThan(0.02 * row(200));
  expect(() => releaseScent(wind, { ...release, from: [0, 0] })).toThrow(/outside the frame/);
});

/** Abramowitz & Stegun 7.1.26. */
function erf(x: number): number {
  const t = 1 / (1 + 0.3275911 * x);
  return (
    1 -
    ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) *
      t *
      Math.exp(-x * x)
  );
}
