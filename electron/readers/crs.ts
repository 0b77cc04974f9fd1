import { createRequire } from 'node:module';
import proj4 from 'proj4';
import { refusal } from './refusal.ts';

export type LengthUnit = 'metre' | 'foot' | 'us-survey-foot';

/** Metres in one unit; the US survey foot is 1200/3937 m exactly. */
export const METRES: Record<LengthUnit, number> = {
  metre: 1,
  foot: 0.3048,
  'us-survey-foot': 1200 / 3937,
};

/** The length unit a word names, or null. A bare `foot` is the international one; the two differ by 2 parts in a million. */
export function unitInWords(words: string | null): LengthUnit | null {
  const word = (words ?? '')
    .trim()
    .toLowerCase()
    .replaceAll(/[_\s-]+/g, ' ');
  if (/^(m|met(er|re)s?)$/.test(word)) return 'metre';
  if (/^(us ft|ftus|us foot|us feet|us survey (foot|feet)|(foot|feet) us|survey (foot|feet))$/.test(word))
    return 'us-survey-foot';
  if (/^(ft|foot|feet|international (foot|feet)|intl (foot|feet))$/.test(word)) return 'foot';
  return null;
}

/** A coordinate reference system the readers can bring onto a property frame. */
export interface Crs {
  epsg: number | null;
  name: string;
  proj4: string;
  geographic: boolean;
  /** Set when the grid is a UTM zone in metres on WGS 84 or NAD83: positive north, negative south. */
  utmZone: number | null;
  /** Unit of heights, where a compound system states it. */
  verticalUnit: LengthUnit | null;
  /** What the person should know about the datum, or null. */
  note: string | null;
}

interface Entry {
  kind: string;
  name: string;
  wkt: string | null;
  proj4: string | null;
}

const require = createRequire(import.meta.url);
const REPROJECT = 'reproject the file to UTM on NAD83 or WGS 84 in metres and open that';

/** One small file of the bundled table per code, so that opening a property does not load all 8000. */
function entryOf(code: number): Entry | null {
  if (!Number.isInteger(code) || code < 1024) return null;
  try {
    return require(`epsg-index/s/${code}.json`) as Entry;
  } catch {
    return null;
  }
}

const VERTICAL: Record<string, LengthUnit> = { m: 'metre', ft: 'foot', 'us-ft': 'us-survey-foot' };

/**
 * The system behind an EPSG code of the bundled table (epsg-index).
 *
 * Datum rule: WGS 84 as it is; the NAD83 family and other earth-centred datums without a stated shift are taken
 * as WGS 84, which is right within about 2 m, and said; a datum with the table's 3 or 7 shift parameters is moved
 * by them, and said; NAD27 and every datum that needs a grid of shifts is refused.
 * @throws Problem for a code that is not in the table, not map coordinates, or on a refused datum.
 */
export function crsOfEpsg(code: number, file: string): Crs {
  const entry = entryOf(code);
  if (!entry)
    throw refusal(`${file}: EPSG code ${code} is not in the table of coordinate systems`, {
      file,
      fix: `${REPROJECT}, or state the right code in property.json under answers as elevationEpsg`,
    });
  const { name } = entry;
  const kind = entry.kind.replace('CRS-', '');
  if (!entry.proj4 || !['PROJCRS', 'GEOGCRS', 'GEOG3DCRS', 'COMPOUNDCRS'].includes(kind))
    throw refusal(`${file}: EPSG ${code} (${name}) does not describe positions on a map`, {
      file,
      fix: REPROJECT,
    });
  const crs = crsOfProj4(entry.proj4, `${name} (EPSG ${code})`, file, datumName(entry));
  return { ...crs, epsg: code };
}

/** Unit of heights in a vertical or compound system of the table, or null. */
export function verticalUnitOfEpsg(code: number): LengthUnit | null {
  return VERTICAL[/\+vunits=(\S+)/.exec(entryOf(code)?.proj4 ?? '')?.[1] ?? ''] ?? null;
}

const datumName = (entry: Entry): string => /DATUM\["([^"]+)"/.exec(entry.wkt ?? '')?.[1] ?? entry.name;

const isNad27 = (text: string): boolean =>
  /NAD[ _]?27|North[ _]American[ _](Datum[ _])?(of[ _])?1927/i.test(text);
const isNad83 = (text: string): boolean =>
  /NAD[ _]?83|North[ _]American[ _](Datum[ _])?(of[ _])?1983/i.test(text);

/**
 * The system behind a PROJ definition; `datum` is its datum's name, used for the rule of `crsOfEpsg`.
 * @throws Problem when the datum is refused or the projection is not one proj4 knows.
 */
