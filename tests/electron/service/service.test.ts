import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { decode } from 'fast-png';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type {
  Answer,
  PropertySummary,
  RequestName,
  RequestParams,
  Service,
  ServiceEvent,
  Trouble,
} from '../../../electron/service/contract.ts';
import { createService } from '../../../electron/service/service.ts';
import { openProperty } from '../../../electron/store/property-file.ts';

const root = join(import.meta.dirname, '..', '..', '..');
let dataFolder: string;
let service: Service;
const events: ServiceEvent[] = [];

const ask = <N extends RequestName>(name: N, params: RequestParams<N>, binary: Uint8Array | null = null) =>
  service.handle(name, params, binary) as Promise<Answer<N>>;

async function troubleOf(promise: Promise<unknown>): Promise<Partial<Trouble>> {
  try {
    await promise;
  } catch (error) {
    const { trouble } = error as { trouble?: Trouble };
    return trouble ?? (error as Partial<Trouble>);
  }
  throw new Error('nothing was refused');
}

/** Waits for the end of the run that is going on. */
async function scoutEnds(): Promise<ServiceEvent> {
  for (;;) {
    const end = events.find(({ type }) => /^scout\.(done|failed|cancelled)$/.test(type));
    if (end) return end;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

beforeAll(() => {
  dataFolder = mkdtempSync(join(tmpdir(), 'service-'));
});
afterAll(async () => {
  await service?.close();
  rmSync(dataFolder, { recursive: true, force: true });
});

describe('on the sample property', () => {
  let summary: PropertySummary;

  beforeAll(async () => {
    service = await createService({ dataFolder, host: 'loopback', version: '0', openSample: true });
    service.listen((event) => events.push(event));
    summary = (await ask('property.summary', {}))!;
    expect(await scoutEnds()).toMatchObject({ type: 'scout.done' });
    summary = (await ask('property.summary', {}))!;
  }, 300_000);

  test('the sample opens by itself and says it is invented', () => {
    expect(summary.invented).toBe(true);
    expect(summary.frame.proj4).toMatch(/\+proj=utm/);
    expect(summary.ownedArea! / 4046.8564224).toBeGreaterThan(150);
  });

  test('progress rises to the end and names what is being done', () => {
    const fractions = events.flatMap((event) => (event.type === 'scout.progress' ? [event.fraction] : []));
    expect(fractions.length).toBeGreaterThan(3);
    expect(fractions).toEqual([...fractions].sort((a, b) => a - b));
  });

  test('every layer paints and every table is GeoJSON with as many features as it counts', async () => {
    expect(summary.layers.length).toBeGreaterThan(10);
    for (const { name } of summary.layers) {
      const tile = await ask('map.tile', { layer: name as never, z: 0, x: 0, y: 0 });
      const { width, height, data } = decode(tile);
      expect([width, height], name).toEqual([256, 256]);
      expect(new Set(data).size, name).toBeGreaterThan(1);
      // A photo and a shade explain themselves.
      const { entries } = await ask('map.legend', { layer: name as never });
      if (name !== 'imagery' && name !== 'shade') expect(entries.length, name).toBeGreaterThan(0);
    }
    for (const { name, count } of summary.tables) {
      const { type, features } = await ask('map.table', { table: name as never });
      expect(type).toBe('FeatureCollection');
      if (name !== 'contours') expect(features.length, name).toBe(count);
    }
  });

  test('necks are ranked with a share, a band that holds it, and an owner', async () => {
    const { features } = await ask('map.table', { table: 'necks' });
    expect(features.length).toBeGreaterThan(3);
    features.forEach(({ properties }, index) => {
      expect(properties!.rank).toBe(index + 1);
      expect(properties!.share).toBeGreaterThan(0);
      expect(properties!.share).toBeLessThanOrEqual(1);
      expect(['inside', 'on the line', 'neighbour', 'unknown']).toContain(properties!.owner);
    });
  });

  test('a reading names every grid under the pointer, and nothing beyond the map', async () => {
    const { west, north, cellSize, width } = summary.frame;
    const rows = await ask('map.reading', { x: west + 500 * cellSize, y: north - 400 * cellSize });
    expect(rows.map(({ label }) => label)).toEqual(
      expect.arrayContaining(['Elevation', 'Slope', 'Cover', 'Resistance']),
    );
    expect(await ask('map.reading', { x: west - 10 * width, y: north })).toEqual([]);
  });

  test('an edit can be taken back and brought again', async () => {
    const [x, y] = [summary.frame.west + 1000, summary.frame.north - 1000];
    const before = (await ask('map.table', { table: 'features' })).features.length;
    const put = await ask('features.put', {
      feature: {
        id: 'fence-test',
        kind: 'fence',
        status: 'existing',
        name: 'Test fence',
        geometry: {
          type: 'LineString',
          coordinates: [
            [x, y],
            [x + 200, y],
          ],
        },
        attributes: { height: 1.2 },
        source: 'drawn',
      },
    });
    expect(put.canUndo).toBe(true);
    const count = async () => (await ask('map.table', { table: 'features' })).features.length;
    expect(await count()).toBe(before + 1);
    await ask('edit.undo', {});
    expect(await count()).toBe(before);
    await ask('edit.redo', {});
    expect(await count()).toBe(before + 1);
    await ask('edit.undo', {});
  });

  test('several features are one edit', async () => {
    const { west, north } = summary.frame;
    const count = async () => (await ask('map.table', { table: 'features' })).features.length;
    const before = await count();
    await ask('features.putAll', {
      label: 'Two stands',
      features: [1, 2].map((k) => ({
        id: `stand-test-${k}`,
        kind: 'stand',
        status: 'proposed' as const,
        name: null,
        geometry: { type: 'Point' as const, coordinates: [west + 1000 * k, north - 1000] },
        attributes: {},
        source: 'drawn',
      })),
    });
    expect(await count()).toBe(before + 2);
    await ask('edit.undo', {});
    expect(await count()).toBe(before);
  });

  test('a changed weight runs only travel and what follows from it', async () => {
    const rows = await ask('travel.assumptions', {});
    const row = rows.find(({ value, high }) => high > value)!;
    events.length = 0;
    await ask('settings.change', { patch: { weights: { [row.key]: row.high } } });
    await ask('scout.start', {});
    expect(await scoutEnds()).toMatchObject({ type: 'scout.done' });
    const ran = events.flatMap((event) =>
      event.type === 'scout.step' && !event.fromCache ? [event.step] : [],
    );
    expect(ran).toContain('travel.resistance');
    expect(ran.filter((step) => /^(ground|cover)\./.test(step))).toEqual([]);
    expect((await ask('travel.assumptions', {})).find(({ key }) => key === row.key)!.changed).toBe(true);
    await ask('edit.undo', {});
  }, 60_000);

  test('a scout can be cancelled and started again', async () => {
    events.length = 0;
    await ask('settings.change', { patch: { travel: { seed: 99 } } });
    await ask('scout.start', {});
    expect((await ask('scout.cancel', {})).cancelled).toBe(true);
    expect(await scoutEnds()).toMatchObject({ type: 'scout.cancelled' });
    events.length = 0;
    await ask('edit.undo', {});
    await ask('scout.start', {});
    expect(await scoutEnds()).toMatchObject({ type: 'scout.done' });
  }, 60_000);

  test('exports land where it says', async () => {
    const { folder, files } = await ask('export.all', { folder: join(dataFolder, 'export') });
    expect(folder).toBe(join(dataFolder, 'export'));
    for (const file of files) expect(existsSync(file)).toBe(true);
    expect(readFileSync(join(folder, 'report.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
    // What left the office is what the next report is compared with, here and in the copy that went out.
    const { edition } = JSON.parse(readFileSync(join(folder, 'report.json'), 'utf8'));
    await ask('settings.change', { patch: { brief: { version: '2' } } });
    const [front] = (await ask('report.model', {}))!.pages;
    expect(front!.beside!.rows.slice(-2)).toEqual([
      ['Version', '2'],
      [expect.stringMatching(/^Since version 1 of /), 'Nothing that this report prints changed.'],
    ]);
    const sent = openProperty(join(folder, 'property.gpkg'));
    expect(sent.head().editions).toEqual([edition]);
    sent.close();
    await ask('edit.undo', {});
  }, 60_000);
});

describe('dropped files', () => {
  const drop = async (files: Record<string, Buffer>, into: 'new' | 'open') => {
    const { staging } = await ask('import.begin', {});
    for (const [name, bytes] of Object.entries(files)) {
      const half = Math.ceil(bytes.length / 2);
      await ask('import.file', { staging, name, last: false }, bytes.subarray(0, half));
      await ask('import.file', { staging, name, last: true }, bytes.subarray(half));
    }
    return ask('import.finish', { staging, into, answers: {} });
  };

  test('a raster that is none is refused by name and the open property stays', async () => {
    const before = (await ask('property.summary', {}))!.name;
    const trouble = await troubleOf(drop({ 'holiday.tif': Buffer.from('not a raster at all') }, 'new'));
    expect(trouble.message ?? '').toMatch(/holiday\.tif/);
    expect(trouble.fix).toBeTruthy();
    expect((await ask('property.summary', {}))!.name).toBe(before);
  });

  test('a path out of the staging folder is not followed', async () => {
    const { staging } = await ask('import.begin', {});
    await ask('import.file', { staging, name: '../../escaped.tif', last: true }, Buffer.from('x'));
    expect(readdirSync(dataFolder)).not.toContain('escaped.tif');
    expect(await troubleOf(ask('import.begin', { extra: 1 } as never))).toMatchObject({ kind: 'refused' });
  });

  test('the real raster alone becomes a property', async () => {
    events.length = 0;
    const bytes = readFileSync(join(root, 'sample-rasters', 'ridge-and-valley-srtm3.tif'));
    const summary = await drop({ 'ridge-and-valley-srtm3.tif': bytes }, 'new');
    expect(summary.frame.epsg).toBe(32616);
    expect(summary.ownedArea).toBeNull();
    expect(await scoutEnds()).toMatchObject({ type: 'scout.done' });
    const { doubts } = (await ask('property.summary', {}))!;
    expect(doubts.ground.join(' ')).toMatch(/creek bed/i);
  }, 60_000);

  test('a boundary is added to the open property; a second raster is not', async () => {
    const summary = (await ask('property.summary', {}))!;
    const { longitude, latitude } = summary.frame;
    const ring = [
      [longitude, latitude],
      [longitude + 0.02, latitude],
      [longitude + 0.02, latitude + 0.02],
      [longitude, latitude],
    ];
    const boundary = {
      type: 'Feature',
      properties: { kind: 'boundary' },
      geometry: { type: 'Polygon', coordinates: [ring] },
    };
    const after = await drop({ 'boundary.geojson': Buffer.from(JSON.stringify(boundary)) }, 'open');
    // Half of 0.02 by 0.02 degrees of latitude and longitude, on the sphere of 6371 km: within 1 %.
    const degree = (6371008.8 * Math.PI) / 180;
    const expected = 0.5 * (0.02 * degree) ** 2 * Math.cos((latitude * Math.PI) / 180);
    expect(after.ownedArea! / expected).toBeCloseTo(1, 1.5);
    const trouble = await troubleOf(drop({ 'elevation.tif': Buffer.from('II*') }, 'open'));
    expect(trouble.message ?? '').toMatch(/elevation\.tif/);
  }, 60_000);
});

describe('messages that are not of the contract', () => {
  test.each([
    ['no.such.request', {}],
    ['host.describe', { more: 1 }],
    ['__proto__', {}],
    ['map.tile', { layer: 'shade', z: 99, x: 0, y: 0 }],
    ['map.tile', { layer: '../secrets', z: 0, x: 0, y: 0 }],
    ['property.open', { path: '' }],
    ['features.put', { feature: { id: 'x' } }],
  ])('%s %j is refused', async (name, params) => {
    expect(await troubleOf(service.handle(name, params, null))).toMatchObject({ kind: 'refused' });
  });
});
