import { extname } from 'node:path';
import { boundaryAreas } from './boundary.ts';
import { emptySet, type InputFile, type InputSet } from './inputs.ts';
import { kindInWords, kindOf } from './kinds.ts';
import { isCloud } from './las.ts';
import { openRaster, type Raster, readWindow } from './raster.ts';
import { isCounts, readVectors, VECTOR_EXTENSIONS } from './vectors.ts';
import { isWind } from './wind.ts';

/**
 * Sorts dropped files with arbitrary names by what is in them: GeoTIFFs into elevation, photo and land cover by
 * bands, sample type and values; vectors into the boundary (areas only, nothing else said) and features; wind by
 * its name, its first line, or as a table, which nothing else is read from.
 * @throws Problem when a file that should open does not
 */
export async function classifyInputs(files: InputFile[]): Promise<InputSet> {
  const set = emptySet((files[0]?.name ?? 'Property').replace(/\.[^.]+$/, ''));
  for (const file of files) {
    const lower = file.name.toLowerCase();
    const extension = extname(lower);
    if (lower === 'property.json') set.settings = file;
    else if (/\.tiff?$/.test(lower)) set[await kindOfRaster(file)].push(file);
    else if (isCloud(lower)) set.elevation.push(file);
    else if (VECTOR_EXTENSIONS.includes(extension)) set[await kindOfVectors(file)].push(file);
    else if (isCounts(file)) set.features.push(file);
    else if (isWind(file)) set.wind.push(file);
    else set.unknown.push(file);
  }
  return set;
}

async function kindOfRaster(file: InputFile): Promise<'elevation' | 'imagery' | 'landcover'> {
  const lower = file.name.toLowerCase();
  for (const kind of ['elevation', 'imagery', 'landcover'] as const) if (lower.startsWith(kind)) return kind;
  const raster = await openRaster(file);
  try {
    if (raster.bands - (raster.alpha === null ? 0 : 1) >= 3) return 'imagery';
    const { bits, format } = raster.levels[0]!;
    if (bits > 8 || format !== 1) return 'elevation';
    // One 8-bit band: land cover has few different codes, all of the public legend's range.
    const codes = await valuesOf(raster);
    const inLegend = [...codes].every((code) => code === 0 || (code >= 11 && code <= 95) || code >= 127);
    return codes.size <= 24 && inLegend ? 'landcover' : 'elevation';
  } finally {
    await raster.bytes.close();
  }
}

async function valuesOf(raster: Raster): Promise<Set<number>> {
  const level = raster.levels.at(-1)!;
  const side = 512;
  const window = await readWindow(raster, level, [0], {
    x: Math.max(0, Math.floor((level.width - side) / 2)),
    y: Math.max(0, Math.floor((level.height - side) / 2)),
    width: side,
    height: side,
  });
  return new Set(window.bands[0]!.filter((value) => !Number.isNaN(value)));
}

async function kindOfVectors(file: InputFile): Promise<'boundary' | 'features'> {
  const lower = file.name.toLowerCase();
  if (lower.startsWith('boundary')) return 'boundary';
  if (lower.startsWith('features')) return 'features';
  const { features } = await readVectors(file);
  const byName = kindInWords(lower.replace(/\.[^.]+$/, ''));
  const kinds = features.map(({ properties, layer }) => kindOf(properties, layer, byName));
  const other = kinds.some((found) => 'kind' in found && found.kind !== 'boundary');
  if (other || features.length === 0) return 'features';
  const boundary = kinds.some((found) => 'kind' in found) || /bound|property/.test(lower);
  if (boundary) return 'boundary';
  try {
    boundaryAreas(features, file.name);
    return features.length <= 3 ? 'boundary' : 'features';
  } catch {
    return 'features';
  }
}
