import { expect, test } from 'vitest';
import { onSample } from './on-sample.ts';

/** What a stand reaches, how it is reached, what hides it and what was seen from it, on the sample property. */

const { ask } = onSample();

const tried = (more: object) => ({
  stand: null,
  at: null,
  seatHeight: null,
  weapon: null,
  range: null,
  ...more,
});
const look = (more: object) => ask('stands.look', { ...tried(more), leaves: null });
/** Seconds of processor time of the whole process, workers among it. */
async function spent(work: () => Promise<unknown>): Promise<number> {
  const before = process.cpuUsage();
  await work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
}

test('a look goes all round, is never called safe, and follows a stand that is moved within 300 ms', async () => {
  const { reach, sectors, overlay, cautions } = await look({ stand: 'stand-fill' });
  const { degrees } = reach.fire;
  expect(Object.values(degrees).reduce((a, b) => a + b)).toBeCloseTo(360, 6);
  expect(sectors.features.length).toBe(reach.fire.sectors.length);
  // The railroad runs right below the stand: some way is closed, by name.
  expect(reach.fire.sectors.some(({ state, behind }) => state === 'closed' && behind.length > 0)).toBe(true);
  expect(cautions.length).toBeGreaterThan(0);
  const words = [...reach.sentences, ...cautions, ...reach.fire.looked].join(' ');
  expect(words.replace(/no shot[^.]*safe|never[^.]*safe|not[^.]*safe/gi, '')).not.toMatch(/\bsafe\b/i);
  const [x, y] = reach.spot.at;
  const times: number[] = [];
  for (let k = 1; k <= 6; k++) {
    times.push(
      await spent(async () => {
        const moved = await look({ stand: 'stand-fill', at: [x + 3 * k, y + 2 * k] });
        expect(moved.overlay.id).not.toBe(overlay.id);
        expect(moved.reach.spot.at).toEqual([x + 3 * k, y + 2 * k]);
      }),
    );
  }
  // What a person waits for on a machine of their own; the best run, since others may be at work on this one.
  expect(Math.min(...times)).toBeLessThan(0.3);
}, 60_000);

const approach = (more: object) =>
  ask('stands.approach', {
    ...tried({ stand: 'stand-bench' }),
    time: 'dawn',
    mode: 'foot',
    from: null,
    windFrom: 270,
    allowNeighbour: null,
    ...more,
  });

test('the bench has no clean way in on foot, only over the neighbour or driven; ways keep out of quiet ground', async () => {
  const { approach: found, lines } = await approach({});
  expect(found.clean).toBe(false);
  expect(found.verdict).toMatch(/^No clean way in\. .*neck 1/);
  expect(found.ways.length).toBeGreaterThan(1);
  expect(lines.features).toHaveLength(found.ways.length);
  for (const way of found.ways) expect(way.acrossNeighbour).toBe(0);
  expect(found.ifAllowed?.clean).toBe(true);
  const { approach: driven } = await approach({ mode: 'vehicle' });
  expect(driven.clean).toBe(true);
  expect(driven.ways[0]!.driven).toBeGreaterThan(100);
  // Nobody enters the ground round the underpass: it is the only opening in the railroad and its fences.
  const { features } = await ask('map.table', { table: 'features' });
  const gap = features.find(({ id }) => id === 'gap-underpass')! as never as {
    geometry: { coordinates: [number, number] };
  };
  const [x, y] = gap.geometry.coordinates;
  const ring = [
    [x - 60, y - 60],
    [x + 60, y - 60],
    [x + 60, y + 60],
    [x - 60, y + 60],
    [x - 60, y - 60],
  ];
  await put('quiet-here', 'quiet', { type: 'Polygon', coordinates: [ring] }, {}, 'The underpass');
  const { approach: shut } = await approach({ mode: 'vehicle' });
  expect(shut.ways).toEqual([]);
  expect(shut.verdict).toMatch(/^No way leads here from Yard/);
  expect(shut.doubts.join(' ')).toMatch(/Kept out of, whatever the day: The underpass/);
  await ask('features.remove', { id: 'quiet-here' });
}, 120_000);

