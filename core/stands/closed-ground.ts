import { cellsInside } from '../features/cells.ts';
import type { ReadyGround } from './judge-way.ts';
import type { QuietGround } from './quiet-ground.ts';

/** The ground ways are looked for on, with ground that nobody enters closed to feet and wheels. */
export function closeGround(ready: ReadyGround, closed: readonly QuietGround[]): ReadyGround {
  if (closed.length === 0) return ready;
  const { frame } = ready.surface;
  const shut = (cells: Float32Array) => ({ frame, cells: cells.slice() });
  const pace = shut(ready.surface.pace.cells);
  const drive = shut(ready.surface.drive.cells);
  for (const { rings } of closed)
    cellsInside(frame, { type: 'Polygon', coordinates: rings }, (i) => {
      pace.cells[i] = Number.NaN;
      drive.cells[i] = Number.NaN;
    });
  return { ...ready, surface: { ...ready.surface, pace, drive } };
}
