import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ReportModel } from '../../../core/analysis/report.ts';
import { viewOf } from '../../../electron/writers/pdf/map-view.ts';
import { encodePdf } from '../../../electron/writers/pdf/report-pdf.ts';
import { outside } from '../../outside.ts';
import { reportOf } from './report.ts';
import { artifactsOf, hasGdal } from './support.ts';

const folder = mkdtempSync(join(tmpdir(), 'pdf-maps-'));
afterAll(() => rmSync(folder, { recursive: true }));
const hasPoppler = spawnSync('pdftotext', ['-v']).status === 0;

const artifacts = artifactsOf();
const page: ReportModel['pages'][number] = {
  ...reportOf().pages[0]!,
  topic: 'job',
  title: 'Job sheet: a wall',
  tables: [],
  map: {
    grids: ['shade'],
    lines: ['features'],
    region: [439100, 4350700, 439400, 4350900],
    focus: ['creek-1'],
    reach: [{ at: [439250, 4350800], radius: 30, label: '33 yd' }],
    marks: [{ at: [439200, 4350750], label: '7' }],
    low: true,
  },
  strip: [{ label: 'barricade', kind: 'work', spans: [{ from: '11-20', to: '02-03' }] }],
};
const path = join(folder, 'maps.pdf');
beforeAll(async () => {
  writeFileSync(path, await encodePdf({ ...reportOf(), pages: [page] }, artifacts));
});

/** Asks GDAL's PDF driver (a reader that is not ours) where the page's pixels lie at 150 dpi. */
function byGdal(file: string): { transform: number[]; epsg: string | null } {
  const script = `
import json, sys
from osgeo import gdal, osr
gdal.UseExceptions()
data = gdal.OpenEx(sys.argv[1], open_options=['DPI=150'])
system = osr.SpatialReference(data.GetProjection())
print(json.dumps({'transform': data.GetGeoTransform(), 'epsg': system.GetAuthorityCode(None)}))`;
  const { stdout, stderr, status } = spawnSync('/usr/bin/python3', ['-c', script, file], {
    encoding: 'utf8',
  });
  expect(status, stderr).toBe(0);
  return JSON.parse(stdout) as { transform: number[]; epsg: string | null };
}

describe('a map on a page', () => {
  it.skipIf(!hasGdal)('is registered: GDAL puts the corners of the picture within a pixel at 150 dpi', () => {
    const { transform, epsg } = byGdal(path);
    expect(epsg).toBe(String(artifacts.elevation.frame.epsg));
    // Where the figure stands on the sheet: margin 54 pt and 10 for the northings, below the heading.
    const [x0, dx, rx, y0, ry, dy] = transform as [number, number, number, number, number, number];
    const view = viewOf(artifacts, { x: 64, y: 0, width: 612 - 2 * 54 - 10, height: 190 }, page.map!.region);
    const metresPerPixel = view.scale * (72 / 150);
    // From one end of the picture to the other the two stay together within a pixel.
    const check = outside({
      room: 'writers',
      method: 'Registration of the map on a page',
      source: 'GDAL’s PDF driver',
      unit: 'pixels at 150 dpi',
      allowed: 1,
    });
    check.compare((dx / metresPerPixel - 1) * view.width * (150 / 72), 0);
    check.compare((-dy / metresPerPixel - 1) * view.height * (150 / 72), 0);
    const across = Math.hypot(rx, ry) * view.width * (150 / 72);
    check.compare(across / metresPerPixel, 0);
    // The west edge of the picture, in pixels of the page.
    expect((view.west - x0) / dx).toBeCloseTo((64 * 150) / 72, 0);
    check.compare((view.west - x0) / dx, (64 * 150) / 72);
    check.done();
    const top = (view.north - y0) / dy;
    const words = spawnSync('pdftotext', ['-bbox', path, '-'], { encoding: 'utf8' }).stdout;
    const heading = /yMax="([\d.]+)">wall</.exec(words);
    // The picture begins under the heading, above anything else.
    expect((top * 72) / 150).toBeGreaterThan(Number(heading![1]) - 1);
    expect((top * 72) / 150).toBeLessThan(Number(heading![1]) + 20);
  });

  it.skipIf(!hasPoppler)('carries grid numbers, ring, stop and what the line is not', () => {
    const words = spawnSync('pdftotext', ['-layout', path, '-'], { encoding: 'utf8' }).stdout;
    expect(words).toContain('439,200 E');
    expect(words).toContain('33 yd');
    expect(words).toContain('not a survey');
    expect(words).toContain('Range kept to');
    for (const month of ['Jan', 'Dec']) expect(words).toContain(month);
  });

  it.skipIf(!hasPoppler)('comes on A4 as on letter paper', async () => {
    const file = join(folder, 'a4.pdf');
    writeFileSync(file, await encodePdf({ ...reportOf(), paper: 'A4', pages: [page] }, artifacts));
    expect(spawnSync('pdfinfo', [file], { encoding: 'utf8' }).stdout).toMatch(
      /Page size:\s+595\.28 x 841\.89 pts \(A4\)/,
    );
  });
});
