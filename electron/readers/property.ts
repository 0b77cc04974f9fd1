import type { Sources } from '../../core/analysis/artifacts.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../core/analysis/settings.ts';
import type { Imagery } from '../../core/cover/types.ts';
import { type Feature, ofKind } from '../../core/features/feature.ts';
import type { Frame, Grid } from '../../core/grid/frame.ts';
import { type Progress, part, silent } from '../../core/grid/progress.ts';
import { boundaryAreas, lonLatBox } from './boundary.ts';
import { checkOwnedGround } from './coverage.ts';
import { WGS84 } from './crs.ts';
import { readElevation } from './elevation.ts';
import { toFeatures } from './features.ts';
import { chooseFrame } from './frame.ts';
import { displayFrame, meets, readImagery } from './imagery.ts';
import type { InputFile, InputSet } from './inputs.ts';
import { kindOf } from './kinds.ts';
import { readLandcover } from './landcover.ts';
import { isCloud, openCloud, type PointCloud } from './las.ts';
import { elevationFor, missingFrom } from './missing.ts';
import { type Box, footprint, ownCellSize, type Placed } from './placement.ts';
import { openRaster, type Raster } from './raster.ts';
import type { RawFeature } from './raw.ts';
import { refusal } from './refusal.ts';
import { readSettings } from './settings.ts';
import { hashFile } from './source.ts';
import { grown, type HeldFile } from './to-fetch.ts';
import { readVectors } from './vectors.ts';
import { UNIT_FOR_ALL, verticalScale } from './vertical.ts';
import { readWind } from './wind.ts';

export interface Imported {
  frame: Frame;
  sources: Sources;
  settings: Settings;
  /** What the readers found out or decided, in plain words. */
  notes: string[];
  /** What was not given, and what each missing piece costs the answer. */
  missing: string[];
  /** The photo on finer cells of the same extent, for the map; null when it is no finer than the frame. */
  display: Imagery | null;
  /** 1 where a hole in the elevation was filled from its rim; null when none was. */
  holes: Grid<Uint8Array> | null;
  /** Height of trees and brush above the ground, m, from a point cloud; null without one. NaN where it saw none. */
  vegetation: Grid | null;
  files: { name: string; hash: string }[];
}

/**
 * Brings a property's files onto one frame.
 * @param options.settings override property.json; `answers` settle what the files do not state
 * @throws Problem naming the file and the fix; Cancelled through `progress`
 */
export async function readProperty(
  inputs: InputSet,
  options: { settings?: Partial<Settings>; answers?: Record<string, string>; progress?: Progress } = {},
): Promise<Imported> {
  const progress = options.progress ?? silent;
  const settings = settingsOf(inputs, options);
  const notes: string[] = [];
  const vectors = await readAllVectors(inputs, notes);
  const box = vectors.boundary.length > 0 ? lonLatBox(vectors.boundary) : null;
  const open: Raster[] = [];
  const openAll = async (files: InputFile[], answer: string | undefined) => {
    const rasters: Raster[] = [];
    for (const file of files) {
      const raster = await openRaster(file, epsgAnswer(answer));
      open.push(raster);
      rasters.push(raster);
      if (raster.crs.note) notes.push(raster.crs.note);
    }
    return rasters;
  };
  try {
    const { answers } = settings;
    if (inputs.elevation.length === 0)
      throw refusal('there is no elevation among the files', {
        fix: `add a GeoTIFF of ground elevation, everything rests on it${box && elevationFor(box) ? `; ${elevationFor(box)}` : ''}`,
      });
    const clouds: PointCloud[] = [];
    for (const file of inputs.elevation.filter(({ name }) => isCloud(name))) {
      const cloud = await openCloud(file, epsgAnswer(answers.elevationEpsg));
      clouds.push(cloud);
      if (cloud.crs.note) notes.push(cloud.crs.note);
    }
    const rasters = inputs.elevation.filter(({ name }) => !isCloud(name));
    const elevationTiles = finestFirst(
      [...(await openAll(rasters, answers.elevationEpsg)), ...clouds],
      box,
      settings.margin,
      notes,
    );
    const scales = elevationTiles.map((raster) => verticalScale(raster, answers));
    notes.push(...scales.map(({ note }) => note));
    const photos = await openAll(inputs.imagery, answers.imageryEpsg);
    const covers = await openAll(inputs.landcover, answers.landcoverEpsg);

    const chosen = chooseFrame(elevationTiles, box, settings.cellSize, settings.margin);
    const { frame } = chosen;
    notes.push(...chosen.notes);
    if (box) checkCovered(box, elevationTiles, notes);
    else notes.push('No boundary was given; the whole raster is taken as the property');

    const near = (rasters: Raster[]) => rasters.filter((raster) => meets(raster, frame));
    const ground = await readElevation(
      elevationTiles
        .map((source, i) => ({ source, scale: scales[i]! }))
        .filter(({ source }) => meets(source, frame)),
      frame,
      UNIT_FOR_ALL in answers || 'verticalUnit' in answers,
      part(progress, 0, 0.4),
    );
    notes.push(...ground.notes);
    let imagery: Imagery | null = null;
    let display: Imagery | null = null;
    if (photos.length > 0) {
      const usable = near(photos);
      const read = await readImagery(usable.length > 0 ? usable : photos, frame, part(progress, 0.4, 0.6));
      imagery = read.imagery;
      notes.push(...read.notes);
      const sharp = displayFrame(usable, frame);
      if (sharp) display = (await readImagery(usable, sharp, part(progress, 0.6, 0.85))).imagery;
    }
    let landcover: Sources['landcover'] = null;
    if (covers.length > 0) {
      const read = await readLandcover(covers, frame, part(progress, 0.85, 0.9));
      landcover = read.landcover;
      notes.push(...read.notes);
    }
    const features = placeFeatures(vectors, frame, notes);
    if (box)
      notes.push(
        ...checkOwnedGround(
          ofKind(features, 'boundary'),
          ground.elevation,
          elevationTiles.map(({ name }) => name).join(', '),
        ),
      );
    const wind = inputs.wind.length > 0 ? readWind(inputs.wind) : null;
    if (wind) notes.push(...wind.notes);
    for (const file of inputs.unknown)
      notes.push(`${file.name} is not used: its name or content does not say what it is for`);

    const used = [
      ...inputs.elevation,
      ...inputs.imagery,
      ...inputs.landcover,
      ...inputs.boundary,
      ...inputs.features,
      ...inputs.wind,
      ...(inputs.settings ? [inputs.settings] : []),
    ];
    const files: Imported['files'] = [];
    for (const [i, { name, path }] of used.entries()) {
      files.push({ name, hash: await hashFile(path, name) });
      progress(0.9 + (0.1 * (i + 1)) / used.length);
    }
    const holding = (kind: HeldFile['kind'], rasters: Placed[]): HeldFile[] =>
      rasters.map((raster) => ({ kind, name: raster.name, box: footprint(raster, WGS84) }));
    const held = [
      ...holding('elevation', elevationTiles),
      ...holding('imagery', photos),
      ...holding('land cover', covers),
    ];
    const sources: Sources = { elevation: ground.elevation, imagery, landcover, features, wind };
    return {
      frame,
      sources,
      settings,
      notes: [...new Set(notes)],
      missing: missingFrom(sources, box !== null, held),
      display,
      holes: ground.holes,
      vegetation: ground.vegetation,
      files,
    };
  } finally {
    await Promise.all(open.map((raster) => raster.bytes.close()));
  }
}

