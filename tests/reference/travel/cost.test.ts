import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { accumulateCost } from '../../../core/travel/cost.ts';
import { frameOf } from '../../core/travel/scene.ts';
import { outside } from '../../outside.ts';

interface Fixture {
  versions: Record<string, string>;
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
    [`scikit-image ${fixture.versions['scikit-image']} MCP_Geometric`, 8, fixture.eight],
    [`SciPy ${fixture.versions.scipy} dijkstra`, 16, fixture.sixteen],
  ] as const)('equals %s on %i neighbours to 1e-6', (source, neighbours, expected) => {
    const { cost } = accumulateCost(resistance, labels, { neighbours });
    const check = outside({
      room: 'travel',
      method: `Accumulated cost over ${neighbours} neighbours`,
      source,
      unit: 'of the cost',
      allowed: 1e-6,
    });
    expected.forEach((value, i) => {
      const reached = value !== null && !Number.isNaN(resistance.cells[i]!);
      check.compare(cost[i]!, reached ? value : Number.POSITIVE_INFINITY, Math.max(value ?? 0, 1e-9));
    });
    check.done();
    expect(cost.filter(Number.isFinite).length).toBeGreaterThan(900);
  });
});
