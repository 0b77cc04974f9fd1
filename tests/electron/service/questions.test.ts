import { decode } from 'fast-png';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { sunriseSunset } from '../../../core/air/sun.ts';
import type { PropertySummary, Service } from '../../../electron/service/contract.ts';
import { type OnSample, openOnSample } from './on-sample.ts';

/** Questions asked on demand, on the sample property after its scout. */

let sample: OnSample;
let service: Service;
let summary: PropertySummary;
let spot: { x: number; y: number };

let ask: OnSample['ask'];

const kindOf = (promise: Promise<unknown>): Promise<string> =>
  promise.then(
    () => 'answered',
    (error) => (error as { trouble?: { kind: string } }).trouble?.kind ?? (error as Error).name,
  );

/** Share of the pixels of the whole map that an overlay paints, by opacity. */
async function painted(overlay: string): Promise<number> {
  const { data } = decode(await ask('map.overlayTile', { overlay, z: 0, x: 0, y: 0 }));
  let count = 0;
  for (let i = 3; i < data.length; i += 4) if (data[i]! > 0) count++;
  return count / (256 * 256);
}

/** Makes a change, scouts, and waits until a step is done, or the whole run. */
async function scoutTo(step: string, change: () => Promise<unknown>): Promise<void> {
  await change();
  const there = new Promise<void>((resolve) => {
    const stop = service.listen((event) => {
      if (event.type !== step && !(event.type === 'scout.step' && event.step === step)) return;
      stop();
      resolve();
    });
  });
  await ask('scout.start', {});
  await there;
}

beforeAll(async () => {
  sample = await openOnSample();
  ({ service, summary, spot, ask } = sample);
}, 300_000);
afterAll(() => sample?.close());

