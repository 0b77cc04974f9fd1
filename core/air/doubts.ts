import { formatLength, type Units } from '../features/units.ts';
import { cellCount, type Grid } from '../grid/frame.ts';

/** What the picture of a still night does not know, in plain words. */
export function nightDoubts({
  elevation,
  cover,
  cooling,
  hours,
  unrest,
}: {
  elevation: Grid;
  cover: Grid<Uint8Array>;
  cooling: number;
  hours: number;
  unrest: number;
}): string[] {
  const { frame } = elevation;
  const doubts = [
    `Cold air is drawn for a clear calm night: the ground loses ${cooling} W/m² for ${hours} hours. Cloud or wind over about 2 m/s (4 to 5 mph) weakens the drainage or ends it.`,
    unrest > 0.02
      ? 'The pools are still filling at the end of the night; an hour more or less changes their depth.'
      : 'Pools, cold air at dawn and the ways of scent on a still night are those of the late night, when it has become steady; the turn after sunrise is told hour by hour in the window.',
  ];
  if (frame.cellSize > 15)
    doubts.push(
      `At ${Math.round(frame.cellSize)} m a cell (${formatLength(frame.cellSize, 'us', 'height')}), creek beds, road fills and small hollows are not seen: pools and the way of the air show only the large forms.`,
    );
  if (cover.cells.every((code) => code === 0))
    doubts.push('The cover is unknown, so timber and brush do not hold the air back here.');
  const { width, height, cellSize } = frame;
  let missing = 0;
  for (let i = 0; i < elevation.cells.length; i++) if (Number.isNaN(elevation.cells[i]!)) missing++;
  if (missing > 0.01 * cellCount(frame))
    doubts.push(
      `${Math.round((100 * missing) / cellCount(frame))}% of the map has no elevation; air that comes from there or goes there is not followed.`,
    );
  const across = (units: Units) =>
    `${formatLength(width * cellSize, units)} by ${formatLength(height * cellSize, units)}`;
  doubts.push(
    `Only air that forms on the map (${across('metric')}, or ${across('us')}) is counted: a creek that rises beyond the edge brings more, and nothing below the edge holds it back.`,
  );
  return doubts;
}
