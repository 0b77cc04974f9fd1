/** Ground that starts a drainage line when the tool chooses, m²: 2 ha, about 5 acres (our assumption). */
const CHANNEL_AREA = 20_000;
/** On coarse cells a line needs at least this many cells to mean anything (our assumption). */
const LEAST_CELLS = 50;

/** Cells that start a drainage line; `area` in m² as the user set it, or null to let the tool choose. */
export function thresholdCells(area: number | null, cellSize: number): number {
  const cellArea = cellSize * cellSize;
  if (area !== null) return Math.max(2, Math.round(area / cellArea));
  return Math.max(LEAST_CELLS, Math.round(CHANNEL_AREA / cellArea));
}
