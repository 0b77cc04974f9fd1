import { readFileSync } from 'node:fs';
import type { Position } from 'geojson';
import { describe, expect, it } from 'vitest';
import { TABLES } from '../../../electron/service/contract.ts';
import { plainTable } from '../../../electron/writers/columns.ts';
import { geoJsonOf } from '../../../electron/writers/geojson.ts';
import { polygonOf, windingOf, woundRight } from '../../../electron/writers/rings.ts';
import { tableFeatures } from '../../../electron/writers/tables.ts';
import { outside } from '../../outside.ts';
import { artifactsOf, frame } from './support.ts';

const artifacts = artifactsOf();
const note = { name: 'Home farm', invented: true };

describe('tables in frame coordinates', () => {
  it('carry the columns of their core types and keep their order', () => {
    const [neck] = tableFeatures('necks', artifacts).features;
    expect(neck).toMatchObject({
      id: 'n1',
      geometry: { type: 'LineString', coordinates: artifacts.necks[0]!.line },
      properties: artifacts.necks[0],
    });
    expect(tableFeatures('features', artifacts).features.map(({ id }) => id)).toEqual([
      'line',
      'creek-1',
      'stand-1',
    ]);
    const [corridor] = tableFeatures('corridors', artifacts).features;
    expect(corridor!.properties).not.toHaveProperty('path');
    expect(corridor!.geometry).toEqual({ type: 'LineString', coordinates: artifacts.corridors[0]!.path });
  });

  it('are empty while their artifact is not there', () => {
    for (const name of TABLES) expect(tableFeatures(name, {}).features, name).toEqual([]);
  });

  it('give a path of one spot as that spot and pass over a shape without one', () => {
    const still = { ...artifacts.carries[0]!, path: [artifacts.carries[0]!.from] };
    expect(tableFeatures('carries', { carries: [still] }).features[0]!.geometry.type).toBe('Point');
    const empty = { ...artifacts.features[1]!, geometry: { type: 'LineString' as const, coordinates: [] } };
    expect(tableFeatures('features', { features: [empty] }).features).toEqual([]);
  });

  it('put holes into the outer ring that holds them', () => {
    const square = (x: number, y: number, side: number): Position[] => [
      [x, y],
      [x + side, y],
      [x + side, y + side],
      [x, y + side],
      [x, y],
    ];
    const hole = (x: number, y: number): Position[] => square(x, y, 1).reverse();
    const shape = polygonOf([square(0, 0, 10), square(20, 0, 10), hole(22, 2), hole(3, 3)]);
    expect(shape).toEqual({
      type: 'MultiPolygon',
      coordinates: [
        [square(0, 0, 10), hole(3, 3)],
        [square(20, 0, 10), hole(22, 2)],
      ],
    });
  });
});

describe('plain columns', () => {
  it('say their units and are plain values', () => {
    for (const name of TABLES) {
      for (const { properties } of plainTable(name, artifacts).features) {
        for (const value of Object.values(properties!)) {
          expect(value === null || ['string', 'number', 'boolean'].includes(typeof value)).toBe(true);
        }
      }
    }
    expect(plainTable('necks', artifacts).features[0]!.properties).toMatchObject({
      width_m: 40,
      share: 0.4123,
      landmarks: 'saddle; draw',
      reasons: 'Held by steep ground. Firm in every run.',
    });
    expect(plainTable('corridors', artifacts).features[0]!.properties).toMatchObject({
      from: 'Pine flat',
      to: 'Corn',
    });
  });

  it('let no attribute of a feature stand in for its kind', () => {
    const sly = { ...artifacts.features[0]!, attributes: { kind: 'road', acres: 12 } };
    expect(plainTable('features', { features: [sly] }).features[0]!.properties).toMatchObject({
      kind: 'boundary',
      acres: 12,
    });
  });
});

describe('GeoJSON files', () => {
  const { rows } = JSON.parse(
    readFileSync(new URL('../../reference/fixtures/writers/positions.json', import.meta.url), 'utf8'),
  ) as { rows: { epsg: number; x: number; y: number; longitude: number; latitude: number }[] };

  it('have the longitude and latitude PROJ computes, to a hundred-millionth of a degree of rounding', () => {
    const check = outside({
      room: 'writers',
      method: 'Longitude and latitude as written',
      source: 'PROJ 9.1',
      unit: 'degrees',
      allowed: 0.6e-7,
    });
    for (const { epsg, x, y, longitude, latitude } of rows) {
      const neck = {
        ...artifacts.necks[0]!,
        line: [
          [x, y],
          [x + 1, y],
        ] as [[number, number], [number, number]],
      };
      const { features } = geoJsonOf('necks', { necks: [neck] }, epsg, note);
      const [first] = (features[0]!.geometry as { coordinates: Position[] }).coordinates;
      // Seven decimals are written, so half of the last one may be lost: about half a centimetre.
      check.compare(first![0]!, longitude);
      check.compare(first![1]!, latitude);
    }
    check.done();
  });

  it('wind their rings as RFC 7946 asks and box their features', () => {
    const document = geoJsonOf('benches', artifacts, 32617, note);
    const [outer, hole] = (document.features[0]!.geometry as { coordinates: Position[][] }).coordinates;
    expect(windingOf(outer!)).toBeGreaterThan(0);
    expect(windingOf(hole!)).toBeLessThan(0);
    const xs = outer!.map(([x]) => x!);
    const ys = outer!.map(([, y]) => y!);
    expect(document.bbox).toEqual([Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]);
    expect(document).not.toHaveProperty('crs');
    const turned = woundRight({
      type: 'Polygon',
      coordinates: [[...outer!].reverse(), [...hole!].reverse()],
    });
    expect(turned).toEqual({ type: 'Polygon', coordinates: [outer, hole] });
  });

  it('say when the property is invented, and leave out the box of an empty table', () => {
    expect(geoJsonOf('crossings', { crossings: [] }, frame().epsg, note)).toEqual({
      type: 'FeatureCollection',
      name: 'crossings',
      property: note,
      features: [],
    });
  });
});
