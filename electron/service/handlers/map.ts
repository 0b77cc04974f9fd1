import type { Artifacts } from '../../../core/analysis/artifacts.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { legendOf } from '../../writers/paint.ts';
import { tableFeatures } from '../../writers/tables.ts';
import { LAYER_ARTIFACT, TABLE_ARTIFACT } from '../catalog.ts';
import { type Handlers, opened } from '../context.ts';
import { readingAt } from '../reading.ts';

const TILE = 256;

const notYet = (name: string) =>
  new Problem(`${name} has not been computed yet.`, { fix: 'Wait for the scout to reach it, or start it.' });

export const mapHandlers: Handlers<'map.tile' | 'map.table' | 'map.reading' | 'map.legend'> = {
  'map.tile': async (context, { layer, z, x, y }) => {
    const { artifacts, display, input } = opened(context);
    const name = LAYER_ARTIFACT[layer];
    const artifact = name === 'imagery' ? (display ?? artifacts.imagery) : artifacts[name];
    if (!artifact) throw notYet(layer);
    const { frame } = input;
    const resolution = (Math.max(frame.width, frame.height) * frame.cellSize) / TILE / 2 ** z;
    const window = {
      west: frame.west + x * TILE * resolution,
      north: frame.north - y * TILE * resolution,
      resolution,
      width: TILE,
      height: TILE,
    };
    return context.painter.paint(layer, name, artifact, window);
  },

  'map.table': async (context, { table }) => {
    const { artifacts } = opened(context);
    if (!artifacts[TABLE_ARTIFACT[table]]) throw notYet(table);
    return tableFeatures(table, artifacts as Artifacts);
  },

  'map.reading': async (context, { x, y }) => readingAt(opened(context), x, y),
  'map.legend': async (context, { layer }) => {
    const { artifacts, input } = opened(context);
    return legendOf(layer, artifacts as Artifacts, input.settings.units);
  },
};