const put = (
  id: string,
  kind: string,
  geometry: object,
  attributes: Record<string, string | number>,
  name: string | null = null,
) =>
  ask('features.put', {
    feature: { id, kind, status: 'existing', name, geometry, attributes, source: 'drawn' } as never,
  });

test('a crescent grows up and hides somebody at the foot of a stand; a screen beside the lane stands on one side', async () => {
  const screen = (more: object) =>
    ask('stands.screen', {
      ...tried({ stand: 'stand-fill' }),
      shape: 'crescent',
      way: null,
      screen: null,
      plant: 'giant miscanthus',
      rows: 4,
      rowSpacing: 0.9,
      radius: 5,
      opens: null,
      gap: 60,
      offset: 4,
      side: null,
      ...more,
    });
  const { trial, lines, cautions, attributes } = await screen({});
  expect(trial.seasons.map(({ season }) => season)).toEqual([0, 1, 2, 3, 4, 5, 6]);
  const foot = trial.seasons.map(({ seen }) => seen[0]!.most!);
  for (let k = 1; k < foot.length; k++) expect(foot[k]!).toBeLessThanOrEqual(foot[k - 1]! + 1e-9);
  expect(foot.at(-1)!).toBeLessThan(foot[0]!);
  expect(lines.features).toHaveLength(1);
  expect(attributes).toMatchObject({ species: 'giant miscanthus', plant: 'rhizomes' });
  expect(cautions.join(' ')).toMatch(/miscanthus spreads/);
  const { features } = await ask('map.table', { table: 'features' });
  const lane = features.find(({ properties }) => properties?.name === 'Farm lane')!;
  const beside = await screen({ ...tried({}), shape: 'beside', way: String(lane.id) });
  expect(['left', 'right']).toContain(beside.side);
  expect(beside.trial.seasons[0]!.shots).toBeNull();
}, 60_000);

test('a logged sit is laid beside its verdict, says too few, and is undone like any edit', async () => {
  const { features } = await ask('map.table', { table: 'features' });
  const { geometry } = features.find(({ id }) => id === 'stand-saddle')!;
  expect((await ask('stands.log', {})).sits).toEqual([]);
  const sit = {
    date: '2024-11-05',
    who: 'sit',
    stand: 'stand-saddle',
    from: 7.5,
    to: 9,
    windFrom: 270,
    windSpeed: 3,
  };
  await put('sit-1', 'visit', geometry, sit);
  await put('sit-2', 'visit', geometry, { date: '2024-11-06', who: 'sit', stand: 'stand-saddle' });
  await put('seen-1', 'observation', geometry, { sit: 'sit-1', hour: 8, count: 2, outcome: 'came in range' });
  const { sits, scores } = await ask('stands.log', {});
  expect(sits.map(({ id }) => id)).toEqual(['sit-2', 'sit-1']);
  expect(sits[1]).toMatchObject({ part: 'morning', wind: 'W', name: 'Saddle stand', silent: null });
  const { cases } = await ask('stands.verdict', { ...tried({ stand: 'stand-saddle' }), date: null });
  const west = cases.find(({ part, wind }) => part === 'morning' && wind === 'W')!;
  expect(sits[1]!.expected!.clean).toBe(west.clean!.usual);
  // Nothing is expected of a sit whose wind was not written down.
  expect(sits[0]).toMatchObject({ expected: null, silent: expect.stringMatching(/not told/) });
  for (const { luck, sentence } of scores)
    expect([luck, sentence]).toEqual([null, expect.stringMatching(/Too few/)]);
  await ask('edit.undo', {});
  expect((await ask('stands.log', {})).sits[1]!.observations).toEqual([]);
}, 120_000);
