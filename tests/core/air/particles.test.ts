import { expect, test } from 'vitest';
import { openWidths, releaseScent, spreadTable } from '../../../core/air/particles.ts';
import { briggsOpen, STABILITY_CLASSES } from '../../../core/air/plume.ts';
import { fillBits, HALF_NORMALS, seedBits } from '../../../core/air/random.ts';
import { walk } from '../../../core/air/walk.ts';
import { airFrame } from './ground.ts';

/** Two normal numbers of 32 random bits: a pair by the lowest eleven, signs by the two highest. */
function normals(bits: number): [number, number] {
  const pair = 2 * (bits & 2047);
  return [HALF_NORMALS[pair]! * (bits < 0 ? -1 : 1), HALF_NORMALS[pair + 1]! * (bits << 1 < 0 ? -1 : 1)];
}

test('the normal numbers: moments, chances, and two that do not follow each other', () => {
  const n = 400_000;
  const bits = new Int32Array(n);
  fillBits(seedBits(42), bits, n);
  let sum = 0;
  let squares = 0;
  let fourth = 0;
  let both = 0;
  let bothSquares = 0;
  let before = 0;
  let following = 0;
  // Chances of the normal distribution below -2, -1, 0, 1 and 2 (any table).
  const below = new Map([
    [-2, 0.02275],
    [-1, 0.15866],
    [0, 0.5],
    [1, 0.84134],
    [2, 0.97725],
  ]);
  const found = new Map([...below.keys()].map((level) => [level, 0]));
  for (let k = 0; k < n; k++) {
    const [a, b] = normals(bits[k]!);
    sum += a;
    squares += a * a;
    fourth += a ** 4;
    both += a * b;
    bothSquares += a * a * b * b;
    following += a * before;
    before = b;
    for (const level of below.keys()) if (b < level) found.set(level, found.get(level)! + 1);
  }
  const error = 3 / Math.sqrt(n);
  expect(Math.abs(sum / n)).toBeLessThan(error);
  expect(Math.abs(squares / n - 1)).toBeLessThan(error * Math.SQRT2);
  expect(Math.abs(fourth / n - 3)).toBeLessThan(0.03 + error * Math.sqrt(96)); // the table ends at 3.6 deviations
  expect(Math.abs(both / n)).toBeLessThan(error);
  expect(Math.abs(bothSquares / n - 1)).toBeLessThan(error * Math.sqrt(8));
  expect(Math.abs(following / n)).toBeLessThan(error);
  for (const [level, chance] of below)
    expect(Math.abs(found.get(level)! / n - chance)).toBeLessThan(error * Math.sqrt(chance * (1 - chance)));
});

test('the vector code takes the steps that the formulas say, bit for bit', () => {
  const frame = airFrame(20, 16, 5);
  const cells = 20 * 16;
  const wind = {
    frame,
    east: Float32Array.from({ length: cells }, (_, i) => 2 + Math.sin(i)),
    south: Float32Array.from({ length: cells }, (_, i) => (i % 37 === 0 ? 0 : Math.cos(i / 3))),
  };
  const table = spreadTable(openWidths('C'), 60, 5);
  const last = table.spread.length / 2 - 1;
  // Eleven: the last vectors are not full.
  const x = Float32Array.of(1.5, 1.25, 3, 9.75, 4, 18, 0.5, 6, 7.5, 0.125, 12);
  const y = Float32Array.of(8.5, 8.25, 3, 9.75, 12, 15, 0.5, 1, 15.5, 8.75, 3);
  const got = walk({ wind, step: 2, ...table }, { x, y, height: 1.5 }, 26, 77);

  const round = Math.fround;
  const moveOf = (cell: number) => {
    const [u, v] = [wind.east[cell]!, wind.south[cell]!];
    const speed = Math.sqrt(u * u + v * v);
    return [u * (2 / 5), v * (2 / 5), speed * 2 * table.perSpacing, 1 / Math.sqrt(speed * 2)].map(round);
  };
  const lanes = Array.from({ length: 8 }, (_, lane) => seedBits(77, lane));
  const visits = new Float64Array(cells);
  const after = new Float64Array(cells);
  let stayed = 0;
  // The map's corner is at (1, 1) there, which matters to the last bit.
  const cellAt = (px: number, py: number): number =>
    px >= 1 && py >= 1 && px < 21 && py < 17 ? Math.trunc(py - 1) * 20 + Math.trunc(px - 1) : -1;
  for (let first = 0; first < 16; first += 8) {
    const eight = lanes.map((_, lane) => {
      const at = {
        x: (x[first + lane] ?? -1) + 1,
        y: (y[first + lane] ?? -1) + 1,
        z: 1.5,
        middle: 0,
      };
      const cell = cellAt(at.x, at.y);
      if (cell >= 0) at.middle = 0.5 * moveOf(cell)[2]!;
      return at;
    });
    // Steps are taken by twos, and those of the ring go by before it is seen that all have left.
    let goOn = true;
    for (let n = 0; n < 26 && goOn; n++) {
      if (n % 2 === 1) goOn = eight.some((at) => cellAt(at.x, at.y) >= 0);
      eight.forEach((at, lane) => {
        const bits = new Int32Array(1);
        fillBits(lanes[lane]!, bits, 1);
        const cell = cellAt(at.x, at.y);
        if (cell < 0) return;
        const [east, south, places, perRoot] = moveOf(cell) as [number, number, number, number];
        const [a, b] = normals(bits[0]!);
        const place = Math.min(last, Math.trunc(at.middle));
        const across = round(round(table.spread[2 * place]! * a) * perRoot);
        const up = round(
          round(round(table.spread[2 * place + 1]! / table.perSpacing) * b) * round(places * perRoot),
        );
        const hold = (value: number, end: number) => Math.min(Math.max(value, 0), end);
        at.x = hold(round(round(at.x + east) - round(south * across)), 21.5);
        at.y = hold(round(round(at.y + south) + round(east * across)), 17.5);
        at.z = Math.abs(round(at.z + up));
        at.middle = round(at.middle + places);
        const next = cellAt(at.x, at.y);
        if (next < 0 || at.z >= 2) return;
        visits[next]!++;
        after[next]! += n;
      });
    }
    stayed += eight.filter((at) => cellAt(at.x, at.y) >= 0).length;
  }
  expect(stayed).toBeGreaterThan(0);
  expect(stayed).toBeLessThan(11);
  expect(got.left).toBe(11 - stayed);
  for (let i = 0; i < cells; i++) {
    expect(got.dose[i]).toBe(round(visits[i]! / 11));
    if (visits[i] === 0) expect(got.age[i]).toBeNaN();
    else expect(got.age[i]).toBe(round(after[i]! / visits[i]!));
  }
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
