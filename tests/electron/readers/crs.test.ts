import { describe, expect, test } from 'vitest';
import type { Frame } from '../../../core/grid/frame.ts';
import {
  crsDefinition,
  crsOfEpsg,
  crsOfWkt,
  transform,
  utmZoneAt,
  WGS84,
} from '../../../electron/readers/crs.ts';
import { placed } from '../../../electron/readers/frame.ts';
import { crsOfGeoKeys, verticalUnitOfKeys } from '../../../electron/readers/geokeys.ts';
import { outside } from '../../outside.ts';
import { expected, problemOf } from './support.ts';

const PROJ = { room: 'readers', source: 'PROJ 9.1' };

describe('against PROJ (fixture)', () => {
  test('UTM coordinates within a millimetre', () => {
    const check = outside({ ...PROJ, method: 'UTM coordinates', unit: 'm', allowed: 1e-3 });
    for (const { longitude, latitude, epsg, x, y } of expected.points) {
      const [gotX, gotY] = transform(WGS84, crsDefinition(epsg))(longitude, latitude);
      check.compare(Math.hypot(gotX - x, gotY - y), 0);
      const zone = utmZoneAt(longitude, latitude);
      expect(epsg).toBe(zone > 0 ? 32600 + zone : 32700 - zone);
    }
    check.done();
  });

  test('convergence of a frame centred there within 1e-5 degrees', () => {
    const check = outside({ ...PROJ, method: 'Convergence of grid north', unit: 'degrees', allowed: 5e-6 });
    for (const { longitude, latitude, epsg, x, y, convergence } of expected.points) {
      const cellSize = 10;
      const bare: Frame = {
        epsg,
        west: x - 50 * cellSize,
        north: y + 40 * cellSize,
        cellSize,
        width: 100,
        height: 80,
        longitude: 0,
        latitude: 0,
        convergence: 0,
      };
      const frame = placed(bare);
      expect(frame.longitude).toBeCloseTo(longitude, 7);
      expect(frame.latitude).toBeCloseTo(latitude, 7);
      check.compare(frame.convergence, convergence);
    }
    check.done();
  });

  test('state plane, Albers, Mercator and UTM systems of the table within a millimetre', () => {
    const method = 'State plane, Albers, Mercator and UTM coordinates';
    const check = outside({ ...PROJ, method, unit: 'm', allowed: 2e-3 });
    for (const { epsg, longitude, latitude, x, y } of expected.systems) {
      const crs = crsOfEpsg(epsg, 'file');
      const [gotX, gotY] = transform(WGS84, crs.proj4)(longitude, latitude);
      check.compare(Math.hypot(gotX - x, gotY - y), 0);
    }
    check.done();
  });
});

describe('the datum rule', () => {
  test('WGS 84 needs no note; NAD83 and its realisations are taken as WGS 84 and said', () => {
    for (const code of [4326, 32616, 3857]) expect(crsOfEpsg(code, 'f').note).toBeNull();
    for (const code of [4269, 26916, 2274, 6318, 6576, 5498, 4152])
      expect(crsOfEpsg(code, 'f').note).toMatch(/NAD83.*taken as WGS 84.*2 m/);
  });

  test('NAD27 and datums that need grids are refused with the fix', async () => {
    for (const code of [26716, 4267, 32064, 27700, 4272]) {
      const problem = await problemOf(() => crsOfEpsg(code, 'dem.tif'));
      expect(problem.message).toContain('grid files');
      expect(problem.fix).toContain('Reproject');
    }
  });

  test('unknown codes, heights and earth-centred systems are refused', async () => {
    expect((await problemOf(() => crsOfEpsg(123456, 'f'))).message).toContain('not in the table');
    expect((await problemOf(() => crsOfEpsg(5703, 'f'))).message).toContain('does not describe positions');
    expect((await problemOf(() => crsOfEpsg(4978, 'f'))).message).toContain('does not describe positions');
  });

  test('UTM zones on WGS 84 and NAD83 are known as such, and nothing else', () => {
    expect(crsOfEpsg(32616, 'f').utmZone).toBe(16);
    expect(crsOfEpsg(26917, 'f').utmZone).toBe(17);
    expect(crsOfEpsg(6345, 'f').utmZone).toBe(16); // NAD83(2011)
    expect(crsOfEpsg(32733, 'f').utmZone).toBe(-33);
    for (const code of [2274, 3857, 4326, 5070]) expect(crsOfEpsg(code, 'f').utmZone).toBeNull();
  });

  test('well-known text goes by its code, else by its datum', async () => {
    const wkt = (datum: string) =>
      `PROJCS["Local",GEOGCS["G",DATUM["${datum}",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000],PARAMETER["False_Northing",0],PARAMETER["Central_Meridian",-87],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0],UNIT["Meter",1]]`;
    const [x, y] = transform(WGS84, crsOfWkt(wkt('D_North_American_1983'), 'f').proj4)(-84.2, 36.6);
    expect(Math.hypot(x - 750460.983747, y - 4054151.090375)).toBeLessThan(1e-3);
    expect((await problemOf(() => crsOfWkt(wkt('D_North_American_1927'), 'f'))).message).toContain(
      'old datum',
    );
    expect((await problemOf(() => crsOfWkt(wkt('D_Made_Up'), 'f'))).message).toContain('does not know');
  });
});

