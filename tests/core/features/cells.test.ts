import { expect, test } from 'vitest';
import { cellsAlong, cellsInside } from '../../../core/features/cells.ts';
import { testFrame } from '../cover/scene.ts';

const frame = testFrame(200, 200, 1);
const centre = [frame.west + 100.3, frame.north - 99.8] as const;
const ring = (radius: number) =>
  Array.from({ length: 361 }, (_, k) => [
    centre[0] + radius * Math.cos((k * Math.PI) / 180),
    centre[1] + radius * Math.sin((k * Math.PI) / 180),
  ]);

test('a ring with a hole covers its area', () => {
  const seen = new Uint8Array(200 * 200);
  cellsInside(frame, { type: 'Polygon', coordinates: [ring(80), ring(40)] }, (i) => {
    seen[i]!++;
  });
  expect(Math.max(...seen)).toBe(1);
  const cells = seen.reduce((a, b) => a + b, 0);
  expect(Math.abs(cells / (Math.PI * (80 ** 2 - 40 ** 2)) - 1)).toBeLessThan(0.01);
});

test('cells along a line are those within the distance, brute force', () => {
  const from = [frame.west + 20.2, frame.north - 30.7];
  const to = [frame.west + 150.9, frame.north - 120.1];
  const seen = new Set<number>();
  cellsAlong(frame, { type: 'LineString', coordinates: [from, to] }, 6.5, (i) => seen.add(i));
  for (let i = 0; i < 40_000; i++) {
    const x = frame.west + (i % 200) + 0.5;
    const y = frame.north - Math.floor(i / 200) - 0.5;
    const [dx, dy] = [to[0]! - from[0]!, to[1]! - from[1]!];
    const t = Math.min(1, Math.max(0, ((x - from[0]!) * dx + (y - from[1]!) * dy) / (dx * dx + dy * dy)));
    const distance = Math.hypot(x - from[0]! - t * dx, y - from[1]! - t * dy);
    expect(seen.has(i)).toBe(distance <= 6.5);
  }
});
