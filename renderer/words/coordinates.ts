import proj4 from 'proj4';
import type { FrameSummary } from '../../electron/service/contract.ts';

export interface Geographic {
  longitude: number;
  latitude: number;
}

/** Frame coordinates (m) to degrees, WGS 84, and back, by the frame's own definition. */
export function geographer(frame: Pick<FrameSummary, 'proj4'>): {
  toGeographic(x: number, y: number): Geographic;
  toFrame(place: Geographic): [number, number];
} {
  const converter = proj4(frame.proj4, 'WGS84');
  return {
    toGeographic: (x, y) => {
      const [longitude, latitude] = converter.forward([x, y]) as [number, number];
      return { longitude, latitude };
    },
    toFrame: ({ longitude, latitude }) => converter.inverse([longitude, latitude]) as [number, number],
  };
}

/** The ways a place is written, by the name a person reads. */
export const COORDINATE_STYLES = {
  decimal: 'Degrees',
  minutes: 'Degrees, minutes',
  utm: 'UTM',
  mgrs: 'MGRS',
} as const;
export type CoordinateStyle = keyof typeof COORDINATE_STYLES;

/** A place of the frame in the style asked for. */
export function placeText(style: CoordinateStyle, place: Geographic): string {
  switch (style) {
    case 'decimal':
      return degrees(place);
    case 'minutes':
      return degreesMinutes(place);
    case 'utm':
      return utm(place);
    case 'mgrs':
      return mgrs(place);
  }
}

/** `39.42318° N, 82.11077° W`: five decimals are about a yard, the honest most of a map like this. */
export function degrees({ longitude, latitude }: Geographic): string {
  const part = (value: number, positive: string, negative: string) =>
    `${Math.abs(value).toFixed(5)}° ${value < 0 ? negative : positive}`;
  return `${part(latitude, 'N', 'S')}, ${part(longitude, 'E', 'W')}`;
}

/** `39° 25.391′ N, 82° 06.646′ W`: a thousandth of a minute is about two yards. */
export function degreesMinutes({ longitude, latitude }: Geographic): string {
  const part = (value: number, positive: string, negative: string) => {
    // Rounded once, so that 59.9996′ becomes the next degree and never 60.000′.
    const thousandths = Math.round(Math.abs(value) * 60_000);
    const whole = Math.floor(thousandths / 60_000);
    const minutes = ((thousandths % 60_000) / 1000).toFixed(3).padStart(6, '0');
    return `${whole}° ${minutes}′ ${value < 0 ? negative : positive}`;
  };
  return `${part(latitude, 'N', 'S')}, ${part(longitude, 'E', 'W')}`;
}

/** `16 N 573204 E 4364020 N`, or the code with the numbers where the frame is no UTM zone. */
export function gridCoordinates(epsg: number, x: number, y: number): string {
  const numbers = `${Math.floor(x)} E ${Math.floor(y)} N`;
  const zone = utmZone(epsg);
  return zone ? `UTM ${zone} ${numbers}` : `EPSG:${epsg} ${numbers}`;
}

/** `16N` for the WGS 84, NAD83 and ETRS89 families of UTM codes; null for any other frame. */
export function utmZone(epsg: number): string | null {
  const families: [number, number, number, string][] = [
    [32601, 32660, 32600, 'N'],
    [32701, 32760, 32700, 'S'],
    [26901, 26923, 26900, 'N'],
    [25828, 25838, 25800, 'N'],
  ];
  for (const [first, last, base, half] of families)
    if (epsg >= first && epsg <= last) return `${epsg - base}${half}`;
  return null;
}

/** UTM covers the earth between these parallels. */
const inUtm = (latitude: number): boolean => latitude >= -80 && latitude <= 84;

const ofZone = (zone: number, north: boolean) =>
  proj4('WGS84', `+proj=utm +zone=${zone}${north ? '' : ' +south'} +datum=WGS84 +units=m +no_defs`);

interface Utm {
  zone: number;
  north: boolean;
  easting: number;
  northing: number;
}

/** The place in the zone it belongs to, the odd zones of Norway and Svalbard included. */
function toUtm({ longitude, latitude }: Geographic): Utm {
  const zone = Number.parseInt(proj4.mgrs.forward([longitude, latitude]), 10);
  const north = latitude >= 0;
  const [easting, northing] = ofZone(zone, north).forward([longitude, latitude]) as [number, number];
  return { zone, north, easting, northing };
}