export function crsOfProj4(definition: string, name: string, file: string, datum = name): Crs {
  const value = (key: string) => new RegExp(`\\+${key}=("[^"]*"|\\S+)`).exec(definition)?.[1] ?? null;
  const refuse = (why: string): never => {
    throw refusal(`${file}: its coordinates are in ${name}, ${why}`, { file, fix: REPROJECT });
  };
  const grids = value('nadgrids');
  const plainDatum = value('datum');
  if (isNad27(name) || isNad27(datum) || plainDatum === 'NAD27')
    refuse('an old datum whose shift to WGS 84 needs grid files this program does not carry');
  if (grids && grids !== '@null')
    refuse('whose shift to WGS 84 needs grid files this program does not carry');
  if (value('proj') === 'geocent') refuse('which measures from the centre of the earth');

  const shift = value('towgs84');
  const shifted = shift !== null && /[1-9]/.test(shift);
  const ellipsoid = value('ellps');
  let note: string | null = null;
  let clean = definition.replace(/\+axis=neu\s*/, '').replace(/\+vunits=\S+\s*/, '');
  if (grids === '@null' || plainDatum === 'WGS84' || /World_Geodetic_System_1984|WGS_1984/.test(datum)) {
    // WGS 84 itself
  } else if (plainDatum === 'NAD83' || isNad83(name) || isNad83(datum)) {
    clean = clean.replace(/\+towgs84=\S+\s*/, '').replace('+datum=NAD83', '+ellps=GRS80');
    note = `${file}: NAD83 positions (${name}) are taken as WGS 84, which is right within 2 m`;
  } else if (shifted) {
    note = `${file}: ${name} is moved to WGS 84 by the published average shift of its datum, right within several metres`;
  } else if (ellipsoid === 'GRS80' || ellipsoid === 'WGS84') {
    clean = clean.replace(/\+towgs84=\S+\s*/, '');
    note = `${file}: positions in ${name} are taken as WGS 84, which is right within about 2 m`;
  } else if (shift === null) refuse('a datum whose shift to WGS 84 is not known here');

  const geographic = value('proj') === 'longlat' || value('proj') === 'latlong';
  const utmZone = shifted && !isNad83(datum) && !isNad83(name) ? null : utmZoneOf(clean);
  const crs: Crs = {
    epsg: null,
    name,
    // One spelling for a zone on WGS 84 and on NAD83, so that a grid on it needs no transform at all.
    proj4: utmZone === null ? clean.trim() : utmCrs(utmZone).proj4,
    geographic,
    utmZone,
    verticalUnit: VERTICAL[value('vunits') ?? ''] ?? null,
    note,
  };
  try {
    const [x, y] = proj4(crs.proj4, 'WGS84').inverse([...centreOf(crs)]) as [number, number];
    if (!Number.isFinite(x) || !Number.isFinite(y)) throw new Error('not finite');
  } catch {
    refuse('a projection this program cannot compute');
  }
  return crs;
}

/**
 * The system behind well-known text (the .prj of a Shapefile, a GeoPackage's definition); of a compound system, its
 * horizontal part.
 * @throws Problem by the datum rule of `crsOfEpsg`
 */
export function crsOfWkt(text: string, file: string): Crs {
  const wkt = part(text, /PROJCS|PROJCRS|GEOGCS|GEOGCRS/) ?? text;
  const code = /AUTHORITY\["EPSG",\s*"?(\d+)"?\]\]\s*$/i.exec(wkt.trim())?.[1];
  if (code) return crsOfEpsg(Number(code), file);
  const name = /^\s*\w+\[\s*"([^"]+)"/.exec(wkt)?.[1] ?? 'an unnamed system';
  const datum = /DATUM\[\s*"([^"]+)"/i.exec(wkt)?.[1] ?? name;
  const refuse = (why: string): never => {
    throw refusal(`${file}: its coordinates are in ${name}, ${why}`, { file, fix: REPROJECT });
  };
  if (isNad27(name) || isNad27(datum))
    refuse('an old datum whose shift to WGS 84 needs grid files this program does not carry');
  const wgs84 = /WGS_?(19)?84|World_Geodetic_System_1984/i.test(datum);
  const modern = isNad83(datum) || /ETRS|GDA|SIRGAS|ITRF|GRS_?(19)?80/i.test(wkt);
  if (!wgs84 && !modern) refuse('whose datum this program does not know');
  try {
    transform(wkt, WGS84)(0, 0);
  } catch {
    refuse('a projection this program cannot compute');
  }
  return {
    epsg: null,
    name,
    proj4: wkt,
    geographic: /^\s*GEOG/i.test(wkt),
    utmZone: null,
    verticalUnit: null,
    note: wgs84 ? null : `${file}: positions in ${name} are taken as WGS 84, which is right within about 2 m`,
  };
}

