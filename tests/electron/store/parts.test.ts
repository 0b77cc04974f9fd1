import { readFileSync } from 'node:fs';
import type { Geometry } from 'geojson';
import { describe, expect, it } from 'vitest';
import { crsName, crsWkt, WGS84_WKT } from '../../../electron/store/crs-wkt.ts';
import { packGeometry, unpackGeometry } from '../../../electron/store/geometry-blob.ts';
import { packLzw, unpackLzw } from '../../../electron/store/lzw.ts';
import { outside } from '../../outside.ts';
import { numbers } from '../writers/support.ts';

/** What GDAL and OGR make of the same; see tests/reference/store/make_store.py. */
const fixture = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../reference/fixtures/store/${name}.json`, import.meta.url), 'utf8'));

describe('LZW', () => {
  const { rows } = fixture('lzw') as { rows: { name: string; lzw: string; samples: string }[] };
  for (const { name, lzw, samples } of rows) {
    it(`unpacks ${name} as libtiff packed it`, () => {
      const wanted = Buffer.from(samples, 'base64');
      const check = outside({
        room: 'store',
        method: 'Unpacking of LZW',
        source: 'libtiff through GDAL 3.6',
        unit: 'files that differ',
        allowed: 0,
      });
      check.compare(Buffer.compare(unpackLzw(Buffer.from(lzw, 'base64'), wanted.length), wanted), 0);
      check.done();
    });
  }

  it('gives back runs, noise and every length, through each width of code', () => {
    const random = numbers(2);
    for (const length of [1, 2, 3, 255, 256, 257, 511, 1000, 4093, 4094, 4095, 4096, 5000, 70_000]) {
      for (const values of [1, 2, 5, 256]) {
        const bytes = Uint8Array.from({ length }, () => Math.floor(random() * values));
        expect(Buffer.compare(unpackLzw(packLzw(bytes), length), bytes), `${length} of ${values}`).toBe(0);
      }
    }
  });

  it('refuses data that ends early or makes too much', () => {
    const packed = packLzw(new Uint8Array(5000).fill(3));
    expect(() => unpackLzw(packed.subarray(0, 20), 5000)).toThrow(/too early/);
    expect(() => unpackLzw(packed, 6000)).toThrow(/made 5000 bytes/);
    expect(unpackLzw(packed, 4999)).toEqual(unpackLzw(packed, 5000).subarray(0, 4999));
    expect(() => unpackLzw(Uint8Array.of(0xff, 0xff, 0xff), 10)).toThrow(/code/);
  });
});

describe('geometries', () => {
  const { rows } = fixture('wkb') as { rows: { geometry: Geometry; wkb: string }[] };
  for (const { geometry, wkb } of rows) {
    it(`of type ${geometry.type} are the bytes OGR writes, after the GeoPackage header`, () => {
      const blob = packGeometry(geometry, 32617);
      const header = geometry.type === 'Point' ? 8 : 40;
      expect(blob.toString('latin1', 0, 2)).toBe('GP');
      expect(blob.readInt32LE(4)).toBe(32617);
      const check = outside({
        room: 'store',
        method: 'Well-known binary of each kind of shape',
        source: 'OGR of GDAL 3.6',
        unit: 'shapes that differ',
        allowed: 0,
      });
      check.same(blob.toString('hex', header), wkb);
      check.done();
      expect(unpackGeometry(blob)).toEqual(geometry);
    });
  }

  it('of the other byte order and with heights are read', () => {
    // Big-endian point with a height: OGC 06-103r4 code 1001.
    const blob = Buffer.alloc(8 + 29);
    blob.write('GP');
    blob.writeUInt32BE(1001, 9);
    blob.writeDoubleBE(5, 13);
    blob.writeDoubleBE(6, 21);
    expect(unpackGeometry(blob)).toEqual({ type: 'Point', coordinates: [5, 6] });
  });

  it('that are none are refused', () => {
    expect(() => unpackGeometry(Buffer.alloc(40))).toThrow(/not a GeoPackage geometry/);
  });

  it('without a position say so in the header', () => {
    const blob = packGeometry({ type: 'LineString', coordinates: [] }, 32617);
    expect(blob[3]! & 16).toBe(16);
    expect(unpackGeometry(blob)).toEqual({ type: 'LineString', coordinates: [] });
  });
});

describe('well-known text', () => {
  const { rows, wgs84 } = fixture('wkt') as { rows: { epsg: number; wkt: string }[]; wgs84: string };
  it('of every UTM zone is what GDAL writes', () => {
    const check = outside({
      room: 'store',
      method: 'Well-known text of every UTM zone',
      source: 'GDAL 3.6',
      unit: 'systems that differ',
      allowed: 0,
    });
    for (const { epsg, wkt } of rows) check.same(crsWkt(epsg), wkt);
    check.same(WGS84_WKT, wgs84);
    check.done();
  });

  it('of other systems comes from the table of EPSG codes', () => {
    expect(crsName(5070)).toBe('NAD83 / Conus Albers');
    expect(crsWkt(26917)).toMatch(/^PROJCS\["NAD83 \/ UTM zone 17N"/);
  });
});
