import { frameExtent } from '../../core/grid/frame.ts';
import { crsDefinition, WGS84 } from '../readers/crs.ts';
import { type Box, boxIn } from '../readers/placement.ts';
import { checkOff, type HeldFile, inUnitedStates, tilesFor, type WantedFile } from '../readers/to-fetch.ts';
import type { FetchItem } from './contract.ts';
import type { OpenProperty } from './open-property.ts';

/** Cells wider than this cannot show a creek bed or a saddle deer use. Our assumption, as the readers have it. */
const COARSE_METRES = 5;
/** A source that leaves less than this share of the map bare covers it. */
const BARE = 0.01;

const COST: Record<FetchItem['kind'], string> = {
  elevation: 'The ground stage has holes here; nothing can be said of water, travel or air in them.',
  imagery: 'Cover is then known from land-cover codes or not at all, and edges of timber are not found.',
  'land cover':
    'Cover then rests on the photo alone: crops, wet ground and brush are told apart less surely.',
  wind: 'Without a wind record no stand can be rated by wind direction, season or hour.',
};
const FINE_COST =
  'Coarser cells smooth creek beds, benches and saddles away, so that necks and air in bottoms are guesses there.';

/** The public files a property's ground needs, by their published names, checked off against what it was made from. */
export function toFetch({ input, head }: OpenProperty): FetchItem[] {
  const { elevation, imagery, landcover, wind } = input.sources;
  const { frame } = elevation;
  const need = boxIn(frameExtent(frame), crsDefinition(frame.epsg), WGS84);
  const wanted = inUnitedStates(need) ? tilesFor(need) : [];
  const nowhere: Box = [0, 0, 0, 0];
  const named = head.files.flatMap(({ name }) =>
    (['elevation', 'imagery', 'land cover'] as const).map((kind): HeldFile => ({ kind, name, box: nowhere })),
  );
  const covering = (kind: HeldFile['kind'], covers: boolean): HeldFile[] =>
    covers ? [{ kind, name: '', box: need }] : [];
  const held = [
    ...named,
    ...covering('elevation', bare(elevation.cells, Number.isNaN) < BARE),
    ...covering('imagery', imagery !== null && bare(imagery.valid, (value) => value === 0) < BARE),
    ...covering('land cover', landcover !== null && bare(landcover.cells, (value) => value === 0) < BARE),
  ];
  const coarse = frame.cellSize > COARSE_METRES;
  const isFine = ({ name }: WantedFile) => name.startsWith('USGS_1M');
  const byName = checkOff(wanted, named, need);
  const items = checkOff(wanted, held, need).map(({ kind, name, what, have }, index): FetchItem => {
    const fine = isFine(wanted[index]!);
    // Coarse elevation covers the ground and still does not meet the need for fine cells.
    const there = fine && coarse ? byName[index]!.have : have;
    return { kind, name, what, have: there, cost: there ? null : fine ? FINE_COST : COST[kind] };
  });
  return [
    ...items,
    {
      kind: 'wind',
      name: 'ISD-Lite, station-year.gz',
      what: 'five years or more of hourly wind of the nearest weather stations in like ground',
      have: wind !== null,
      cost: wind ? null : COST.wind,
    },
  ];
}

function bare(cells: ArrayLike<number>, isBare: (value: number) => boolean): number {
  let count = 0;
  for (let i = 0; i < cells.length; i++) if (isBare(cells[i]!)) count++;
  return count / cells.length;
}
