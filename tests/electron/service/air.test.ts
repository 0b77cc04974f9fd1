import { decode } from 'fast-png';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Service } from '../../../electron/service/contract.ts';
import { type OnSample, openOnSample } from './on-sample.ts';

/** Questions of the air on the sample property after its scout. */

let sample: OnSample;
let service: Service;
let spot: { x: number; y: number };
const dawn = { date: '2024-11-05', hour: 5.5 };

let ask: OnSample['ask'];

beforeAll(async () => {
  sample = await openOnSample();
  ({ service, spot, ask } = sample);
}, 300_000);
afterAll(() => sample?.close());

test('the rose counts every hour once: sectors, calms and variable wind', async () => {
  const { parts } = await ask('air.rose', {});
  expect(parts).toHaveLength(5);
  for (const { total, calms, variable, sectors } of parts!) {
    const blown = sectors.reduce((sum, { hours }) => sum + hours, 0);
    expect(blown + calms + variable).toBe(total);
  }
  const year = await ask('air.rose', { season: null, parts: ['morning'] });
  expect(year.parts!.map(({ part }) => part)).toEqual(['morning']);
  expect(year.parts![0]!.total).toBeGreaterThan(parts![1]!.total);
});

test('a calm clear dawn drains; noon does not', async () => {
  const early = await ask('air.clock', { ...dawn, windFrom: 0, windSpeed: 0 });
  expect(early.state).toBe('calm drainage');
  expect(early.overlay).not.toBeNull();
  expect(early.arrows.speed).toHaveLength(early.arrows.columns * early.arrows.rows);
  expect(early.arrows.speed.length).toBeGreaterThan(500);
  // Before sunrise the sun is down, and air that hardly moves has no way that is known.
  expect(early.sun).toBeLessThan(0);
  early.arrows.speed.forEach((speed, k) => {
    if (speed !== null && speed < 0.14) expect(early.arrows.towards[k]).toBeNull();
  });
  const png = decode(await ask('map.overlayTile', { overlay: early.overlay!.id, z: 0, x: 0, y: 0 }));
  expect(png.data.some((value, i) => i % 4 === 3 && value > 0)).toBe(true);
  const noon = await ask('air.clock', { date: dawn.date, hour: 13, windFrom: 270, windSpeed: 4 });
  expect(noon.state).toMatch(/^[A-D]$/);
  expect(noon.overlay).toBeNull();
  expect(noon.sun).toBeGreaterThan(20);
  // A day is played through: the picture of an earlier hour is kept.
  const later = await ask('air.clock', { ...dawn, hour: 6, windFrom: 0, windSpeed: 0 });
  expect(later.overlay!.id).not.toBe(early.overlay!.id);
  await ask('map.overlayTile', { overlay: early.overlay!.id, z: 0, x: 0, y: 0 });
}, 120_000);

test('the air over the map goes with the wind, and a change of wind moves the scent', async () => {
  const where = { ...spot, height: 5, date: dawn.date, hour: 13 };
  const east = await ask('air.scent', { ...where, windFrom: 270, windSpeed: 4 });
  expect(east.carry.low).toBeLessThanOrEqual(east.carry.usual);
  expect(east.carry.usual).toBeLessThanOrEqual(east.carry.high);
  expect(east.verdict).toMatch(/\.$/);
  const west = await ask('air.scent', { ...where, windFrom: 90, windSpeed: 4 });
  expect(west.overlay.id).not.toBe(east.overlay.id);
  expect(west.verdict).not.toBe(east.verdict);
  const { arrows } = await ask('air.clock', { date: dawn.date, hour: 13, windFrom: 270, windSpeed: 4 });
  const eastward = arrows.towards.flatMap((towards, k) =>
    towards === null ? [] : [arrows.speed[k]! * Math.sin((towards * Math.PI) / 180)],
  );
  const mean = eastward.reduce((sum, each) => sum + each, 0) / eastward.length;
  expect(mean).toBeGreaterThan(0.4);
  expect(mean).toBeLessThan(4);
}, 120_000);

test('a stand is told under 17 winds at five parts of the day, with progress', async () => {
  const { features } = await ask('map.table', { table: 'stand-risks' });
  const { subject } = features[0]!.properties as { subject: { id: string } };
  const heard: number[] = [];
  const stop = service.listen((event) => {
    if (event.type === 'ask.progress' && event.ask === 'air.stand') heard.push(event.fraction);
  });
  const answer = await ask('air.stand', { stand: subject.id });
  stop();
  expect(answer.cases).toHaveLength(85);
  expect(heard.length).toBeGreaterThan(1);
  expect(answer.parts).toHaveLength(5);
  expect(answer.deer).toHaveLength(16);
  for (const { into, across } of answer.deer) expect(into + across).toBeLessThanOrEqual(1 + 1e-9);
}, 120_000);
