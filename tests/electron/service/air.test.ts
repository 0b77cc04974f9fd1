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
  // Pools fill through the night: an hour after sunset they hold a little, before sunrise all they ever will.
  const dusk = await ask('air.clock', { date: dawn.date, hour: 19, windFrom: 0, windSpeed: 0 });
  expect(dusk.filled).toBeGreaterThan(0.02);
  expect(dusk.filled).toBeLessThan(0.5);
  expect(dusk.pools).not.toBeNull();
  expect(dusk.sentence).toMatch(/pools hold \d+% of what they hold at the end of the night/);
  expect(early.filled).toBeGreaterThan(dusk.filled);
  expect(early.pools).not.toBeNull();
  expect(noon.filled).toBe(0);
  expect(noon.pools).toBeNull();
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

test('a stand under 16 winds at five parts of the day takes under 20 s, a change of wind on the map under 1 s', async () => {
  const { features } = await ask('map.table', { table: 'stand-risks' });
  const { subject } = features.at(-1)!.properties as { subject: { id: string } };
  /** Processor time of all its threads, s: other programs on the machine do not count. */
  const spent = async (work: () => Promise<unknown>): Promise<number> => {
    const before = process.cpuUsage();
    await work();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1e6;
  };
  // Weeks whose night nobody has asked for.
  const season = { from: { month: 12, day: 1 }, to: { month: 12, day: 14 } };
  const whole = await spent(() => ask('air.stand', { stand: subject.id, season }));
  expect(whole).toBeLessThan(20);
  const noon = { date: dawn.date, hour: 13 };
  await ask('air.clock', { ...noon, windFrom: 200, windSpeed: 3 });
  const change = await spent(async () => {
    await ask('air.clock', { ...noon, windFrom: 305, windSpeed: 5 });
    await ask('air.scent', { ...spot, height: 5, ...noon, windFrom: 305, windSpeed: 5 });
  });
  expect(change).toBeLessThan(1);
}, 120_000);

test('a way that is walked drags its scent, minute by minute', async () => {
  const wind = { date: dawn.date, hour: 13, windFrom: 270, windSpeed: 3 };
  const { features } = await ask('map.table', { table: 'features' });
  const way = features.find(({ properties }) => /^(access|trail|road)$/.test(properties!.kind as string))!;
  const answer = await ask('air.wayScent', { way: { feature: String(way.id) }, pace: 1, ...wind });
  expect(answer.stretches.length).toBeGreaterThan(1);
  expect(answer.minutes).toBeCloseTo(answer.length / 60, 6);
  expect(answer.stretches.at(-1)!.to).toBeCloseTo(answer.length, 3);
  const { x, y } = spot;
  const path: [number, number][] = [
    [x, y],
    [x + 100, y],
  ];
  const slow = await ask('air.wayScent', { way: { path }, pace: 0.5, ...wind });
  expect(slow.minutes).toBeCloseTo(200 / 60, 6);
  await expect(ask('air.wayScent', { way: { feature: 'none' }, ...wind })).rejects.toThrow(/no way to walk/);
}, 120_000);

test('the turns of a day at a spot come in the order of the day', async () => {
  const day = await ask('air.turns', { ...spot, date: dawn.date });
  expect(day.hours).toHaveLength(24);
  const times = day.turns.map(({ hour }) => hour);
  expect(times).toEqual([...times].sort((a, b) => a - b));
  for (let k = 1; k < day.turns.length; k++) expect(day.turns[k]!.from).toBe(day.turns[k - 1]!.to);
  expect(day.sentence).toMatch(/Sunrise \d\d:\d\d, sunset \d\d:\d\d\.$/);
  const windy = await ask('air.turns', { ...spot, date: dawn.date, windSpeed: 6 });
  expect(windy.hours.every(({ air }) => air !== 'drains')).toBe(true);
}, 120_000);

test('every trail is told under 16 winds, and new bedding where it would be checked', async () => {
  const { trails, bedding } = await ask('air.trails', {});
  expect(trails.length).toBeGreaterThan(0);
  for (const { winds, sentence } of trails) {
    expect(winds).toHaveLength(16);
    for (const each of winds) expect(each.into + each.across + each.with).toBeCloseTo(1, 6);
    expect(sentence).toMatch(/^Most of it/);
  }
  for (const { route, checked } of bedding) {
    expect(trails.some((trail) => trail.route === route)).toBe(true);
    expect(checked).toBeGreaterThan(0);
  }
}, 60_000);

test('a stand taken back stops the night beneath it', async () => {
  const { features } = await ask('map.table', { table: 'stand-risks' });
  const { subject } = features[0]!.properties as { subject: { id: string } };
  // A season whose night is not kept yet.
  const season = { from: { month: 4, day: 1 }, to: { month: 4, day: 20 } };
  const answer = ask('air.stand', { stand: subject.id, season });
  await new Promise((resolve) => setTimeout(resolve, 50));
  const began = performance.now();
  expect(await ask('ask.cancel', { ask: 'air.stand' })).toEqual({ cancelled: true });
  await expect(answer).rejects.toMatchObject({ trouble: { kind: 'cancelled' } });
  expect(performance.now() - began).toBeLessThan(1000);
}, 60_000);