describe('ground', () => {
  test('what drains to a spot on a creek is as large as its accumulation says', async () => {
    const { features } = await ask('map.table', { table: 'drainage' });
    const lines = features.filter(({ properties }) => properties!.order > 1);
    expect(lines.length).toBeGreaterThan(0);
    const { coordinates } = lines[0]!.geometry as GeoJSON.LineString;
    const [x, y] = coordinates[Math.floor(coordinates.length / 2)] as [number, number];
    const answer = await ask('ground.catchment', { x: x + 5, y });
    expect(answer.snapped).toBeLessThanOrEqual(6);
    const [ox, oy] = answer.outlet;
    // The same cell by another kernel: cells drained, as its reading says.
    expect(Math.hypot(ox - x, oy - y)).toBeLessThan(12);
    const reading = await ask('map.reading', { x: ox, y: oy });
    const drained = reading.find(({ label }) => label === 'Drains to here')!.value;
    expect(answer.sentence.startsWith(`${drained} drain to this spot`)).toBe(true);
    // The outline holds the ground it counts: shoelace area of its rings.
    const polygons =
      answer.outline.type === 'Polygon'
        ? [answer.outline.coordinates]
        : (answer.outline as GeoJSON.MultiPolygon).coordinates;
    const ringArea = (ring: GeoJSON.Position[]) =>
      ring.slice(1).reduce((sum, [bx, by], n) => sum + (ring[n]![0]! * by! - bx! * ring[n]![1]!) / 2, 0);
    const area = polygons.flat().reduce((sum, ring) => sum + ringArea(ring), 0);
    expect(area / answer.area).toBeCloseTo(1, 1);
  });

  test('a way is in view from what its spots see, and from the areas of travel by share', async () => {
    const heights = { observerHeight: 1.7, targetHeight: 0.9, radius: 400 };
    const { x, y } = spot;
    const stub = {
      id: 'stub',
      kind: 'trail',
      status: 'existing' as const,
      name: 'A stub',
      geometry: {
        type: 'LineString' as const,
        coordinates: [
          [x, y],
          [x + 1, y],
        ] as [number, number][],
      },
      attributes: {},
      source: 'drawn',
    };
    await ask('features.put', { feature: stub });
    const one = await ask('ground.wayView', { feature: 'stub', ...heights });
    // A way of one spot is seen from just what that spot sees.
    expect(one.seenFrom).toBe((await ask('ground.view', { x, y, ...heights, through: 'bare' })).clear);
    await ask('edit.undo', {});
    const track = await ask('ground.wayView', { feature: 'track-hollow', ...heights });
    expect(track.seenFrom).toBeGreaterThan(one.seenFrom);
    expect(track.areas.length).toBeGreaterThan(2);
    expect(track.areas.every(({ share }) => share >= 0 && share <= 1)).toBe(true);
    expect(await painted(track.overlay.id)).toBeGreaterThan(0);
    expect(await kindOf(ask('ground.wayView', { feature: 'boundary', ...heights }))).toBe('Problem');
  });

  test('what is in view, as a picture, an area and a line of sight, agree', async () => {
    const heights = { observerHeight: 6, targetHeight: 1 };
    const radius = 600;
    const bare = await ask('ground.view', { ...spot, ...heights, radius, through: 'bare' });
    const all = summary.frame.width * summary.frame.height * summary.frame.cellSize ** 2;
    // A tile shows the frame in its longer side; within sampling of one pixel in many cells.
    const side = Math.max(summary.frame.width, summary.frame.height) * summary.frame.cellSize;
    expect((await painted(bare.overlay.id)) * side ** 2).toBeGreaterThan(bare.clear * 0.8);
    expect((await painted(bare.overlay.id)) * side ** 2).toBeLessThan(bare.clear * 1.25);
    expect(bare.clear).toBeLessThan(Math.min(all, Math.PI * radius ** 2));
    expect((await ask('map.overlayLegend', { overlay: bare.overlay.id })).entries.length).toBe(1);

    const screened = await ask('ground.view', { ...spot, ...heights, radius, through: 'vegetation' });
    expect(screened.clear).toBeLessThan(bare.clear);
    expect(screened.glimpsed).toBeLessThanOrEqual(bare.clear);
    // Both pictures stay; a newer one of a kind ends the older.
    expect(await painted(bare.overlay.id)).toBeGreaterThan(0);
    const again = await ask('ground.view', { ...spot, ...heights, radius: 100, through: 'bare' });
    expect(await kindOf(ask('map.overlayTile', { overlay: bare.overlay.id, z: 0, x: 0, y: 0 }))).toBe(
      'Problem',
    );
    expect(await painted(again.overlay.id)).toBeGreaterThan(0);

    const near = await ask('ground.sightline', {
      from: [spot.x, spot.y],
      to: [spot.x + 4, spot.y],
      ...heights,
    });
    expect(near.visible).toBe(true);
    const far = await ask('ground.sightline', {
      from: [spot.x - 700, spot.y - 600],
      to: [spot.x + 700, spot.y + 600],
      ...heights,
    });
    expect(far.profile.length).toBeLessThanOrEqual(400);
    expect(far.profile.at(-1)!.distance).toBeCloseTo(far.length, 6);
    if (!far.visible) expect(far.obstruction!.above).toBeGreaterThan(0);
  });

  test('a newer question takes the place of one under way, and one can be taken back', async () => {
    const question = {
      ...spot,
      observerHeight: 6,
      targetHeight: 1,
      radius: 900,
      through: 'vegetation' as const,
    };
    const older = kindOf(ask('ground.view', question));
    const newer = kindOf(ask('ground.view', { ...question, radius: 50 }));
    expect(await older).toBe('cancelled');
    expect(await newer).toBe('answered');
    const third = kindOf(ask('ground.shadow', { date: '2025-11-08', hour: 8 }));
    expect((await ask('ask.cancel', { ask: 'ground.shadow' })).cancelled).toBe(true);
    expect(await third).toBe('cancelled');
    expect((await ask('ask.cancel', { ask: 'ground.shadow' })).cancelled).toBe(false);
  });

  test('sunrise and sunset agree with the NOAA series within a minute', async () => {
    const { times, zone } = await ask('ground.sun', { date: '2025-11-08' });
    const { longitude, latitude } = summary.frame;
    const noon = Date.UTC(2025, 10, 8, 12) / 3_600_000 - longitude / 15;
    const { rise, set } = sunriseSunset(noon, longitude, latitude)!;
    const hoursOf = (event: string) =>
      Date.parse(times.find((time) => time.event === event)!.utc!) / 3_600_000;
    expect(Math.abs(hoursOf('sunrise') - rise) * 60).toBeLessThan(1);
    expect(Math.abs(hoursOf('sunset') - set) * 60).toBeLessThan(1);
    expect(times.map(({ event }) => event)).toEqual(['dawn', 'sunrise', 'noon', 'sunset', 'dusk']);
    expect(zone).toBe(`UTC${Math.round(longitude / 15)}`);
    const standard = times.map((time) => time.standard!);
    expect(standard).toEqual([...standard].sort());
  });

  test('shade is long after sunrise, short at noon and everywhere at night', async () => {
    const { times } = await ask('ground.sun', { date: '2025-11-08' });
    const [hours, minutes] = times[1]!.standard!.split(':').map(Number) as [number, number];
    const early = await ask('ground.shadow', { date: '2025-11-08', hour: hours + minutes / 60 + 0.5 });
    const noon = await ask('ground.shadow', { date: '2025-11-08', hour: 12 });
    expect(early.share).toBeGreaterThan(noon.share);
    expect(early.sun.altitude).toBeLessThan(noon.sun.altitude);
    const night = await ask('ground.shadow', { date: '2025-11-08', hour: 0 });
    expect(night.share).toBe(1);
    expect(night.sentence).toMatch(/sun is down/);
  });

  test('creek beds are measured or said not to be', async () => {
    const { features } = await ask('map.table', { table: 'channels' });
    expect(features.some(({ properties }) => properties!.source === 'elevation')).toBe(true);
    for (const { properties } of features) {
      const stated = properties!.source === 'elevation' || properties!.source === 'field';
      expect(properties!.width !== null, properties!.id).toBe(stated);
    }
  });

  test('how drainage starts is said, and moves with the setting', async () => {
    const before = (await ask('ground.drainage', {}))!;
    expect(before.how).toBe('constant drop');
    expect(before.lines).toBe((await ask('map.table', { table: 'drainage' })).features.length);
    const { cellSize } = summary.frame;
    const area = 4 * before.area;
    await scoutTo('ground.drainage', () =>
      ask('settings.change', { patch: { ground: { drainageThreshold: area } } }),
    );
    const moved = (await ask('ground.drainage', {}))!;
    expect(moved.how).toBe('set by the user');
    expect(Math.abs(moved.area - area)).toBeLessThan(cellSize ** 2);
    expect(moved.lines).toBeLessThan(before.lines);
    await ask('scout.cancel', {});
    await scoutTo('scout.done', () => ask('edit.undo', {}));
    expect(await ask('ground.drainage', {})).toEqual(before);
  });

  test('the files this ground needs are checked off by what it was made from', async () => {
    const items = await ask('ground.toFetch', {});
    expect(items.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['elevation', 'imagery', 'land cover', 'wind']),
    );
    const sample = (kind: string) => items.filter((item) => item.kind === kind);
    expect(sample('elevation').every(({ have }) => have)).toBe(true);
    expect(sample('land cover').every(({ have }) => have)).toBe(false);
    expect(sample('wind')[0]!.have).toBe(true);
    for (const { have, cost } of items) expect(cost === null).toBe(have);
  });
});

