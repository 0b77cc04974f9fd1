import { describe, expect, it } from 'vitest';
import { type Block, heightAt, readBlock } from '../../renderer/map/relief/block.ts';
import { type Camera, isHidden, levelOf, pick, project, termsOf } from '../../renderer/map/relief/camera.ts';
import { renderBlock } from '../../renderer/map/relief/render.ts';
import { hang } from '../../renderer/map/relief/stacking.ts';
import { mapAnswers } from './fake/map-answers.ts';

/** The block view against plane trigonometry and against turning every point of the ground in space. */

const block = (columns: number, rows: number, height: (x: number, y: number) => number): Block => {
  const heights = Float32Array.from({ length: columns * rows }, (_, i) =>
    height(((i % columns) + 0.5) * 10, -(Math.floor(i / columns) + 0.5) * 10),
  );
  const known = heights.filter((z) => !Number.isNaN(z));
  return {
    columns,
    rows,
    cell: 10,
    west: 0,
    north: 0,
    heights,
    low: Math.min(...known),
    high: Math.max(...known),
  };
};
const camera = (change: Partial<Camera> = {}): Camera => ({
  centre: [200, -150],
  bearing: 0,
  tilt: 30,
  scale: 0.5,
  taller: 1,
  ...change,
});
const size = { width: 240, height: 200 };
const hills = block(40, 30, (x, y) => 40 * Math.exp(-(((x - 210) / 60) ** 2) - ((y + 120) / 50) ** 2));
const grass = { width: 1, height: 1, pixels: Uint32Array.of(0xff00ff00) };
const WALLS = [0xff111111, 0xff222222] as const;

/** Turns a point about the up axis and then about the view's own right axis, by matrices. */
function turned(
  { centre, bearing, tilt, scale, taller }: Camera,
  [x, y]: [number, number],
  z: number,
  level: number,
) {
  const b = (bearing * Math.PI) / 180;
  const t = (tilt * Math.PI) / 180;
  const p = [x - centre[0], y - centre[1], (z - level) * taller];
  const right = [Math.cos(b), -Math.sin(b), 0];
  const look = [Math.cos(t) * Math.sin(b), Math.cos(t) * Math.cos(b), -Math.sin(t)];
  // Up of the view: right x look.
  const up = [
    right[1]! * look[2]! - right[2]! * look[1]!,
    right[2]! * look[0]! - right[0]! * look[2]!,
    right[0]! * look[1]! - right[1]! * look[0]!,
  ];
  const dot = (a: number[]) => a.reduce((sum, v, i) => sum + v * p[i]!, 0);
  return { x: size.width / 2 + scale * dot(right), y: size.height / 2 - scale * dot(up), depth: dot(look) };
}