function settingsOf(
  inputs: InputSet,
  { settings = {}, answers = {} }: { settings?: Partial<Settings>; answers?: Record<string, string> },
): Settings {
  const own: Settings = inputs.settings ? readSettings(inputs.settings) : { ...DEFAULT_SETTINGS };
  if (own.name === DEFAULT_SETTINGS.name) own.name = inputs.name;
  return { ...own, ...settings, answers: { ...own.answers, ...settings.answers, ...answers } };
}

function epsgAnswer(answer: string | undefined): number | null {
  if (answer === undefined) return null;
  const code = Number(/^\s*(?:EPSG:?)?\s*(\d+)\s*$/i.exec(answer)?.[1] ?? Number.NaN);
  if (Number.isFinite(code)) return code;
  throw refusal(`“${answer}” is not an EPSG code`, {
    file: 'property.json',
    fix: 'write the number alone, such as 26916',
  });
}

/** Elevation by rank: the finest first. Files beside the property are left out, unless all are. */
function finestFirst<Source extends Placed>(
  sources: Source[],
  box: Box | null,
  margin: number,
  notes: string[],
): Source[] {
  const need = box && grown(box, margin);
  const near = need ? sources.filter((source) => overlap(footprint(source, WGS84), need)) : sources;
  const used = near.length > 0 ? near : sources;
  for (const source of sources)
    if (!used.includes(source)) notes.push(`${source.name} lies beside the property and is not used`);
  return [...used].sort((a, b) => ownCellSize(a) - ownCellSize(b));
}

const overlap = (a: Box, b: Box): boolean => a[0] < b[2] && a[2] > b[0] && a[1] < b[3] && a[3] > b[1];

interface FileFeatures {
  name: string;
  raw: RawFeature[];
}

interface AllVectors {
  boundary: RawFeature[];
  boundaryFile: string | null;
  features: FileFeatures[];
}

/** The boundary comes from its own file, else from features of that kind. */
async function readAllVectors(inputs: InputSet, notes: string[]): Promise<AllVectors> {
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

function placeFeatures(vectors: AllVectors, frame: Frame, notes: string[]): Feature[] {
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

/** Says when the boundary reaches beyond the elevation. The frame was refused already if they do not meet at all. */
function checkCovered(box: Box, rasters: Placed[], notes: string[]): void {
  const boxes = rasters.map((raster) => footprint(raster, WGS84));
  const west = Math.min(...boxes.map((b) => b[0]));
  const south = Math.min(...boxes.map((b) => b[1]));
  const east = Math.max(...boxes.map((b) => b[2]));
  const north = Math.max(...boxes.map((b) => b[3]));
  if (box[0] < west || box[1] < south || box[2] > east || box[3] > north)
    notes.push('The boundary reaches beyond the elevation; what lies outside it cannot be judged');
}
