import type { Sources } from '../../core/analysis/artifacts.ts';
import { frameExtent } from '../../core/grid/frame.ts';
import { crsDefinition, WGS84 } from './crs.ts';
import { type Box, boxIn } from './placement.ts';
import { checkOff, type HeldFile, inUnitedStates, listed, tilesFor, type WantedFile } from './to-fetch.ts';

/** Cells wider than this cannot show a creek bed or a saddle deer use. Our assumption. */
const COARSE_METRES = 5;

export const NO_WIND =
  'Wind record: without hourly wind, no stand can be rated by wind direction. Fetch five years of ISD-Lite files (station-year.gz) of the nearest weather stations in like ground';

/**
 * What a property goes without, what that costs the answer and, in the United States, which public files would
 * mend it.
 * @param held the rasters given, with the boxes of degrees they cover
 */
export function missingFrom(sources: Sources, bounded: boolean, held: HeldFile[]): string[] {
  const { frame } = sources.elevation;
  const need = boxIn(frameExtent(frame), crsDefinition(frame.epsg), WGS84);
  const wanted = inUnitedStates(need) ? checkOff(tilesFor(need), held, need).filter(({ have }) => !have) : [];
  const names = (kind: WantedFile['kind'], test: (name: string) => boolean = () => true): string => {
    const files = wanted.filter((file) => file.kind === kind && test(file.name));
    return files.length > 0 ? `. Fetch ${listed(files)}` : '';
  };
  const missing: string[] = [];
  if (frame.cellSize > COARSE_METRES) {
    // Coarse elevation covers the need but does not meet it, so the fine tiles are asked for by name all the same.
    const fine = inUnitedStates(need) ? tilesFor(need).filter(({ name }) => name.startsWith('USGS_1M')) : [];
    missing.push(
      `Finer elevation: cells of ${Number(frame.cellSize.toPrecision(3))} m cannot show a creek bed or a saddle that deer use${fine.length > 0 ? `. Fetch ${listed(fine)} where the ground was flown` : ''}`,
    );
  }
  if (!bounded)
    missing.push('Boundary: without it nothing can be said about whose ground a neck or stand is on');
  if (!sources.imagery && !sources.landcover)
    missing.push(
      `Photo or land cover: without one, cover is unknown and travel rests on terrain alone${names('imagery')}`,
    );
  else if (sources.imagery && sources.imagery.bands.length === 3)
    missing.push('Near-infrared band: without it timber and open ground are told apart less surely');
  if (!sources.wind) missing.push(NO_WIND);
  if (!sources.features.some(({ kind }) => kind === 'creek' || kind === 'road' || kind === 'fence'))
    missing.push(
      'Roads, creeks and fences: without them no crossings are found and deer are taken to walk over everything',
    );
  return missing;
}

/** What to fetch for a boundary that came without elevation, as the last part of a sentence; empty abroad. */
export function elevationFor(need: Box): string {
  if (!inUnitedStates(need)) return '';
  const files = tilesFor(need).filter(({ kind }) => kind === 'elevation');
  const fine = files.filter(({ name }) => name.startsWith('USGS_1M'));
  const coarse = files.filter(({ name }) => !name.startsWith('USGS_1M'));
  return `for this boundary: ${listed(fine)} (1 m cells, where the ground was flown), else ${listed(coarse)} (about 10 m)`;
}
