import { BOARD_DISTANCE } from '../cover/sight-screen.ts';
import { COVER } from '../cover/types.ts';
import { cellCentre, type Point } from '../grid/frame.ts';
import { windowAt } from '../grid/window.ts';
import { footOn } from '../travel/barriers.ts';
import { along } from './reach.ts';
import { stoodIn } from './screen-growth.ts';
import type { SightGround } from './sight-window.ts';

/** How deep a screen is planted, m: our assumption, about three rows. */
export const DEEP = 5;
/** A grown screen of tall grass, and what it hides as screening is told, over the distance of a cover board. */
const GROWN = stoodIn('switchgrass', 3);
const SCREENING = 1 - Math.exp(-GROWN.depth * BOARD_DISTANCE);

/** The same ground with a grown screen on the cells near some lines; what stands higher there already stays. */
export function screenedGround<G extends SightGround>(
  ground: G,
  lines: readonly (readonly Point[])[],
): G & { planted: number } {
  const { frame } = ground.cover;
  const cover = { frame, cells: ground.cover.cells.slice() };
  const screening = { frame, cells: ground.screening.cells.slice() };
  const vegetation = ground.vegetation && { frame, cells: ground.vegetation.cells.slice() };
  let planted = 0;
  for (const line of lines)
    for (const cell of cellsNear(ground, line, DEEP / 2)) {
      const code = cover.cells[cell]!;
      if (
        code === COVER.deciduous ||
        code === COVER.evergreen ||
        code === COVER.water ||
        code === COVER.built
      )
        continue;
      if (screening.cells[cell]! >= SCREENING) continue;
      cover.cells[cell] = COVER.brush;
      screening.cells[cell] = SCREENING;
      if (vegetation) vegetation.cells[cell] = Math.max(GROWN.height, vegetation.cells[cell] || 0);
      planted += frame.cellSize ** 2;
    }
  return { ...ground, cover, screening, vegetation, planted };
}

function* cellsNear(
  { cover: { frame } }: SightGround,
  line: readonly Point[],
  reach: number,
): Generator<number> {
  const seen = new Set<number>();
  for (const { at } of along(line, DEEP)) {
    const window = windowAt(frame, at, 2 * DEEP + reach);
    const left = Math.round((window.west - frame.west) / frame.cellSize);
    const top = Math.round((frame.north - window.north) / frame.cellSize);
    for (let y = top; y < top + window.height; y++)
      for (let x = left; x < left + window.width; x++) {
        const cell = y * frame.width + x;
        if (seen.has(cell)) continue;
        if ((footOn(line, cellCentre(frame, cell))?.distance ?? Number.POSITIVE_INFINITY) > reach) continue;
        seen.add(cell);
        yield cell;
      }
  }
}
