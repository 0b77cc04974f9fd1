import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { fromFile } from 'geotiff';
import { beforeAll, describe, expect, test } from 'vitest';
import type { XY } from '../../sample-rasters/generator/lines.ts';
import * as place from '../../sample-rasters/generator/scenario.ts';
import { makeFeatures } from '../../sample-rasters/generator/vectors.ts';
import { WIND_YEARS } from '../../sample-rasters/generator/wind.ts';
import { SAMPLE } from './run-job.ts';

/** The scenario as the issue tells it, read off the committed data without any of the program's own methods. */

const width = place.WIDTH / place.GROUND_CELL;
let cells: Float32Array;
beforeAll(async () => {
  const image = await (await fromFile(join(SAMPLE, 'elevation.tif'))).getImage();
  cells = (await image.readRasters())[0] as Float32Array;
});

const at = (x: number, y: number): number =>
  cells[Math.floor((place.HEIGHT - y) / place.GROUND_CELL) * width + Math.floor(x / place.GROUND_CELL)]!;
const range = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, i) => from + i * step);
/** Lowest ground within some metres of a point. */
const lowest = (x: number, y: number, reach: number): number =>
  Math.min(
    ...range(-reach, reach, 2.5).flatMap((dx) => range(-reach, reach, 2.5).map((dy) => at(x + dx, y + dy))),
  );
const features = makeFeatures().features.map(({ id, properties }) => ({
  id: String(id),
  kind: String(properties?.kind),
  status: String(properties?.status),
  type: properties?.type as string | undefined,
  crosses: properties?.crosses as string | undefined,
}));
const kinds = (kind: string) => features.filter((f) => f.kind === kind);
const ringHolds = (ring: readonly XY[], [x, y]: XY): boolean => {
  let odd = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [[xi, yi], [xj, yj]] = [ring[i]!, ring[j]!];
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) odd = !odd;
  }
  return odd;
};

describe('the lie of the land', () => {
  test('a few hundred acres', () => {
    // 4046.8564224 m² to the acre (NIST SP 811).
    const acres = place.OWNED_AREA / 4046.8564224;
    expect(acres).toBeGreaterThan(250);
    expect(acres).toBeLessThan(450);
  });

  test('hill country: a hundred metres of relief, most slopes between 5 and 20 degrees', () => {
    let [low, high] = [Infinity, -Infinity];
    for (const z of cells) [low, high] = [Math.min(low, z), Math.max(high, z)];
    expect(high - low).toBeGreaterThan(90);
    expect(high - low).toBeLessThan(140);
    const slopes = range(300, 2400, 37).flatMap((x) =>
      range(1060, 1700, 31).map(
        (y) =>
          (Math.atan(Math.hypot(at(x + 10, y) - at(x - 10, y), at(x, y + 10) - at(x, y - 10)) / 20) * 180) /
          Math.PI,
      ),
    );
    const rolling = slopes.filter((slope) => slope > 5 && slope < 22).length / slopes.length;
    expect(rolling).toBeGreaterThan(0.75);
  });

  test('one long ridge with one low saddle, on the farm, between tops that are the neighbour’s', () => {
    // The crest: the highest ground of each column between the two valleys.
    const crest = range(50, 2650, 10).map((x) => {
      const ys = range(1500, 2100, 5);
      const heights = ys.map((y) => at(x, y));
      const z = Math.max(...heights);
      return { x, y: ys[heights.indexOf(z)]!, z };
    });
    const low = crest.reduce((a, b) => (b.z < a.z ? b : a));
    expect(Math.hypot(low.x - place.SADDLE[0], low.y - place.SADDLE[1])).toBeLessThan(40);
    expect(ringHolds(place.BOUNDARY, [low.x, low.y])).toBe(true);
    // No other place on the crest comes within 8 m of it in height.
    const others = crest.filter(({ x }) => Math.abs(x - low.x) > 200);
    expect(Math.min(...others.map(({ z }) => z)) - low.z).toBeGreaterThan(8);
    const owned = crest.filter(({ x, y }) => ringHolds(place.BOUNDARY, [x, y]));
    expect(owned.length / crest.length).toBeLessThan(0.15);
  });

  test('two benches: gentle shelves with steeper ground above and below', () => {
    expect(place.BENCHES).toHaveLength(2);
    for (const { middle, level } of place.BENCHES) {
      // Mean rise over run of ground near the level, and of ground 6 to 14 m above and below it.
      const steepness = (from: number, to: number): number => {
        const found = range(-110, 110, 5).flatMap((dx) =>
          range(-110, 110, 5).flatMap((dy) => {
            const [x, y] = [middle[0] + dx, middle[1] + dy];
            const off = at(x, y) - level;
            if (off < from || off > to || Math.hypot(dx, dy) > 90) return [];
            return Math.hypot(at(x + 5, y) - at(x - 5, y), at(x, y + 5) - at(x, y - 5)) / 10;
          }),
        );
        return found.reduce((a, b) => a + b, 0) / found.length;
      };
      const shelf = steepness(-1.5, 1.5);
      expect(steepness(6, 14)).toBeGreaterThan(1.6 * shelf);
      expect(steepness(-14, -6)).toBeGreaterThan(1.6 * shelf);
    }
  });
});

