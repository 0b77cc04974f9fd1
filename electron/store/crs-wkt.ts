import { createRequire } from 'node:module';

/** Well-known text (OGC 01-009) of the systems a property file names. */

const require = createRequire(import.meta.url);

const geographic = (authority: string): string =>
  `GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],${authority}AUTHORITY["EPSG","4326"]]`;

export const WGS84_WKT = geographic('AXIS["Latitude",NORTH],AXIS["Longitude",EAST],');

/** Zone of a WGS 84 UTM code: 1..60, and which side of the equator; null for other codes. */
function utmOf(epsg: number): { zone: number; south: boolean } | null {
  if (epsg > 32600 && epsg <= 32660) return { zone: epsg - 32600, south: false };
  if (epsg > 32700 && epsg <= 32760) return { zone: epsg - 32700, south: true };
  return null;
}

const entryOf = (epsg: number): { name: string; wkt: string | null } =>
  require(`epsg-index/s/${epsg}.json`) as { name: string; wkt: string | null };

export function crsName(epsg: number): string {
  const utm = utmOf(epsg);
  return utm ? `WGS 84 / UTM zone ${utm.zone}${utm.south ? 'S' : 'N'}` : entryOf(epsg).name;
}

export function crsWkt(epsg: number): string {
  const utm = utmOf(epsg);
  if (!utm) return entryOf(epsg).wkt ?? 'undefined';
  return `PROJCS["${crsName(epsg)}",${geographic('')},PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",${utm.zone * 6 - 183}],PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],PARAMETER["false_northing",${utm.south ? 10000000 : 0}],UNIT["metre",1,AUTHORITY["EPSG","9001"]],AXIS["Easting",EAST],AXIS["Northing",NORTH],AUTHORITY["EPSG","${epsg}"]]`;
}
