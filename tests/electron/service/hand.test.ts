import { describe, expect, test } from 'vitest';
import { onSample } from './on-sample.ts';

/** What is under the hand, on the sample as it was scouted. */

type Place = [number, number];

const { sample, ask } = onSample();

describe('where a deer goes next', () => {
  test('at the best neck both ways are told, and they add up', async () => {
    const { features } = await ask('map.table', { table: 'necks' });
    const neck = features.find(({ properties }) => properties!.rank === 1)!;
    const [[ax, ay], [bx, by]] = neck.properties!.line as [[number, number], [number, number]];
    const [x, y] = [(ax + bx) / 2, (ay + by) / 2];
    const answer = await ask('hand.onward', { x, y });
    expect(answer.share).toBeGreaterThan(0.1);
    expect(answer.ways.length).toBeGreaterThanOrEqual(2);
    const sum = answer.ways.reduce((all, { share }) => all + share, answer.stays);
    expect(sum).toBeCloseTo(1, 6);
    for (const way of answer.ways) {
      expect(way.path[0]).toEqual([x, y]);
      expect(way.words).toMatch(/^(north|south|east|west)/);
      for (const [px, py] of way.path) expect(Math.hypot(px - x, py - y)).toBeLessThan(answer.ahead + 20);
    }
    // A neck is passed: what comes in on one side goes out on the other.
    const bearings = answer.ways.map(({ bearing }) => bearing);
    const apart = bearings.flatMap((a) => bearings.map((b) => Math.abs(((a - b + 540) % 360) - 180)));
    expect(Math.max(...apart)).toBeGreaterThan(90);
  });

  test('says where there is too little to say, and where there is no ground', async () => {
    const { west, north } = sample.summary.frame;
    const corner = await ask('hand.onward', { x: west + 8, y: north - 8 }).catch((error: Error) => error);
    if ('sentence' in corner) {
      expect(corner.ways).toEqual([]);
      expect(corner.sentence).toMatch(/too little to say where it goes/);
    } else expect(corner.message).toMatch(/not known/);
    await expect(ask('hand.onward', { x: west - 500, y: north })).rejects.toThrow(/off the map/);
  });
});

describe('where a person is smelled', () => {
  test('at the hour and wind asked, quickly once the air is made, downwind and agreeing with the full answer', async () => {
    const { x, y } = sample.spot;
    const hour = { date: '2026-11-05', hour: 14, windFrom: 270, windSpeed: 4, cloud: 0 };
    expect(await ask('hand.air', hour)).toEqual({ ready: true });
    const full = await ask('air.scent', { x, y, height: 1, ...hour });
    await ask('hand.smelled', { x: x + 20, y, ...hour });
    const began = performance.now();
    const answer = await ask('hand.smelled', { x, y, ...hour });
    const seconds = (performance.now() - began) / 1000;
    console.info(`smelled in ${seconds.toFixed(2)} s`);
    // A third of a second is the aim; only a hang fails on a busy machine.
    expect(seconds).toBeLessThan(3);
    expect(Math.abs(((answer.bearing - 90 + 540) % 360) - 180)).toBeLessThan(60);
    expect(answer.when).toMatch(/^2026-11-05 at 14:00 UTC-\d, .* from W$/);
    expect(answer.usual?.type).toMatch(/Polygon/);
    // Half the particles from the same spot in the same air.
    expect(answer.carry / full.carry.usual).toBeGreaterThan(0.6);
    expect(answer.carry / full.carry.usual).toBeLessThan(1.7);
    const { west, north } = sample.summary.frame;
    await expect(ask('hand.smelled', { x: west - 500, y: north, ...hour })).rejects.toThrow(/no ground/);
  });
});

describe('travel while a proposal is dragged', () => {
  test('runs elsewhere, and the necks have the shares of the full comparison', async () => {
    const { features } = await ask('map.table', { table: 'necks' });
    const necks = features.map(
      ({ properties }) => properties as { rank: number; id: string; line: [Place, Place] },
    );
    const [[ax, ay], [bx, by]] = necks.find(({ rank }) => rank === 4)!.line;
    const at = (shift: number) => ({
      id: 'dragged',
      kind: 'barricade' as const,
      status: 'proposed' as const,
      name: null,
      geometry: {
        type: 'LineString' as const,
        coordinates: [
          [ax + shift, ay],
          [bx + shift, by],
        ] as Place[],
      },
      attributes: { height: 2.5 },
      source: 'drawn',
    });
    await ask('hand.dragged', { feature: at(-30), neck: null });
    const answer = await ask('hand.dragged', { feature: at(0), neck: necks[5]!.id });
    console.info(`re-routed in ${answer.seconds.toFixed(2)} s`);
    expect(answer.seconds).toBeLessThan(5);
    expect(answer.line.before).toBeGreaterThan(0.02);
    expect(answer.line.after).toBeLessThan(answer.line.before);
    expect(answer.moved.length).toBeGreaterThan(0);
    expect(answer.necks[0]!.id).toBe(necks[5]!.id);
    const full = await ask('travel.whatIf', { trial: [at(0)], spot: null });
    for (const { id, before, after } of answer.necks) {
      const wanted = full.necks.find((neck) => neck.id === id)!;
      expect(before).toBeCloseTo(wanted.before, 9);
      expect(after).toBeCloseTo(wanted.after, 5);
    }
  });
});
