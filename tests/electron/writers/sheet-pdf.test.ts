import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { FOOT } from '../../../core/features/units.ts';
import { encodeSheet } from '../../../electron/writers/pdf/sheet-pdf.ts';
import { reportOf } from './report.ts';
import { artifactsOf, hasGdal } from './support.ts';

const folder = mkdtempSync(join(tmpdir(), 'sheet-pdf-'));
afterAll(() => rmSync(folder, { recursive: true }));
const has = (program: string, flag = '-v') => spawnSync(program, [flag]).status === 0;
const run = (program: string, ...given: string[]) => {
  const { stdout, stderr, status } = spawnSync(program, given, { encoding: 'utf8' });
  expect(status, stderr).toBe(0);
  return stdout;
};

const artifacts = artifactsOf();
const report = reportOf();
const path = join(folder, 'sheet.pdf');
beforeAll(async () => {
  writeFileSync(path, await encodeSheet(report, artifacts));
});

describe('the map sheet', () => {
  it.skipIf(!has('pdfinfo'))('is one page of 24 by 36 inches, tagged', () => {
    const facts = run('pdfinfo', path);
    expect(facts).toMatch(/Pages:\s+1\n/);
    expect(facts).toMatch(/Page size:\s+(1728 x 2592|2592 x 1728) pts/);
    expect(facts).toMatch(/Tagged:\s+yes/);
  });

  it.skipIf(!has('qpdf', '--version'))('is whole by qpdf', () => {
    expect(run('qpdf', '--check', path)).toContain('No syntax or stream encoding errors found');
  });

  it.skipIf(!has('pdftotext'))('says whose line it is, and that it calls no shot safe', () => {
    const words = run('pdftotext', path, '-').replace(/\s+/g, ' ');
    expect(words).toContain(`${report.lineNote}.`);
    expect(words).toContain('Nothing on this map says that a shot is safe');
  });

  it.skipIf(!hasGdal || !has('pdftotext'))(
    'is registered: GDAL reads each tick’s easting within a pixel at 150 dpi, and the scale is as it says',
    () => {
      const script = `
import json, sys
from osgeo import gdal, osr
gdal.UseExceptions()
data = gdal.OpenEx(sys.argv[1], open_options=['DPI=150'])
print(json.dumps({'t': data.GetGeoTransform(), 'w': data.RasterXSize, 'epsg': osr.SpatialReference(data.GetProjection()).GetAuthorityCode(None)}))`;
      const { t, epsg } = JSON.parse(run('/usr/bin/python3', '-c', script, path)) as {
        t: number[];
        epsg: string;
      };
      expect(epsg).toBe(String(artifacts.elevation.frame.epsg));
      // An inch is 150 pixels; the words are rounded to two in a hundred.
      const words = run('pdftotext', path, '-').replace(/\s+/g, ' ');
      const told = /1 inch on the map is about ([\d,]+) ft on the ground/
        .exec(words)![1]!
        .replaceAll(',', '');
      expect(Math.abs(Number(told) / ((150 * t[1]!) / FOOT) - 1)).toBeLessThan(0.02);
      // Each tick's number is set centred on its easting: where poppler finds it, GDAL must read that easting.
      const boxes = run('pdftotext', '-bbox', path, '-');
      const ticks = [
        ...boxes.matchAll(
          /xMin="([\d.]+)"[^>]*xMax="([\d.]+)"[^>]*>([\d,]+)<\/word>\s*<word xMin="[\d.]+"[^>]*xMax="([\d.]+)"[^>]*>E</g,
        ),
      ];
      expect(ticks.length).toBeGreaterThan(1);
      for (const [, from, , easting, to] of ticks) {
        const pixel = (((Number(from) + Number(to)) / 2) * 150) / 72;
        const read = t[0]! + t[1]! * pixel;
        expect(Math.abs(read - Number(easting!.replaceAll(',', ''))) / t[1]!).toBeLessThan(1);
      }
    },
  );
});
