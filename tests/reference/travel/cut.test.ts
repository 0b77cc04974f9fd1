import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { minCut } from '../../../core/travel/min-cut.ts';
import { outside } from '../../outside.ts';

interface Case {
  width: number;
  height: number;
  east: number[];
  south: number[];
  source: number[];
  sink: number[];
  maximumFlow: number;
}
const { cases, versions }: { cases: Case[]; versions: Record<string, string> } = JSON.parse(
  readFileSync(new URL('../fixtures/travel/cut.json', import.meta.url), 'utf8'),
);
const mask = (count: number, cells: number[]): Uint8Array => {
  const out = new Uint8Array(count);
  for (const cell of cells) out[cell] = 1;
  return out;
};

describe('the minimum cut', () => {
  it.each(cases)('equals networkx maximum_flow_value on $width x $height', (c) => {
    const count = c.width * c.height;
    const grid = {
      width: c.width,
      height: c.height,
      east: Float64Array.from(c.east),
      south: Float64Array.from(c.south),
    };
    const { value, side } = minCut(grid, mask(count, c.source), mask(count, c.sink));
    const check = outside({
      room: 'travel',
      method: 'Minimum cut of a grid',
      source: `networkx ${versions.networkx} maximum_flow_value`,
      unit: 'of the flow',
      allowed: 1e-7,
    });
    check.compare(value, c.maximumFlow, c.maximumFlow);
    // The edges between the sides add up to it.
    let sum = 0;
    for (let i = 0; i < count; i++) {
      if (side[i] !== side[i + 1] && (i + 1) % c.width !== 0) sum += grid.east[i]!;
      if (i + c.width < count && side[i] !== side[i + c.width]) sum += grid.south[i]!;
    }
    check.compare(sum, c.maximumFlow, c.maximumFlow);
    check.done();
    for (const cell of c.source) expect(side[cell]).toBe(1);
    for (const cell of c.sink) expect(side[cell]).toBe(0);
  });

  it('says so when nothing finite parts the two', () => {
    const east = Float64Array.from([Number.POSITIVE_INFINITY, 0]);
    const cut = minCut({ width: 2, height: 1, east, south: new Float64Array(2) }, mask(2, [0]), mask(2, [1]));
    expect(cut.value).toBe(Number.POSITIVE_INFINITY);
  });
});
