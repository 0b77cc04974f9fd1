import { expect, test } from 'vitest';
import type { Neck } from '../../../core/travel/types.ts';
import { crsDefinition, transform, WGS84 } from '../../../electron/readers/crs.ts';
import type { ServiceEvent } from '../../../electron/service/contract.ts';
import { onSample } from './on-sample.ts';

/** What the crew built, brought back as a track, is what travel is worked out from; the plan is no more asked. */

const { sample, ask } = onSample();

const necks = async (): Promise<Neck[]> =>
  (await ask('map.table', { table: 'necks' })).features.map(({ properties }) => properties as Neck);

test('a barricade built as the track says moves travel as the plan foretold', async () => {
  const before = await necks();
  // Of the best, the one whose travel most easily goes elsewhere.
  const neck = before.slice(0, 5).toSorted((a, b) => (b.redundancy ?? 0) - (a.redundancy ?? 0))[0]!;
  const [[ax, ay], [bx, by]] = neck.line as [[number, number], [number, number]];
  const line: [number, number][] = [
    [2 * ax - bx, 2 * ay - by],
    [2 * bx - ax, 2 * by - ay],
  ];
  await ask('features.put', {
    feature: {
      id: 'crew-wall',
      kind: 'barricade',
      status: 'proposed',
      name: 'Crew barricade',
      geometry: { type: 'LineString', coordinates: line },
      attributes: { height: 2.5 },
      source: 'drawn',
    },
  });
  const shareOf = async (id: string) =>
    (await ask('travel.whatIf', { trial: [], spot: null })).necks.find((each) => each.id === id)!;
  const foretold = await shareOf(neck.id);
  expect(foretold.after).toBeLessThan(0.8 * foretold.before);

  const toLonLat = transform(crsDefinition(sample.summary.frame.epsg), WGS84);
  const points = line
    .map((at) => toLonLat(...at))
    .map(([lon, lat], k) => `<trkpt lat="${lat}" lon="${lon}"><time>2026-02-1${k}T15:00:00Z</time></trkpt>`);
  const track = `<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1"><trk>
    <name>Crew barricade as built</name><trkseg>${points.join('')}</trkseg></trk></gpx>`;
  const done = new Promise<ServiceEvent>((resolve) => {
    sample.service.listen((event) => /^scout\.(done|failed)$/.test(event.type) && resolve(event));
  });
  const { staging } = await ask('import.begin', {});
  const bytes = Buffer.from(track);
  await sample.service.handle('import.file', { staging, name: 'back.gpx', last: true }, bytes);
  await ask('import.finish', { staging, into: 'open', answers: {} });
  expect(await done).toMatchObject({ type: 'scout.done' });

  const wall = (await ask('map.table', { table: 'features' })).features.find(
    ({ properties }) => properties!.id === 'crew-wall',
  );
  expect(wall!.properties).toMatchObject({ status: 'existing', attributes: { done: '2026-02-10' } });
  // Today’s travel across the old neck’s line: what a goal there would start from.
  const at = { x: neck.at[0], y: neck.at[1], reach: Math.hypot(bx - ax, by - ay) / 2 };
  const { spot } = await ask('travel.whatIf', { trial: [], spot: at });
  await ask('edit.undo', {});
  const again = new Promise<ServiceEvent>((resolve) => {
    sample.service.listen((event) => /^scout\.(done|failed)$/.test(event.type) && resolve(event));
  });
  await ask('scout.start', {});
  expect(await again).toMatchObject({ type: 'scout.done' });
  const planned = (await ask('travel.whatIf', { trial: [], spot: at })).spot!;
  // Built, today is what had been foretold, but for how much of all travel each pair of areas has, which follows from
  // what their ways cost now; taken back, today is as it was and the plan foretells it again.
  expect(Math.abs(spot!.before - planned.after)).toBeLessThan(0.02);
  expect(spot!.before).toBeLessThan(0.95 * planned.before);
}, 300_000);
