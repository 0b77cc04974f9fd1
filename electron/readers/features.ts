import { basename } from 'node:path';
import type { AttributeValue, Feature, FeatureKind } from '../../core/features/feature.ts';
import type { Frame } from '../../core/grid/frame.ts';
import { crsDefinition, METRES, transform, WGS84 } from './crs.ts';
import type { InputFile } from './inputs.ts';
import { kindInWords, kindOf } from './kinds.ts';
import { mapGeometry, type RawFeature } from './raw.ts';
import { readVectors } from './vectors.ts';

export interface FoundFeatures {
  features: Feature[];
  notes: string[];
}

/**
 * Features of one vector file in the frame's CRS.
 * @param defaultKind what features are that do not say; the file's name may say it too (`stands.gpx`)
 * @throws Problem naming the file and the fix
 */
export async function readFeatures(
  path: string,
  frame: Frame,
  defaultKind?: FeatureKind,
): Promise<FoundFeatures> {
  const file: InputFile = { name: basename(path), path };
  const { features, notes } = await readVectors(file);
  if (features.length === 0) notes.push(`${file.name} holds no features`);
  const found = toFeatures(features, file.name, frame, defaultKind ?? null);
  return { features: found.features, notes: [...notes, ...found.notes] };
}

/** Gives raw features their kind, name and SI attributes, and brings them to the frame's CRS. */
export function toFeatures(
  raw: RawFeature[],
  file: string,
  frame: Frame,
  defaultKind: FeatureKind | null,
): FoundFeatures {
  const project = transform(WGS84, crsDefinition(frame.epsg));
  const base = file.replace(/\.[^.]+$/, '');
  const named = kindInWords(base);
  // A file named for the walk still holds stands and fences by their names.
  const fallback = defaultKind ?? (named === 'walk' || named === 'note' ? null : named);
  const features: Feature[] = [];
  const unknown = new Map<string, number>();
  const ids = new Set<string>();
  raw.forEach(({ id, geometry, properties, layer, otherwise }, index) => {
    const said = kindOf(properties, layer, fallback);
    const found = 'unknown' in said && otherwise ? { kind: otherwise } : said;
    if ('unknown' in found) {
      unknown.set(found.unknown, (unknown.get(found.unknown) ?? 0) + 1);
      return;
    }
    const wanted = text(properties.id) ?? id;
    const unique = wanted && !ids.has(wanted) ? wanted : `${base}-${index + 1}`;
    ids.add(unique);
    features.push({
      id: unique,
      kind: found.kind,
      status: /propos|plan|future/i.test(text(properties.status) ?? '') ? 'proposed' : 'existing',
      name: text(properties.name ?? properties.Name ?? properties.NAME ?? properties.title),
      geometry: mapGeometry(geometry, ([x, y]) => project(x!, y!)),
      attributes: attributesOf(properties),
      source: file,
    });
  });
  const notes = [...unknown].map(
    ([word, count]) =>
      `${file}: ${count} feature${count > 1 ? 's' : ''} of the kind “${word}” ${count > 1 ? 'are' : 'is'} left out; give each a kind this program knows (road, creek, fence, stand, bedding, food …)`,
  );
  return { features, notes };
}

const text = (value: unknown): string | null => {
  const words = typeof value === 'string' || typeof value === 'number' ? String(value).trim() : '';
  return words === '' ? null : words;
};

const OWN = new Set([
  'id',
  'kind',
  'name',
  'status',
  'fid',
  'styleurl',
  'stylehash',
  'visibility',
  '_gpxtype',
]);
const LENGTHS: [RegExp, number][] = [
  [/_(ft|feet)$/, METRES.foot],
  [/_(yd|yards)$/, 3 * METRES.foot],
  [/_(in|inches)$/, METRES.foot / 12],
  [/_m$/, 1],
];

/** Plain values only; `height_ft` and the like become metres under the plain word. */
function attributesOf(properties: Record<string, unknown>): Record<string, AttributeValue> {
  const attributes: Record<string, AttributeValue> = {};
  for (const [key, value] of Object.entries(properties)) {
    if (OWN.has(key.toLowerCase())) continue;
    if (typeof value === 'number' && !Number.isFinite(value)) continue;
    if (value !== null && !['string', 'number', 'boolean'].includes(typeof value)) continue;
    const length = LENGTHS.find(([pattern]) => pattern.test(key.toLowerCase()));
    const number = Number(value);
    if (length && value !== null && value !== '' && Number.isFinite(number))
      attributes[key.replace(/_[^_]+$/, '')] = number * length[1];
    else attributes[key] = value as AttributeValue;
  }
  return attributes;
}
