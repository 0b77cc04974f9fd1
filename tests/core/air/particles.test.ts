import { expect, test } from 'vitest';
import { fieldShear, openWidths, releaseScent, spreadTable } from '../../../core/air/particles.ts';
import { briggsOpen, STABILITY_CLASSES } from '../../../core/air/plume.ts';
import { FARTHEST_NORMAL, fillBits, normalPair, seedBits } from '../../../core/air/random.ts';
import { walk } from '../../../core/air/walk.ts';
import { TOGETHER } from '../../../core/air/walk-code.ts';
import { outside } from '../../outside.ts';
import { airFrame, total } from './ground.ts';

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
    const [a, b] = normalPair(bits[k]!);
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
  // The last vectors are not full.
  const x = Float32Array.of(
    1.5,
    1.25,
    3,
    9.75,
    4,
    18,
    0.5,
    6,
    7.5,
    0.125,
    12,
    2,
    2,
    5.5,
    19.5,
    3,
    1,
    8,
    0.25,
  );
  const y = Float32Array.of(8.5, 8.25, 3, 9.75, 12, 15, 0.5, 1, 15.5, 8.75, 3, 6, 7, 9, 0.25, 11, 4, 8, 12);
  const particles = x.length;
  const z = new Float32Array(particles).fill(1.5);
  const gone = Float32Array.from(x, (_, k) => k / 4);
  const got = walk({ wind, step: 2, ...table }, { x, y, z, gone }, 26, 77);

  const round = Math.fround;
  const moveOf = (cell: number) => {
    const [u, v] = [wind.east[cell]!, wind.south[cell]!];
    const speed = Math.sqrt(u * u + v * v);
    return [u * (2 / 5), v * (2 / 5), speed * 2 * table.perSpacing, 1 / Math.sqrt(speed * 2)].map(round);
  };
  const lanes = Array.from({ length: TOGETHER }, (_, lane) => seedBits(77, lane));
  const visits = new Float64Array(cells);
  const after = new Float64Array(cells);
  let stayed = 0;
  // The map lies in a ring of cells, wider than the longest step, which matters to the last bit of a place.
  const metres = 2 * Math.sqrt(Math.max(...wind.east.map((u, k) => u * u + wind.south[k]! ** 2)));
  const widest = Math.max(...table.spread.filter((_, k) => k % 2 === 0));
  const ring = 2 + Math.ceil((metres + widest * FARTHEST_NORMAL * Math.sqrt(metres)) / 5);
  const cellAt = (px: number, py: number): number =>
    px >= ring && py >= ring && px < 20 + ring && py < 16 + ring
      ? Math.trunc(py - ring) * 20 + Math.trunc(px - ring)
      : -1;
  for (let first = 0; first < particles; first += TOGETHER) {
    const group = lanes.map((_, lane) => {
      const at = {
        x: round((x[first + lane] ?? -1) + ring),
        y: round((y[first + lane] ?? -1) + ring),
        z: 1.5,
        middle: 0,
      };
      const cell = cellAt(at.x, at.y);
      if (cell >= 0) at.middle = round(0.5 * moveOf(cell)[2]! + gone[first + lane]! * table.perSpacing);
      return at;
    });
    // Steps are taken by twos, and those of the ring go by before it is seen that all have left.
    let goOn = true;
    for (let n = 0; n < 26 && goOn; n++) {
      if (n % 2 === 1) goOn = group.some((at) => cellAt(at.x, at.y) >= 0);
      group.forEach((at, lane) => {
        const bits = new Int32Array(1);
        fillBits(lanes[lane]!, bits, 1);
        const cell = cellAt(at.x, at.y);
        if (cell < 0) return;
        const [east, south, places, perRoot] = moveOf(cell) as [number, number, number, number];
        const [a, b] = normalPair(bits[0]!);
        const place = Math.min(last, Math.trunc(at.middle));
        const across = round(round(table.spread[2 * place]! * a) * perRoot);
        const up = round(
          round(round(table.spread[2 * place + 1]! / table.perSpacing) * b) * round(places * perRoot),
        );
        at.x = round(round(at.x + east) - round(south * across));
        at.y = round(round(at.y + south) + round(east * across));
        at.z = Math.abs(round(at.z + up));
        at.middle = round(at.middle + places);
        const next = cellAt(at.x, at.y);
        if (next < 0 || at.z >= 2) return;
        visits[next]!++;
        after[next]! += n;
      });
    }
    stayed += group.filter((at) => cellAt(at.x, at.y) >= 0).length;
  }
  expect(stayed).toBeGreaterThan(0);
  expect(stayed).toBeLessThan(particles);
  expect(got.left).toBe(particles - stayed);
  for (let i = 0; i < cells; i++) {
    expect(got.dose[i]).toBe(round(visits[i]! / particles));
    if (visits[i] === 0) expect(got.age[i]).toBeNaN();
    else expect(got.age[i]).toBe(round(after[i]! / visits[i]!));
  }
});

