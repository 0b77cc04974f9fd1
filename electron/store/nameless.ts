import type { Settings } from '../../core/analysis/settings.ts';
import { DEFAULT_SETTINGS } from '../../core/analysis/settings.ts';
import type { AttributeValue, Feature, FeatureKind } from '../../core/features/feature.ts';
import { createProperty, openProperty, type PropertyHead } from './property-file.ts';

/** Attributes whose words are the trade's own, chosen from a list, and tell nothing of anyone. */
const PLAIN_WORDS = new Set([
  'class',
  'type',
  'weapon',
  'cover',
  'species',
  'density',
  'surface',
  'from',
  'to',
  'standingFrom',
  'standingTo',
  'highFrom',
  'highTo',
  'stockFrom',
  'stockTo',
]);

const plain = ([key, value]: [string, AttributeValue]): boolean =>
  typeof value !== 'string' || PLAIN_WORDS.has(key);

/** Where somebody walked, took a picture or wrote something down. */
const PRIVATE: readonly FeatureKind[] = ['note', 'walk', 'visit', 'observation'];

/** A feature without its name, its free text and the file it came from. */
const stripped = (feature: Feature, index: number): Feature => ({
  ...feature,
  id: `${feature.kind}-${index + 1}`,
  name: null,
  attributes: Object.fromEntries(Object.entries(feature.attributes).filter(plain)),
  source: 'copy',
});

/** Settings that are numbers and switches of the analysis; who it is for stays behind. */
function strippedSettings(settings: Settings): Settings {
  const { cellSize, margin, units, weights, ground, travel, air, invented } = settings;
  const name = 'Nameless property';
  return { ...DEFAULT_SETTINGS, name, invented, units, cellSize, margin, weights, ground, travel, air };
}

/**
 * Writes a copy of a property that can be shown to others: ground, photo, wind and shapes as they are; names, free
 * text, photos' and notes' positions, file names, results and the history of edits left out. It is built anew from
 * what is kept, so that nothing of the rest is left in free pages of the file. The ground itself still tells where
 * it lies.
 *
 * @throws Problem as `openProperty` and `createProperty` do
 */
export function makeNameless(path: string, target: string): PropertyHead {
  const from = openProperty(path);
  try {
    const { frame, settings, missing } = from.head();
    const sources = from.sources();
    const features = sources.features.filter(({ kind }) => !PRIVATE.includes(kind)).map(stripped);
    const wind = sources.wind && { ...sources.wind, notes: [] };
    const copy = createProperty(target, {
      frame,
      settings: strippedSettings(settings),
      sources: { ...sources, features, wind },
      display: from.display(),
      notes: [],
      missing,
      files: [],
    });
    try {
      return copy.head();
    } finally {
      copy.close();
    }
  } finally {
    from.close();
  }
}
