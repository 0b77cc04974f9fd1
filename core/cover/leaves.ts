import type { Grid } from '../grid/frame.ts';
import type { Vegetation } from '../terrain/visibility.ts';
import { COVER } from './types.ts';

/** Share of the view lost in a metre that stems and twigs alone take, leaves down: our assumption. */
const BARE: Record<number, number> = { [COVER.brush]: 0.6, [COVER.deciduous]: 0.4, [COVER.wet]: 0.8 };

/** What stands on the ground with its leaves down; evergreens and buildings stay as they are. */
export function leavesDown({ height, loss }: Vegetation, cover: Grid<Uint8Array>): Vegetation {
  const cells = loss.cells.map((share, i) => share * (BARE[cover.cells[i]!] ?? 1));
  return { height, loss: { frame: loss.frame, cells } };
}
