import { readFileSync } from 'node:fs';
import { beforeAll, expect, test } from 'vitest';
import { crsDefinition, transform, WGS84 } from '../../../electron/readers/crs.ts';
import type { PropertySummary, RequestParams, ServiceEvent } from '../../../electron/service/contract.ts';
import { fixture } from '../readers/support.ts';
import { onHill } from './on-hill.ts';

/** Photos and a walk dropped on an open property; the photos are Pillow's (tests/reference/readers/make_photos.py). */

// Around the photo at 39.30482, -87.69715, which PROJ 9 puts at 439892.136, 4350835.320.
const { hill, ask } = onHill(100);
const troubles: string[] = [];
beforeAll(() => {
  hill.service.listen((event: ServiceEvent) => {
    if (event.type === 'host.trouble') troubles.push(event.trouble.message);
  });
});

async function drop(files: Record<string, Uint8Array>): Promise<PropertySummary> {
  const { staging } = await ask('import.begin', {});
  for (const [name, bytes] of Object.entries(files))
    await ask('import.file', { staging, name, last: true }, bytes);
  const summary = await ask('import.finish', { staging, into: 'open', answers: {} });
  await ask('scout.cancel', {});
  return summary;
}
const photo = (name: string) => readFileSync(fixture(`photos/${name}`).path);
const rows = async (kind: string) =>
  (await ask('map.table', { table: 'features' })).features.filter(
    ({ properties }) => properties!.kind === kind,
  );

const GPX = Buffer.from(`<?xml version="1.0"?>
<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">
  <wpt lat="39.3050" lon="-87.6970"><name>Rub line</name></wpt>
  <trk><trkseg>
    <trkpt lat="39.3050" lon="-87.6980"><time>2026-10-31T11:10:00Z</time></trkpt>
    <trkpt lat="39.3050" lon="-87.6960"><time>2026-10-31T11:20:00Z</time></trkpt>
  </trkseg></trk>
</gpx>`);

test('a walk, its notes and its photos come in with one drop, and go with one undo', async () => {
  await drop({
    'today.gpx': GPX,
    'placed.jpg': photo('placed.jpg'),
    'timed.jpg': photo('timed.jpg'),
    'bare.jpg': photo('bare.jpg'),
  });
  const notes = await rows('note');
  expect(await rows('walk')).toHaveLength(1);
  expect(notes.map(({ properties }) => properties!.name ?? properties!.source)).toEqual([
    'Rub line',
    'placed.jpg',
    'timed.jpg',
  ]);
  const [, placed, timed] = notes.map(({ geometry }) => (geometry as GeoJSON.Point).coordinates);
  expect(placed![0]).toBeCloseTo(439892.136, 1);
  expect(placed![1]).toBeCloseTo(4350835.32, 1);
  // Taken at 11:14 UTC: four tenths of the way along a walk of 0.002° of longitude, 172.5 m here.
  const walk = ((await rows('walk'))[0]!.geometry as GeoJSON.LineString).coordinates;
  expect((timed![0]! - walk[0]![0]!) / (walk[1]![0]! - walk[0]![0]!)).toBeCloseTo(0.4, 6);
  expect(troubles).toEqual(['bare.jpg says neither where nor, with its time zone, when it was taken.']);
  const { photo: id } = notes[1]!.properties!.attributes as { photo: string };
  expect(Buffer.from(await ask('notes.picture', { id })).equals(photo('placed.jpg'))).toBe(true);
  await ask('edit.undo', {});
  expect(await rows('note')).toEqual([]);
});

test('a photo alone that cannot be placed, or lies off the map, is refused with what to do', async () => {
  await expect(drop({ 'timed.jpg': photo('timed.jpg') })).rejects.toThrow('no walk was under way then');
  await expect(drop({ 'magnetic.jpg': photo('magnetic.jpg') })).rejects.toThrow('was taken off this map');
});

test('what was built takes the place of what was planned, ticked, and one undo brings the plan back', async () => {
  const project = transform(WGS84, crsDefinition(32616));
  const meant = [
    [-87.698, 39.305],
    [-87.697, 39.305],
  ].map(([x, y]) => project(x!, y!));
  await ask('features.put', {
    feature: {
      id: 'wall',
      kind: 'barricade',
      status: 'proposed',
      name: 'Creek barricade',
      geometry: { type: 'LineString', coordinates: meant },
      attributes: {},
      source: 'drawn',
    },
  } as RequestParams<'features.put'>);
  const track = `<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk>
    <name>Creek barricade as built</name><trkseg>
    <trkpt lat="39.3051" lon="-87.6980"><time>2026-11-20T15:10:00Z</time></trkpt>
    <trkpt lat="39.3051" lon="-87.6965"><time>2026-11-20T15:20:00Z</time></trkpt></trkseg></trk></gpx>`;
  await drop({ 'back.gpx': Buffer.from(track) });
  const [wall, ...others] = await rows('barricade');
  expect(others).toEqual([]);
  expect(wall!.properties).toMatchObject({ status: 'existing', attributes: { done: '2026-11-20' } });
  const [job] = (await ask('work.plan', {})).jobs;
  expect(job).toMatchObject({ id: 'wall', done: '2026-11-20' });
  // 0.0010 and 0.0015 degrees of longitude at 39.305 north are 86.2 and 129.4 m (PROJ 9's geod), 94 and 141 yd.
  expect(job!.built).toEqual({ planned: '94 yd', built: '141 yd' });
  await ask('edit.undo', {});
  expect((await rows('barricade'))[0]!.properties!.status).toBe('proposed');
});
