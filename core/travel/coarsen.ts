import { cellCount, type Frame, type Grid } from '../grid/frame.ts';

/** The most cells flow is solved on: what keeps the stage within seconds. */
export const FLOW_CELLS = 300_000;

/** The smallest whole factor that brings a frame under a number of cells. */
export const factorFor = (frame: Frame, mostCells: number): number =>
  Math.max(1, Math.ceil(Math.sqrt(cellCount(frame) / mostCells)));

/** The frame of blocks of factor x factor cells; the last column and row may reach beyond the old frame. */
const coarseFrame = (frame: Frame, factor: number): Frame => ({
  ...frame,
  cellSize: frame.cellSize * factor,
  width: Math.ceil(frame.width / factor),
  height: Math.ceil(frame.height / factor),
});

/**
 * Resistance of blocks of cells: the geometric mean, which lies between cells in a row and cells side by side and
 * is exact for a sheet of two random kinds (Dykhne 1971). NaN where fewer than half of a block's cells are known.
 */
export function coarseResistance(resistance: Grid, factor: number): Grid {
  if (factor === 1) return resistance;
  const { frame, cells } = resistance;
  const coarse = coarseFrame(frame, factor);
  const logs = new Float64Array(cellCount(coarse));
  const known = new Int32Array(cellCount(coarse));
  for (let row = 0, i = 0; row < frame.height; row++) {
    const base = Math.floor(row / factor) * coarse.width;
    for (let column = 0; column < frame.width; column++, i++) {
      const r = cells[i]!;
      if (Number.isNaN(r)) continue;
      const to = base + Math.floor(column / factor);
      logs[to]! += Math.log(r);
      known[to]!++;
    }
  }
  const out = new Float32Array(cellCount(coarse));
  const half = (factor * factor) / 2;
  for (let i = 0; i < out.length; i++)
    out[i] = known[i]! >= half ? Math.exp(logs[i]! / known[i]!) : Number.NaN;
  return { frame: coarse, cells: out };
}

/** Labels of blocks of cells: the label of a block's cells where they fill a quarter of it; no label is lost. */
export function coarseLabels(labels: Grid<Int32Array>, factor: number): Grid<Int32Array> {
  if (factor === 1) return labels;
  const { frame, cells } = labels;
  const coarse = coarseFrame(frame, factor);
  const out = new Int32Array(cellCount(coarse));
  const votes = new Int32Array(cellCount(coarse));
  const somewhere = new Map<number, number>();
  for (let row = 0, i = 0; row < frame.height; row++) {
    const base = Math.floor(row / factor) * coarse.width;
    for (let column = 0; column < frame.width; column++, i++) {
      const label = cells[i]!;
      if (label === 0) continue;
      const to = base + Math.floor(column / factor);
      if (votes[to] === 0 || out[to] === label) {
        out[to] = label;
        votes[to]!++;
      } else votes[to]!--;
      if (!somewhere.has(label)) somewhere.set(label, to);
    }
  }
  const least = (factor * factor) / 4;
  for (let i = 0; i < out.length; i++) if (votes[i]! < least) out[i] = 0;
  const kept = new Set(out);
  for (const [label, cell] of somewhere) if (!kept.has(label)) out[cell] = label;
  return { frame: coarse, cells: out };
}

/** Spreads a share per coarse cell over the fine cells: shares across a line stay what they were. */
export function finePassage(passage: Grid, frame: Frame, known: Float32Array): Grid {
  const factor = Math.round(passage.frame.cellSize / frame.cellSize);
  if (factor === 1) return passage;
  const { width, height } = passage.frame;
  const cells = new Float32Array(cellCount(frame));
  for (let row = 0, i = 0; row < frame.height; row++) {
    const y = Math.min(height - 1, Math.max(0, (row + 0.5) / factor - 0.5));
    const y0 = Math.floor(y);
    const y1 = Math.min(height - 1, y0 + 1);
    for (let column = 0; column < frame.width; column++, i++) {
      if (Number.isNaN(known[i]!)) {
        cells[i] = Number.NaN;
        continue;
      }
      const x = Math.min(width - 1, Math.max(0, (column + 0.5) / factor - 0.5));
      const x0 = Math.floor(x);
      const x1 = Math.min(width - 1, x0 + 1);
      let sum = 0;
      let weight = 0;
      const add = (cell: number, share: number): void => {
        const value = passage.cells[cell]!;
        if (share > 0 && !Number.isNaN(value)) {
          sum += share * value;
          weight += share;
        }
      };
      add(y0 * width + x0, (1 - (y - y0)) * (1 - (x - x0)));
      add(y0 * width + x1, (1 - (y - y0)) * (x - x0));
      add(y1 * width + x0, (y - y0) * (1 - (x - x0)));
      add(y1 * width + x1, (y - y0) * (x - x0));
      cells[i] = weight > 0 ? sum / weight / factor : 0;
    }
  }
  return { frame, cells };
}
