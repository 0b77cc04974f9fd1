import { expect, test } from 'vitest';
import { onSample } from './on-sample.ts';

/** Where stands should go, on the sample property after its scout. */

const { sample, ask } = onSample();

test('stands lie side by side with the same numbers as each alone, and no clean way in is said', async () => {
  const before = process.cpuUsage();
  const { stands, sentences, cautions, notes } = await ask('stands.compare', { stands: null });
  const { user, system } = process.cpuUsage(before);
  // All stands, sectors and parts of the day within a minute of the machine.
  expect((user + system) / 1e6).toBeLessThan(60);
  expect(stands.map(({ name }) => name)).toEqual(['Saddle stand', 'Bench stand', 'Fill stand']);
  const alone = await ask('stands.verdict', {
    stand: 'stand-bench',
    at: null,
    seatHeight: null,
    weapon: null,
    range: null,
    date: null,
  });
  expect(stands[1]!.verdict.hours).toEqual(alone.verdict.hours);
  const look = await ask('stands.look', {
    stand: 'stand-fill',
    at: null,
    seatHeight: null,
    weapon: null,
    range: null,
    leaves: null,
  });
  expect(stands[2]!.fire).toEqual(look.reach.fire.degrees);
  expect(stands[2]!.closed.reduce((sum, { from, to }) => sum + to - from, 0)).toBe(
    look.reach.fire.degrees.closed,
  );
  // The trap of the sample: every way to the bench goes through the underpass, the best neck there is.
  expect(stands[1]!.ways.every(({ clean }) => clean === false)).toBe(true);
  expect(stands[1]!.usable).toBe(0);
  expect(sentences.join(' ')).toMatch(/clean way in|walked to cleanly/);
  expect(cautions.join(' ')).toMatch(/does not say that a shot is safe/);
  expect(notes.join(' ')).toMatch(/The way in is judged on foot/);
  // What was asked is in the report, as long as it holds.
  const card = async () =>
    (await ask('report.model', {}))!.pages.find(({ title }) => title === 'Stand card: Bench stand')!;
  expect(JSON.stringify((await card()).beside)).toContain('with a clean way in, none');
  await ask('settings.change', { patch: { stands: { leaves: 'on' } } });
  const now = await card();
  expect(JSON.stringify(now.beside)).not.toContain('with a clean way in');
  // What it reaches goes by the setting without a new scout.
  expect(JSON.stringify(now.beside)).toContain('leaves on');
  await ask('edit.undo', {});
  expect(JSON.stringify((await card()).beside)).toContain('with a clean way in, none');
  await expect(ask('stands.compare', { stands: ['gone'] })).rejects.toThrow('That stand is not on the map.');
}, 240_000);

test('each stand gets a ruling, with what the change that helps gains', async () => {
  const { rulings, notes } = await ask('stands.rulings', {});
  expect(rulings.map(({ stand }) => stand.name)).toEqual(['Saddle stand', 'Bench stand', 'Fill stand']);
  const bench = rulings[1]!;
  expect(bench.worst!.fault).toBe('way');
  expect(bench.ruling).toBe('new way in');
  expect(bench.change!.gained).toBeCloseTo(bench.byWind - bench.hours, 6);
  // It drowns in cold air beside the rails, and nothing near it is better.
  expect(rulings[2]!.ruling).toBe('retire');
  for (const { change, tried, hours } of rulings) {
    if (change) expect(tried).toContainEqual(change);
    for (const each of tried) expect(each.gained).toBeCloseTo(each.hours - hours, 9);
  }
  expect(notes.join(' ')).toMatch(/run again with that change/);
}, 240_000);

const wish = { seat: 'any', weapon: 'bow', range: null, count: 4, plan: null } as const;

test('sites lie on the client’s own ground, each with reasons; places that look good are named with why not', async () => {
  const before = process.cpuUsage();
  const { sites, ifWay, passed, doubts, cautions } = await ask('stands.search', wish);
  const { user, system } = process.cpuUsage(before);
  // The promise is two minutes on two cores.
  expect((user + system) / 1e6).toBeLessThan(120);
  const { features } = await ask('map.table', { table: 'features' });
  const shapeOf = (id: string) => features.find((each) => each.id === id)!.geometry as never;
  const boundary = features.find(({ properties }) => properties?.kind === 'boundary')!
    .geometry as unknown as {
    coordinates: [number, number][][];
  };
  // Even-odd by hand, so that this does not lean on what the search itself asks.
  const inside = ([x, y]: readonly [number, number]) => {
    const ring = boundary.coordinates[0]!;
    let odd = false;
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const [[xi, yi], [xj, yj]] = [ring[i]!, ring[j]!];
      if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) odd = !odd;
    }
    return odd;
  };
  expect(sites.length).toBeGreaterThan(0);
  for (const { at, reasons, backed, ways, faults } of [...sites, ...ifWay]) {
    expect(inside(at)).toBe(true);
    expect(reasons.length).toBeGreaterThan(3);
    expect(backed).toBeGreaterThanOrEqual(0.5);
    expect(faults.length > 0).toBe(ways.every(({ clean }) => clean === false));
  }
  const stand = (shapeOf('stand-saddle') as { coordinates: [number, number] }).coordinates;
  for (const { at } of sites) expect(Math.hypot(at[0] - stand[0], at[1] - stand[1])).toBeGreaterThan(75);
  const faults = passed.flatMap((each) => each.faults);
  expect(faults.filter(({ key }) => key === 'owner').length).toBeGreaterThan(0);
  // The trap of the hollow bench: every way from the yard goes through the underpass.
  expect(faults.find(({ key }) => key === 'way')!.sentence).toMatch(/It walks through neck 1/);
  expect(doubts.join(' ')).not.toMatch(/No boundary is mapped/);
  expect(cautions.join(' ')).toMatch(/does not say that a shot is safe/);
}, 600_000);

test('a search can be taken back, and a plan that is gone is refused', async () => {
  const heard: number[] = [];
  const stop = sample.service.listen((event) => {
    if (event.type !== 'ask.progress' || event.ask !== 'stands.search') return;
    heard.push(event.fraction);
    if (heard.length === 3) void ask('ask.cancel', { ask: 'stands.search' });
  });
  await expect(ask('stands.search', wish)).rejects.toThrow('The question was taken back.');
  stop();
  expect(heard.every((share) => share < 1)).toBe(true);
  await expect(ask('stands.search', { ...wish, plan: 'gone' })).rejects.toThrow(
    'That plan is not there any more.',
  );
}, 240_000);
