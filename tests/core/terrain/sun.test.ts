import { describe, expect, test } from 'vitest';
import { LIT, terrainShadow } from '../../../core/terrain/shadow.ts';
import { type Place, sunPosition, sunTimes } from '../../../core/terrain/sun.ts';
import { outside } from '../../outside.ts';
import { groundFrom, readFixture, roughGround } from './grounds.ts';

type Triple = [number, number, number];
const reference = readFixture<{
  positions: { place: Triple; time: number; azimuth: number; altitude: number }[];
  times: { place: Triple; date: Triple; dawn: number; sunrise: number; sunset: number; dusk: number }[];
}>('sun.json');
const placeOf = ([longitude, latitude, elevation]: Triple): Place => ({ longitude, latitude, elevation });

// The worked example of Reda & Andreas (2004), appendix A.5; values from memory: 17 October 2003, 12:30:30 at
// UTC-7, Golden (Colorado), 820 hPa, 11 °C, delta T 67 s.
describe('the worked example of the solar position algorithm', () => {
  const golden: Place = { longitude: -105.1786, latitude: 39.742476, elevation: 1830.14 };
  test('zenith and azimuth to 1e-4 degrees', () => {
    const time = Date.UTC(2003, 9, 17, 19, 30, 30);
    const sun = sunPosition(time, golden, { pressure: 820, temperature: 11 }, 67);
    const check = outside({
      room: 'terrain',
      method: 'Zenith and azimuth of the sun',
      source: 'Reda & Andreas 2004, worked example (values from memory)',
      unit: 'degrees',
      allowed: 5e-5,
    });
    check.compare(90 - sun.altitude, 50.11162);
    check.compare(sun.azimuth, 194.34024);
    check.done();
  });
  test('sunrise 06:12:43 and sunset 17:20:19, to two seconds', () => {
    const { sunrise } = sunTimes(2003, 10, 17, golden);
    expect(Math.abs(sunrise! - Date.UTC(2003, 9, 17, 13, 12, 43))).toBeLessThan(2000);
    // The example's sunset is the one of the 17th in universal time, the evening before in Colorado.
    const { sunset } = sunTimes(2003, 10, 16, golden);
    expect(Math.abs(sunset! - Date.UTC(2003, 9, 17, 0, 20, 19))).toBeLessThan(2000);
  });
});

// Reference: PyEphem 4.1 (libastro), tests/reference/terrain/make_sun.py.
test('positions agree with PyEphem to 0.005 degrees at five places through the year', () => {
  expect(reference.positions.length).toBeGreaterThan(100);
  const check = outside({
    room: 'terrain',
    method: 'Height and bearing of the sun through the year',
    source: 'PyEphem 4.1',
    unit: 'degrees of arc',
    allowed: 0.005,
  });
  for (const { place, time, azimuth, altitude } of reference.positions) {
    const sun = sunPosition(time, placeOf(place));
    check.compare(sun.trueAltitude, altitude);
    const turn = Math.abs(((sun.azimuth - azimuth + 540) % 360) - 180);
    check.compare(turn * Math.cos((altitude * Math.PI) / 180), 0);
  }
  check.done();
});

test('sunrise, sunset and civil twilight agree with PyEphem to three seconds', () => {
  const check = outside({
    room: 'terrain',
    method: 'Sunrise, sunset and civil twilight',
    source: 'PyEphem 4.1',
    unit: 's',
    allowed: 3,
  });
  for (const row of reference.times) {
    const times = sunTimes(...row.date, placeOf(row.place));
    for (const name of ['dawn', 'sunrise', 'sunset', 'dusk'] as const)
      check.compare(times[name]!, row[name], 1000);
  }
  check.done();
});

test('beyond the polar circle the sun may not set or rise', () => {
  const north: Place = { longitude: 20, latitude: 70, elevation: 0 };
  expect(sunTimes(2025, 6, 21, north)).toMatchObject({ sunrise: null, sunset: null });
  const winter = sunTimes(2025, 12, 21, north);
  expect(winter.sunrise).toBeNull();
  expect(winter.dawn).not.toBeNull();
});

describe('terrain shadow', () => {
  test('a wall throws a shadow of its height over the tangent of the sun', () => {
    const wall = groundFrom(201, 21, 1, (x) => (Math.abs(x - 100.5) < 0.6 ? 10 : 0));
    const lit = terrainShadow(wall, 90, 20).cells;
    const row = Array.from(lit.subarray(10 * 201, 11 * 201));
    // Sun in the east: shadow to the west, 10 / tan(20°) = 27.5 m long.
    expect(row.indexOf(LIT.shadow)).toBe(100 - 27);
    expect(row.lastIndexOf(LIT.shadow)).toBe(99);
    expect(row.filter((value) => value === LIT.shadow)).toHaveLength(27);
  });
  test('turns with the sun', () => {
    const post = groundFrom(101, 101, 1, (x, y) => (Math.hypot(x - 50.5, y - 50.5) < 3 ? 10 : 0));
    for (const azimuth of [0, 30, 75, 135, 180, 222, 300]) {
      const lit = terrainShadow(post, azimuth, 30).cells;
      let [sx, sy] = [0, 0];
      for (let i = 0; i < lit.length; i++) {
        if (lit[i] !== LIT.shadow) continue;
        sx += (i % 101) - 50;
        sy += 50 - Math.floor(i / 101);
      }
      const away = ((Math.atan2(sx, sy) * 180) / Math.PI + 360) % 360;
      expect(Math.abs(((away - azimuth + 180 + 540) % 360) - 180)).toBeLessThan(4);
    }
  });
  test('agrees with following each ray in small steps, but for cells on the rim of a shadow', () => {
    const ground = roughGround(90, 70, 51, 5);
    const { width, height, cellSize } = ground.frame;
    const bilinear = (x: number, y: number): number => {
      const [c, r] = [Math.min(Math.floor(x), width - 2), Math.min(Math.floor(y), height - 2)];
      const [u, v] = [x - c, y - r];
      const i = r * width + c;
      return (
        (ground.cells[i]! * (1 - u) + ground.cells[i + 1]! * u) * (1 - v) +
        (ground.cells[i + width]! * (1 - u) + ground.cells[i + width + 1]! * u) * v
      );
    };
    const lit = terrainShadow(ground, 200, 12).cells;
    const [dx, dy] = [Math.sin((200 * Math.PI) / 180), -Math.cos((200 * Math.PI) / 180)];
    let differ = 0;
    let shaded = 0;
    for (let i = 0; i < lit.length; i++) {
      const [x, y] = [i % width, Math.floor(i / width)];
      let dark = false;
      for (let d = 0.2; !dark; d += 0.2) {
        const [px, py] = [x + dx * d, y + dy * d];
        if (px < 0 || py < 0 || px > width - 1 || py > height - 1) break;
        dark = bilinear(px, py) > ground.cells[i]! + d * cellSize * Math.tan((12 * Math.PI) / 180) + 1e-6;
      }
      if (dark) shaded++;
      if (dark !== (lit[i] === LIT.shadow)) differ++;
    }
    expect(shaded).toBeGreaterThan(500);
    expect(differ / lit.length).toBeLessThan(0.04);
  });
  test('at night all is dark, and no data stays no data', () => {
    const ground = groundFrom(9, 9, 2, (x) => x);
    ground.cells[4] = Number.NaN;
    const night = terrainShadow(ground, 90, -1).cells;
    expect(night[4]).toBe(0);
    expect(night.filter((value) => value === LIT.shadow)).toHaveLength(80);
  });
});