describe('travel', () => {
  const proposed = (id: string, kind: string, coordinates: [number, number][], height: number) => ({
    id,
    kind,
    status: 'proposed' as const,
    name: null,
    geometry: { type: 'LineString' as const, coordinates },
    attributes: { height },
    source: 'drawn',
  });
  /** The best neck the owner can work at, and a line across it. */
  async function bestNeck() {
    const { features } = await ask('map.table', { table: 'necks' });
    const { properties } = features.find((row) => row.properties!.owner === 'inside')!;
    const [[ax, ay], [bx, by]] = properties!.line as [[number, number], [number, number]];
    const across: [number, number][] = [
      [2 * ax - bx, 2 * ay - by],
      [2 * bx - ax, 2 * by - ay],
    ];
    return { id: properties!.id as string, at: properties!.at as [number, number], across };
  }

  test('a spot says what makes it dear and what passes', async () => {
    const { id, at } = await bestNeck();
    const why = await ask('travel.why', { x: at[0], y: at[1] });
    expect(why.necks).toContain(id);
    expect(why.routes.length).toBeGreaterThan(0);
    // An edge takes nothing off a face too steep to stand on.
    const sum = why.parts.reduce(
      (total, { part, value }) => total + (part === 'steep' ? value : why.factor * value),
      1,
    );
    expect(sum).toBeCloseTo(why.total!, 1);
    expect(why.parts.map(({ value }) => value)).toEqual(
      why.parts.map(({ value }) => value).sort((a, b) => b - a),
    );
    const reading = await ask('map.reading', { x: at[0], y: at[1] });
    expect(reading.find(({ label }) => label === 'Resistance')!.value).toContain(why.total!.toFixed(1));
  });

  test('a fence tried across a neck empties it at once, and taken back fills it again', async () => {
    const { id, at, across } = await bestNeck();
    const spot = { x: at[0], y: at[1], reach: 20 };
    // Today's travel is solved with the first; nothing on trial but what is drawn.
    const first = await ask('travel.whatIf', { trial: [], spot });
    // No deer jumps a fence of 4 m; a barricade they do cross, at a price.
    const trial = [proposed('tried', 'fence', across, 4), proposed('felled', 'barricade', across, 1.5)];
    const blocked = await ask('travel.whatIf', { trial, spot });
    const of = (answer: typeof first) => answer.necks.find((neck) => neck.id === id)!;
    expect(of(blocked).after).toBeLessThan(of(first).after / 2);
    expect(of(blocked).before).toBe(of(first).before);
    expect(blocked.spot!.after).toBeLessThan(blocked.spot!.before);
    expect(blocked.barricades.map(({ feature }) => feature)).toContain('felled');
    expect(blocked.barricades.every(({ sentences }) => sentences.length > 0)).toBe(true);
    // Less on the barricade, more elsewhere.
    expect(await painted(blocked.overlays.change.id)).toBeGreaterThan(0.001);
    const [x, y] = at;
    const legend = await ask('map.overlayLegend', { overlay: blocked.overlays.change.id });
    expect(legend.entries.map(({ label }) => label).join()).toMatch(/less.*as now.*more/);
    const again = await ask('travel.whatIf', { trial: [], spot });
    // From another start, the same answer to the accuracy it is solved to.
    again.necks.forEach(({ id, after }, k) => {
      expect(id).toBe(first.necks[k]!.id);
      expect(Math.abs(after - first.necks[k]!.after), id).toBeLessThan(1e-6);
    });
    expect([x, y]).toEqual(at);
    // The same answer as that of the whole run, which solves anew.
    const { features } = await ask('map.table', { table: 'barricades' });
    for (const check of again.barricades) {
      const row = features.find(({ properties }) => properties!.feature === check.feature)!;
      expect(Math.abs(row.properties!.after - check.after)).toBeLessThan(1e-6);
    }
  }, 60_000);

  test('two areas, a stand and goals are answered beside the necks', async () => {
    const { at, across } = await bestNeck();
    const { features } = await ask('map.table', { table: 'corridors' });
    const { from, to } = features[0]!.properties as { from: number; to: number };
    const gather = { x: at[0], y: at[1], reach: 30 };
    const keepOut = { ...gather, x: at[0] + 200, windFrom: 270, reach: 100 };
    const trial = [proposed('tried', 'fence', across, 4)];
    const question = { trial, spot: null, pair: { from, to }, stand: gather, goals: { gather, keepOut } };
    const answer = await ask('travel.whatIf', question);
    expect(answer.pair!.ofAll).toBeGreaterThan(0);
    expect(answer.pair!.necks.map(({ id }) => id)).toEqual(answer.necks.map(({ id }) => id));
    expect(answer.stand!.after).toBeLessThan(answer.stand!.before);
    expect(answer.goals!.gather).toEqual({ before: answer.stand!.before, after: answer.stand!.after });
    expect(answer.goals!.rest.after).toBeGreaterThan(answer.goals!.rest.before);
    expect(answer.goals!.sentences.length).toBeGreaterThan(3);
    // Of any travel: as of all.
    const any = await ask('travel.whatIf', { ...question, pair: { from: 'all', to: 'all' } });
    expect(any.pair!.ofAll).toBeCloseTo(1, 6);
    any.pair!.necks.forEach(({ after }, k) => {
      expect(after).toBeCloseTo(any.necks[k]!.after, 6);
    });
    // A drawn stand goes by its own range.
    const stands = (await ask('map.table', { table: 'features' })).features.filter(
      ({ properties }) => properties!.kind === 'stand',
    );
    const drawn = { feature: stands[0]!.properties!.id as string };
    const { stand } = await ask('travel.whatIf', { ...question, stand: drawn });
    const { weapon = 'bow', range } = stands[0]!.properties!.attributes as { weapon?: 'bow'; range?: number };
    const settings = summary.settings as { stands: { range: Record<string, number> } };
    expect(stand!.reach).toBe(range ?? settings.stands.range[weapon]);
    expect(await kindOf(ask('travel.whatIf', { ...question, stand: { feature: 'none' } }))).toBe('Problem');
    const same = { ...question, pair: { from, to: from } };
    expect(await kindOf(ask('travel.whatIf', same))).toBe('Problem');
    const next = await ask('travel.closures', { neck: null, trial: [], goals: { gather, keepOut } });
    for (const { effectSentences } of next.closures) expect(effectSentences.length).toBeGreaterThan(2);
  }, 60_000);

  test('years to come: a barricade rots, and what it held comes back', async () => {
    const { id, across } = await bestNeck();
    const trial = [
      { ...proposed('tops', 'barricade', across, 3), name: 'Tops', attributes: { height: 3, lasts: 2 } },
    ];
    const answer = await ask('travel.years', { trial, years: [0, 1, 2] });
    expect(answer.years).toEqual([0, 1, 2]);
    const { asIs, planned } = answer.necks.find((neck) => neck.id === id)!;
    // Nothing that exists changes with the years on the sample's ground but by what is drawn to.
    const now = await ask('travel.whatIf', { trial, spot: null });
    const neck = now.necks.find((one) => one.id === id)!;
    expect(Math.abs(asIs[0]! - neck.before)).toBeLessThan(1e-6);
    expect(Math.abs(planned[0]! - neck.after)).toBeLessThan(1e-6);
    expect(Math.abs(planned[1]! - asIs[1]!)).toBeLessThan(Math.abs(planned[0]! - asIs[0]!));
    expect(answer.gone.map((gone) => gone.some(({ name }) => name === 'Tops'))).toEqual([false, false, true]);
    expect(answer.sentences.length).toBeGreaterThan(0);
  }, 60_000);

  test('the next closures gather at the neck they are for', async () => {
    const answer = await ask('travel.closures', { neck: null, trial: [] });
    for (const { neckBefore, neckAfter, path } of answer.closures) {
      expect(neckAfter).toBeGreaterThan(neckBefore);
      expect(path.length).toBeGreaterThan(1);
    }
    expect(answer.goal === null).toBe(answer.closures.length === 0);
    expect(await kindOf(ask('travel.closures', { neck: 'no such neck', trial: [] }))).toBe('Problem');
  }, 60_000);

  test('the sets of assumptions are there to choose from', async () => {
    const sets = await ask('travel.sets', {});
    expect(sets.filter(({ chosen }) => chosen).map(({ key }) => key)).toEqual(['usual']);
    expect(sets.length).toBeGreaterThan(3);
  });

  test('runs over the uncertain weights tell progress, and can be stopped', async () => {
    const fractions: number[] = [];
    const stop = service.listen((event) => {
      if (event.type === 'ask.progress' && event.ask === 'travel.uncertainty') fractions.push(event.fraction);
    });
    const { necks, sentence } = await ask('travel.uncertainty', { runs: 3 });
    stop();
    expect(fractions.length).toBeGreaterThan(2);
    expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
    const table = await ask('map.table', { table: 'necks' });
    expect(necks.map(({ id }) => id)).toEqual(table.features.map(({ properties }) => properties!.id));
    for (const { spread, share } of necks) {
      expect(spread.runs).toBe(3);
      expect(spread.low).toBeLessThanOrEqual(share);
      expect(spread.high).toBeGreaterThanOrEqual(share);
    }
    expect(sentence).toContain('3 runs');
    const long = kindOf(ask('travel.uncertainty', { runs: 500 }));
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect((await ask('ask.cancel', { ask: 'travel.uncertainty' })).cancelled).toBe(true);
    expect(await long).toBe('cancelled');
  }, 120_000);

  test('marks on the necks are found, marks far off are not, and luck is told', async () => {
    const { features } = await ask('map.table', { table: 'necks' });
    const on = features.slice(0, 4).map(({ properties }) => properties!.at as [number, number]);
    const { west, north } = summary.frame;
    const trial = await ask('travel.blindTrial', { marks: [...on, [west + 5, north - 5]], reach: 30 });
    expect([trial.found, trial.necksFound]).toEqual([4, 4]);
    expect(trial.byLuck).toBeLessThan(0.05);
    expect((await ask('travel.sightings', {})).seen).toBe(0);
    const fit = await ask('travel.fit', {});
    expect(fit).toMatchObject({ outcome: 'too few', seen: 0, name: null, changes: [] });
    expect(fit.sentence).toContain('Too few to say');
    expect(await kindOf(ask('travel.takeFit', {}))).toBe('Problem');
  });
});

