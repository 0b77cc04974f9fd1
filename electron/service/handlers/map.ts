import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import type { Frame } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { legendOf } from '../../writers/paint.ts';
import type { PaintWindow } from '../../writers/sample.ts';
import { tableFeatures } from '../../writers/tables.ts';
import { LAYER_ARTIFACT, TABLE_ARTIFACT } from '../catalog.ts';
import { type Handlers, opened, type ServiceContext } from '../context.ts';
import type { OpenProperty } from '../open-property.ts';
import { overlayOf } from '../overlays.ts';
import { readingAt } from '../reading.ts';

const TILE = 256;

const notYet = (name: string) =>
  new Problem(`${name} has not been computed yet.`, { fix: 'Wait for the scout to reach it, or start it.' });

/** The part of the map a tile shows. */
function windowOf(frame: Frame, z: number, x: number, y: number): PaintWindow {
  const resolution = (Math.max(frame.width, frame.height) * frame.cellSize) / TILE / 2 ** z;
  return {
    west: frame.west + x * TILE * resolution,
    north: frame.north - y * TILE * resolution,
    resolution,
    width: TILE,
    height: TILE,
  };
}

/** The whole property in one tile: its photo, else its shade; null while there is neither. */
export async function paintWhole(
  { painter }: ServiceContext,
  { artifacts, display, input: { frame } }: OpenProperty,
): Promise<Uint8Array | null> {
  const picture = display ?? artifacts.imagery;
  const window = windowOf(frame, 0, 0, 0);
  if (picture) return painter.paint('imagery', 'imagery', picture, window);
  return artifacts.shade ? painter.paint('shade', 'shade', artifacts.shade, window) : null;
}

export const mapHandlers: Handlers<
  'map.tile' | 'map.table' | 'map.reading' | 'map.legend' | 'map.overlayTile' | 'map.overlayLegend'
> = {
  'map.tile': async (context, { layer, z, x, y }) => {
    const { artifacts, display, input } = opened(context);
    const name = LAYER_ARTIFACT[layer];
    const artifact = name === 'imagery' ? (display ?? artifacts.imagery) : artifacts[name];
    if (!artifact) throw notYet(layer);
    return context.painter.paint(layer, name, artifact, windowOf(input.frame, z, x, y));
  },

  'map.table': async (context, { table }) => {
    const { artifacts } = opened(context);
    if (!artifacts[TABLE_ARTIFACT[table]]) throw notYet(table);
    return tableFeatures(table, artifacts as Artifacts);
  },

  'map.overlayTile': async (context, { overlay: id, z, x, y }) => {
    const property = opened(context);
    const { kind, grid } = overlayOf(property, id);
    return context.painter.paint(kind, kind, grid, windowOf(property.input.frame, z, x, y));
  },

  'map.overlayLegend': async (context, { overlay: id }) => {
    const property = opened(context);
    const { kind, grid } = overlayOf(property, id);
    return legendOf(kind, { [kind]: grid }, property.input.settings.units);
  },

  'map.reading': async (context, { x, y }) => readingAt(opened(context), x, y),
  'map.legend': async (context, { layer }) => {
    const { artifacts, input } = opened(context);
    return legendOf(layer, artifacts as Artifacts, input.settings.units);
  },
};