test.each(STABILITY_CLASSES)('class %s in uniform wind over level ground: the Gaussian plume', (kind) => {
  // 5% plus three standard errors. Width upwards shows in the share below 2 m.
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
  const about = {
    room: 'air',
    source: "Gaussian plume with Briggs' 1973 widths; beyond three standard errors",
    unit: 'of the value',
    allowed: 0.05,
  };
  const widths = outside({ ...about, method: 'Particles in even wind: width across, 100 m to 2 km' });
  const sums = outside({ ...about, method: 'Particles in even wind: dose below 2 m, as wide as it goes' });
  const centre = outside({ ...about, method: 'Particles in even wind: dose on the centre line' });
  const beyond = (ratio: number, seen: number) => Math.max(0, Math.abs(ratio - 1) - 3 / Math.sqrt(seen));
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
    widths.compare(beyond(Math.sqrt(second / sum) / across, 2 * seen), 0);
    sums.compare(beyond(sum / ((below * cell) / 4), seen), 0);
    // The row the source stands in holds what lies within half a cell of the centre line.
    const within = erf(cell / 2 / across / Math.SQRT2);
    const here = dose[Math.floor(y0 / cell) * width + column]!;
    centre.compare(beyond(here / ((below * within * cell) / 4), seen * within), 0);
  }
  for (const check of [widths, sums, centre]) check.done();
});

test('the sheared walk in a power law of wind and even exchange: the closed form of Roberts', () => {
  // u = u1 (z / z1)^m and K the same everywhere (O. F. T. Roberts 1923, as in Pasquill, Atmospheric Diffusion, 1974):
  // with r = m + 2, s = (m + 1) / r and a = u1 / z1^m, the crosswind sum of a ground source of 1 is
  // r / (a Gamma(s)) (a / (r^2 K x))^s exp(-a z^r / (r^2 K x)). Value from memory; its flux through a plane is 1.
  const [m, u1, z1, exchange] = [1 / 7, 4, 3, 2];
  const r = m + 2;
  const s = (m + 1) / r;
  const a = u1 / z1 ** m;
  const sum = (x: number, z: number) =>
    (r / (a * gamma(s))) *
    (a / (r * r * exchange * x)) ** s *
    Math.exp((-a * z ** r) / (r * r * exchange * x));
  let flux = 0;
  for (let z = 0.05; z < 400; z += 0.1) flux += sum(800, z) * a * z ** m * 0.1;
  expect(flux).toBeCloseTo(1, 2);
  const frame = airFrame(120, 9, 10);
  const count = 120 * 9;
  const wind = { frame, east: new Float32Array(count).fill(u1), south: new Float32Array(count) };
  const { dose } = releaseScent(wind, {
    from: [frame.west, frame.north - 45],
    height: 0,
    particles: 100_000,
    seconds: 900,
    step: 0.5,
    seed: 12,
    width: (x) => ({ across: 0, up: Math.sqrt((2 * exchange * x) / u1) }),
    shear: (z) => (z / z1) ** m,
  });
  const check = outside({
    room: 'air',
    method: 'Sheared walk: crosswind sum near the ground, 200 to 1000 m',
    source: 'Roberts 1923, closed form (value from memory)',
    unit: 'of the value',
    allowed: 0.05,
  });
  for (const x of [200, 400, 700, 1000]) {
    const column = x / 10;
    let found = 0;
    for (let row = 0; row < 9; row++) found += dose[row * 120 + column]!;
    let wanted = 0;
    for (let z = 0.1; z < 2; z += 0.2) wanted += sum(x + 5, z) * 0.2 * 10;
    check.compare(found / wanted, 1);
  }
  check.done();
});

test("the sheared walk's difference from the even one is told, class by class; in even wind there is none", () => {
  const frame = airFrame(220, 120, 10);
  const count = 220 * 120;
  const wind = { frame, east: new Float32Array(count).fill(4), south: new Float32Array(count) };
  const check = outside({
    room: 'air',
    method: 'Sheared walk: dose near the ground, 100 m to 2 km, six classes; told, not required',
    source: 'the same walk in wind that is even with height',
    unit: 'of the value',
    allowed: 1,
  });
  for (const kind of STABILITY_CLASSES) {
    const release = {
      from: [frame.west, frame.north - 605] as [number, number],
      height: 2,
      particles: 20_000,
      seconds: 1200,
      step: 4,
      seed: 5,
      width: openWidths(kind),
    };
    const even = releaseScent(wind, release).dose;
    expect(releaseScent(wind, { ...release, shear: () => 1 }).dose).toEqual(even);
    const sheared = releaseScent(wind, { ...release, shear: fieldShear }).dose;
    for (const x of [100, 500, 1000, 2000]) {
      const across = (dose: Float32Array) =>
        total(Array.from({ length: 120 }, (_, row) => dose[row * 220 + x / 10]!));
      check.compare(across(sheared) / across(even), 1);
    }
  }
  check.done();
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
  // Eight rows each side of the middle, so that what is left of chance is well below a tenth.
  const rows = (from: number) => [0, 5, 10, 15, 20, 25, 30, 35].reduce((sum, on) => sum + row(from + on), 0);
  expect(Math.abs(rows(152) / rows(212) - 1)).toBeLessThan(0.1);
  expect(Math.abs((row(98) + row(102)) / 2 / row(200) - 0.5)).toBeLessThan(0.15);
  expect(row(30)).toBeLessThan(0.02 * row(200));
  expect(() => releaseScent(wind, { ...release, from: [0, 0] })).toThrow(/outside the frame/);
});

/** Abramowitz & Stegun 6.1.37, Stirling's series, from eight on. */
function gamma(x: number): number {
  if (x < 8) return gamma(x + 1) / x;
  return Math.exp(-x) * x ** (x - 0.5) * Math.sqrt(2 * Math.PI) * (1 + 1 / (12 * x) + 1 / (288 * x * x));
}

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
