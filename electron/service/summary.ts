import { ownedArea } from '../../core/features/owned-area.ts';
import { crsDefinition } from '../readers/crs.ts';
import { tableCount } from '../writers/tables.ts';
import { LAYER_ARTIFACT, TABLE_ARTIFACT } from './catalog.ts';
import { type PropertySummary, TABLES, TILE_LAYERS } from './contract.ts';
import type { OpenProperty } from './open-property.ts';
import { digest } from './source-keys.ts';

/** What the window knows of the open property without asking further. */
export function summarize(property: OpenProperty): PropertySummary {
  const { artifacts, keys, input, head, display } = property;
  const { frame, settings } = input;
  const { notes, missing, canUndo, canRedo } = head;
  const { wind } = input.sources;
  const present = (name: keyof typeof artifacts) => artifacts[name] !== undefined && artifacts[name] !== null;
  const features = artifacts.features ?? [];
  // What no step made is keyed by its content: an edit can leave its length as it was.
  const featuresKey = digest(JSON.stringify(features));
  return {
    name: settings.name,
    invented: settings.invented,
    units: settings.units,
    frame: { ...frame, proj4: crsDefinition(frame.epsg) },
    ownedArea: ownedArea(features),
    importNotes: notes,
    missing,
    doubts: {
      ground: artifacts.groundDoubts ?? [],
      cover: artifacts.coverDoubts ?? [],
      travel: artifacts.travelDoubts ?? [],
      air: artifacts.airDoubts ?? [],
    },
    coverSource: artifacts.coverSource ?? null,
    layers: TILE_LAYERS.filter((layer) => present(LAYER_ARTIFACT[layer])).map((name) => ({
      name,
      key: keys.get(LAYER_ARTIFACT[name]) ?? `source/${display ? 'display' : 'frame'}`,
    })),
    tables: TABLES.filter((table) => present(TABLE_ARTIFACT[table])).map((name) => ({
      name,
      key: keys.get(TABLE_ARTIFACT[name]) ?? `source/${featuresKey}`,
      count: tableCount(name, artifacts),
    })),
    wind: wind && { key: `wind/${head.wind}`, station: wind.station, hours: wind.hours.length },
    canUndo,
    canRedo,
    settings: settings as unknown as Record<string, unknown>,
  };
}