describe('the railroad', () => {
  test('stands over the hollows and cuts the noses, and can be passed under in one place only', () => {
    expect(
      kinds('gap')
        .filter((gap) => gap.type === 'underpass')
        .map((gap) => gap.crosses),
    ).toEqual(['rail']);
    const [ux] = place.UNDERPASS;
    const below = (x: number): number => {
      const y = place.RAIL.reduce((a, b) => (Math.abs(b[0] - x) < Math.abs(a[0] - x) ? b : a))[1];
      return Math.min(...range(y - 6, y + 6, 2).map((v) => place.railElevation(x) - at(x, v)));
    };
    // Under the bridge the ground lies well below the rails; everywhere else the bed is at its own level.
    expect(below(ux)).toBeGreaterThan(4);
    for (const x of range(700, 1960, 10))
      if (Math.abs(x - ux) > 12) expect(below(x), `x ${x}`).toBeLessThan(1.6);
    const cut = range(700, 1960, 10).filter((x) => {
      const y = place.RAIL.reduce((a, b) => (Math.abs(b[0] - x) < Math.abs(a[0] - x) ? b : a))[1];
      return at(x, y + 14) > place.railElevation(x) + 3;
    });
    expect(cut.length).toBeGreaterThan(20);
  });

  test('its fill dams the eastern hollow behind a pipe culvert, where the third stand sits', () => {
    const stand = place.STANDS.find(({ id }) => id === 'stand-fill')!;
    expect(place.railElevation(stand.at[0]) - lowest(...stand.at, 10)).toBeGreaterThan(2);
    expect(kinds('gap').filter((gap) => gap.type === 'culvert')).toHaveLength(3);
  });
});

describe('the creek', () => {
  test('is deep-cut in the east and shallow in the west', () => {
    const depths = (from: number, to: number): number[] =>
      place.CREEK.filter(([x]) => x > from && x < to).map(([x, y]) => {
        const banks = [-1, 1].map((side) => at(x, y + side * 14));
        return Math.min(...banks) - lowest(x, y, 5);
      });
    const middle = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]!;
    expect(middle(depths(place.DEEP_FROM + 40, 1960))).toBeGreaterThan(3);
    expect(middle(depths(760, place.SHALLOW_TO - 40))).toBeLessThan(1);
  });

  test('runs down all the way', () => {
    const beds = place.CREEK.filter(([x]) => x > 10 && x < 2690).map(([x]) => place.bedElevation(x));
    for (let i = 1; i < beds.length; i++) expect(beds[i]!).toBeLessThanOrEqual(beds[i - 1]!);
  });
});