describe('the tools of the map', () => {
  test('a profile meets the ground, slope and cover that the reading gives, and sees what a line of sight sees', async () => {
    const { west, north, cellSize, width, height } = summary.frame;
    const path: [number, number][] = [
      [west + 0.3 * width * cellSize, north - 0.35 * height * cellSize],
      [west + 0.6 * width * cellSize, north - 0.6 * height * cellSize],
    ];
    const heights = { observerHeight: 1.7, targetHeight: 0.9 };
    const answer = await ask('map.profile', { path, ...heights });
    expect(answer.places.length).toBeLessThanOrEqual(400);
    expect(answer.length).toBeCloseTo(Math.hypot(path[1]![0] - path[0]![0], path[1]![1] - path[0]![1]), 6);
    expect(answer.surfaceLength).toBeGreaterThan(answer.length);
    const [first, last] = [answer.places[0]!, answer.places.at(-1)!];
    expect(answer.climb - answer.descent).toBeCloseTo(last.ground! - first.ground!, 2);
    for (const n of [0, 150, 399]) {
      const place = answer.places[n]!;
      const reading = new Map(
        (await ask('map.reading', { x: place.at[0], y: place.at[1] })).map(({ label, value }) => [
          label,
          value,
        ]),
      );
      expect(reading.get('Slope')).toContain(`${place.slope!.toFixed(1)}°`);
      expect(answer.covers[place.cover!]!.label.toLowerCase()).toContain(
        reading.get('Cover')!.split(' ')[0]!,
      );
    }
    expect(answer.covers.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 6);
    const line = await ask('ground.sightline', { from: path[0]!, to: path[1]!, ...heights });
    expect(answer.sight.visible).toBe(line.visible);
    expect(answer.sight.obstruction).toEqual(line.obstruction);
    await expect(
      ask('map.profile', {
        path: [
          [west - 900, north],
          [west - 500, north],
        ],
        ...heights,
      }),
    ).rejects.toThrow('not known');
  });

  test('the block of heights is the mean of the elevation that readings give', async () => {
    const bytes = await ask('map.heights', { most: 128 });
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    const [columns, rows, factor] = [0, 4, 8].map((at) => view.getUint32(at, true)) as [
      number,
      number,
      number,
    ];
    const { west, north, cellSize, width, height } = summary.frame;
    expect(Math.max(columns, rows)).toBeLessThanOrEqual(128);
    expect([columns, rows]).toEqual([Math.ceil(width / factor), Math.ceil(height / factor)]);
    expect(bytes.byteLength).toBe(12 + 4 * columns * rows);
    const [c, r] = [Math.floor(columns / 3), Math.floor(rows / 2)];
    let sum = 0;
    for (let j = 0; j < factor; j++)
      for (let i = 0; i < factor; i++) {
        const { places } = await ask('map.profile', {
          path: [
            [west + (c * factor + i + 0.5) * cellSize, north - (r * factor + j + 0.5) * cellSize],
            [west + (c * factor + i + 0.5) * cellSize + 0.01, north - (r * factor + j + 0.5) * cellSize],
          ],
          observerHeight: 0,
          targetHeight: 0,
        });
        sum += places[0]!.ground!;
      }
    expect(view.getFloat32(12 + 4 * (r * columns + c), true)).toBeCloseTo(sum / factor ** 2, 2);
  });
});
