import { transform, utmCrs, utmZoneAt, WGS84 } from './crs.ts';
import type { Box } from './placement.ts';

/** One public file a property needs, by the name its publisher gives it. */
export interface WantedFile {
  kind: 'elevation' | 'imagery' | 'land cover';
  /** How its published name starts, or holds. */
  name: string;
  /** What it is and where in its series, in plain words. */
  what: string;
}

/** Conterminous United States, roughly: outside it the national series named here do not reach. */
export const inUnitedStates = ([west, south, east, north]: Box): boolean =>
  west > -125 && east < -66 && south > 24 && north < 50;

/** Ground around a boundary that the analysis needs too, degrees of a box grown by `margin` metres. */
export function grown([west, south, east, north]: Box, margin: number): Box {
  const degrees = margin / 111_195;
  const across = degrees / Math.cos((((south + north) / 2) * Math.PI) / 180);
  return [west - across, south - degrees, east + across, north + degrees];
}

/**
 * Public tiles that cover a box of degrees in the conterminous United States, by their published names:
 * - elevation at 1/3 arc-second in 1-degree squares named by their north-west corner (USGS, `USGS_13_n37w085`);
 * - elevation at 1 m in 10 km squares of the UTM grid named by their north-west corner in units of 10 km (USGS,
 *   `USGS_1M_16_x74y406`), where the ground was flown;
 * - photos in quarter quadrangles of 3.75 minutes: `m_`, degree of the south-east corner of the 1-degree square,
 *   number 01 to 64 of the 7.5-minute quadrangle in rows from its north-west corner, quarter (USDA, `m_3608434_ne`).
 * The naming rules are from memory.
 */
export function tilesFor(box: Box): WantedFile[] {
  return [...meterTiles(box), ...degreeTiles(box), ...quarterQuads(box), LAND_COVER];
}

const LAND_COVER: WantedFile = {
  kind: 'land cover',
  name: 'NLCD land cover',
  what: 'the newest year of the national land cover, clipped to the neighbourhood',
};

const span = (from: number, to: number): number[] =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i);
const digits = (value: number, count: number): string => String(value).padStart(count, '0');

function degreeTiles([west, south, east, north]: Box): WantedFile[] {
  return span(Math.floor(south) + 1, Math.ceil(north)).flatMap((top) =>
    span(Math.floor(west), Math.ceil(east) - 1).map((left): WantedFile => {
      const name = `USGS_13_n${digits(top, 2)}w${digits(-left, 3)}`;
      return { kind: 'elevation', name, what: 'elevation in cells of about 10 m' };
    }),
  );
}

function meterTiles(box: Box): WantedFile[] {
  const zone = utmZoneAt((box[0] + box[2]) / 2, (box[1] + box[3]) / 2);
  const project = transform(WGS84, utmCrs(zone).proj4);
  const corners = [
    project(box[0], box[1]),
    project(box[0], box[3]),
    project(box[2], box[1]),
    project(box[2], box[3]),
  ];
  const tens = (axis: 0 | 1) => corners.map((corner) => corner[axis] / 10_000);
  return span(Math.floor(Math.min(...tens(1))) + 1, Math.ceil(Math.max(...tens(1)))).flatMap((top) =>
    span(Math.floor(Math.min(...tens(0))), Math.ceil(Math.max(...tens(0))) - 1).map((left): WantedFile => {
      const name = `USGS_1M_${zone}_x${digits(left, 2)}y${digits(top, 3)}`;
      return {
        kind: 'elevation',
        name,
        what: 'elevation in cells of 1 m, where it was flown; far better than 10 m',
      };
    }),
  );
}

function quarterQuads([west, south, east, north]: Box): WantedFile[] {
  const side = 1 / 16;
  const files: WantedFile[] = [];
  for (const row of span(Math.floor(south / side), Math.ceil(north / side) - 1).reverse())
    for (const column of span(Math.floor(west / side), Math.ceil(east / side) - 1)) {
      const latitude = Math.floor(row * side);
      const left = Math.floor(column * side);
      // Quarters counted from the north-west corner of the 1-degree square.
      const down = 15 - (row - latitude / side);
      const across = column - left / side;
      const quad = Math.floor(down / 2) * 8 + Math.floor(across / 2) + 1;
      const quarter = `${down % 2 === 0 ? 'n' : 's'}${across % 2 === 0 ? 'w' : 'e'}`;
      const name = `m_${digits(latitude, 2)}${digits(-left - 1, 3)}${digits(quad, 2)}_${quarter}`;
      files.push({
        kind: 'imagery',
        name,
        what: '4-band aerial photo of the newest year; leaves off shows evergreens, leaves on shows canopy',
      });
    }
  return files;
}

/** A file someone has already: what it is for, its name, and the box of degrees it covers. */
export interface HeldFile {
  kind: WantedFile['kind'];
  name: string;
  box: Box;
}

/**
 * Checks off what is there: a tile whose name was given, and every tile of a kind when the files of that kind
 * cover the whole need, whatever they are called.
 */
export function checkOff(
  wanted: WantedFile[],
  held: HeldFile[],
  need: Box,
): (WantedFile & { have: boolean })[] {
  const covered = (kind: WantedFile['kind']) =>
    coversAll(
      held.filter((file) => file.kind === kind).map((file) => file.box),
      need,
    );
  return wanted.map((file) => ({
    ...file,
    have: held.some(({ name }) => name.toLowerCase().includes(file.name.toLowerCase())) || covered(file.kind),
  }));
}

/** Whether boxes together hold every one of a net of points over the need. */
function coversAll(boxes: Box[], [west, south, east, north]: Box): boolean {
  const steps = 32;
  for (let j = 0; j <= steps; j++)
    for (let i = 0; i <= steps; i++) {
      const x = west + ((east - west) * i) / steps;
      const y = south + ((north - south) * j) / steps;
      if (!boxes.some((box) => x >= box[0] && x <= box[2] && y >= box[1] && y <= box[3])) return false;
    }
  return true;
}

/** Names in one line, the rest counted. */
export function listed(files: WantedFile[], most = 4): string {
  const names = files.slice(0, most).map(({ name }) => name);
  return files.length > most ? `${names.join(', ')} and ${files.length - most} more` : names.join(', ');
}
