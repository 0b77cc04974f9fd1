import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { COVER } from '../../core/cover/types.ts';
import { formatLength } from '../../core/features/units.ts';
import { cellAt, type Grid, type TypedArray } from '../../core/grid/frame.ts';
import { LANDFORM } from '../../core/terrain/types.ts';
import type { Reading } from './contract.ts';
import type { OpenProperty } from './open-property.ts';

type GridName = {
  [K in keyof Artifacts]: NonNullable<Artifacts[K]> extends Grid<TypedArray> ? K : never;
}[keyof Artifacts];

const words = (codes: Record<string, number>) =>
  new Map(Object.entries(codes).map(([word, code]) => [code, word.replace(/([A-Z])/g, ' $1').toLowerCase()]));
const coverWords = words(COVER);
const formWords = words(LANDFORM);

const percent = (share: number) => `${(share * 100).toFixed(share < 0.1 ? 1 : 0)} %`;
const COMPASS = ['N', 'NE', 'E', 'SE', 'S', 'SW', 'W', 'NW'];

/** Rows of the reading under the pointer, in the order a person reads: ground, cover, travel, air. */
const ROWS: { grid: GridName; label: string; say: (value: number, units: 'us' | 'metric') => string }[] = [
  { grid: 'elevation', label: 'Elevation', say: (m, units) => formatLength(m, units, 'height') },
  {
    grid: 'slope',
    label: 'Slope',
    say: (degrees) => `${degrees.toFixed(1)}° (${(Math.tan((degrees * Math.PI) / 180) * 100).toFixed(0)} %)`,
  },
  {
    grid: 'aspect',
    label: 'Faces',
    say: (degrees) => `${COMPASS[Math.round(degrees / 45) % 8]} (${degrees.toFixed(0)}°)`,
  },
  { grid: 'forms', label: 'Landform', say: (code) => formWords.get(code) ?? 'unknown' },
  { grid: 'cover', label: 'Cover', say: (code) => coverWords.get(code) ?? 'unknown' },
  { grid: 'canopy', label: 'Canopy', say: percent },
  { grid: 'screening', label: 'Screening at deer height', say: percent },
  { grid: 'footing', label: 'Footing', say: percent },
  { grid: 'resistance', label: 'Resistance', say: (value) => `${value.toFixed(1)} × easy ground` },
  { grid: 'passage', label: 'Passage', say: percent },
  { grid: 'coldAir', label: 'Cold air at dawn', say: (m, units) => formatLength(m, units, 'height') },
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
    const isClass = !(layer.cells instanceof Float32Array);
    const known = isClass ? value !== 0 : !Number.isNaN(value);
    return [{ label, value: known ? say(value, settings.units) : 'unknown' }];
  });
}
