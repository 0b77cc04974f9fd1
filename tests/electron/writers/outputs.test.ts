import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { ReportModel } from '../../../core/analysis/report.ts';
import { Cancelled, Problem } from '../../../core/grid/problem.ts';
import { checkWritable, writeOutputs } from '../../../electron/writers/outputs.ts';
import { reportOf as fullReport } from './report.ts';
import { artifactsOf, hasGdal, lookWithGdal } from './support.ts';

const artifacts = artifactsOf();
/** Without its maps, which are the slow part and are tested with the PDF. */
const reportOf = (over: Partial<ReportModel['property']> = {}): ReportModel => {
  const report = fullReport(over);
  return { ...report, pages: report.pages.map((page) => ({ ...page, map: null })) };
};
let folder: string;
let property: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'outputs-test-'));
  property = join(folder, 'made.gpkg');
  // Only its bytes matter here: the writer copies the closed property file.
  writeFileSync(property, 'the property');
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const WANTED = [
  'property.gpkg',
  ...[
    'elevation',
    'slope',
    'aspect',
    'shade',
    'filled',
    'accumulation',
    'cover',
    'resistance',
    'passage',
    'cold-air',
  ].map((name) => `layers/${name}.tif`),
  'features.geojson',
  'plan.gpx',
  'plan.kml',
  'plan.kmz',
  'walk.gpx',
  'work.csv',
  'work.ics',
  'sheet.pdf',
  'necks.geojson',
  'crossings.geojson',
  'corridors.geojson',
  'stand-risks.geojson',
  'report.json',
  'report.pdf',
];

/** Every file below a folder and what is in it. */
const snapshot = (top: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(top, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name))
      .map((file) => [relative(top, file), readFileSync(file, 'latin1')]),
  );