/** The first bracketed element of well-known text with one of these names, or null. */
function part(wkt: string, names: RegExp): string | null {
  const start = new RegExp(`(?:${names.source})\\s*\\[`).exec(wkt)?.index;
  if (start === undefined) return null;
  let depth = 0;
  for (let i = start; i < wkt.length; i++) {
    if (wkt[i] === '[') depth++;
    else if (wkt[i] === ']' && --depth === 0) return wkt.slice(start, i + 1);
  }
  return null;
}

/** Unit of heights that well-known text states, or null. */
export function verticalUnitOfWkt(wkt: string): LengthUnit | null {
  const vertical = part(wkt, /VERT_CS|VERTCRS/);
  const factor = /(?:LENGTH)?UNIT\[\s*"[^"]*"\s*,\s*([\d.]+)/.exec(vertical ?? '')?.[1];
  const units = Object.keys(METRES) as LengthUnit[];
  return units.find((unit) => factor !== undefined && Math.abs(Number(factor) - METRES[unit]) < 1e-8) ?? null;
}

/** A place near the middle of the system, degrees, to try the projection on. */
function centreOf(crs: Crs): [number, number] {
  const number = (key: string) => Number(new RegExp(`\\+${key}=(\\S+)`).exec(crs.proj4)?.[1] ?? Number.NaN);
  if (crs.utmZone) return [Math.abs(crs.utmZone) * 6 - 183, Math.sign(crs.utmZone) * 30];
  const longitude = number('lon_0');
  const latitude = [number('lat_0'), number('lat_1')].find((value) => Number.isFinite(value) && value !== 0);
  return [Number.isFinite(longitude) ? longitude + 0.5 : 0.5, latitude ?? 30];
}

/** The zone of a UTM grid in metres, also where it is spelled out as the transverse Mercator it is. */
function utmZoneOf(definition: string): number | null {
  if (!/\+units=m(\s|$)/.test(definition)) return null;
  const utm = /\+proj=utm.*\+zone=(\d+)/.exec(definition);
  if (utm) return definition.includes('+south') ? -Number(utm[1]) : Number(utm[1]);
  if (!definition.includes('+proj=tmerc')) return null;
  const value = (key: string) => Number(new RegExp(`\\+${key}=(\\S+)`).exec(definition)?.[1] ?? Number.NaN);
  const zone = (value('lon_0') + 183) / 6;
  const northing = value('y_0');
  const same = value('lat_0') === 0 && Math.abs(value('k') - 0.9996) < 1e-9 && value('x_0') === 500_000;
  if (!same || !Number.isInteger(zone) || zone < 1 || zone > 60) return null;
  return northing === 0 ? zone : northing === 10_000_000 ? -zone : null;
}

/** EPSG code and PROJ definition of a WGS 84 UTM zone; negative zones are south of the equator. */
export function utmCrs(zone: number): { epsg: number; proj4: string } {
  const number = Math.abs(zone);
  return {
    epsg: (zone > 0 ? 32600 : 32700) + number,
    proj4: `+proj=utm +zone=${number}${zone < 0 ? ' +south' : ''} +datum=WGS84 +units=m +no_defs`,
  };
}

export const utmZoneAt = (longitude: number, latitude: number): number => {
  const zone = Math.min(60, Math.max(1, Math.floor((longitude + 180) / 6) + 1));
  return latitude < 0 ? -zone : zone;
};

/** PROJ definition of a property frame's CRS. */
export function crsDefinition(epsg: number): string {
  if (epsg > 32600 && epsg <= 32660) return utmCrs(epsg - 32600).proj4;
  if (epsg > 32700 && epsg <= 32760) return utmCrs(32700 - epsg).proj4;
  return crsOfEpsg(epsg, 'property').proj4;
}

export type Transform = (x: number, y: number) => [number, number];

/** Coordinates of one system in another; degrees for geographic ones, the system's own unit otherwise. */
export function transform(from: string, to: string): Transform {
  if (from === to) return (x, y) => [x, y];
  const converter = proj4(from, to);
  return (x, y) => {
    const [a, b] = converter.forward([x, y]) as [number, number];
    return [a, b];
  };
}

export const WGS84 = '+proj=longlat +datum=WGS84 +no_defs';
