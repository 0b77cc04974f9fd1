import { COVER } from '../../core/cover/types.ts';
import { REACH } from '../../core/stands/reach.ts';
import { LIT } from '../../core/terrain/shadow.ts';
import { LANDFORM, WATER_WORK } from '../../core/terrain/types.ts';

/**
 * Our colours for classes. Each has a pattern of pixels over it as well, so that no two classes differ in hue
 * alone; lightness spreads from straw to near black.
 */

/** How a class is marked over its colour; drawn on a raster of 8 pixels, in a darker or lighter tone. */
export type Pattern = 'plain' | 'dots' | 'rising' | 'falling' | 'lattice' | 'level' | 'upright' | 'grid';

export interface ClassStyle {
  label: string;
  colour: string;
  pattern: Pattern;
  /** 0..255; 255 where not said. */
  opacity?: number;
}

export const FORM_STYLES: Record<number, ClassStyle> = {
  [LANDFORM.flat]: { label: 'Flat', colour: '#ece5cf', pattern: 'plain' },
  [LANDFORM.slope]: { label: 'Slope', colour: '#c8b68e', pattern: 'plain' },
  [LANDFORM.steepFace]: { label: 'Steep face', colour: '#6a5748', pattern: 'upright' },
  [LANDFORM.ridge]: { label: 'Ridge', colour: '#c4552f', pattern: 'rising' },
  [LANDFORM.spur]: { label: 'Spur', colour: '#e6a25e', pattern: 'dots' },
  [LANDFORM.saddle]: { label: 'Saddle', colour: '#f6d84c', pattern: 'lattice' },
  [LANDFORM.bench]: { label: 'Bench', colour: '#7cb8a8', pattern: 'level' },
  [LANDFORM.draw]: { label: 'Draw', colour: '#4a83c4', pattern: 'falling' },
  [LANDFORM.creekBottom]: { label: 'Creek bottom', colour: '#1e3d75', pattern: 'grid' },
};

export const COVER_STYLES: Record<number, ClassStyle> = {
  [COVER.open]: { label: 'Open ground', colour: '#efe2a6', pattern: 'plain' },
  [COVER.brush]: { label: 'Brush', colour: '#c58e4c', pattern: 'dots' },
  [COVER.deciduous]: { label: 'Deciduous timber', colour: '#74ad69', pattern: 'rising' },
  [COVER.evergreen]: { label: 'Evergreen', colour: '#1d5740', pattern: 'falling' },
  [COVER.wet]: { label: 'Wet ground', colour: '#93c4cb', pattern: 'level' },
  [COVER.water]: { label: 'Water', colour: '#2a6ab0', pattern: 'plain' },
  [COVER.built]: { label: 'Built', colour: '#75697a', pattern: 'grid' },
};

export const WATER_STYLES: Record<number, ClassStyle> = {
  [WATER_WORK.filled]: { label: 'Filled', colour: '#8fb8d8', pattern: 'dots' },
  [WATER_WORK.cut]: { label: 'Cut through', colour: '#b5412c', pattern: 'plain' },
  [WATER_WORK.keptSink]: { label: 'Sink kept', colour: '#2f4a7d', pattern: 'lattice' },
};

export const HOLE_STYLES: Record<number, ClassStyle> = {
  1: { label: 'No data: a guess from the rim', colour: '#b07aa1', pattern: 'rising' },
};

export const SHADOW_STYLES: Record<number, ClassStyle> = {
  [LIT.shadow]: { label: 'In the shade', colour: '#2c2a4a', pattern: 'falling', opacity: 150 },
};

export const VIEW_STYLES: Record<number, ClassStyle> = {
  1: { label: 'In view', colour: '#f0b429', pattern: 'dots', opacity: 150 },
};

export const REACH_STYLES: Record<number, ClassStyle> = {
  [REACH.clear]: { label: 'In range, in clear view', colour: '#f0b429', pattern: 'plain', opacity: 150 },
  [REACH.glimpsed]: { label: 'In range, partly hidden', colour: '#c08a5a', pattern: 'dots', opacity: 150 },
  [REACH.screened]: {
    label: 'In range, hidden by cover',
    colour: '#5c6f52',
    pattern: 'rising',
    opacity: 150,
  },
  [REACH.ground]: { label: 'In range, behind ground', colour: '#3a3650', pattern: 'lattice', opacity: 150 },
};

/** True where the pattern's mark lies; x and y are pixels of the map at its present zoom. */
export function inPattern(pattern: Pattern, x: number, y: number): boolean {
  const i = x & 7;
  const j = y & 7;
  switch (pattern) {
    case 'plain':
      return false;
    case 'dots':
      return (i >> 1 === 0 && j >> 1 === 0) || (i >> 1 === 2 && j >> 1 === 2);
    case 'rising':
      return ((i + j) & 7) === 0;
    case 'falling':
      return ((i - j) & 7) === 0;
    case 'lattice':
      return ((i + j) & 7) === 0 || ((i - j) & 7) === 0;
    case 'level':
      return j === 0 || j === 4;
    case 'upright':
      return i === 0 || i === 4;
    case 'grid':
      return i === 0 || j === 0;
  }
}
