import { expect, test } from 'vitest';
import { pathsOf, ringsOf } from '../../../core/features/shapes.ts';
import { isInside } from '../../../core/travel/owner.ts';
import { onSample } from './on-sample.ts';

/** A plan drafted for the sample property after its scout. */

const { sample, ask } = onSample();

const rows = async () => (await ask('map.table', { table: 'features' })).features;

test('a draft lies on the client’s ground, its gains are the what-if’s, and one undo takes it out of the plan', async () => {
  const before = process.cpuUsage();
  const draft = await ask('plan.draft', { stands: false });
  const { user, system } = process.cpuUsage(before);
  expect((user + system) / 1e6).toBeLessThan(60);
  const [weekend, winter, all] = draft.sizes;
  expect(draft.lines.length).toBeGreaterThan(1);
  expect(winter!.lines).toEqual(expect.arrayContaining(weekend!.lines));
  expect(all!.lines).toEqual(expect.arrayContaining(winter!.lines));
  expect(weekend!.hours).toBeLessThanOrEqual(28);
  const drawn = await rows();
  const rings = drawn
    .filter(({ properties }) => properties!.kind === 'boundary')
    .flatMap(({ geometry }) => ringsOf(geometry));
  for (const { feature, reasons } of draft.lines) {
    for (const at of pathsOf(feature.geometry).flat()) expect(isInside(rings, at)).toBe(true);
    expect(reasons[0]).toMatch(/\d/);
  }
  // A line's gain is what trying it by hand would give.
  const trail = draft.lines.find(({ feature, needs }) => feature.kind === 'trail' && needs.length === 0)!;
  const tried = await ask('travel.whatIf', {
    trial: [trail.feature as never],
    spot: null,
    pair: null,
    stand: null,
    goals: null,
  });
  const [, rank, from, to] = /neck (\d+) from ([\d.]+)% to ([\d.]+)%/.exec(trail.reasons[0]!)!;
  const neck = tried.necks.find((each) => each.rank === Number(rank))!;
  expect(neck.before * 100).toBeCloseTo(Number(from), 1);
  expect(neck.after * 100).toBeCloseTo(Number(to), 1);

  await ask('features.putAll', {
    label: 'Draft: everything',
    features: draft.lines.map(({ feature }) => feature as never),
  });
  const { jobs } = await ask('work.plan', {});
  for (const { feature, hours, reasons } of draft.lines)
    expect(jobs.find(({ id }) => id === feature.id)).toMatchObject({ hours, why: reasons[0] });
  await ask('edit.undo', {});
  expect((await rows()).length).toBe(drawn.length);
}, 120_000);

test('without a boundary nothing is drafted', async () => {
  const boundary = (await rows()).find(({ properties }) => properties!.kind === 'boundary')!;
  await ask('features.remove', { id: boundary.id as string });
  await expect(ask('plan.draft', { stands: false })).rejects.toThrow('No boundary is drawn');
  await ask('edit.undo', {});
}, 60_000);

test('a draft is stopped when it is taken back', async () => {
  const draft = ask('plan.draft', { stands: true });
  const end = expect(draft).rejects.toThrow('taken back');
  const off = sample.service.listen((event) => {
    if (event.type === 'ask.progress' && event.ask === 'plan.draft' && event.fraction > 0.02)
      void ask('ask.cancel', { ask: 'plan.draft' });
  });
  await end;
  off();
}, 60_000);
