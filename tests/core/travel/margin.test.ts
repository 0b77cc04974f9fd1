import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { cellCount } from '../../../core/grid/frame.ts';
import { drawnIn } from '../../../core/travel/margin.ts';
import { box, feature, frameOf, gridOf, runScene } from './scene.ts';

describe('the edge of the data', () => {
  it('is drawn in by half of what lies beyond the property line, and by a part of the map at least', () => {
    const frame = frameOf(100, 80, 5);
    const even = gridOf(frame, () => 1);
    const areas = { frame, cells: new Int32Array(cellCount(frame)) };
    // The west edge of the map is an area, and so is a spot in the middle.
    for (let row = 0; row < 80; row++) areas.cells[row * 100] = 1;
    areas.cells[40 * 100 + 50] = 2;
    const known = ({ resistance }: ReturnType<typeof drawnIn>): [number, number, number, number] => {
      const columns: number[] = [];
      const rows: number[] = [];
      resistance.cells.forEach((value, i) => {
        if (Number.isNaN(value)) return;
        columns.push(i % 100);
        rows.push(Math.floor(i / 100));
      });
      return [Math.min(...columns), Math.max(...columns), Math.min(...rows), Math.max(...rows)];
    };
    const plain = drawnIn(even, areas, []);
    expect(known(plain)).toEqual([8, 91, 6, 73]);
    // Travel from beyond comes in at the new edge, where the ground is left.
    expect(plain.areas.cells.reduce((sum, area) => sum + (area === 1 ? 1 : 0), 0)).toBe(68);
    expect(plain.areas.cells[40 * 100 + 8]).toBe(1);
    expect(plain.areas.cells[40 * 100 + 50]).toBe(2);
    // 150 m lie west of the line and 20 m east of it, 100 m north and south.
    const line = feature('boundary', box(150, 100, 480, 300));
    expect(known(drawnIn(even, areas, [line]))).toEqual([15, 91, 10, 69]);
  });

  it('marks a neck that it makes, and not one in the middle', () => {
    // A pond with a causeway, and a strip between its north end and the edge of the map.
    const frame = frameOf(120, 80, 5);
    const pond = (x: number, y: number): boolean =>
      Math.abs(x - 300) < 30 && y < 365 && Math.abs(y - 200) > 15;
    const { necks } = runScene(
      frame,
      (x, y) => (pond(x, y) ? COVER.water : COVER.deciduous),
      [feature('bedding', box(60, 240, 120, 320)), feature('food', box(480, 240, 540, 320))],
      { runs: 2 },
    );
    const strip = necks.find(({ at }) => Math.abs(at[0] - 300) < 60 && at[1] > 350)!;
    const causeway = necks.find(({ at }) => Math.abs(at[0] - 300) < 60 && Math.abs(at[1] - 200) < 20)!;
    expect(strip.edgeArtefact).toBe(true);
    expect(strip.firm).toBe(false);
    expect(strip.reasons.join(' ')).toContain('artefact of the map’s edge');
    expect(causeway.edgeArtefact).toBe(false);
    expect(causeway.reasons.join(' ')).not.toContain('artefact');
  });
});
