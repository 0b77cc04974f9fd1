import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { accumulateCost } from '../../../core/travel/cost.ts';
import { frameOf } from '../../core/travel/scene.ts';

interface Fixture {
  width: number;
  height: number;
  cellSize: number;
  resistance: (number | null)[];
  sources: number[];
  eight: (number | null)[];
  sixteen: (number | null)[];
}
const fixture: Fixture = JSON.parse(
  readFileSync(new URL('../fixtures/travel/cost.json', import.meta.url), 'utf8'),
);
const frame = frameOf(fixture.width, fixture.height, fixture.cellSize);
const resistance = { frame, cells: Float32Array.from(fixture.resistance, (r) => r ?? Number.NaN) };
const labels = new Int32Array(resistance.cells.length);
for (const cell of fixture.sources) labels[cell] = 1;

describe('accumulated cost', () => {
  it.each([
    ['scikit-image MCP_Geometric', 8, fixture.eight],
    ['SciPy dijkstra', 16, fixture.sixteen],
  ] as const)('equals %s on %i neighbours to 1e-6', (_peer, neighbours, expected) => {
    const { cost } = accumulateCost(resistance, labels, { neighbours });
    let compared = 0;
    expected.forEach((value, i) => {
      if (value === null || Number.isNaN(resistance.cells[i]!)) {
        expect(cost[i]).toBe(Number.POSITIVE_INFINITY);
        return;
      }
      compared++;
      expect(Math.abs(cost[i]! - value)).toBeLessThanOrEqual(1e-6 * Math.max(value, 1e-9));
    });
    expect(compared).toBeGreaterThan(900);
  });
});