/** `16N 573204 E 4364020 N` on WGS 84, whole metres cut, not rounded; degrees beyond UTM's reach. */
export function utm(place: Geographic): string {
  if (!inUtm(place.latitude)) return degrees(place);
  const { zone, north, easting, northing } = toUtm(place);
  return `${zone}${north ? 'N' : 'S'} ${Math.floor(easting)} E ${Math.floor(northing)} N`;
}

/**
 * `16S EJ 71010 64110`, to a metre. The standard cuts digits, the library rounds them, so it is given the corner
 * of the metre the place lies in (NGA.STND.0037, Universal Grids and Grid Reference Systems).
 */
export function mgrs(place: Geographic): string {
  if (!inUtm(place.latitude)) return degrees(place);
  const { zone, north, easting, northing } = toUtm(place);
  const corner = ofZone(zone, north).inverse([Math.floor(easting), Math.floor(northing)]) as [number, number];
  const [, band, square, east, up] = /^(\d+[A-Z])([A-Z]{2})(\d{5})(\d{5})$/.exec(proj4.mgrs.forward(corner))!;
  return `${band} ${square} ${east} ${up}`;
}

/**
 * Reads a typed position, latitude first: `39.42318, -82.11077`, with letters, with minutes or seconds
 * (`39° 25.391′ N, 82° 06.646′ W`), as UTM (`17N 404345 4364412`) or as MGRS (`17S MD 04345 64412`, the middle of
 * the square it names). Null where the text is not a position.
 */
export function parsePosition(text: string): Geographic | null {
  return parseGrid(text) ?? parseDegrees(text);
}

function parseGrid(text: string): Geographic | null {
  const reference = /^\s*(\d{1,2}[C-HJ-NP-X])\s*([A-HJ-NP-Z][A-HJ-NP-V])\s*([\d\s]+?)\s*$/i.exec(text);
  if (reference) {
    const digits = reference[3]!.replace(/\s/g, '');
    if (digits.length % 2 === 1 || digits.length > 10) return null;
    try {
      const [longitude, latitude] = proj4.mgrs.toPoint(
        `${reference[1]}${reference[2]}${digits}`.toUpperCase(),
      ) as [number, number];
      return inRange(longitude, latitude);
    } catch {
      // A square that its zone does not have.
      return null;
    }
  }
  const metres =
    /^\s*(?:UTM\s*)?(\d{1,2})\s*([NS])\s+(\d{6}(?:\.\d+)?)\s*m?E?\s*[,\s]\s*(\d{1,8}(?:\.\d+)?)\s*m?N?\s*$/i.exec(
      text,
    );
  if (!metres) return null;
  const zone = Number(metres[1]);
  if (zone < 1 || zone > 60) return null;
  const [longitude, latitude] = ofZone(zone, metres[2]!.toUpperCase() === 'N').inverse([
    Number(metres[3]),
    Number(metres[4]),
  ]) as [number, number];
  return inRange(longitude, latitude);
}

const ANGLE = String.raw`(-?\d+(?:\.\d+)?)\s*°?\s*(?:(\d+(?:\.\d+)?)\s*['′]\s*)?(?:(\d+(?:\.\d+)?)\s*["″]\s*)?`;
const DEGREES = new RegExp(`^\\s*${ANGLE}([NS])?\\s*[,;\\s]\\s*${ANGLE}([EW])?\\s*$`, 'i');

function parseDegrees(text: string): Geographic | null {
  const match = DEGREES.exec(text);
  if (!match) return null;
  const signed = (at: number, negative: string): number => {
    const [whole, minutes, seconds] = [match[at]!, Number(match[at + 1] ?? 0), Number(match[at + 2] ?? 0)];
    if (minutes >= 60 || seconds >= 60) return Number.NaN;
    const size = Math.abs(Number(whole)) + minutes / 60 + seconds / 3600;
    const south = match[at + 3]?.toUpperCase() === negative;
    return whole.startsWith('-') !== south ? -size : size;
  };
  return inRange(signed(5, 'W'), signed(1, 'S'));
}

const inRange = (longitude: number, latitude: number): Geographic | null =>
  Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180 ? { latitude, longitude } : null;
