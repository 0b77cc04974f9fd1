import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { COVER } from '../../core/cover/types.ts';
import {
  compassLetters,
  formatArea,
  formatLength,
  formatSpeed,
  type Units,
} from '../../core/features/units.ts';
import { cellAt, type Frame, type Grid, type TypedArray } from '../../core/grid/frame.ts';
import { LANDFORM, WATER_WORK } from '../../core/terrain/types.ts';
import type { Reading } from './contract.ts';
import type { OpenProperty } from './open-property.ts';

type GridName = {
  [K in keyof Artifacts]: NonNullable<Artifacts[K]> extends Grid<TypedArray> ? K : never;
}[keyof Artifacts];

const words = (codes: Record<string, number>) =>
  new Map(Object.entries(codes).map(([word, code]) => [code, word.replace(/([A-Z])/g, ' $1').toLowerCase()]));
const coverWords = words(COVER);
const formWords = words(LANDFORM);
const WATER_WORDS: Record<number, string> = {
  [WATER_WORK.filled]: 'filled so that water runs on',
  [WATER_WORK.cut]: 'cut through, as a culvert would',
  [WATER_WORK.keptSink]: 'sink kept',
};
/** Grids of classes where 0 says that nothing was done or nothing is there, not that nothing is known. */
const QUIET = new Set<GridName>(['waterWork', 'poolDepth']);

const percent = (share: number) => `${(share * 100).toFixed(share < 0.1 ? 1 : 0)} %`;

/** Rows of the reading under the pointer, in the order a person reads: ground, cover, travel, air. */
interface Row {
  grid: GridName;
  label: string;
  say(value: number, units: Units, frame: Frame): string;
}
const ROWS: Row[] = [
  { grid: 'elevation', label: 'Elevation', say: (m, units) => formatLength(m, units, 'height') },
  {
    grid: 'slope',
    label: 'Slope',
    say: (degrees) => `${degrees.toFixed(1)}° (${(Math.tan((degrees * Math.PI) / 180) * 100).toFixed(0)} %)`,
  },
  {
    grid: 'aspect',
    label: 'Faces',
    say: (degrees) => `${compassLetters(degrees)} (${degrees.toFixed(0)}°)`,
  },
  { grid: 'forms', label: 'Landform', say: (code) => formWords.get(code) ?? 'unknown' },
  {
    grid: 'accumulation',
    label: 'Drains to here',
    say: (cells, units, { cellSize }) => formatArea(cells * cellSize ** 2, units),
  },
  { grid: 'waterWork', label: 'Water surface', say: (code) => WATER_WORDS[code] ?? 'unknown' },
  { grid: 'cover', label: 'Cover', say: (code) => coverWords.get(code) ?? 'unknown' },
  { grid: 'canopy', label: 'Canopy', say: percent },
  { grid: 'screening', label: 'Screening at deer height', say: percent },
  { grid: 'footing', label: 'Footing', say: percent },
  { grid: 'resistance', label: 'Resistance', say: (value) => `${value.toFixed(1)} × easy ground` },
  { grid: 'passage', label: 'Passage', say: percent },
  { grid: 'coldAir', label: 'Cold air at dawn', say: (m, units) => formatLength(m, units, 'height') },
  {
    grid: 'poolDepth',
    label: 'Of it standing in a pool',
    say: (m, units) => formatLength(m, units, 'height'),
  },
  { grid: 'airSpeed', label: 'Cold air slides at', say: (speed, units) => formatSpeed(speed, units) },
  {
    grid: 'airBearing',
    label: 'Cold air slides towards',
    say: (degrees) => `${compassLetters(degrees)} (${degrees.toFixed(0)}°)`,
  },
];

/** Values of every grid under a point of the frame; `unknown` where a grid has no data there. */
export function readingAt({ artifacts, input }: OpenProperty, x: number, y: number): Reading[] {
  const { frame, settings } = input;
  const index = cellAt(frame, x, y);
  if (index < 0) return [];
  return ROWS.flatMap(({ grid, label, say }) => {
    const layer = artifacts[grid] as Grid<TypedArray> | undefined;
    if (!layer) return [];
    const value = layer.cells[index]!;
    if (QUIET.has(grid) && !(value > 0)) return [];
    const isClass = !(layer.cells instanceof Float32Array);
    const known = isClass ? value !== 0 : !Number.isNaN(value);
    return [{ label, value: known ? say(value, settings.units, frame) : 'unknown' }];
  });
}
