import { globals } from 'geotiff';
import {
  type Crs,
  crsOfEpsg,
  crsOfProj4,
  crsOfWkt,
  type LengthUnit,
  METRES,
  unitInWords,
  verticalUnitOfEpsg,
} from './crs.ts';
import { refusal } from './refusal.ts';

export type GeoKeys = Record<string, unknown>;

/** GeoTIFF keys from the bytes of their three tables, as LAS files carry them (little endian). */
export function geoKeysOf(directory: Uint8Array, doubles?: Uint8Array, ascii?: Uint8Array): GeoKeys {
  const table = new DataView(directory.buffer, directory.byteOffset, directory.byteLength);
  const names = globals.geoKeyNames as Record<number, string>;
  const keys: GeoKeys = {};
  for (let at = 8; at + 8 <= table.byteLength; at += 8) {
    const [key, location, count, value] = [0, 2, 4, 6].map((step) => table.getUint16(at + step, true)) as [
      number,
      number,
      number,
      number,
    ];
    const name = names[key];
    if (!name) continue;
    if (location === 0) keys[name] = value;
    else if (location === 34736 && doubles && (value + 1) * 8 <= doubles.byteLength)
      keys[name] = new DataView(doubles.buffer, doubles.byteOffset).getFloat64(value * 8, true);
    else if (location === 34737 && ascii)
      keys[name] = new TextDecoder().decode(ascii.subarray(value, value + count)).replace(/[|\0]+$/, '');
  }
  return keys;
}

const USER_DEFINED = 32767;
const UNIT_CODES: Record<number, LengthUnit> = { 9001: 'metre', 9002: 'foot', 9003: 'us-survey-foot' };
const PROJ_UNITS: Record<LengthUnit, string> = { metre: 'm', foot: 'ft', 'us-survey-foot': 'us-ft' };
const code = (keys: GeoKeys, name: string): number | null => {
  const value = keys[name];
  return typeof value === 'number' && value > 0 ? value : null;
};
const real = (keys: GeoKeys, ...names: string[]): number | null => {
  for (const name of names) {
    const raw = keys[name];
    const value = typeof raw === 'number' ? raw : (raw as ArrayLike<number> | undefined)?.[0];
    if (typeof value === 'number' && Number.isFinite(value)) return value;
  }
  return null;
};

/**
 * Coordinate system of a GeoTIFF from its keys (OGC 19-008). A user-defined system is built where its datum and
 * projection are stated as codes and parameters.
 * @param override EPSG code the person stated in property.json, used instead of the file's keys
 * @param key of that answer, named in the fix
 * @throws Problem naming the fix when the file states none, or one that cannot be used.
 */
