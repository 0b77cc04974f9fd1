import { decode } from 'fast-png';
import { describe, expect, test } from 'vitest';
import { onSample } from './on-sample.ts';

/** Plans kept side by side, on the sample property after its scout. */

const { ask } = onSample();

const kindOf = (promise: Promise<unknown>): Promise<string> =>
  promise.then(
    () => 'answered',
    (error) => (error as Error).name,
  );
const proposedOnMap = async () =>
  (await ask('map.table', { table: 'features' })).features
    .map(({ properties }) => properties!)
    .filter(({ status }) => status === 'proposed');

/** A fence no deer jumps across the best neck the owner can work at. */
async function acrossBest() {
  const { features } = await ask('map.table', { table: 'necks' });
  const { properties } = features.find((row) => row.properties!.owner === 'inside')!;
  const [[ax, ay], [bx, by]] = properties!.line as [[number, number], [number, number]];
  const coordinates: [number, number][] = [
    [2 * ax - bx, 2 * ay - by],
    [2 * bx - ax, 2 * by - ay],
  ];
  const feature = {
    id: 'across',
    kind: 'fence',
    status: 'proposed' as const,
    name: null,
    geometry: { type: 'LineString' as const, coordinates },
    attributes: { height: 4 },
    source: 'drawn',
  };
  return { neck: properties!.id as string, at: properties!.at as [number, number], feature };
}

describe('variants of the plan', () => {
  test('are made, filled, named, chosen and taken away, and every step is undone', async () => {
    const before = await ask('plan.variants', {});
    expect(before.variants.map(({ name }) => name)).toEqual(['Plan']);
    const [felled] = await proposedOnMap();
    expect(before.variants[0]!.proposed).toEqual([{ kind: 'barricade', count: 1 }]);

    const copied = await ask('plan.createVariant', { name: 'With a fence', copyOf: 'plan' });
    const { id } = copied.variants[1]!;
    expect(copied.chosen).toBe(id);
    const [copy] = await proposedOnMap();
    expect(copy!.name).toBe(felled!.name);
    expect(copy!.id).not.toBe(felled!.id);

    const { feature } = await acrossBest();
    await ask('features.put', { feature });
    expect((await ask('plan.variants', {})).variants.map(({ proposed }) => proposed.length)).toEqual([1, 2]);
    await ask('plan.chooseVariant', { id: 'plan' });
    expect((await proposedOnMap()).map((row) => row.id)).toEqual([felled!.id]);

    expect(await kindOf(ask('plan.renameVariant', { id, name: 'Plan' }))).toBe('Problem');
    expect(await kindOf(ask('plan.removeVariant', { id: 'none' }))).toBe('Problem');
    await ask('plan.renameVariant', { id, name: 'Fenced' });
    const left = await ask('plan.removeVariant', { id });
    expect(left).toEqual(before);
    expect(await kindOf(ask('plan.removeVariant', { id: 'plan' }))).toBe('Problem');

    // Back one by one: removed, renamed, chosen, drawn, copied.
    await ask('edit.undo', {});
    const again = await ask('plan.variants', {});
    expect(again.variants.map(({ name }) => name)).toEqual(['Plan', 'Fenced']);
    expect(again.variants[1]!.proposed.map(({ kind }) => kind).sort()).toEqual(['barricade', 'fence']);
    for (let k = 0; k < 4; k++) await ask('edit.undo', {});
    expect(await ask('plan.variants', {})).toEqual(before);
  });

  test('are compared with one another and with today', async () => {
    const { variants } = await ask('plan.createVariant', { name: 'Fenced', copyOf: 'plan' });
    const { id } = variants[1]!;
    const { feature, neck, at } = await acrossBest();
    await ask('features.put', { feature });
    const gather = { x: at[0], y: at[1], reach: 30 };
    const question = { first: 'plan', second: id, stand: gather, goals: { gather, keepOut: null } };
    const answer = await ask('travel.compare', question);
    const row = answer.necks.find((one) => one.id === neck)!;
    expect(row.second).toBeLessThan(row.first / 2);
    expect(answer.first.stand!.after).toBeGreaterThan(answer.second.stand!.after);
    expect(answer.first.stand!.before).toBe(answer.second.stand!.before);
    expect(answer.first.goals!.gather!.after).toBe(answer.first.stand!.after);
    expect(answer.sentences.join(' ')).toContain('Fenced');
    // The first plan is what the whole run has reckoned with.
    const { features } = await ask('map.table', { table: 'barricades' });
    for (const check of answer.first.barricades) {
      const known = features.find(({ properties }) => properties!.feature === check.feature)!;
      expect(Math.abs(known.properties!.after - check.after)).toBeLessThan(1e-6);
    }
    const junctions = await ask('map.table', { table: 'junctions' });
    const known = answer.junctions.filter((spot) => spot.id !== null);
    expect(known.map((spot) => spot.id)).toEqual(junctions.features.map(({ properties }) => properties!.id));
    known.forEach(({ today }, k) => {
      expect(today).toBeCloseTo(junctions.features[k]!.properties!.share, 1);
    });
    for (const { id: overlay } of [
      answer.difference,
      ...[answer.first, answer.second].flatMap(({ overlays }) => [overlays.after, overlays.change]),
    ]) {
      const { data } = decode(await ask('map.overlayTile', { overlay, z: 0, x: 0, y: 0 }));
      expect(data.some((value, i) => i % 4 === 3 && value > 0)).toBe(true);
    }
    expect(await kindOf(ask('travel.compare', { ...question, second: 'plan' }))).toBe('Problem');
  }, 60_000);
});