describe('what stands on it', () => {
  test('three existing stands inside the boundary, one proposed barricade', () => {
    expect(kinds('stand')).toHaveLength(3);
    for (const { at } of place.STANDS) expect(ringHolds(place.BOUNDARY, at)).toBe(true);
    expect(kinds('stand').every(({ status }) => status === 'existing')).toBe(true);
    expect(kinds('barricade').map(({ status }) => status)).toEqual(['proposed']);
  });

  test('a bean field that wraps around a point: an inside corner', () => {
    const k = place.BEANS.findIndex(([x, y]) => x === place.INSIDE_CORNER[0] && y === place.INSIDE_CORNER[1]);
    const [before, corner, after] = [place.BEANS[k - 1]!, place.BEANS[k]!, place.BEANS[k + 1]!];
    // Counter-clockwise ring: a right turn is a corner that points into the field.
    const turn =
      (corner[0] - before[0]) * (after[1] - corner[1]) - (corner[1] - before[1]) * (after[0] - corner[0]);
    expect(turn).toBeLessThan(0);
  });

  test('every way from the yard to the bench stand leads through the underpass or over a neighbour', () => {
    // The railroad and its fences part the farm from side to side; the only openings in them are the underpass's.
    const bounds = (line: readonly XY[]) => [
      Math.min(...line.map(([x]) => x)),
      Math.max(...line.map(([x]) => x)),
    ];
    const farm = bounds(place.BOUNDARY);
    for (const line of [place.RAIL, ...place.RAIL_FENCES]) {
      expect(bounds(line)[0]).toBeLessThan(farm[0]!);
      expect(bounds(line)[1]).toBeGreaterThan(farm[1]!);
    }
    const stand = place.STANDS.find(({ id }) => id === 'stand-bench')!;
    expect(place.ACCESS[1]).toBeLessThan(place.UNDERPASS[1]);
    expect(stand.at[1]).toBeGreaterThan(place.UNDERPASS[1]);
    const openings = kinds('gap').filter(
      ({ crosses }) => crosses?.startsWith('fence-rail') || crosses === 'rail',
    );
    expect(
      openings
        .filter(({ type }) => type !== 'culvert')
        .map(({ id }) => id)
        .sort(),
    ).toEqual(['gap-fence-rail-1', 'gap-fence-rail-2', 'gap-underpass']);
  });
});

/** Columns as NOAA's ISD-Lite format document gives them: 4, 3, 3, 3 characters, then eight of 6. */
describe('five years of invented wind', () => {
  const rows = WIND_YEARS.flatMap((year) =>
    gunzipSync(readFileSync(join(SAMPLE, `wind-${year}.gz`)))
      .toString()
      .trimEnd()
      .split('\n')
      .map((line) => {
        expect(line).toHaveLength(13 + 8 * 6);
        const field = (k: number): number => Number(line.slice(13 + 6 * k, 19 + 6 * k));
        return {
          month: Number(line.slice(5, 7)),
          hour: Number(line.slice(11, 13)),
          direction: field(3),
          speed: field(4),
          air: field(0),
        };
      }),
  );
  const known = rows.filter(({ speed, direction }) => speed !== -9999 && direction !== -9999);

  test('nearly every hour, with gaps and missing values', () => {
    expect(rows.length).toBeGreaterThan(0.97 * 5 * 8760);
    expect(rows.length).toBeLessThan(5 * 8766);
    expect(rows.length - known.length).toBeGreaterThan(500);
  });

  test('prevailing from the south-west, calm mostly at night, stronger by day and in winter', () => {
    const share = (test: (row: (typeof rows)[0]) => boolean, of = known): number =>
      of.filter(test).length / of.length;
    const quarter = [0, 90, 180, 270].map((from) =>
      share(({ speed, direction }) => speed > 0 && direction > from && direction <= from + 90),
    );
    expect(Math.max(...quarter)).toBe(quarter[2]);
    const calm = ({ speed }: { speed: number }): boolean => speed === 0;
    const mean = (of: typeof rows): number => of.reduce((sum, { speed }) => sum + speed, 0) / of.length / 10;
    // 5 to 11 h UTC is midnight to dawn at 82° W, 16 to 20 h is midday.
    const night = known.filter(({ hour }) => hour >= 5 && hour <= 10);
    const day = known.filter(({ hour }) => hour >= 16 && hour <= 20);
    expect(share(calm)).toBeGreaterThan(0.08);
    expect(share(calm, night)).toBeGreaterThan(2 * share(calm, day));
    expect(mean(day)).toBeGreaterThan(1.5 * mean(night));
    expect(mean(known.filter(({ month }) => month <= 2))).toBeGreaterThan(
      mean(known.filter(({ month }) => month === 7)),
    );
    for (const row of known.filter(calm)) expect(row.direction).toBe(0);
  });
});
