import { cellCount, type Frame, MOST_CELLS } from '../../core/grid/frame.ts';
import { gigabytes } from './blocks.ts';
import { crsDefinition, transform, utmCrs, utmZoneAt, WGS84 } from './crs.ts';
import {
  type Box,
  boxIn,
  centreOf,
  footprint,
  grow,
  isPlain,
  ownCellSize,
  type Placed,
  significant,
  union,
} from './placement.ts';
import { refusal } from './refusal.ts';

const round = (value: number): number => significant(value, 3);
const SLACK = 1e-6;

export interface FrameChoice {
  frame: Frame;
  notes: string[];
}

/**
 * The one grid a property is brought onto: the elevation's own where that is a UTM grid on WGS 84 or NAD83 in
 * metres and the cell size is kept, else the UTM zone of the property's middle.
 * @param rasters elevation tiles, finest first
 * @param lonLatBox of the boundary, degrees, or null for the whole raster
 * @param cellSize wanted, m; null keeps the elevation's own
 * @param margin ground kept around the boundary, m
 * @throws Problem when the boundary lies off the raster, or the grid would be too large to hold
 */
export function chooseFrame(
  rasters: Placed[],
  lonLatBox: Box | null,
  cellSize: number | null,
  margin: number,
): FrameChoice {
  const first = rasters[0]!;
  const notes: string[] = [];
  const [longitude, latitude] = lonLatBox
    ? [(lonLatBox[0] + lonLatBox[2]) / 2, (lonLatBox[1] + lonLatBox[3]) / 2]
    : centreOf(first);
  const utm = utmCrs(first.crs.utmZone ?? utmZoneAt(longitude, latitude));
  const own = ownCellSize(first);
  const side = cellSize ?? own;
  if (!(side > 0))
    throw refusal('the cell size must be more than 0 m', { fix: 'give cellSize in metres, or null' });
  if (cellSize !== null && cellSize < own * 0.99)
    notes.push(
      `The cell size of ${cellSize} m is finer than the elevation's own ${round(own)} m; it adds no detail to the ground`,
    );

  // On the elevation's own zone, cells that are a whole number of its cells (or one of a whole number) start where
  // its cells do: kept as they are, or averaged without cutting any.
  const times = Math.max(side / first.affine[1], first.affine[1] / side);
  const aligned = first.crs.utmZone !== null && isPlain(first) && Math.abs(times - Math.round(times)) < 1e-9;
  const originX = aligned ? first.affine[0] : 0;
  const originY = aligned ? first.affine[3] : 0;
  const cells = (box: Box) => ({
    west: Math.floor((box[0] - originX) / side + SLACK),
    east: Math.ceil((box[2] - originX) / side - SLACK),
    top: Math.floor((originY - box[3]) / side + SLACK),
    bottom: Math.ceil((originY - box[1]) / side - SLACK),
  });
  let range = cells(union(rasters.map((raster) => footprint(raster, utm.proj4))));
  if (lonLatBox) {
    const wanted = cells(grow(boxIn(lonLatBox, WGS84, utm.proj4), margin));
    range = {
      west: Math.max(range.west, wanted.west),
      east: Math.min(range.east, wanted.east),
      top: Math.max(range.top, wanted.top),
      bottom: Math.min(range.bottom, wanted.bottom),
    };
  }
  const width = range.east - range.west;
  const height = range.bottom - range.top;
  if (width < 3 || height < 3) tooSmall(first, lonLatBox !== null);
  const frame: Frame = {
    epsg: utm.epsg,
    west: originX + range.west * side,
    north: originY - range.top * side,
    cellSize: side,
    width,
    height,
    longitude: 0,
    latitude: 0,
    convergence: 0,
  };
  if (cellCount(frame) > MOST_CELLS) tooLarge(frame, rasters, lonLatBox !== null);
  return { frame: placed(frame), notes };
}

function tooSmall(raster: Placed, bounded: boolean): never {
  if (bounded)
    throw refusal(`the boundary lies outside ${raster.name}: the two do not overlap`, {
      file: raster.name,
      fix: 'fetch elevation that covers the property, or check the coordinates of the boundary',
    });
  throw refusal(`${raster.name} is only a few cells across`, {
    file: raster.name,
    fix: 'use elevation that covers the property and half a mile around it, or a smaller cell size',
  });
}

function tooLarge(frame: Frame, rasters: Placed[], bounded: boolean): never {
  const claimed = rasters.reduce((sum, { claimedBytes }) => sum + claimedBytes, 0);
  const enough = frame.cellSize * Math.sqrt(cellCount(frame) / MOST_CELLS);
  const nice = enough > 10 ? Math.ceil(enough) : Math.ceil(enough * 10) / 10;
  throw refusal(
    `the property would be ${frame.width} x ${frame.height} cells of ${round(frame.cellSize)} m (the elevation claims ${gigabytes(claimed)} of pixels); at most ${MOST_CELLS / 1e6} million cells are worked on`,
    {
      file: rasters[0]!.name,
      fix: `${bounded ? '' : 'add a boundary around the ground that matters, or '}set cellSize to ${nice} m or more in property.json`,
    },
  );
}

/** Fills in where the frame's middle lies and how far its grid north is turned there. */
export function placed(frame: Frame): Frame {
  const toLonLat = transform(crsDefinition(frame.epsg), WGS84);
  const x = frame.west + (frame.width * frame.cellSize) / 2;
  const y = frame.north - (frame.height * frame.cellSize) / 2;
  const [longitude, latitude] = toLonLat(x, y);
  return { ...frame, longitude, latitude, convergence: convergenceAt(toLonLat, x, y) };
}

/** Bearing of grid north clockwise from true north, degrees, from the true bearing of a short step up the grid. */
function convergenceAt(toLonLat: (x: number, y: number) => [number, number], x: number, y: number): number {
  const step = 50;
  const [lon0, lat0] = toLonLat(x, y - step);
  const [lon1, lat1] = toLonLat(x, y + step);
  // Radii of curvature of the WGS 84 ellipsoid along the parallel and along the meridian.
  const eccentricity2 = 0.00669437999014;
  const sine = Math.sin((((lat0 + lat1) / 2) * Math.PI) / 180);
  const w2 = 1 - eccentricity2 * sine * sine;
  const east = (lon1 - lon0) * Math.sqrt(1 - sine * sine);
  const north = ((lat1 - lat0) * (1 - eccentricity2)) / w2;
  return (Math.atan2(east, north) * 180) / Math.PI;
}
