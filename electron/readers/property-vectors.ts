import type { Feature } from '../../core/features/feature.ts';
import type { Frame } from '../../core/grid/frame.ts';
import { boundaryAreas } from './boundary.ts';
import { toFeatures } from './features.ts';
import type { InputSet } from './inputs.ts';
import { kindOf } from './kinds.ts';
import type { RawFeature } from './raw.ts';
import { refusal } from './refusal.ts';
import { readVectors } from './vectors.ts';

interface FileFeatures {
  name: string;
  raw: RawFeature[];
}

/** The vectors of a property before they are on its frame. */
export interface AllVectors {
  boundary: RawFeature[];
  boundaryFile: string | null;
  features: FileFeatures[];
}

/**
 * Reads every vector file. The boundary comes from its own file, else from features of that kind.
 * @throws Problem when there are two boundaries, or one is not an area
 */
export async function readAllVectors(inputs: InputSet, notes: string[]): Promise<AllVectors> {
  if (inputs.boundary.length > 1)
    throw refusal(`there are two boundaries: ${inputs.boundary.map(({ name }) => name).join(' and ')}`, {
      file: inputs.boundary[1]!.name,
      fix: 'keep the one that holds and rename or remove the other',
    });
  const features: FileFeatures[] = [];
  for (const file of inputs.features) {
    const read = await readVectors(file);
    notes.push(...read.notes);
    if (read.features.length === 0) notes.push(`${file.name} holds no features`);
    features.push({ name: file.name, raw: read.features });
  }
  const isBoundary = ({ properties, layer }: RawFeature) => {
    const found = kindOf(properties, layer, null);
    return 'kind' in found && found.kind === 'boundary';
  };
  let boundary: RawFeature[] = [];
  let boundaryFile: string | null = inputs.boundary[0]?.name ?? null;
  if (inputs.boundary[0]) {
    const read = await readVectors(inputs.boundary[0]);
    notes.push(...read.notes);
    boundary = read.features;
    if (features.some(({ raw }) => raw.some(isBoundary)))
      notes.push(`${boundaryFile} is the boundary; boundaries among the features are left out`);
  } else {
    const holder = features.find(({ raw }) => raw.some(isBoundary));
    boundaryFile = holder?.name ?? null;
    boundary = holder?.raw.filter(isBoundary) ?? [];
  }
  for (const file of features) file.raw = file.raw.filter((feature) => !isBoundary(feature));
  if (boundaryFile !== null) {
    const checked = boundaryAreas(boundary, boundaryFile);
    boundary = checked.areas;
    notes.push(...checked.notes);
  }
  return { boundary, boundaryFile, features };
}

/** Brings them onto the frame, each under an id of its own. */
export function placeFeatures(vectors: AllVectors, frame: Frame, notes: string[]): Feature[] {
  const features: Feature[] = [];
  if (vectors.boundaryFile !== null) {
    const stated = vectors.boundary.map((raw) => ({
      ...raw,
      properties: { ...raw.properties, kind: 'boundary' },
    }));
    features.push(...toFeatures(stated, vectors.boundaryFile, frame, 'boundary').features);
  }
  for (const { name, raw } of vectors.features) {
    const found = toFeatures(raw, name, frame, null);
    features.push(...found.features);
    notes.push(...found.notes);
  }
  return withUniqueIds(features);
}

function withUniqueIds(features: Feature[]): Feature[] {
  const seen = new Set<string>();
  return features.map((feature) => {
    let { id } = feature;
    for (let n = 2; seen.has(id); n++) id = `${feature.id}-${n}`;
    seen.add(id);
    return { ...feature, id };
  });
}