describe('GeoTIFF keys (OGC 19-008)', () => {
  test('a user-defined Albers system by its parameters equals the table’s EPSG 5070', () => {
    const crs = crsOfGeoKeys(
      {
        GTModelTypeGeoKey: 1,
        ProjectedCSTypeGeoKey: 32767,
        GTCitationGeoKey: 'Albers Conical Equal Area',
        GeographicTypeGeoKey: 4269,
        ProjCoordTransGeoKey: 11,
        ProjLinearUnitsGeoKey: 9001,
        ProjStdParallel1GeoKey: 29.5,
        ProjStdParallel2GeoKey: 45.5,
        ProjNatOriginLongGeoKey: -96,
        ProjNatOriginLatGeoKey: 23,
      },
      'f',
      null,
    );
    const [x, y] = transform(WGS84, crs.proj4)(-84.25, 36.2);
    const known = expected.systems.find(({ epsg }) => epsg === 5070)!;
    expect(Math.hypot(x - known.x, y - known.y)).toBeLessThan(2e-3);
  });

  test('a definition that a writer put into a citation', () => {
    const known = expected.systems.find(({ epsg }) => epsg === 2274)!;
    const citation =
      'ESRI PE String = PROJCS["NAD_1983_StatePlane_Tennessee_FIPS_4100_Feet",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",1968500.0],PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-86.0],PARAMETER["Standard_Parallel_1",35.25],PARAMETER["Standard_Parallel_2",36.41666666666666],PARAMETER["Latitude_Of_Origin",34.33333333333334],UNIT["Foot_US",0.3048006096012192]]';
    const keys = { GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey: 32767, PCSCitationGeoKey: citation };
    const [x, y] = transform(WGS84, crsOfGeoKeys(keys, 'f', null).proj4)(known.longitude, known.latitude);
    expect(Math.hypot(x - known.x, y - known.y)).toBeLessThan(0.01);
  });

  test('UTM spelled out as the transverse Mercator it is counts as UTM', () => {
    const keys = {
      GTModelTypeGeoKey: 1,
      ProjectedCSTypeGeoKey: 32767,
      GeogCitationGeoKey: 'NAD83',
      ProjCoordTransGeoKey: 1,
      ProjLinearUnitsGeoKey: 9001,
      ProjNatOriginLongGeoKey: -87,
      ProjNatOriginLatGeoKey: 0,
      ProjScaleAtNatOriginGeoKey: 0.9996,
      ProjFalseEastingGeoKey: 500000,
      ProjFalseNorthingGeoKey: 0,
    };
    expect(crsOfGeoKeys(keys, 'f', null)).toMatchObject({ utmZone: 16, proj4: crsDefinition(32616) });
    expect(crsOfGeoKeys({ ...keys, ProjScaleAtNatOriginGeoKey: 1 }, 'f', null).utmZone).toBeNull();
  });

  test('a user-defined system on NAD27, or without parameters, is refused', async () => {
    const keys = { GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey: 32767, GeographicTypeGeoKey: 4267 };
    expect((await problemOf(() => crsOfGeoKeys(keys, 'f', null))).fix).toContain('Reproject');
    const old = { ...keys, ProjCoordTransGeoKey: 1, ProjNatOriginLongGeoKey: -87 };
    expect((await problemOf(() => crsOfGeoKeys(old, 'f', null))).message).toContain('old datum');
  });

  test('vertical units by unit code and by vertical system', () => {
    expect(verticalUnitOfKeys({ VerticalUnitsGeoKey: 9001 })).toBe('metre');
    expect(verticalUnitOfKeys({ VerticalUnitsGeoKey: 9003 })).toBe('us-survey-foot');
    expect(verticalUnitOfKeys({ VerticalCSTypeGeoKey: 6360 })).toBe('us-survey-foot');
    expect(verticalUnitOfKeys({ VerticalCSTypeGeoKey: 5703 })).toBe('metre');
    expect(verticalUnitOfKeys({ VerticalCitationGeoKey: 'NAVD88 height (ftUS)' })).toBe('us-survey-foot');
    expect(verticalUnitOfKeys({ VerticalCitationGeoKey: 'NAVD88 - Geoid18 (Meters)' })).toBe('metre');
    expect(verticalUnitOfKeys({ VerticalCitationGeoKey: 'NAVD88' })).toBeNull();
    expect(verticalUnitOfKeys({})).toBeNull();
  });
});