describe('writing the outputs', () => {
  it('writes every file the job names, reports progress and answers with their paths', async () => {
    const out = join(folder, 'new', 'deep');
    const shares: number[] = [];
    const files = await writeOutputs(out, property, artifacts, reportOf(), (share) => shares.push(share));
    for (const name of WANTED) expect(files).toContain(join(out, name));
    for (const file of files) expect(existsSync(file), file).toBe(true);
    const found = readdirSync(out, { recursive: true, withFileTypes: true }).filter((entry) =>
      entry.isFile(),
    );
    expect(found.map((entry) => join(entry.parentPath, entry.name)).sort()).toEqual([...files].sort());
    expect(readFileSync(join(out, 'property.gpkg'), 'utf8')).toBe('the property');
    expect(JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'))).toEqual(reportOf());
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
    expect(readdirSync(join(folder, 'new'))).toEqual(['deep']);
  });

  it('replaces its own files, takes outdated ones away and leaves those of others alone', async () => {
    const out = join(folder, 'out');
    mkdirSync(join(out, 'layers'), { recursive: true });
    writeFileSync(join(out, 'my notes.txt'), 'mine');
    writeFileSync(join(out, 'layers', 'lidar.tif'), 'mine too');
    writeFileSync(join(out, 'layers', 'land-cover.tif'), 'of an earlier run');
    writeFileSync(join(out, 'report.pdf'), 'old');
    await writeOutputs(out, property, artifacts, reportOf());
    expect(readFileSync(join(out, 'my notes.txt'), 'utf8')).toBe('mine');
    expect(readFileSync(join(out, 'layers', 'lidar.tif'), 'utf8')).toBe('mine too');
    expect(existsSync(join(out, 'layers', 'land-cover.tif'))).toBe(false);
    expect(readFileSync(join(out, 'report.pdf'), 'latin1').startsWith('%PDF')).toBe(true);
    expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  for (const stop of [0.05, 0.5, 0.99]) {
    it(`touches nothing when it is stopped at ${stop} of the way`, async () => {
      const out = join(folder, 'out');
      await writeOutputs(out, property, artifacts, reportOf());
      const before = readdirSync(out, { recursive: true }).map(String).sort();
      const report = readFileSync(join(out, 'report.json'));
      writeFileSync(property, 'another property');
      const stopped = writeOutputs(out, property, artifacts, reportOf({ name: 'Another' }), (share) => {
        if (share > stop) throw new Cancelled();
      });
      await expect(stopped).rejects.toThrow(Cancelled);
      expect(readdirSync(out, { recursive: true }).map(String).sort()).toEqual(before);
      expect(readFileSync(join(out, 'report.json'))).toEqual(report);
      expect(readFileSync(join(out, 'property.gpkg'), 'utf8')).toBe('the property');
    });
  }

  it('puts everything back when one file cannot be moved into place', async () => {
    const out = join(folder, 'out');
    await writeOutputs(out, property, artifacts, reportOf());
    rmSync(join(out, 'report.json'));
    const before = snapshot(out);
    writeFileSync(property, 'another property');
    // The last file to be made and the last to be moved vanishes in between.
    const moving = writeOutputs(out, property, artifacts, reportOf(), (share) => {
      if (share < 1) return;
      const staging = readdirSync(out).find((name) => name.startsWith('.'))!;
      rmSync(join(out, staging, 'report.pdf'));
    });
    await expect(moving).rejects.toThrow(/cannot be written/);
    expect(snapshot(out)).toEqual(before);
  });

  it('refuses a folder where a file stands in the place of layers, and changes nothing', async () => {
    const out = join(folder, 'out');
    mkdirSync(out);
    writeFileSync(join(out, 'layers'), 'not a folder');
    writeFileSync(join(out, 'report.json'), 'old');
    await expect(writeOutputs(out, property, artifacts, reportOf())).rejects.toThrow(/stands where a folder/);
    expect(snapshot(out)).toEqual({ layers: 'not a folder', 'report.json': 'old' });
  });

  it('says in plain words where it cannot write', async () => {
    const file = join(folder, 'a file');
    writeFileSync(file, '');
    for (const out of [file, join(file, 'below')]) {
      const trouble = await checkWritable(out).catch((error: unknown) => error);
      expect(trouble).toBeInstanceOf(Problem);
      expect((trouble as Problem).message).toMatch(/cannot be written|is a file/);
      expect((trouble as Problem).fix).toMatch(/another output folder/);
      await expect(writeOutputs(out, property, artifacts, reportOf())).rejects.toThrow(Problem);
    }
    await expect(checkWritable(join('/proc', 'nowhere'))).rejects.toThrow(Problem);
    await expect(checkWritable(join(folder, 'x'.repeat(300)))).resolves.toBeUndefined();
    await expect(
      writeOutputs(join(folder, 'x'.repeat(300)), property, artifacts, reportOf()),
    ).rejects.toThrow(Problem);
  });

  it.skipIf(process.getuid?.() === 0)('refuses a folder without permission', async () => {
    const out = join(folder, 'closed');
    mkdirSync(out);
    chmodSync(out, 0o555);
    await expect(checkWritable(out)).rejects.toThrow(/not allowed/);
  });

  it.skipIf(!hasGdal)('writes GeoJSON and GeoTIFF that GDAL opens with no warning', async () => {
    const out = join(folder, 'out');
    const files = await writeOutputs(out, property, artifacts, reportOf());
    const readable = files.filter((file) => /\.(tif|geojson)$/.test(file));
    const seen = lookWithGdal(...readable);
    expect(seen.messages).toEqual([]);
    for (const [index, file] of readable.entries()) {
      const found = seen.files[index]!;
      if (file.endsWith('.tif')) {
        expect(found.raster, file).toMatchObject({ width: 300, height: 270, epsg: '32617' });
        continue;
      }
      const [layer] = Object.values(found.layers!);
      expect(layer!.epsg, file).toBe('4326');
      const rows = relative(out, file) === 'features.geojson' ? artifacts.features.length : 1;
      expect(layer!.rows.length, relative(out, file)).toBe(rows);
      expect(layer!.rows.every(({ valid }) => valid)).toBe(true);
    }
  });
});
