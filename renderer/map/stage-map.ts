import type { FeatureCollection } from 'geojson';
import type { PropertySummary } from '../../electron/service/contract.ts';
import { isHidden } from '../state/blind-trial.ts';
import type { MarkLayer, Stage, TileLayer } from '../state/stages.ts';
import { STAGE_LAYERS } from '../state/stages.ts';
import { type TableName, table } from '../state/tables.ts';
import type { LayerChoice } from '../state/view.ts';

/** Which table feeds which marks. */
const TABLE_OF: Record<MarkLayer, TableName> = {
  contours: 'contours',
  drainage: 'drainage',
  channels: 'channels',
  ridges: 'ridges',
  draws: 'draws',
  saddles: 'saddles',
  benches: 'benches',
  blocks: 'blocks',
  areas: 'areas',
  corridors: 'corridors',
  bands: 'corridors',
  crossings: 'crossings',
  routes: 'routes',
  junctions: 'junctions',
  necks: 'necks',
  'pool-marks': 'pools',
  carries: 'carries',
  stands: 'stand-risks',
  features: 'features',
  boundary: 'features',
};

/** The stage's painted layers that exist now, bottom first. */
export function paintOf(
  stage: Stage,
  choices: Record<string, LayerChoice>,
  summary: PropertySummary,
): { layer: TileLayer; key: string; opacity: number; on: boolean }[] {
  const keys = new Map(summary.layers.map((layer) => [layer.name, layer.key]));
  return STAGE_LAYERS[stage].paint.flatMap(({ layer }) => {
    const key = keys.get(layer);
    const choice = choices[layer];
    return key !== undefined && choice && !isHidden(layer) ? [{ layer, key, ...choice }] : [];
  });
}

/** The stage's marks that exist now, bottom first. */
export function marksOf(
  stage: Stage,
  choices: Record<string, LayerChoice>,
  summary: PropertySummary,
): { layer: MarkLayer; on: boolean; count: number }[] {
  const counts = new Map(summary.tables.map((t) => [t.name, t.count]));
  return STAGE_LAYERS[stage].marks.flatMap(({ layer }) => {
    const count = counts.get(TABLE_OF[layer]);
    const choice = choices[layer];
    return count !== undefined && count > 0 && choice && !isHidden(layer)
      ? [{ layer, count, on: choice.on }]
      : [];
  });
}

const ofKind = new WeakMap<FeatureCollection, FeatureCollection>();

/** The data of a mark. The boundary is taken out of the features once a collection. */
export function dataOf(layer: MarkLayer): FeatureCollection | null {
  const data = table(TABLE_OF[layer]).value;
  if (layer !== 'boundary' || !data) return data;
  let boundary = ofKind.get(data);
  if (!boundary) {
    boundary = { ...data, features: data.features.filter((f) => f.properties?.kind === 'boundary') };
    ofKind.set(data, boundary);
  }
  return boundary;
}
