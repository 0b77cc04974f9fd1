import { WGS84 } from './crs.ts';
import type { ElevationTile } from './elevation.ts';
import type { InputFile, InputSet } from './inputs.ts';
import { isCloud, openCloud } from './las.ts';
import { elevationFor } from './missing.ts';
import { type Box, footprint, ownCellSize, type Placed } from './placement.ts';
import { openRaster, type Raster } from './raster.ts';
import { refusal } from './refusal.ts';
import { grown } from './to-fetch.ts';
import { verticalScale } from './vertical.ts';

/** The rasters and clouds of a property, opened but not read. */
export interface OpenSources {
  /** By rank: the finest first. */
  elevation: ElevationTile[];
  photos: Raster[];
  covers: Raster[];
  /** Elevation that reaches twice the margin, by rank. */
  around: ElevationTile[];
  close(): Promise<void>;
}

/**
 * Opens every raster and point cloud and settles the unit of heights.
 * @param box of the boundary, degrees, or null; elevation beside it is left out
 * @throws Problem when there is no elevation, or a file cannot be used; nothing stays open then
 */
export async function openSources(
  inputs: InputSet,
  answers: Record<string, string>,
  box: Box | null,
  margin: number,
  notes: string[],
): Promise<OpenSources> {
  const open: Raster[] = [];
  const close = async () => {
    await Promise.all(open.map((raster) => raster.bytes.close()));
  };
  const openAll = async (files: InputFile[], key: string): Promise<Raster[]> => {
    const rasters: Raster[] = [];
    for (const file of files) {
      const raster = await openRaster(file, epsgAnswer(answers[key]), key);
      open.push(raster);
      rasters.push(raster);
    }
    return rasters;
  };
  try {
    if (inputs.elevation.length === 0) {
      const names = box && elevationFor(box);
      throw refusal('there is no elevation among the files', {
        fix: `add a GeoTIFF of ground elevation, everything rests on it${names ? `; ${names}` : ''}`,
      });
    }
    const clouds = [];
    for (const file of inputs.elevation.filter(({ name }) => isCloud(name)))
      clouds.push(await openCloud(file, epsgAnswer(answers.elevationEpsg)));
    const rasters = await openAll(
      inputs.elevation.filter(({ name }) => !isCloud(name)),
      'elevationEpsg',
    );
    const ranked = finestFirst([...rasters, ...clouds], box, margin, notes);
    const scaled = (source: (typeof ranked)[number]) => ({ source, scale: verticalScale(source, answers) });
    const elevation = ranked.map(scaled);
    const around = finestFirst([...rasters, ...clouds], box, 2 * margin, []).map(scaled);
    const photos = await openAll(inputs.imagery, 'imageryEpsg');
    const covers = await openAll(inputs.landcover, 'landcoverEpsg');
    for (const { crs } of [...ranked, ...photos, ...covers]) if (crs.note) notes.push(crs.note);
    notes.push(...elevation.map(({ scale }) => scale.note));
    return { elevation, photos, covers, around, close };
  } catch (error) {
    await close();
    throw error;
  }
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
