import { readdirSync, statSync } from 'node:fs';
import { basename, extname, join } from 'node:path';
import { classifyInputs } from './classify.ts';
import { emptySet, type InputFile, type InputSet } from './inputs.ts';
import { kindInWords } from './kinds.ts';
import { isCloud } from './las.ts';
import { refusal } from './refusal.ts';
import { unreadable } from './source.ts';
import { isCounts, VECTOR_EXTENSIONS } from './vectors.ts';
import { looksLikeWind } from './wind.ts';

export type { InputFile, InputSet };
export { classifyInputs };

/** Companions that other programs leave beside their files, and papers: nothing to read, nothing to say. */
const SILENT =
  /^\.|^(readme|licen[cs]e|thumbs\.db)|\.(aux\.xml|ovr|tfw|qgz|qmd|md|txt|ts|html|pdf|gpkg-wal|gpkg-shm)$/i;

/**
 * What a folder holds for a property, by name: `elevation*.tif`, `imagery*.tif`, `landcover*.tif`, `boundary.*`,
 * `features.*`, `wind*`, `property.json`; capital letters do not matter. A vector file named for a kind (`stands.gpx`)
 * a table of counts at places, and a station file of hourly wind count too. When no file is named elevation, GeoTIFFs
 * are told apart by what is in them. A single GeoTIFF is a property too, and so is the one property folder
 * (elevation and property.json) inside a folder that holds no named elevation of its own.
 * @throws Problem when the folder is not there, is empty, or holds no elevation
 */
export async function listInputs(path: string): Promise<InputSet> {
  const name = basename(path.replace(/[\\/]+$/, '')) || path;
  let isFile: boolean;
  let names: string[];
  try {
    isFile = statSync(path).isFile();
    names = isFile ? [] : readdirSync(path).sort();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT')
      throw refusal(`there is no folder or file ${path}`, {
        file: path,
        fix: 'check the path for typing mistakes',
      });
    throw unreadable(error, name);
  }
  if (isFile) {
    if (!isTiff(name) && !isCloud(name))
      throw refusal(`${name} is not an elevation raster`, {
        file: name,
        fix: 'give a GeoTIFF (.tif), a point cloud (.las, .laz) or a folder with elevation*.tif in it',
      });
    return { ...emptySet(name.replace(/\.[^.]+$/, '')), elevation: [{ name, path }] };
  }
  const files: InputFile[] = names
    .filter((file) => !SILENT.test(file))
    .map((file) => ({ name: file, path: join(path, file) }))
    .filter((file) => statSync(file.path).isFile());
  const set = byName(name, files);
  if (set.elevation.length > 0) return set;
  const inside = names
    .map((inner) => join(path, inner))
    .filter((inner) => statSync(inner).isDirectory() && isProperty(readdirSync(inner)));
  if (inside.length === 1) return listInputs(inside[0]!);
  if (files.length === 0)
    throw refusal(`the folder ${name} is empty`, {
      file: name,
      fix: 'put an elevation GeoTIFF named elevation.tif into it',
    });
  const looked = set.unknown.some((file) => isTiff(file.name)) ? await classifyInputs(set.unknown) : null;
  if (looked && looked.elevation.length > 0)
    return {
      ...set,
      elevation: looked.elevation,
      imagery: [...set.imagery, ...looked.imagery],
      landcover: [...set.landcover, ...looked.landcover],
      unknown: looked.unknown,
    };
  throw refusal(`the folder ${name} holds no elevation`, {
    file: name,
    fix: 'put a GeoTIFF of ground elevation named elevation.tif into it',
  });
}

const isProperty = (names: string[]): boolean =>
  names.some((name) => name.toLowerCase() === 'property.json') &&
  names.some((name) => isTiff(name) && name.toLowerCase().startsWith('elevation'));

const stem = (name: string): string => name.replace(/\.[^.]+$/, '');
const isTiff = (name: string): boolean => /\.tiff?$/i.test(name);

function byName(name: string, files: InputFile[]): InputSet {
  const set = emptySet(name);
  for (const file of files) {
    const lower = file.name.toLowerCase();
    const vector = VECTOR_EXTENSIONS.includes(extname(lower));
    if (lower === 'property.json') set.settings = file;
    else if (isTiff(lower) && lower.startsWith('elevation')) set.elevation.push(file);
    else if (isCloud(lower)) set.elevation.push(file);
    else if (isTiff(lower) && lower.startsWith('imagery')) set.imagery.push(file);
    else if (isTiff(lower) && lower.startsWith('landcover')) set.landcover.push(file);
    else if (vector && lower.startsWith('boundary')) set.boundary.push(file);
    else if (vector && lower.startsWith('features')) set.features.push(file);
    else if (lower.startsWith('wind') && !vector && !isTiff(lower)) set.wind.push(file);
    else if (vector && kindInWords(stem(lower)) !== null) set.features.push(file);
    else if (isCounts(file)) set.features.push(file);
    else if (!vector && !isTiff(lower) && looksLikeWind(file)) set.wind.push(file);
    else set.unknown.push(file);
  }
  return set;
}
