import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { crsDefinition, transform, WGS84 } from '../../../electron/readers/crs.ts';
import { readVectors } from '../../../electron/readers/vectors.ts';
import { fieldPlan, partsOf } from '../../../electron/writers/field-files.ts';
import { gpxOf, walkGpxOf } from '../../../electron/writers/gpx.ts';
import { kmlOf, kmzOf } from '../../../electron/writers/kml.ts';
import { workCsvOf } from '../../../electron/writers/work-csv.ts';
import { EVERY_JOB, feature, field, line } from '../../core/plan/scene.ts';
import { outside } from '../../outside.ts';
import { reportOf } from './report.ts';
import { hasGdal } from './support.ts';

const folder = mkdtempSync(join(tmpdir(), 'field-files-'));
afterAll(() => rmSync(folder, { recursive: true }));

const features = [
  ...EVERY_JOB,
  {
    ...feature('home', 'boundary', field(-50, -50, 900, 900), {}, 'existing'),
    name: 'Home & "far" <farm> \u0007',
  },
  feature('way', 'access', line([0, 0], [50, 80], [90, 85])),
];
const report = reportOf();
const plan = fieldPlan({ features }, report);
const write = (name: string, content: string | Uint8Array): string => {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
};
const files = [
  write('plan.gpx', gpxOf(plan)),
  write('walk.gpx', walkGpxOf(plan)),
  write('plan.kml', kmlOf(plan)),
  write('plan.kmz', kmzOf(plan, new Date('2026-03-04'))),
];

/** Opens a file with GDAL/OGR and answers with each layer's names and vertices. */
function byOgr(path: string): Record<string, { name: string; count: number }[]> {
  const script = `
import json, sys
from osgeo import ogr
ogr.UseExceptions()
data = ogr.Open(sys.argv[1])
def count(g):
    return sum(count(g.GetGeometryRef(k)) for k in range(g.GetGeometryCount())) if g.GetGeometryCount() else g.GetPointCount()
print(json.dumps({layer.GetName(): [
    {'name': f.GetField('name') if f.GetFieldIndex('name') >= 0 else f.GetField('Name'), 'count': count(f.GetGeometryRef())} for f in layer]
    for layer in (data.GetLayer(k) for k in range(data.GetLayerCount()))}))`;
  const { stdout, stderr, status } = spawnSync('/usr/bin/python3', ['-c', script, path], {
    encoding: 'utf8',
  });
  expect(status, stderr).toBe(0);
  return JSON.parse(stdout);
}

describe('files for the phone', () => {
  it.skipIf(!hasGdal)('GPX opens in OGR with points, ways in as routes and lines as tracks', () => {
    const layers = byOgr(files[0]!);
    const spots = features.filter(({ geometry }) => geometry.type === 'Point').length;
    expect(layers.waypoints).toHaveLength(spots);
    const check = outside({
      room: 'writers',
      method: 'Points, routes and tracks in GPX',
      source: 'OGR as installed',
      unit: 'kinds that differ',
      allowed: 0,
    });
    check.same(layers.waypoints?.length, spots);
    check.same(layers.routes, [{ name: 'The way', count: 3 }]);
    check.same(layers.tracks?.length, features.length - spots - 1);
    check.done();
    const walk = byOgr(files[1]!);
    expect(walk.waypoints!.map(({ name }) => name)).toEqual(['1. Neck 1']);
    // From the yard to the stop and back.
    expect(walk.routes![0]!.count).toBe(3);
  });

  it.skipIf(!hasGdal)('KML opens in OGR, every feature in the folder of its kind', () => {
    const layers = byOgr(files[2]!);
    for (const { kind, name } of plan.places)
      expect(
        layers[kind]!.map((row) => row.name),
        name,
      ).toContain(name.replace('\u0007', ''));
    expect(layers['walk list']).toHaveLength(1);
  });

  it('come back through the readers where they were, to a millimetre, each point of them', async () => {
    const toDegrees = transform(crsDefinition(report.property.epsg), WGS84);
    const toMetres = transform(WGS84, crsDefinition(report.property.epsg));
    for (const path of [files[2]!, files[3]!]) {
      const { features: read } = await readVectors({ name: path, path });
      for (const { id, name, geometry } of features) {
        const wanted = (name ?? id).replace('\u0007', '').trim();
        const found = read.find(({ properties }) => String(properties.name).trim() === wanted);
        expect(found, `${path} ${id}`).toBeDefined();
        const flat = (g: typeof geometry) => {
          const { points, paths, areas } = partsOf(g);
          return [...points, ...paths.flat(), ...areas.flat(2)];
        };
        const before = flat(geometry);
        const after = flat(found!.geometry as typeof geometry);
        expect(after).toHaveLength(before.length);
        for (const [k, position] of before.entries()) {
          const [x, y] = toMetres(after[k]![0]!, after[k]![1]!);
          expect(Math.hypot(x - position[0]!, y - position[1]!)).toBeLessThan(0.002);
        }
      }
    }
    expect(toDegrees(500_000, 0)[0]).toBeCloseTo(-81, 9);
  });

  it('says on the line itself that it is not a survey', () => {
    expect(gpxOf(plan)).toContain('not a survey');
    expect(kmlOf(plan)).toContain('not a survey');
  });

  it('holds nothing XML has no place for', () => {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: those are what is looked for
    for (const text of [gpxOf(plan), kmlOf(plan)]) expect(text).not.toMatch(/[\u0000-\u0008]/);
    expect(gpxOf(plan)).toContain('Home &amp; &quot;far&quot; &lt;farm&gt;');
  });
});

// RFC 4180: fields with a comma, quote or line break stand in quotes, quotes doubled; every row has as many fields.
describe('the work list as CSV', () => {
  it.skipIf(!hasGdal)('is read by Python’s csv module row by row, and no field is a formula', () => {
    const work = structuredClone(report.work);
    work.jobs[0]!.name = '=HYPERLINK("x"), "quoted"\nname';
    work.ranked = work.ranked.map((row) =>
      row.job === work.jobs[0]!.id
        ? { ...row, gain: { value: -1.25, low: -2, high: 0.5 }, needs: [work.jobs[1]!.id] }
        : row,
    );
    work.gained = { unit: 'clean hours a season', today: 3, built: 4, notes: [] };
    const path = write('work.csv', workCsvOf(work));
    const script =
      'import csv, json, sys; print(json.dumps(list(csv.DictReader(open(sys.argv[1], newline="", encoding="utf-8")))))';
    const { stdout } = spawnSync('/usr/bin/python3', ['-c', script, path], { encoding: 'utf8' });
    const rows = JSON.parse(stdout) as Record<string, string>[];
    expect(rows).toHaveLength(EVERY_JOB.length);
    expect(rows[0]!.name).toBe('\'=HYPERLINK("x"), "quoted"\nname');
    expect(Number(rows[0]!.hours)).toBe(work.jobs[0]!.hours);
    expect(rows.every((row) => Object.keys(row).length === 26)).toBe(true);
    // A number below zero is no formula.
    expect([rows[0]!.gain, rows[0]!.gain_low, rows[0]!.gain_high]).toEqual(['-1.25', '-2', '0.5']);
    expect(rows[0]!.gain_unit).toBe('clean hours a season');
    expect(rows[0]!.worth_nothing_without).toBe(work.jobs[1]!.name);
    expect(rows[1]!.gain).toBe('');
  });
});
