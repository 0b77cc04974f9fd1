import type { FeatureCollection } from 'geojson';
import type { PropertySummary } from '../../electron/service/contract.ts';
import { askedMarks, overlays } from '../state/answers.ts';
import { isHidden } from '../state/blind-trial.ts';
import { sideOf } from '../state/plans.ts';
import { ask } from '../state/session.ts';
import type { MarkLayer, Stage, TileLayer } from '../state/stages.ts';
import { STAGE_LAYERS } from '../state/stages.ts';
import { type TableName, table } from '../state/tables.ts';
import { type LayerChoice, overlayChoice, shown, stage } from '../state/view.ts';
import type { Painted } from './map-view.ts';
import type { MapLayer } from './styles.ts';

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

/** Everything painted that the map shows now, bottom first: the stage's layers, then what answers laid over them. */
export const shownPaint = (property: PropertySummary): Painted[] => [
  ...paintOf(stage.value, shown.value, property)
    .filter(({ on }) => on)
    .map((of) => ({
      ...of,
      fetch: (z: number, x: number, y: number) => ask('map.tile', { layer: of.layer, z, x, y }),
    })),
  ...overlays.value
    .map((of) => ({ ...of, ...overlayChoice(of.kind) }))
    .filter(({ on }) => on)
    .map(({ id, kind, opacity }) => ({
      layer: `overlay ${kind}`,
      side: sideOf(kind),
      key: id,
      opacity,
      fetch: (z: number, x: number, y: number) => ask('map.overlayTile', { overlay: id, z, x, y }),
    })),
];

/** The marks the map shows now, bottom first, and on top what answers draw. */
export const shownMarks = (
  property: PropertySummary,
): { layer: MapLayer; data: FeatureCollection | null }[] => [
  ...marksOf(stage.value, shown.value, property)
    .filter(({ on }) => on)
    .map(({ layer }) => ({ layer, data: dataOf(layer) })),
  { layer: 'asked', data: askedMarks.value },
];

const ofKind = new WeakMap<FeatureCollection, FeatureCollection>();

/** The data of a mark. The boundary is taken out of the features once a collection. */
function dataOf(layer: MarkLayer): FeatureCollection | null {
  const data = table(TABLE_OF[layer]).value;
  if (layer !== 'boundary' || !data) return data;
  let boundary = ofKind.get(data);
  if (!boundary) {
    boundary = { ...data, features: data.features.filter((f) => f.properties?.kind === 'boundary') };
    ofKind.set(data, boundary);
  }
  return boundary;
}