describe('the block view', () => {
  it('projects as a parallel look does, for every turn and tilt', () => {
    for (const bearing of [0, 30, 117, 250])
      for (const tilt of [12, 45, 90]) {
        const look = camera({ bearing, tilt, taller: 2 });
        const terms = termsOf(look, size, levelOf(hills));
        for (const place of [
          [30, -40],
          [210, -120],
          [390, -290],
        ] as [number, number][]) {
          const z = heightAt(hills, ...place);
          const wanted = turned(look, place, z, levelOf(hills));
          const got = project(look, terms, place, z);
          expect(got.x).toBeCloseTo(wanted.x, 6);
          expect(got.y).toBeCloseTo(wanted.y, 6);
        }
      }
  });

  it('draws level ground where trigonometry puts its edges, with a cut face under the near one', () => {
    const flat = block(40, 30, () => 100);
    const out = new Uint32Array(size.width * size.height);
    renderBlock(out, size, flat, camera(), grass, WALLS);
    const column = Array.from({ length: size.height }, (_, y) => out[y * size.width + 120]!);
    // 300 m deep at half a pixel a metre, seen at 30 degrees: 75 rows about the middle of the view.
    const rows = column.flatMap((colour, y) => (colour === grass.pixels[0] ? [y] : []));
    expect(Math.abs(rows[0]! - (100 - 37.5))).toBeLessThanOrEqual(1.5);
    expect(Math.abs(rows.at(-1)! - (100 + 37.5))).toBeLessThanOrEqual(1.5);
    expect(rows).toHaveLength(rows.at(-1)! - rows[0]! + 1);
    expect(WALLS).toContain(column[rows.at(-1)! + 1]);
    // 400 m wide: 200 px, and nothing beside it.
    const wide = Array.from({ length: size.width }, (_, x) => out[100 * size.width + x]!);
    expect(wide.filter((colour) => colour !== 0)).toHaveLength(200);
  });

  it('hides exactly what nearer ground hides, as turning every point of the ground shows', () => {
    let hidden = 0;
    for (const bearing of [0, 40, 200])
      for (const tilt of [12, 20]) {
        const look = camera({ bearing, tilt, taller: 2 });
        const level = levelOf(hills);
        const cloud: { x: number; y: number; depth: number }[] = [];
        for (let x = 1; x < 400; x += 2)
          for (let y = -299; y < 0; y += 2) cloud.push(turned(look, [x, y], heightAt(hills, x, y), level));
        for (let n = 0; n < 40; n++) {
          const at: [number, number] = [15 + ((n * 67) % 370), -15 - ((n * 41) % 270)];
          const mark = turned(look, at, heightAt(hills, ...at), level);
          const over = Math.max(
            ...cloud
              .filter(({ x, depth }) => Math.abs(x - mark.x) < 0.5 && depth < mark.depth)
              .map(({ y }) => mark.y - y),
          );
          // Within a pixel of the limit of two the steps of either may differ.
          if (Math.abs(over - 2) < 1) continue;
          expect(isHidden(hills, look, size, at), `${bearing} ${tilt} ${at}`).toBe(over > 2);
          if (over > 2) hidden += 1;
        }
      }
    expect(hidden).toBeGreaterThan(5);
  });

  it('finds the ground under a pixel again, and none beside the block', () => {
    for (const bearing of [0, 75, 300]) {
      const look = camera({ bearing, tilt: 50 });
      const terms = termsOf(look, size, levelOf(hills));
      const place: [number, number] = [205, -130];
      const { x, y } = project(look, terms, place, heightAt(hills, ...place));
      const found = pick(hills, look, size, [x, y])!;
      expect(Math.hypot(found[0] - place[0], found[1] - place[1])).toBeLessThan(8);
      expect(pick(hills, look, size, [2, 2])).toBeNull();
    }
  });

  it('leaves unknown ground out', () => {
    const holed = block(40, 30, (x, y) => (x > 150 && x < 250 && y < -100 && y > -200 ? Number.NaN : 10));
    const out = new Uint32Array(size.width * size.height);
    renderBlock(out, size, holed, camera({ tilt: 90 }), grass, WALLS);
    expect(out[100 * size.width + 120]).toBe(0);
    expect(out[100 * size.width + 40]).toBe(grass.pixels[0]);
  });

  it('reads the bytes it is sent, and refuses bytes that are short', () => {
    const bytes = mapAnswers['map.heights']!({ most: 64 } as never) as Uint8Array;
    const read = readBlock(bytes, { west: 570_000, north: 4_365_000, cellSize: 6 });
    expect([read.columns, read.rows, read.cell]).toEqual([58, 46, 42]);
    expect(read.low).toBeLessThan(read.high);
    expect(() => readBlock(bytes.slice(0, 400), { west: 0, north: 0, cellSize: 6 })).toThrow('58 x 46');
  });
});

describe('flags on the block', () => {
  it('hang clear of one another, those in front the lowest', () => {
    const flags = Array.from({ length: 8 }, (_, n) => ({ flag: n, x: 100 + 3 * n, y: 80 + 2 * n, wide: 26 }));
    const hung = hang(flags);
    expect(hung[0]!.flag).toBe(7);
    expect(hung[0]!.lift).toBe(14);
    for (const a of hung)
      for (const b of hung)
        if (a.flag < b.flag && Math.abs(a.x - b.x) < 26)
          expect(Math.abs(a.y - a.lift - (b.y - b.lift))).toBeGreaterThanOrEqual(24);
  });
});