export function crsOfGeoKeys(
  keys: GeoKeys | null,
  file: string,
  override: number | null,
  key = 'elevationEpsg',
): Crs {
  if (override !== null) return crsOfEpsg(override, file);
  const projected = keys && code(keys, 'ProjectedCSTypeGeoKey');
  const geographic = keys && code(keys, 'GeographicTypeGeoKey');
  if (keys && projected && projected !== USER_DEFINED) return crsOfEpsg(projected, file);
  const model = keys ? code(keys, 'GTModelTypeGeoKey') : null;
  if (keys && (projected === USER_DEFINED || model === 1)) {
    // Some writers put the whole definition into a citation, after the words "ESRI PE String".
    const wkt = /PROJCS\s*\[.*/s.exec(citationOf(keys))?.[0];
    if (wkt) return crsOfWkt(wkt, file);
    const definition = userDefined(keys);
    if (definition) return crsOfProj4(definition.proj4, definition.name, file, definition.datum);
    throw refusal(`${file}: its coordinate system is described in words this program cannot use`, {
      file,
      fix: `reproject the file to UTM on NAD83 in metres, or state its EPSG code in property.json under answers as ${key}`,
    });
  }
  if (keys && geographic && geographic !== USER_DEFINED) return crsOfEpsg(geographic, file);
  throw refusal(`${file} does not say which coordinate system it is in`, {
    file,
    fix: `download it again as a GeoTIFF with its projection, or state its EPSG code in property.json under answers as ${key} (26916 is NAD83 UTM zone 16)`,
  });
}

const citationOf = (keys: GeoKeys): string =>
  ['PCSCitationGeoKey', 'GTCitationGeoKey', 'GeogCitationGeoKey']
    .map((name) => keys[name])
    .filter((value) => typeof value === 'string')
    .join(' | ');

const DATUMS: [test: RegExp, name: string, proj: string][] = [
  [/NAD.?27|1927/i, 'NAD27', '+datum=NAD27'],
  [/NAD.?83|1983/i, 'NAD83', '+ellps=GRS80'],
  [/WGS.?(19)?84/i, 'WGS 84', '+datum=WGS84'],
];

function userDefined(keys: GeoKeys): { proj4: string; name: string; datum: string } | null {
  const geographic = code(keys, 'GeographicTypeGeoKey');
  const citation = citationOf(keys);
  const words = `${geographic ?? ''} ${keys.GeogCitationGeoKey ?? ''} ${citation}`;
  const known: Record<number, number> = { 4267: 0, 4269: 1, 6318: 1, 4326: 2 };
  const datum = DATUMS[known[geographic ?? 0] ?? -1] ?? DATUMS.find(([test]) => test.test(words));
  if (!datum) return null;

  const unit = UNIT_CODES[code(keys, 'ProjLinearUnitsGeoKey') ?? 9001] ?? null;
  const metresPerUnit = real(keys, 'ProjLinearUnitSizeGeoKey');
  const units = unit ? `+units=${PROJ_UNITS[unit]}` : metresPerUnit ? `+to_meter=${metresPerUnit}` : null;
  const projection = projectionOf(keys, metresPerUnit ?? METRES[unit ?? 'metre']);
  if (!projection || !units) return null;
  return {
    proj4: `${projection} ${datum[2]} ${units} +no_defs`,
    name: citation || `a projection on ${datum[1]}`,
    datum: datum[1],
  };
}

/** `+proj` and its parameters; false origins are in the file's linear unit and PROJ wants metres. */
function projectionOf(keys: GeoKeys, metres: number): string | null {
  const utm = code(keys, 'ProjectionGeoKey');
  if (utm !== null && utm > 16000 && utm <= 16060) return `+proj=utm +zone=${utm - 16000}`;
  if (utm !== null && utm > 16100 && utm <= 16160) return `+proj=utm +zone=${utm - 16100} +south`;
  const lon = real(keys, 'ProjNatOriginLongGeoKey', 'ProjFalseOriginLongGeoKey', 'ProjCenterLongGeoKey') ?? 0;
  const lat = real(keys, 'ProjNatOriginLatGeoKey', 'ProjFalseOriginLatGeoKey', 'ProjCenterLatGeoKey') ?? 0;
  const x = (real(keys, 'ProjFalseEastingGeoKey', 'ProjFalseOriginEastingGeoKey') ?? 0) * metres;
  const y = (real(keys, 'ProjFalseNorthingGeoKey', 'ProjFalseOriginNorthingGeoKey') ?? 0) * metres;
  const scale = real(keys, 'ProjScaleAtNatOriginGeoKey') ?? 1;
  const first = real(keys, 'ProjStdParallel1GeoKey');
  const second = real(keys, 'ProjStdParallel2GeoKey');
  const origin = `+lat_0=${lat} +lon_0=${lon} +x_0=${x} +y_0=${y}`;
  switch (code(keys, 'ProjCoordTransGeoKey')) {
    case 1:
      return `+proj=tmerc ${origin} +k=${scale}`;
    case 7:
      return `+proj=merc +lon_0=${lon} +x_0=${x} +y_0=${y} +k=${scale}`;
    case 8:
      return first === null ? null : `+proj=lcc ${origin} +lat_1=${first} +lat_2=${second ?? first}`;
    case 9:
      return `+proj=lcc ${origin} +lat_1=${lat} +k_0=${scale}`;
    case 10:
      return `+proj=laea ${origin}`;
    case 11:
      return first === null ? null : `+proj=aea ${origin} +lat_1=${first} +lat_2=${second ?? first}`;
    default:
      return null;
  }
}

/** Vertical unit a GeoTIFF's keys state, or null. */
export function verticalUnitOfKeys(keys: GeoKeys | null): LengthUnit | null {
  if (!keys) return null;
  const stated = code(keys, 'VerticalUnitsGeoKey');
  if (stated && UNIT_CODES[stated]) return UNIT_CODES[stated];
  const vertical = code(keys, 'VerticalCSTypeGeoKey');
  const byCode = vertical && vertical !== USER_DEFINED ? verticalUnitOfEpsg(vertical) : null;
  // Else the words of the citation, such as `NAVD88 height (ftUS)` or `NAVD88 - Geoid18 (Meters)`.
  const words = /\(([^()]*)\)[^()]*$/.exec(String(keys.VerticalCitationGeoKey ?? ''))?.[1];
  return byCode ?? unitInWords(words ?? null);
}
